"""Lagrangian relaxation of every resource: the bound any prices prove, and subgradient steps to good ones.

For any prices >= 0 the sum over objects of the cheapest job (or none) at those prices, less the prices of
what there is, is a bound on every valid plan. So each pricing gives one, and no solver is needed for it.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, Key, make_column, usage
from triage.planning.engine.instance import Instance
from triage.planning.engine.pricing import INFEASIBLE, Pricer
from triage.planning.engine.resources import NO_LIMIT

SAFETY = 1e-10
"""Relative error allowed for sums of binary fractions when a bound is rounded up."""


@dataclass(frozen=True)
class Relaxed:
    """A Lagrangian relaxation solved: its value, and per object the least cost, treatment row and start."""

    value: float
    bound: int | None
    """A whole number no valid plan can go below; None if some promised object has no job at all."""
    cost: Floats
    row: Ints
    start: Ints


def relax(pricer: Pricer, prices: Floats, capacity: Ints) -> Relaxed:
    """Solve the relaxation at some prices (rows,) >= 0."""
    inst, res = pricer.inst, pricer.inst.resources
    pricer.price(prices)
    cost, row, start = pricer.cheapest()
    none = np.array([np.inf if inst.objects[o].must else inst.objects[o].none_points for o in pricer.objects])
    least = np.minimum(cost, none)
    if np.any(least >= INFEASIBLE):
        return Relaxed(-math.inf, None, cost, row, start)
    sold = prices * capacity
    bought = np.maximum(0.0, prices - res.overtime_points) * res.overtime_most
    value = float(least.sum() - sold.sum() - bought.sum())
    size = float(np.abs(least).sum() + np.abs(sold).sum() + bought.sum())
    return Relaxed(value, math.ceil(value - 1e-6 - SAFETY * size), cost, row, start)


@dataclass
class Prices:
    """The best prices found and the bound they prove."""

    best: Floats
    value: float = -math.inf
    bound: int | None = None
    worth: Floats = field(default_factory=lambda: np.zeros(0))
    """(objects,) least cost of each object at the best prices."""

    def offer(self, prices: Floats, relaxed: Relaxed, none: Floats) -> bool:
        """Keep these prices if they prove more."""
        if relaxed.value <= self.value:
            return False
        self.best, self.value, self.bound = prices.copy(), relaxed.value, relaxed.bound
        self.worth = np.minimum(relaxed.cost, none)
        return True


def chosen_columns(pricer: Pricer, relaxed: Relaxed, limit: Floats) -> list[Column]:
    """Return each object's cheapest job where it costs less than ``limit`` (objects,)."""
    found = []
    for k in np.flatnonzero((relaxed.cost < np.minimum(limit, INFEASIBLE)) & (relaxed.row >= 0)):
        row, start = int(relaxed.row[k]), int(relaxed.start[k])
        found.append(make_column(pricer.inst, pricer.treatments[row], *pricer.job(row, start)))
    return found


class PriceSearch:
    """Finds good prices for some objects within a capacity, and columns on the way, without any solver.

    Parameters
    ----------
    inst, objects, capacity
        The problem, the objects that may get a job, and what is left for them.
    report
        Called with each better bound (only meaningful when nothing is left out).
    """

    def __init__(
        self,
        inst: Instance,
        objects: Sequence[int],
        capacity: Ints,
        report: Callable[[Prices], None] = lambda prices: None,
    ) -> None:
        self.inst, self.capacity, self.report = inst, capacity, report
        self.pricer = Pricer(inst, objects, capacity)
        self.none = np.array(
            [np.inf if inst.objects[o].must else inst.objects[o].none_points for o in objects],
            dtype=np.float64,
        )
        self.prices = Prices(np.zeros(inst.resources.size))
        self.columns: dict[Key, Column] = {}

    def try_prices(self, prices: Floats) -> Relaxed:
        """Solve the relaxation and keep the prices if they are the best."""
        relaxed = relax(self.pricer, prices, self.capacity)
        if self.prices.offer(prices, relaxed, self.none):
            self.report(self.prices)
        return relaxed

    def subgradient(self, steps: int, until: float) -> bool:
        """Improve the prices by Polyak steps in units of capacity; False if no plan can exist at all."""
        res = self.inst.resources
        unit = 1.0 / np.maximum(1, np.abs(self.capacity))
        limited = self.capacity < NO_LIMIT // 2
        prices, size, stuck = self.prices.best.copy(), 1.0, 0
        for step in range(steps):
            before = self.prices.value
            relaxed = self.try_prices(prices)
            if relaxed.bound is None:
                return False
            jobs = chosen_columns(self.pricer, relaxed, self.none)
            if step == 0 or 2 * step >= steps:
                self.columns.update((job.key, job) for job in jobs)
            stuck = 0 if self.prices.value > before + 1e-3 * abs(before) else stuck + 1
            if stuck >= 4:
                size, stuck, prices = size / 2, 0, self.prices.best.copy()
            slope = (
                usage(self.inst, jobs) - self.capacity - (prices > res.overtime_points) * res.overtime_most
            ) * unit
            slope[~limited | ((prices <= 0) & (slope < 0))] = 0.0
            norm = float(slope @ slope)
            if norm < 1e-12 or time.monotonic() > until:
                break
            aim = 0.05 * float(self._ceiling() - self.prices.value) + 1.0
            prices = np.maximum(0.0, prices + size * aim / norm * slope * unit)
        return True

    def _ceiling(self) -> float:
        """Points of doing nothing, or of the cheapest promised jobs."""
        return float(np.where(np.isfinite(self.none), self.none, self.prices.worth).sum())
