"""Which objects to free in the next step of the search."""

from __future__ import annotations

import random
from collections.abc import Callable

import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, Selection, make_column
from triage.planning.engine.instance import Instance
from triage.planning.engine.pricing import INFEASIBLE, Pricer


class Neighbourhoods:
    """Draws sets of planned objects to free, and unplanned ones that may take their place.

    Parameters
    ----------
    inst
        The problem.
    rng
        Source of chance.
    """

    def __init__(self, inst: Instance, rng: random.Random) -> None:
        self.inst, self.rng = inst, rng
        self.treatable = [o.index for o in inst.objects if o.treatments]
        self.interest: dict[int, float] = dict.fromkeys(self.treatable, 0.0)
        self.favourite: dict[int, Column] = {}
        self.pricer = Pricer(inst, self.treatable)

    def look_at(self, prices: Floats) -> None:
        """Learn what each object's best job would gain at some prices."""
        self.pricer.price(prices)
        cost, row, start = self.pricer.cheapest()
        for k, o in enumerate(self.treatable):
            self.interest[o] = float(self.inst.objects[o].none_points - cost[k])
            if cost[k] < INFEASIBLE:
                job = self.pricer.job(int(row[k]), int(start[k]))
                self.favourite[o] = make_column(self.inst, self.pricer.treatments[int(row[k])], *job)

    def draw(self, plan: Selection, size: int, others: int) -> list[int]:
        """Return objects to free: ``size`` planned ones, and ``others`` unplanned ones."""
        planned = sorted(plan.columns)
        kinds: list[Callable[[Selection, list[int], int], list[int]]] = [
            self._near_in_time,
            self._near_in_time,
            self._near_in_time,
            self._of_halls,
            self._by_chance,
            self._sharing,
            self._in_the_way,
        ]
        freed = self.rng.choice(kinds)(plan, planned, size) if planned else []
        return sorted({*freed[:size], *self._unplanned(plan, others)})

    def _unplanned(self, plan: Selection, count: int) -> list[int]:
        """Objects without a job: the more a job would gain at the prices, the sooner."""
        without = [o for o in self.treatable if o not in plan.columns]
        scale = max((abs(self.interest[o]) for o in without), default=0.0) * 0.15 + 1.0
        return sorted(without, key=lambda o: self.rng.gauss(0.0, scale) - self.interest[o])[:count]

    def _near_in_time(self, plan: Selection, planned: list[int], size: int) -> list[int]:
        middle = self.rng.uniform(0, self.inst.calendar.positions)
        return sorted(planned, key=lambda o: abs(_middle(plan.columns[o]) - middle))

    def _of_halls(self, plan: Selection, planned: list[int], size: int) -> list[int]:
        halls = list(range(-1, len(self.inst.problem.halls)))
        self.rng.shuffle(halls)
        order = {hall: k for k, hall in enumerate(halls)}
        shuffled = self.rng.sample(planned, len(planned))
        return sorted(shuffled, key=lambda o: order[self.inst.objects[o].hall])

    def _by_chance(self, plan: Selection, planned: list[int], size: int) -> list[int]:
        return self.rng.sample(planned, len(planned))

    def _sharing(self, plan: Selection, planned: list[int], size: int) -> list[int]:
        """Those that share most rows with one of them."""
        rows = plan.columns[self.rng.choice(planned)].rows
        return self._ranked(plan, planned, rows)

    def _in_the_way(self, plan: Selection, planned: list[int], size: int) -> list[int]:
        """Those that use what some unplanned object's favourite job needs and there is too little of."""
        waiting = [o for o in self.favourite if o not in plan.columns and self.interest[o] > -1e9]
        if not waiting:
            return self._by_chance(plan, planned, size)
        best = max(self.rng.sample(waiting, min(4, len(waiting))), key=lambda o: self.interest[o])
        job, res = self.favourite[best], self.inst.resources
        short = (plan.used(self.inst)[job.rows] + job.use) > (res.capacity + res.overtime_most)[job.rows]
        return self._ranked(plan, planned, job.rows[short] if short.any() else job.rows)

    def _ranked(self, plan: Selection, planned: list[int], rows: Ints) -> list[int]:
        mark = np.zeros(self.inst.resources.size, dtype=bool)
        mark[rows] = True
        share = {o: int(mark[plan.columns[o].rows].sum()) + self.rng.random() for o in planned}
        return sorted(planned, key=lambda o: -share[o])


def _middle(column: Column) -> float:
    return (column.starts[0] + column.starts[-1]) / 2
