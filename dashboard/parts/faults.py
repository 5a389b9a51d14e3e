"""What the intake found wrong: where, what was seen, which rule, and the mend."""

from __future__ import annotations

from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts.marks import Child, data_table, folded
from triage.errors import Fault, JsonFault, Level
from triage.reports.words import counted
from triage.survey import Intake

TITLES = {
    Level.FAULT: ("fault", "faults", "Rows set aside until they are mended."),
    Level.WARNING: ("warning", "warnings", "Rows kept; somebody should look."),
    Level.NOTE: ("note", "notes", "Good to know."),
}


SHOWN_ALIKE = 3
"""Faults alike that are shown before the rest is folded."""


def fault_list(faults: Sequence[Fault | JsonFault]) -> Component:
    """Return faults in the order given; where many break one rule in one place, all but a few are folded."""
    groups: dict[tuple[str, str], list[Fault | JsonFault]] = {}
    for fault in faults:
        place = fault.path if isinstance(fault, JsonFault) else fault.file
        groups.setdefault((place, fault.rule), []).append(fault)
    return html.Div([piece for some in groups.values() for piece in _group(some)], className="faults")


def _group(faults: Sequence[Fault | JsonFault]) -> list[Component]:
    shown = len(faults) if len(faults) <= SHOWN_ALIKE + 1 else SHOWN_ALIKE
    rest = faults[shown:]
    more = [folded(f"{len(rest)} more like this", html.Ul([_item(f) for f in rest]))] if rest else []
    return [html.Ul([_item(f) for f in faults[:shown]]), *more]


def faults_by_level(faults: Sequence[Fault]) -> list[Component]:
    """Return faults, then warnings, then notes, each under its own heading with its number."""
    out: list[Component] = []
    for level, (one, many, meaning) in TITLES.items():
        some = [f for f in faults if f.level is level]
        if some:
            title = f"1 {one}" if len(some) == 1 else f"{len(some)} {many}"
            out += [html.H2(title), html.P(meaning, className="aside"), fault_list(some)]
    return out


def intake_sentence(intake: Intake) -> str:
    """Return in words how the reading went."""
    read = sum(c.read for c in intake.counts.values())
    aside = sum(c.set_aside for c in intake.counts.values())
    said = f"{read:,} rows of {counted(len(intake.counts), 'table')} were read"
    if not intake.errors:
        return f"{said} and all of them are used."
    mended = counted(len(intake.errors), "fault")
    return f"{said}; {counted(aside, 'row')} set aside until {mended} mended. Everything else is used."


def counts_table(intake: Intake) -> Component:
    """Return the rows of each table: read, used, set aside, used with a cell left unknown."""
    rows: list[list[Child]] = [
        [f"{name}.csv", f"{c.read:,}", f"{c.accepted:,}", f"{c.set_aside:,}", f"{c.in_part:,}"]
        for name, c in intake.counts.items()
    ]
    heads = ["Table", "Read", "Used", "Set aside", "Used in part"]
    return data_table("Rows by table", heads, rows, numbers=[1, 2, 3, 4], titled=True)


def extra_columns(intake: Intake) -> list[Component]:
    """Return the columns that are kept and used by nothing; nothing where there are none."""
    if not intake.extras:
        return []
    lines = [html.Li(f"{file}: {', '.join(names)}") for file, names in intake.extras.items()]
    return [html.H2("Columns kept but not used"), html.Ul(lines, className="words")]


def _item(fault: Fault | JsonFault) -> Component:
    seen: list[Component | str] = (
        [" Found ", html.Span(fault.value, className="seen"), "."] if fault.value else []
    )
    return html.Li(
        [
            html.Div(_where(fault), className="where"),
            html.Div([html.P([fault.rule, *(seen if fault.value else [])]), html.P(f"Mend: {fault.mend}")]),
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
