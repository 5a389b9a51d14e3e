"""What lies ahead of an element if nothing is done: the chance of poor or worse, with its range."""

from __future__ import annotations

import plotly.graph_objects as go
from dash import html
from dash.development.base_component import Component

from dashboard.parts import charts
from dashboard.parts.marks import data_table, folded, grade_mark
from triage.reports.rows import ElementPage
from triage.reports.words import percent
from triage.units import month_words

FAN_PX = 150


def element_name(element: ElementPage) -> str:
    """Return an element as people call it: its kind, and its id where that says more."""
    kind = element.kind or element.element_id
    return kind if kind == element.element_id else f"{kind} ({element.element_id})"


def last_grade(element: ElementPage) -> int | None:
    """Return the last grade anybody gave, None if there is none."""
    seen = [p.grade for p in element.past if p.grade is not None]
    return seen[-1] if seen else None


def fan_figure(element: ElementPage) -> go.Figure:
    """Return the chance of grade 3 or 4 over the years, with its 90 % range as a band."""
    figure = charts.sheet_figure(FAN_PX, f"fan-{element.element_id}")
    months = [charts.day(p.month) for p in element.ahead]
    tells = [
        f"<b>{month_words(p.month)}</b><br>poor or worse: {percent(p.poor)}<br>90 % range {percent(p.low)} "
        f"to {percent(p.high)}"
        for p in element.ahead
    ]
    figure.add_scatter(
        x=[*months, *reversed(months)],
        y=[*(p.high for p in element.ahead), *(p.low for p in reversed(element.ahead))],
        fill="toself",
        fillcolor="rgba(86,180,233,0.35)",
        line={"color": charts.BLUE, "width": 0.75, "dash": "dot"},
        hoverinfo="skip",
    )
    figure.add_scatter(
        x=months,
        y=[p.poor for p in element.ahead],
        mode="lines+markers",
        line={"color": charts.INK, "width": 2},
        marker={"size": 5, "color": charts.INK},
        hoverinfo="text",
        hovertext=tells,
    )
    figure.add_hline(y=0.5, line={"color": charts.INK_SOFT, "width": 1, "dash": "dash"})
    figure.update_yaxes(range=[0, 1.02], tickvals=[0, 0.5, 1], ticktext=["0 %", "50 %", "100 %"])
    figure.update_xaxes(type="date", tickformat="%Y", nticks=6, showgrid=False, ticks="outside")
    return figure


def fan(element: ElementPage) -> Component:
    """Return one element's forecast: its name and last grade, a sentence, the chart, the figures."""
    rows = [
        [
            month_words(p.month),
            *(percent(chance) for chance in p.p),
            percent(p.poor),
            f"{percent(p.low)} to {percent(p.high)}",
        ]
        for p in element.ahead
    ]
    heads = ["Month", "Good", "Fair", "Poor", "Unacceptable", "Poor or worse", "90 % range"]
    name = element_name(element)
    table = data_table(f"{name}: chance of each grade if nothing is done", heads, rows, numbers=range(1, 7))
    mark = grade_mark(last_grade(element)) if element.past else html.Span("never graded", className="unit")
    return html.Figure(
        [
            html.Figcaption([html.Span(name), mark]),
            html.P(element.sentence, className="aside"),
            charts.graph(fan_figure(element), height=FAN_PX),
            folded("the figures", table),
        ]
    )
