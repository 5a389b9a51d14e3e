"""From what was found to an outcome whose ending is true."""

from __future__ import annotations

from typing import Literal, cast

from triage.planning.engine.conductor import Findings
from triage.planning.outcome import Ending, Outcome, Violation, gap_of
from triage.planning.points import never
from triage.planning.problem import Plan, PlanningProblem


def ending_of(found: Findings, cancelled: bool) -> Ending:
    """Say how the search ended."""
    if cancelled:
        return Ending.CANCELLED
    if found.clash is not None:
        return Ending.IMPOSSIBLE
    if found.missing:
        return Ending.SOLVER_MISSING
    if found.settled():
        return Ending.PROVEN_BEST
    if found.failed and not found.timed_out and found.made_by != "integer_program":
        return Ending.SOLVER_FAILED
    if found.plan is not None:
        return Ending.BEST_IN_TIME
    return Ending.REJECTED if found.rejected else Ending.NO_PLAN_IN_TIME


def outcome_of(problem: PlanningProblem, found: Findings, cancelled: bool, seconds: float) -> Outcome:
    """Write the outcome down."""
    ending = ending_of(found, cancelled)
    plan, made_by = _plan_for(found, ending)
    unavoidable = never(problem)
    bound = found.bound if ending != Ending.IMPOSSIBLE else None
    if plan is not None and bound is not None and bound > plan.points.total:
        bound = None
    return Outcome(
        problem_digest=problem.digest(),
        ending=ending,
        plan=plan,
        made_by=cast("Literal['integer_program', 'greedy'] | None", made_by),
        never=unavoidable,
        bound=bound,
        gap=None if plan is None else gap_of(plan.points.total, bound, unavoidable),
        seconds=round(seconds, 3),
        solver=found.solver or ("none" if plan is None else "greedy"),
        message=_message(found, ending),
        conflicts=_conflicts(found, ending),
    )


def _plan_for(found: Findings, ending: Ending) -> tuple[Plan | None, str | None]:
    if ending in (Ending.IMPOSSIBLE, Ending.NO_PLAN_IN_TIME, Ending.REJECTED):
        return None, None
    if ending in (Ending.SOLVER_MISSING, Ending.SOLVER_FAILED):
        return found.greedy_plan, None if found.greedy_plan is None else "greedy"
    return found.plan, found.made_by


def _conflicts(found: Findings, ending: Ending) -> tuple[Violation, ...]:
    if ending == Ending.IMPOSSIBLE:
        return found.clash or ()
    return found.rejected if ending == Ending.REJECTED else ()


def _message(found: Findings, ending: Ending) -> str:
    """Say in one or two sentences how it ended."""
    trouble = " ".join(dict.fromkeys(found.failed))
    texts = {
        Ending.PROVEN_BEST: "No plan has fewer points than this one.",
        Ending.BEST_IN_TIME: "The best plan found in the time; a better one may exist.",
        Ending.NO_PLAN_IN_TIME: "No plan was found in the time. A longer time may find one.",
        Ending.IMPOSSIBLE: "No plan keeps all of these promises.",
        Ending.SOLVER_MISSING: f"{found.missing} A plan made without one may be far from best.",
        Ending.SOLVER_FAILED: f"The solver broke down ({trouble}). A plan without it may be far from best.",
        Ending.CANCELLED: "Stopped before the end; the plan is the best found until then.",
        Ending.REJECTED: "The search found only plans that the checker refused. Please report this.",
    }
    text = texts[ending]
    if trouble and ending == Ending.BEST_IN_TIME:
        text += f" Part of the search broke down ({trouble})."
    return text
