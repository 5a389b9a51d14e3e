"""Staff hours of each trade and month against what there is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import plotly.graph_objects as go
from dash import html
from dash.development.base_component import Component

from dashboard.parts import charts
from dashboard.parts.marks import data_table
from triage.reports.rows import HoursCell, HoursRow, Span
from triage.units import month_words

TRADE_PX = 190
NO_BREAK = "\N{NO-BREAK SPACE}"


def hours_sentence(row: HoursRow) -> str:
    """Return one trade's load in words."""
    if row.fullest_month is None:
        return "Nothing planned."
    fullest = next(c for c in row.cells if c.month == row.fullest_month)
    said = (
        f"{row.planned_total:,} hours planned. Least room in {month_words(row.fullest_month)}: "
        f"{fullest.planned:,} hours planned where there are {fullest.capacity:,}."
    )
    overtime = f" Overtime {row.overtime_total:,} hours." if row.overtime_total else " No overtime."
    return said + overtime


def overall_sentence(rows: Sequence[HoursRow]) -> str:
    """Return in words which trades work overtime."""
    if not rows:
        return "The folder names no trades, so hours limit nothing."
    extra = [f"{r.trade} ({r.overtime_total:,} h)" for r in rows if r.overtime_total]
    total = sum(r.planned_total for r in rows)
    return f"{total:,} hours planned. " + (
        f"Overtime: {', '.join(extra)}." if extra else "Nobody works overtime."
    )


def hours_figure(row: HoursRow, closed: Iterable[Span]) -> go.Figure:
    """Return one trade's planned hours as bars, its capacity as a line, overtime hatched above it."""
    figure = charts.sheet_figure(TRADE_PX, f"hours-{row.trade}")
    months = [charts.day(c.month) for c in row.cells]
    widths = [charts.length_ms(Span(c.month, c.month)) for c in row.cells]
    look = {
        "x": months,
        "width": widths,
        "offset": 0,
        "hoverinfo": "text",
        "hovertext": [_hover(row, c) for c in row.cells],
    }
    figure.add_bar(
        y=[c.planned - c.overtime for c in row.cells],
        marker={"color": charts.SKY, "line": {"color": charts.WHITE, "width": 1}},
        **look,
    )
    figure.add_bar(
        y=[c.overtime for c in row.cells],
        marker={
            "color": charts.ORANGE,
            "line": {"color": charts.INK, "width": 1},
            "pattern": {"shape": "/", "fgcolor": charts.INK, "size": 5, "solidity": 0.3},
        },
        **look,
    )
    _add_limit(figure, row.cells, [c.capacity for c in row.cells], "solid")
    if any(c.overtime_most for c in row.cells):
        _add_limit(figure, row.cells, [c.capacity + c.overtime_most for c in row.cells], "dot")
    charts.shade_closed(figure, closed)
    charts.month_axis(figure, Span(row.cells[0].month, row.cells[-1].month))
    figure.update_layout(barmode="stack", bargap=0, hovermode="closest")
    figure.update_yaxes(rangemode="tozero", title={"text": "hours a month", "font": {"size": 11}}, nticks=5)
    return figure


def _add_limit(figure: go.Figure, cells: Sequence[HoursCell], limits: Sequence[int], dash: str) -> None:
    last = cells[-1].month + 1
    figure.add_scatter(
        x=[*(charts.day(c.month) for c in cells), charts.day(last)],
        y=[*limits, limits[-1]],
        mode="lines",
        line={"color": charts.INK, "width": 1.75, "shape": "hv", "dash": dash},
        hoverinfo="skip",
    )


def _hover(row: HoursRow, cell: HoursCell) -> str:
    said = f"<b>{row.trade}, {month_words(cell.month)}</b><br>{cell.planned:,} of {cell.capacity:,} hours"
    if cell.overtime:
        said += f"<br>{cell.overtime:,} of them overtime"
    return said + ("<br>closed" if cell.closed else "")


def hours_key() -> Component:
    """Return the key to the charts."""
    hatch = f"repeating-linear-gradient(135deg, {charts.INK} 0 1px, {charts.ORANGE} 1px 5px)"
    solid = {"background": "none", "border": "0", "borderTop": f"2px solid {charts.INK}", "height": "0"}
    dotted = {**solid, "borderTop": f"2px dotted {charts.INK}"}
    return html.Ul(
        [
            html.Li([html.I(className="swatch", style={"background": charts.SKY}), "planned hours"]),
            html.Li([html.I(className="swatch", style={"background": hatch}), "of them overtime"]),
            html.Li([html.I(className="swatch", style=solid), "hours there are"]),
            html.Li([html.I(className="swatch", style=dotted), "with all overtime"]),
            html.Li([html.I(className="swatch", style={"background": "#dfe1e2"}), "workshop closed"]),
        ],
        className="legend",
    )


def hours_overview(rows: Iterable[HoursRow]) -> Component:
    """Return all trades at a glance."""
    lines = [
        [
            row.trade,
            f"{row.planned_total:,}",
            f"{sum(c.capacity for c in row.cells):,}",
            f"{row.overtime_total:,}",
            month_words(row.fullest_month).replace(" ", NO_BREAK) if row.fullest_month is not None else "",
        ]
        for row in rows
    ]
    heads = ["Trade", "Planned", "There are", "Overtime", "Least room in"]
    return data_table("Hours over the whole plan", heads, lines, numbers=[1, 2, 3])


def hours_table(row: HoursRow) -> Component:
    """Return one trade's hours in figures."""
    lines = [
        [
            month_words(c.month),
            f"{c.planned:,}",
            f"{c.capacity:,}",
            f"{c.overtime:,}",
            "closed" if c.closed else "",
        ]
        for c in row.cells
    ]
    heads = ["Month", "Planned", "There are", "Overtime", ""]
    return data_table(f"Hours of {row.trade} by month", heads, lines, numbers=[1, 2, 3])
