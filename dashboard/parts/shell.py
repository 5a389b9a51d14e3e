"""The sheet around every page: index of sheets, frame, title block; and the sheets that tell a state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dash import dcc, html
from dash.development.base_component import Component

from dashboard.parts.faults import fault_list
from dashboard.parts.marks import Child, aria, folded
from triage.errors import Fault, JsonFault, Level
from triage.reports.words import counted

SHEETS = (
    ("/", "Next off display"),
    ("/bays", "Bays over time"),
    ("/hours", "Staff hours"),
    ("/objects", "Objects"),
    ("/figures", "How figures are made"),
    ("/intake", "What was read"),
)


LAST_STEPS = 6
"""Steps of the work that are shown while it goes on."""


@dataclass(frozen=True)
class Sheet:
    """One page: its title in the window, its body, its number in the index (None: not in it)."""

    title: str
    body: Sequence[Component]
    path: str = ""
    found: bool = True
    """False: there is nothing at this address."""


def index_of_sheets(house: str, here: str) -> Component:
    """Return the index of sheets, the present one marked."""
    links = [
        html.Li(dcc.Link(name, href=path), **aria(current="page" if path == here else ""))
        for path, name in SHEETS
    ]
    return html.Header(
        html.Nav(
            [html.P(house, className="house"), html.Ol(links)], className="index", **aria(label="Sheets")
        )
    )


def title_block(pairs: Sequence[tuple[str, Child]]) -> Component:
    """Return the title block: what this sheet shows, and how far its figures can be trusted."""
    return html.Footer(
        html.Dl(
            [html.Div([html.Dt(k), html.Dd(v)]) for k, v in pairs if v not in (None, "")], className="block"
        )
    )


def progress_sheet(
    said: Sequence[str], seconds: float, allowed: float, *, cancelling: bool
) -> list[Component]:
    """Return the words and the rule that show how far planning is."""
    share = min(1.0, seconds / allowed) if allowed > 0 else 1.0
    told = (
        f"{seconds:.0f} s of at most {allowed:.0f} s" if seconds <= allowed else f"{seconds:.0f} s, finishing"
    )
    rule = html.Div(html.I(style={"width": f"{share:.0%}"}), className="rule", **aria(hidden="true"))
    return [
        html.P("Cancelling, keeping the best plan so far." if cancelling else told, className="lead"),
        rule,
        html.Ul([html.Li(line) for line in said[-LAST_STEPS:]], className="words", **aria(live="polite")),
    ]


def planning(said: Component) -> list[Component]:
    """Return the sheet shown while a plan is being made."""
    return [
        html.H1("A plan is being made"),
        html.P(
            "The folder is read, the wear of every element is estimated, then the plan is searched for and "
            "checked. "
            "This sheet turns by itself when it is done."
        ),
        said,
        html.Button("Cancel and show the best so far", id="cancel", type="button"),
    ]


def unusable(message: str, faults: Sequence[Fault | JsonFault]) -> list[Component]:
    """Return the sheet shown where the folder cannot be used: what to mend, then what else was noticed."""
    mend = [f for f in faults if isinstance(f, JsonFault) or f.level is Level.FAULT]
    other = [f for f in faults if f not in mend]
    ask = f"Mend {counted(len(mend), 'thing')}" if mend else "Mend it"
    noticed = folded(f"{counted(len(other), 'warning')} besides", fault_list(other)) if other else None
    return [
        html.H1("No plan can be made from this folder yet"),
        html.P(message, className="lead"),
        html.P(f"{ask}, then read the folder again. Nothing in it was changed."),
        html.Button("Read the folder again", id="again", type="button"),
        *([html.H2("What to mend"), fault_list(mend)] if mend else []),
        *([noticed] if noticed else []),
    ]


def stopped(message: str) -> list[Component]:
    """Return the sheet shown where work ended without anything to show."""
    return [
        html.H1("There is no plan to show"),
        html.P(message, className="lead"),
        html.Button("Plan again", id="again", type="button"),
    ]


def not_found(what: str) -> list[Component]:
    """Return the sheet for an address without anything at it."""
    return [
        html.H1("There is no such sheet"),
        html.P(what, className="lead"),
        html.P([dcc.Link("Next off display", href="/"), " or ", dcc.Link("all objects", href="/objects")]),
    ]


def went_wrong() -> list[Component]:
    """Return the sheet shown where the dashboard itself failed."""
    return [
        html.H1("This sheet could not be drawn"),
        html.P(
            "Nothing was changed and the plan is still there. The reason is in the window where the "
            "dashboard was started."
        ),
        html.P([html.A("Try again", href=""), " or ", html.A("go to the first sheet", href="/")]),
    ]
