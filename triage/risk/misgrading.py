"""How a true grade becomes a recorded one: the misgrading matrix.

Neighbouring grades are confused with weights relative to a right grade, rows normalised, so that the ends of
the scale, which can be missed on one side only, get their own rates; a small floor lets any grade be entered
for any other (a slip of the pen), without which a 4 followed by a 1 would have no chance at all.

The matrix is fixed here and the same for everyone; it is asked for by assessor, so that one can be estimated
for each. The weights are those of a simulated study with six assessors; a published trial of 33 conservators
on 20 objects found Krippendorff's alpha of only 0.372 (J. Taylor, Studies in Conservation 58(2), 2013).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.risk.markov import GRADES

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Misgrading:
    """Weights of a grade too bad or too good by one against a right grade of weight 1, and the floor."""

    too_bad: float = 0.08
    too_good: float = 0.08
    floor: float = 0.004

    def matrix(self) -> Array:
        """Return E, shape (4, 4): E[true, recorded], rows sum to 1."""
        weights = np.eye(GRADES)
        for grade in range(GRADES - 1):
            weights[grade, grade + 1] = self.too_bad
            weights[grade + 1, grade] = self.too_good
        weights /= weights.sum(axis=1, keepdims=True)
        return np.asarray((1.0 - self.floor) * weights + self.floor / GRADES)

    def by_assessor(self, assessors: Sequence[str]) -> Array:
        """Return one matrix an assessor, shape (len(assessors), 4, 4)."""
        return np.broadcast_to(self.matrix(), (len(assessors), GRADES, GRADES))
