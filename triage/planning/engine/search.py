"""Neighbourhood search: free some objects, solve for them exactly enough, keep what is better.

Each step generates columns for the freed objects within what the others leave, drops the step if its own
bound shows that nothing can be gained, and otherwise solves the integer program over the columns whose
reduced cost fits in the possible gain.
"""

from __future__ import annotations

import random
import time
from collections.abc import Sequence

import numpy as np

from triage.planning.engine.bound import BoundSearch
from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, Selection, usage
from triage.planning.engine.exact import best_columns
from triage.planning.engine.instance import Instance
from triage.planning.engine.neighbourhoods import Neighbourhoods
from triage.planning.formulation.model import JobTable, build, solve
from triage.planning.formulation.solvers import ABSOLUTE_GAP, SolverChoice, Status

MOST_COLUMNS = 400
"""Jobs a step's program may hold, and below the most seconds it gets, times the effort."""
STEP_SECONDS = 3.0
MOST_SECONDS = 1.0
MOST_EFFORT = 4.0
GAP_SHARE = 0.1
"""Share of the possible gain at which a step's program may stop."""
SMALLEST = 5.0


class Search:
    """Improves a plan step by step.

    Parameters
    ----------
    inst
        The problem.
    rng
        Source of chance.
    choice
        Solvers for the restricted programs.
    """

    def __init__(self, inst: Instance, rng: random.Random, choice: SolverChoice) -> None:
        self.inst, self.rng, self.choice = inst, rng, choice
        self.draws = Neighbourhoods(inst, rng)
        self.prices: Floats = np.zeros(inst.resources.size)
        self.size = 10.0
        self.effort = 1.0

    def use_prices(self, prices: Floats) -> None:
        """Take over prices of the resources."""
        self.prices = prices
        self.draws.look_at(prices)

    def step(self, plan: Selection, until: float) -> Selection | None:
        """Return a plan with a lower total, or None."""
        size = max(3, round(self.size * self.rng.uniform(0.6, 1.4)))
        freed = self.draws.draw(plan, size, 4 + size // 2)
        if not freed:
            return None
        better, settled = self.improve(plan, freed, min(until, time.monotonic() + STEP_SECONDS * self.effort))
        self.effort = min(MOST_EFFORT, self.effort * 1.03) if better is None else max(1.0, self.effort * 0.7)
        most = max(SMALLEST, float(len(self.draws.treatable)))
        self.size = min(most, self.size * 1.05) if settled else max(SMALLEST, self.size * 0.93)
        return better

    def merge(self, plan: Selection, other: Selection) -> Selection | None:
        """Return a plan of the jobs of both that is better than the first, or None."""
        columns = {c.key: c for c in (*plan.columns.values(), *other.columns.values())}
        everyone = [o.index for o in self.inst.objects]
        capacity = self.inst.resources.capacity
        mine = list(plan.columns.values())
        answer = self.restricted(list(columns.values()), everyone, capacity, mine, STEP_SECONDS)
        if answer is None or not answer[0].fits(self.inst):
            return None
        return answer[0] if answer[0].total(self.inst) < plan.total(self.inst) else None

    def improve(self, plan: Selection, freed: Sequence[int], until: float) -> tuple[Selection | None, bool]:
        """Return a better plan that differs in the freed objects only, and whether they are settled."""
        inst = self.inst
        free = set(freed)
        fixed = {o: c for o, c in plan.columns.items() if o not in free}
        capacity = inst.resources.capacity - usage(inst, fixed.values())
        mine = [c for o, c in plan.columns.items() if o in free]
        now = plan.total(inst) - _points(inst, fixed, free)
        lower = BoundSearch(inst, freed, capacity)
        lower.prices.best = self.prices
        lower.columns.update((c.key, c) for c in mine)
        lower.subgradient(1, until)
        lower.generate(until, rounds=25, close=1e-3)
        if lower.prices.bound is None or lower.prices.bound >= now:
            return None, lower.prices.bound is not None
        slack = now - 1 - lower.prices.value
        listing = best_columns(
            lower.pricer, lower.prices.best, lower.none, slack, round(MOST_COLUMNS * self.effort)
        )
        columns = {c.key: c for c in (*mine, *listing.columns)}
        if not listing.complete:
            columns |= lower.columns
        seconds = min(MOST_SECONDS * self.effort, until - time.monotonic())
        gap = max(ABSOLUTE_GAP, GAP_SHARE * slack)
        answer = self.restricted(list(columns.values()), freed, capacity, mine, seconds, gap)
        closed = listing.complete and answer is not None and answer[1]
        if answer is None:
            return None, False
        found = Selection({**fixed, **answer[0].columns})
        return (
            (found, closed) if found.total(inst) < plan.total(inst) and found.fits(inst) else (None, closed)
        )

    def restricted(
        self,
        columns: list[Column],
        freed: Sequence[int],
        capacity: Ints,
        start: Sequence[Column],
        seconds: float,
        gap: float = ABSOLUTE_GAP,
    ) -> tuple[Selection, bool] | None:
        """Solve the program over some columns; the plan of the freed objects and whether it is optimal."""
        program = build(JobTable(self.inst, columns, freed, capacity))
        result = solve(program, self.choice, max(0.3, seconds), start, gap=gap)
        selection = result.selection()
        return None if selection is None else (selection, result.status == Status.OPTIMAL)


def _points(inst: Instance, fixed: dict[int, Column], free: set[int]) -> int:
    """Points of everything that is not free, overtime left out."""
    alone = sum(o.none_points for o in inst.objects if o.index not in fixed and o.index not in free)
    return alone + sum(c.points for c in fixed.values())
