"""Exact pricing: the cheapest job of every treatment at given prices of the resources.

A job's cost at prices splits into work (hours of each working month) and stay (place, display and points
away, month by month), so one backward recursion over stages and positions is exact:

    V_k(p) = work_k(p) + min over class g, wait w of  stay_kg(p .. q) + V_{k+1}(q),   q = p + months_k + w

with the loss by its end in place of V after the last stage. All treatments are batched: stages are
grouped by how many stages follow, and each group is one set of numpy arrays. Stays are differences of
prefix sums over calendar months, so closed months count without a loop.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from triage.planning.engine.admissible import admissible_starts, blocked_months
from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.instance import Instance
from triage.planning.engine.levels import make_levels

INFEASIBLE = 1e15


class Pricer:
    """Prices the treatments of some objects within a given capacity.

    Parameters
    ----------
    inst
        The problem.
    objects
        Indices of the objects that may get a job.
    capacity
        (rows,) what is left for them, overtime not included; None: everything. What cannot fit in it even
        alone is left out, which tightens the bound and keeps the recursion exact.
    """

    def __init__(self, inst: Instance, objects: Sequence[int], capacity: Ints | None = None) -> None:
        self.inst = inst
        self.objects = np.array(objects, dtype=np.int64)
        res = inst.resources
        self.room: Ints = (res.capacity if capacity is None else capacity) + res.overtime_most
        self.treatments = [t for o in objects for t in inst.objects[o].treatments]
        local = {o: k for k, o in enumerate(objects)}
        self.owner = np.array(
            [local[inst.treatments[t].object_index] for t in self.treatments], dtype=np.int64
        )
        self.levels = make_levels(inst, self.treatments, self.owner)
        for level in self.levels:
            blocked_months(inst, self.objects, level, self.room)
        self.start_allowed, self.start_points = admissible_starts(inst, self.treatments, self.room)
        self._cost = np.array([inst.treatments[t].cost for t in self.treatments], dtype=np.float64)
        self._rules = np.zeros((len(objects), len(inst.problem.rules)))
        for k, o in enumerate(objects):
            self._rules[k, list(inst.objects[o].rules)] = 1.0
        self._hall = np.array([inst.objects[o].hall for o in objects], dtype=np.int64)
        self._away_points = np.array([inst.objects[o].away_points for o in objects], dtype=np.float64)
        self.values = np.zeros((0, 0))

    def price(self, prices: Floats) -> Floats:
        """Return (treatments, positions): the least cost of a job by first start, INFEASIBLE where none.

        ``prices`` (rows,) are points per unit of each resource, >= 0.
        """
        away = self._away_price(prices)
        if not self.treatments:
            self.values = np.zeros((0, self.inst.calendar.positions))
            return self.values
        after: Floats | None = None
        for level in self.levels:
            after = level.recurse(self.inst, prices, away, after)
        first = np.empty((len(self.treatments), self.inst.calendar.positions))
        for level in self.levels:
            first[level.first_of] = level.best[level.first_rows]
        first += self.start_points + self._cost[:, None] * self._budget_price(prices)[None, :]
        first[~self.start_allowed] = INFEASIBLE
        np.minimum(first, INFEASIBLE, out=first)
        self.values = first
        return first

    def _away_price(self, prices: Floats) -> Floats:
        """(objects, months): points and prices of being away, per object."""
        res, months = self.inst.resources, self.inst.months
        away = np.repeat(self._away_points[:, None], months, axis=1)
        halls = np.vstack([res.table("away", prices), np.zeros((1, months))])
        away += halls[self._hall]
        if self._rules.shape[1]:
            away += self._rules @ res.table("rules", prices)
        return away

    def _budget_price(self, prices: Floats) -> Floats:
        """(positions,): price of one unit of money by the month of the first start."""
        res = self.inst.resources
        start = self.inst.calendar.opened
        held = (res.budget_from[:, None] <= start) & (start <= res.budget_to[:, None])
        return np.asarray(prices[res.block("budget")] @ held, dtype=np.float64).reshape(start.size)

    def cheapest(self) -> tuple[Floats, Ints, Ints]:
        """Return per object the least cost of a job, its row in ``treatments`` and its first start."""
        cost = np.full(self.objects.size, INFEASIBLE)
        row = np.full(self.objects.size, -1, dtype=np.int64)
        start = np.full(self.objects.size, -1, dtype=np.int64)
        if self.values.size:
            best = self.values.argmin(axis=1)
            value = self.values[np.arange(best.size), best]
            order = np.lexsort((value, self.owner))
            owners, at = np.unique(self.owner[order], return_index=True)
            chosen = order[at]
            cost[owners], row[owners], start[owners] = value[chosen], chosen, best[chosen]
        return cost, row, start

    def job(self, row: int, start: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Return starts and classes of the cheapest job of a treatment row from a first start."""
        stages = self.inst.treatments[self.treatments[row]].stages
        p, starts, classes = start, [], []
        for depth in range(len(stages) - 1, -1, -1):
            after = self.levels[depth - 1].best if depth else None
            g, following = self.levels[depth].choice(row, p, after)
            starts.append(p)
            classes.append(g)
            p = following
        return tuple(starts), tuple(classes)
