"""What stands behind a plan, in one sentence: how good it is and how that is known."""

from __future__ import annotations

from triage.planning.outcome import Ending, Outcome
from triage.reports.words import at_most_percent

NO_PLAN = {
    Ending.NO_PLAN_IN_TIME: "No plan was found in the time given. Give it longer with --seconds.",
    Ending.IMPOSSIBLE: "There is no plan: promises that must be kept clash.",
    Ending.SOLVER_MISSING: "There is no plan: no solver is installed.",
    Ending.SOLVER_FAILED: "There is no plan: the solver failed.",
    Ending.CANCELLED: "Stopped before any plan was found.",
    Ending.REJECTED: "There is no plan: what the search found broke a rule, so it is not shown.",
}


def standing(outcome: Outcome) -> str:
    """Return how good the outcome's plan is, in one sentence; or why there is none."""
    if outcome.plan is None:
        return NO_PLAN[outcome.ending]
    who = {
        Ending.SOLVER_MISSING: "No solver is installed; this plan was made by a simple rule and checked. ",
        Ending.SOLVER_FAILED: "The solver failed; this is the best checked plan it left. ",
        Ending.CANCELLED: "Stopped early; this is the best checked plan so far. ",
    }.get(outcome.ending, "")
    return who + _quality(outcome)


def _quality(outcome: Outcome) -> str:
    if outcome.ending is Ending.PROVEN_BEST:
        return "Proven best: under these figures no other plan does better."
    if outcome.bound is None or outcome.gap is None:
        return "How much better another plan could be is not known."
    return (
        f"Checked plan, the best found in {outcome.seconds:.0f} s. Gap: another plan could save at most "
        f"{at_most_percent(outcome.gap)} of the avoidable loss beyond it."
    )


def points_in_words(outcome: Outcome) -> str:
    """Return the plan's points with what each part is; empty without a plan."""
    if outcome.plan is None:
        return ""
    points = outcome.plan.points
    return (
        f"In points (100 are the whole of an object of significance 1): {points.loss:,} lost, "
        f"{points.away:,} for months off display, {points.overtime:,} for overtime, "
        f"{points.moves:,} for moved starts, {points.total:,} together. "
        f"Doing nothing new would come to {outcome.never:,}"
        + ("." if outcome.bound is None else f"; no plan can come below {outcome.bound:,}.")
    )
