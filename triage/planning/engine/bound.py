"""The lower bound by column generation: the linear program's prices, smoothed, priced exactly."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence

import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, make_column
from triage.planning.engine.instance import Instance
from triage.planning.engine.master import LinearSolution, Master
from triage.planning.engine.pricing import INFEASIBLE
from triage.planning.engine.relaxation import Prices, PriceSearch

SMOOTHING = 0.7
"""Share of the best prices so far in the prices tried next."""


class BoundSearch(PriceSearch):
    """Price search that goes on by column generation on a master linear program.

    ``solution`` is the last linear program solved; ``columns`` every column met.
    """

    def __init__(
        self,
        inst: Instance,
        objects: Sequence[int],
        capacity: Ints,
        report: Callable[[Prices], None] = lambda prices: None,
    ) -> None:
        super().__init__(inst, objects, capacity, report)
        self.master = Master(inst, objects, capacity)
        self.solution: LinearSolution | None = None

    def generate(self, until: float, rounds: int = 10_000, close: float = 2e-4) -> bool:
        """Improve the prices by column generation; True if the linear program is solved to the end."""
        self.master.add(list(self.columns.values()))
        for _ in range(rounds):
            self.solution = self.master.solve()
            if self._closed(close):
                return True
            lp = self.solution.prices
            mixed = lp if self.prices.bound is None else SMOOTHING * self.prices.best + (1 - SMOOTHING) * lp
            if not self._grow(mixed) and not self._grow(lp):
                return True
            if time.monotonic() > until:
                return False
        return False

    def _closed(self, close: float) -> bool:
        """True if the linear program's value is as good as proven."""
        assert self.solution is not None
        if self.prices.bound is None or self.solution.missing > 1e-6:
            return False
        value = self.solution.value
        span = max(1.0, abs(float(self._ceiling()) - value))
        return math.ceil(value - 1e-6) <= self.prices.bound or value - self.prices.value <= close * span

    def _grow(self, prices: Floats) -> bool:
        """Price, and add the jobs that improve the linear program; False if there is none."""
        assert self.solution is not None
        self.try_prices(prices)
        jobs = [job for job in self._candidates() if self.reduced_cost(job) < -1e-6]
        self.columns.update((job.key, job) for job in jobs)
        return self.master.add(jobs) > 0

    def reduced_cost(self, job: Column) -> float:
        """Points of a job at the linear program's prices less the worth of its object there."""
        assert self.solution is not None
        worth = self.solution.worth[self.master.place(job.object_index)]
        return float(job.points + job.use @ self.solution.prices[job.rows] - worth)

    def _candidates(self) -> list[Column]:
        """Each treatment's cheapest job where it may improve the linear program."""
        assert self.solution is not None
        pricer = self.pricer
        if not pricer.treatments:
            return []
        start = pricer.values.argmin(axis=1)
        value = pricer.values[np.arange(start.size), start]
        slack = 0.02 * np.abs(self.solution.worth[pricer.owner]) + 1.0
        rows = np.flatnonzero((value < self.solution.worth[pricer.owner] + slack) & (value < INFEASIBLE))
        return [
            make_column(self.inst, pricer.treatments[r], *pricer.job(int(r), int(start[r]))) for r in rows
        ]
