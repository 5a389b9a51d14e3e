"""From standard normal parameters to the model's quantities: every prior is in this file.

Each parameter is written so that its prior is a standard normal one; a fit's penalty is then half the sum of
squares, and the share of what is known of a parameter that comes from data is 1 minus its variance.

=============  ==========================================================================================
rate           log(ln 2 / table's median) + sd * (sqrt(POOLED) * shift_k + sqrt(1 - POOLED) * own_mk),
               sd from the table's spread: the range the table states is the range believed, and a museum
               that ages faster or slower than the table does so for every material, in proportion to it
cause          coefficient exp(CAUSE_SD * z) on the table's log factor: its sign stays the table's
climate        coefficient 1 + CLIMATE_SD * z on the handbook's log factor
hung           log factor HUNG_MEAN + HUNG_SD * z (from memory)
first grade    softmax of log FIRST + FIRST_SD * z_g, tilted by material by TILT_SD * z * (grade - 1)
=============  ==========================================================================================
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from triage.risk.intervals import Histories
from triage.risk.likelihood import Natural, Slopes
from triage.risk.markov import GRADES, STEPS, rates_of_medians
from triage.risk.misgrading import Misgrading

Array = NDArray[np.float64]

POOLED = 0.5
"""Share of the belief about a material's rate that is common to all the museum's materials."""
CAUSE_SD = 0.5
CLIMATE_SD = 0.5
HUNG_MEAN = 0.1
HUNG_SD = 0.3
FIRST = (0.55, 0.28, 0.12, 0.05)
"""Grades at a first look, before any is seen (from memory)."""
FIRST_SD = 1.0
TILT_SD = 0.5
OWN = STEPS + 1
"""Parameters of each material: its three steps' own part, and its tilt of the first grade."""


@dataclass(frozen=True)
class Layout:
    """Which entry of the parameter vector is what: shared ones first, then those of each material."""

    materials: int
    causes: int
    climate: int

    @property
    def shared(self) -> int:
        """How many parameters all materials share."""
        return STEPS + (GRADES - 1) + self.causes + self.climate + 1

    @property
    def size(self) -> int:
        """How many parameters there are."""
        return self.shared + self.materials * OWN

    def split(self, z: Array) -> tuple[Array, Array, Array, Array]:
        """Return views (shift (3,), first (3,), covariates, own (materials, 4)) of a vector."""
        covariates = slice(STEPS + GRADES - 1, self.shared)
        own = z[self.shared :].reshape(self.materials, OWN)
        return z[:STEPS], z[STEPS : STEPS + GRADES - 1], z[covariates], own


class Priors:
    """The priors of one collection, and the way between parameters and quantities.

    Parameters
    ----------
    histories
        Materials with their tables, and the covariates in order.
    misgrading
        How grades are taken to be confused.
    """

    def __init__(self, histories: Histories, misgrading: Misgrading) -> None:
        names = histories.covariates
        self.layout = Layout(
            len(histories.materials), len(names.causes), len(names.names) - len(names.causes) - 1
        )
        self._years = np.array([p.years for p in histories.priors]).reshape(-1, STEPS)
        self._sd = np.array([p.log_sd for p in histories.priors])[:, None]
        self._errors = misgrading.by_assessor(histories.assessors)

    @cached_property
    def _kind(self) -> tuple[slice, slice, int]:
        causes = self.layout.causes
        return slice(0, causes), slice(causes, causes + self.layout.climate), causes + self.layout.climate

    def natural(self, z: Array) -> Natural:
        """Return the model's quantities at a parameter vector."""
        shift, grade, covariates, own = self.layout.split(z)
        pooled = np.sqrt(POOLED) * shift + np.sqrt(1.0 - POOLED) * own[:, :STEPS]
        log_rates = np.log(rates_of_medians(self._years)) + self._sd * pooled
        return Natural(log_rates, self._coef(covariates), self._first(grade, own[:, STEPS]), self._errors)

    def _coef(self, z: Array) -> Array:
        causes, climate, hung = self._kind
        coef = np.empty_like(z)
        coef[causes] = np.exp(CAUSE_SD * z[causes])
        coef[climate] = 1.0 + CLIMATE_SD * z[climate]
        coef[hung] = HUNG_MEAN + HUNG_SD * z[hung]
        return coef

    def _first(self, grade: Array, tilt: Array) -> Array:
        logits = np.log(FIRST) + TILT_SD * tilt[:, None] * np.arange(GRADES)
        logits[:, 1:] += FIRST_SD * grade
        weights = np.exp(logits - logits.max(axis=1, keepdims=True))
        return np.asarray(weights / weights.sum(axis=1, keepdims=True))

    def pull_back(self, natural: Natural, slopes: Slopes) -> Array:
        """Return dL/dz from the slopes by the model's quantities at the same point."""
        out = np.zeros(self.layout.size)
        shift, grade, covariates, own = self.layout.split(out)
        by_rate = self._sd * slopes.log_rates
        shift[:] = np.sqrt(POOLED) * by_rate.sum(axis=0)
        own[:, :STEPS] = np.sqrt(1.0 - POOLED) * by_rate
        causes, climate, hung = self._kind
        covariates[causes] = slopes.coef[causes] * natural.coef[causes] * CAUSE_SD
        covariates[climate] = slopes.coef[climate] * CLIMATE_SD
        covariates[hung] = slopes.coef[hung] * HUNG_SD
        by_logit = natural.first * (slopes.first - (slopes.first * natural.first).sum(axis=1, keepdims=True))
        grade[:] = FIRST_SD * by_logit[:, 1:].sum(axis=0)
        own[:, STEPS] = TILT_SD * by_logit @ np.arange(GRADES)
        return out
