"""Second sheet: which object stands on which piece of floor, month by month."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dash import Dash, Input, Output, html, no_update

from dashboard.pages.horizon import horizon
from dashboard.parts import bays as parts
from dashboard.parts.charts import graph, month_ruler
from dashboard.parts.marks import aria, folded, object_path, words
from dashboard.parts.shell import Sheet
from triage.reports import bays as rows
from triage.reports.study import Study

PATH = "/bays"
LEAST_WIDTH = "40rem"


def layout(study: Study, query: Mapping[str, str]) -> Sheet:
    """Return the sheet."""
    lanes, months = rows.bay_lanes(study), horizon(study)
    noted = list(dict.fromkeys(f"{lane.name}: {lane.note}" for lane in lanes if lane.note))
    shown = parts.first_months(months, query.get("months", ""))
    seen = parts.in_sight(lanes, shown)
    head = [html.H1("Bays over time"), html.P(parts.bays_sentence(lanes), className="lead")]
    if not lanes:
        return Sheet("Bays over time", head, PATH)
    body = [
        *head,
        html.P(
            "Choose a bar, or a name, to open the object's sheet; hold the pointer over a bar to read it.",
            className="handle",
        ),
        parts.month_choices(PATH, months, shown),
        parts.bays_key(),
        html.Div(
            [
                parts.bays_names(seen),
                html.Div(
                    [
                        month_ruler(shown),
                        graph(
                            parts.bays_figure(seen, rows.closed_spans(study), shown, months),
                            "bays-chart",
                            height=parts.figure_height(seen),
                            least_width=LEAST_WIDTH,
                        ),
                    ],
                    className="chart",
                    tabIndex=0,
                    role="region",
                    **aria(label="Chart of the bays over time; the same is in the table below"),
                ),
            ],
            className="floors",
        ),
        folded("the same as a table", parts.bays_table(lanes)),
        *([html.H2("What was not checked"), words(noted)] if noted else []),
    ]
    return Sheet("Bays over time", body, PATH)


def register(app: Dash) -> None:
    """Open the sheet of an object chosen in the chart."""

    @app.callback(Output("go", "href"), Input("bays-chart", "clickData"), prevent_initial_call=True)
    def open_object(chosen: dict[str, Any] | None) -> Any:
        point = chosen["points"][0] if chosen else {}
        return object_path(point["customdata"]) if point.get("customdata") else no_update
