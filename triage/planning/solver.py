"""From problem to outcome: a search in watched child processes, plans checked, the ending told truly."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from triage.errors import Cancelled
from triage.planning.engine.conductor import Conductor, Progress
from triage.planning.engine.endings import outcome_of
from triage.planning.engine.instance import Instance, build_instance
from triage.planning.engine.quick import quick_answer
from triage.planning.outcome import Outcome
from triage.planning.problem import PlanningProblem

__all__ = ["Limits", "Progress", "solve"]

SolverName = Literal["highs", "cbc", "none"]
SOLVERS: dict[str, tuple[str, ...]] = {"highs": ("highs", "cbc"), "cbc": ("cbc",), "none": ()}
ONE_CHILD = 700
"""Treatments times open months up to which one child process is enough."""


@dataclass(frozen=True)
class Limits:
    """How long to search and with what.

    Parameters
    ----------
    seconds
        Wall-clock limit; it holds whatever a solver does.
    seed
        Seed of the search. Problems that are proven give the same total for every seed.
    workers
        Child processes, 1 or 2 (more are not used).
    solver
        "highs" (CBC where HiGHS is missing or fails), "cbc", or "none" (greedy plan only).
    """

    seconds: float = 60.0
    seed: int = 0
    workers: int = 2
    solver: SolverName = "highs"


def solve(
    problem: PlanningProblem, limits: Limits, progress: Callable[[Progress], None] | None = None
) -> Outcome:
    """Search for the plan with the fewest points.

    Parameters
    ----------
    problem
        A well-formed problem.
    limits
        Time, seed, processes, solver.
    progress
        Called a few times a second; it may raise :class:`triage.errors.Cancelled` to stop the search, which
        then returns the best plan so far with the ending "cancelled". Ctrl-C does the same.

    Returns
    -------
    Outcome
        Its plan has passed :func:`triage.planning.verify.verify`.
    """
    began = time.monotonic()
    conductor = Conductor(problem, began, limits.seconds, progress)
    cancelled = False
    try:
        inst = build_instance(problem)
        if limits.solver == "none" or not conductor.settle_with(quick_answer(inst)):
            _search(conductor, inst, limits)
    except (Cancelled, KeyboardInterrupt):
        cancelled = True
    return outcome_of(problem, conductor.findings, cancelled, time.monotonic() - began)


def _search(conductor: Conductor, inst: Instance, limits: Limits) -> None:
    """Run the children; if they break down without any plan, a last one that needs no solver."""
    size = len(inst.treatments) * inst.calendar.positions
    roles = ("lead",) if limits.workers < 2 or size <= ONE_CHILD else ("lead", "search")
    found = conductor.findings
    conductor.run(roles, limits.seed, SOLVERS[limits.solver])
    broke_down = bool(found.failed) and not found.timed_out and found.clash is None and not found.settled()
    if broke_down and found.greedy_plan is None and found.made_by is None:
        conductor.run(("greedy",), limits.seed, ())
