"""The look every chart shares: ink on white, Okabe-Ito fills, patterns, months as months."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import plotly.graph_objects as go
from dash import dcc, html
from dash.development.base_component import Component

from dashboard.parts.marks import aria
from triage.reports.rows import Span
from triage.units import first_day, month_words

INK, INK_SOFT, HAIR, WHITE = "#15202b", "#46525e", "#d5dadd", "#fdfdfb"
SKY, BLUE, ORANGE, GREEN = "#56B4E9", "#0072B2", "#E69F00", "#009E73"
"""M. Okabe and K. Ito, Color Universal Design (2008): told apart under the common colour visions."""
CLOSED = "rgba(21,32,43,0.13)"
FACE = 'Bahnschrift, "DIN Alternate", "Avenir Next", "Segoe UI", system-ui, "DejaVu Sans", sans-serif'
CONFIG: Any = {"displayModeBar": False, "responsive": True, "doubleClick": "reset"}
A_DAY_MS = 86_400_000
NAMED = ((14, 1), (30, 3), (72, 6))
"""(months shown, every how many months one is named); 12 beyond."""


def day(month: int) -> str:
    """Return the first day of a month as charts want it."""
    return first_day(month).isoformat()


def length_ms(span: Span) -> int:
    """Return a span's length in milliseconds, from its first day to the day after its last."""
    return (first_day(span.to_month + 1) - first_day(span.from_month)).days * A_DAY_MS


def sheet_figure(height: int, revision: str) -> go.Figure:
    """Return an empty figure in the sheet's look; the zoom is kept while ``revision`` stays the same."""
    line = {"gridcolor": HAIR, "linecolor": INK, "fixedrange": True, "automargin": True}
    return go.Figure(
        layout={
            "template": {},
            "height": height,
            "uirevision": revision,
            "font": {"family": FACE, "size": 12, "color": INK},
            "paper_bgcolor": "rgba(0,0,0,0)",
            "plot_bgcolor": "rgba(0,0,0,0)",
            "margin": {"l": 8, "r": 12, "t": 8, "b": 8},
            "showlegend": False,
            "dragmode": False,
            "hoverlabel": {
                "bgcolor": WHITE,
                "bordercolor": INK,
                "align": "left",
                "font": {"family": FACE, "color": INK},
            },
            "xaxis": {**line, "showgrid": True, "tickcolor": INK},
            "yaxis": {**line, "zeroline": False},
        }
    )


def named_months(span: Span) -> list[int]:
    """Return the months of a span that are named on an axis, as many as can be read."""
    step = next((step for most, step in NAMED if span.months <= most), 12)
    return [m for m in range(span.from_month, span.to_month + 1) if m % step == 0]


def month_axis(figure: go.Figure, span: Span, *, named: bool = True) -> None:
    """Lay the months of a span on the x axis, named below it or by a ruler of their own."""
    months = named_months(span)
    figure.update_xaxes(
        type="date",
        range=[day(span.from_month), day(span.to_month + 1)],
        tickmode="array",
        tickvals=[day(m) for m in months],
        ticktext=[month_words(m).replace(" ", "<br>") for m in months],
        ticks="outside" if named else "",
        ticklabelposition="outside right",
        showticklabels=named,
    )


def month_ruler(span: Span) -> Component:
    """Return the named months of a span as a ruler that stays in sight above a long chart."""
    whole = length_ms(span)
    marks = [
        html.Span(
            [month_words(m).split()[0], html.Br(), month_words(m).split()[1]],
            style={"left": f"{100 * length_ms(Span(span.from_month, m - 1)) / whole:.3f}%"},
        )
        for m in named_months(span)
    ]
    return html.Div(html.Div(marks), className="ruler", **aria(hidden="true"))


def shade_closed(figure: go.Figure, closed: Iterable[Span]) -> None:
    """Shade the months in which all work stands still, over the whole height."""
    shapes = [
        {
            "type": "rect",
            "xref": "x",
            "yref": "paper",
            "x0": day(span.from_month),
            "x1": day(span.to_month + 1),
            "y0": 0,
            "y1": 1,
            "fillcolor": CLOSED,
            "line": {"width": 0},
            "layer": "above",
        }
        for span in closed
    ]
    figure.update_layout(shapes=shapes)


def graph(
    figure: go.Figure, graph_id: str | None = None, *, height: int, least_width: str = "0"
) -> dcc.Graph:
    """Return a figure as a component of fixed height, never narrower than what can be read."""
    extra: dict[str, Any] = {} if graph_id is None else {"id": graph_id}
    style = {"height": f"{height}px", "minWidth": least_width}
    return dcc.Graph(figure=figure, config=CONFIG, style=style, **extra)
