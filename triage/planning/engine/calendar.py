"""Open months: the clock in which stages work and wait.

A *position* counts open months from 0; a *month* is a calendar month of the problem. A stage that starts
at position p and works m months ends after position p + m - 1; a stage that waits w open months more
starts at position p + m + w (rule 2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.planning.problem import PlanningProblem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Calendar:
    """The months of a problem.

    ``opened`` (positions,) holds the calendar month of each position; ``position`` (months,) the position
    of each month or -1 if it is closed; ``positions_to`` (months + 1,) how many positions lie before a month.
    """

    months: int
    opened: Ints
    position: Ints
    positions_to: Ints

    @classmethod
    def of(cls, problem: PlanningProblem) -> Calendar:
        """Read the open months of a problem."""
        opened = np.array(problem.open_months, dtype=np.int64)
        position = np.full(problem.months, -1, dtype=np.int64)
        position[opened] = np.arange(opened.size)
        before = np.zeros(problem.months + 1, dtype=np.int64)
        before[1:] = np.cumsum(position >= 0)
        return cls(problem.months, opened, position, before)

    @property
    def positions(self) -> int:
        """How many months are open."""
        return int(self.opened.size)

    def month(self, position: int) -> int:
        """Return the calendar month of a position."""
        return int(self.opened[position])

    def end(self, position: int, months: int) -> int:
        """Return the month after the last of ``months`` working months from a position."""
        return int(self.opened[position + months - 1]) + 1

    def fits(self, position: int, months: int) -> bool:
        """Return whether that many working months lie within the horizon."""
        return position >= 0 and position + months <= self.positions
