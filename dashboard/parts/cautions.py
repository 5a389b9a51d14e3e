"""Cautions as the reports carry them, in the one look cautions have."""

from __future__ import annotations

from collections.abc import Sequence

from dash.development.base_component import Component

from dashboard.parts.marks import caution
from triage.reports.rows import Caution, SafetyRow

ABOUT = {
    "safety": "look at this first",
    "lifting": "lifting and moving",
    "hazard": "hazards",
    "not_checked": "not checked",
}


def about(rows: Sequence[Caution]) -> str:
    """Return in a few words what cautions are about, each matter once."""
    return "; ".join(dict.fromkeys(ABOUT[row.kind] for row in rows))


def cautions(rows: Sequence[Caution]) -> list[Component]:
    """Return one caution for each kind, lines of the same words once, in the order given."""
    kinds = list(dict.fromkeys(row.kind for row in rows))
    return [
        caution(list(dict.fromkeys(r.text for r in rows if r.kind == kind)), about=ABOUT[kind])
        for kind in kinds
    ]


def one_caution(rows: Sequence[Caution]) -> list[Component]:
    """Return all cautions of one piece of work in one frame; none where there is nothing to say."""
    lines = list(dict.fromkeys(row.text for row in rows))
    return [caution(lines, about=about(rows))] if lines else []


def safety_caution(row: SafetyRow, heading: Component | str) -> Component:
    """Return the flag of an object whose safety elements are doubtful."""
    return caution([row.reason, row.caution.text], about=heading)
