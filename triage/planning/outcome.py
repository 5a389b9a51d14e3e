"""Seam: how a search for a plan ended, how good the plan is and how that is known."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from triage.planning.problem import SCHEMA_VERSION, Plan, Seam, Whole


class Ending(StrEnum):
    """How the search ended; each is told truly."""

    PROVEN_BEST = "proven_best"
    BEST_IN_TIME = "best_in_time"
    NO_PLAN_IN_TIME = "no_plan_in_time"
    IMPOSSIBLE = "impossible"
    SOLVER_MISSING = "solver_missing"
    SOLVER_FAILED = "solver_failed"
    CANCELLED = "cancelled"
    REJECTED = "rejected"


class Violation(Seam):
    """One broken rule (1-10): which ids, which months (both included), said in words."""

    rule: int
    ids: tuple[str, ...] = ()
    from_month: Whole = 0
    to_month: Whole = 0
    text: str


class Outcome(Seam):
    """The result of a search. ``plan`` is there only if it passed the independent checker."""

    schema_version: int | str = SCHEMA_VERSION
    problem_digest: str
    ending: Ending
    plan: Plan | None
    made_by: Literal["integer_program", "greedy"] | None
    never: Whole
    """Total if nothing but the pinned jobs is done (see rule 10)."""
    bound: Whole | None
    """No valid plan can total less; None when not known, never invented."""
    gap: float | None
    """(total - bound) / (never - bound): the share of the avoidable loss."""
    seconds: float
    solver: str
    message: str
    conflicts: tuple[Violation, ...] = ()


def gap_of(total: int, bound: int | None, never: int) -> float | None:
    """Return the gap as a share of the avoidable loss; where never <= bound, 0 if closed, else None."""
    if bound is None:
        return None
    if never > bound:
        return (total - bound) / (never - bound)
    return 0.0 if total == bound else None
