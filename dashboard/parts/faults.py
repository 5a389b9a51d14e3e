"""What the intake found wrong: where, what was seen, which rule, and the mend."""

from __future__ import annotations

from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from triage.errors import Fault, JsonFault, Level

TITLES = {
    Level.FAULT: ("fault", "faults", "Rows set aside until they are mended."),
    Level.WARNING: ("warning", "warnings", "Rows kept; somebody should look."),
    Level.NOTE: ("note", "notes", "Good to know."),
}


def fault_list(faults: Sequence[Fault | JsonFault]) -> Component:
    """Return faults in the order given."""
    return html.Ul([_item(f) for f in faults], className="faults")


def faults_by_level(faults: Sequence[Fault]) -> list[Component]:
    """Return faults, then warnings, then notes, each under its own heading with its number."""
    out: list[Component] = []
    for level, (one, many, meaning) in TITLES.items():
        some = [f for f in faults if f.level is level]
        if some:
            title = f"1 {one}" if len(some) == 1 else f"{len(some)} {many}"
            out += [html.H2(title), html.P(meaning, className="aside"), fault_list(some)]
    return out


def _item(fault: Fault | JsonFault) -> Component:
    seen = [" Found ", html.Span(fault.value, className="seen"), "."] if fault.value else []
    return html.Li(
        [
            html.Div(_where(fault), className="where"),
            html.Div([html.P([fault.rule, *seen]), html.P(["Mend: ", fault.mend])]),
        ]
    )


def _where(fault: Fault | JsonFault) -> list[Component | str]:
    if isinstance(fault, JsonFault):
        return [html.Strong(fault.path or "/")]
    row = f"row {fault.row}" if fault.row is not None else "the whole file"
    column = f", column {fault.column}" if fault.column else ""
    said: list[Component | str] = [
        html.Strong(fault.file),
        html.Br(),
        html.Span(row + column, className="unit"),
    ]
    return [*said, html.Br(), html.Span("stops planning", className="tag")] if fault.loosens else said
