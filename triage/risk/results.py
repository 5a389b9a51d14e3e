"""Seam: what the risk room tells the other rooms. Frozen, exact in JSON.

Probabilities are of the *true* grade, 1 to 4, if nothing is done from now on. Ranges are 90 % ranges over
what is not known of the rates, not over what may happen to one element. Points: 100 is the whole of an
object of significance 1.
"""

from __future__ import annotations

import datetime as dt
from functools import cached_property
from typing import Literal

from pydantic import BaseModel, ConfigDict

SCHEMA_VERSION = 1

Basis = Literal["own history", "material", "prior only"]
IF_CAUSAL = "if the association is causal"
"""What must be said beside every figure about ending a cause."""


class RiskSeam(BaseModel):
    """A frozen piece of the seam; unknown fields are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class ElementForecast(RiskSeam):
    """The chances of one element's true grade at months ahead of now.

    ``p[i]`` holds the chances of grades 1..4 at ``months_ahead[i]``; each sums to 1, and p3 + p4 never falls.
    ``low3[i]`` and ``high3[i]`` are the 90 % range of the chance of grade 3 or worse.
    """

    object_id: str
    element_id: str
    months_ahead: tuple[int, ...]
    p: tuple[tuple[float, float, float, float], ...]
    low3: tuple[float, ...]
    high3: tuple[float, ...]
    basis: Basis
    """``own history``: graded or treated before; ``material``: others of its material were; or neither."""
    recorded: int | None = None
    """The last grade anybody recorded, as recorded; None: never graded."""
    recorded_on: dt.date | None = None
    treated_to: int | None = None
    """The grade a treatment left, where the last treatment is later than the last grade or on its day."""
    treated_on: dt.date | None = None
    years_to_3: float | None = None
    """Years from now until grade 3 or worse is as likely as not; 0: already; None: beyond 100 years."""
    years_to_4: float | None = None

    @property
    def key(self) -> tuple[str, str]:
        """(object_id, element_id)."""
        return self.object_id, self.element_id

    @property
    def p3_or_worse(self) -> tuple[float, ...]:
        """The chance of grade 3 or worse at each of ``months_ahead``; never falls."""
        return tuple(row[2] + row[3] for row in self.p)


class RiskForecast(RiskSeam):
    """The forecasts of every element, in the order of the record, and what was assumed."""

    schema_version: int = SCHEMA_VERSION
    now: dt.date
    months_ahead: tuple[int, ...]
    elements: tuple[ElementForecast, ...]
    notes: tuple[str, ...] = ()
    """Assumptions and limits, as sentences for people."""

    def of(self, object_id: str, element_id: str) -> ElementForecast:
        """Return the forecast of one element.

        Raises
        ------
        KeyError
            If there is no such element.
        """
        return self._by_key[object_id, element_id]

    @cached_property
    def _by_key(self) -> dict[tuple[str, str], ElementForecast]:
        return {element.key: element for element in self.elements}


class ObjectLoss(RiskSeam):
    """What an object loses by the value date, in points (100 = the whole of an object of significance 1)."""

    object_id: str
    never: float
    """If nothing is done."""
    low: float
    high: float
    """90 % range of ``never`` over what is not known of the rates."""
    value_years: float
    """The value date, in years from now."""
    wait_year: float = 0.0
    """What ending ``wait_treatment`` a year later than it could end costs; below 0: see ``loss.py``."""
    wait_treatment: str | None = None
    """The treatment ``wait_year`` speaks of: the workshop one that saves most (else the gallery one)."""
    by_element: tuple[tuple[str, float], ...] = ()
    """(element_id, points of ``never``), largest first."""
    by_cause: tuple[tuple[str, float], ...] = ()
    """(cause, points saved if it ended now), largest first. Say ``IF_CAUSAL`` beside it."""
    if_done: dict[str, tuple[float, ...]] = {}
    """treatment_id -> the loss if its job ends before month e, for e = 0..horizon."""
    assumed: tuple[str, ...] = ()
    """Values assumed for want of a record, as sentences for people."""


class SafetyFlag(RiskSeam):
    """An object whose doubtful element can hurt someone. Outside the points, before everything else."""

    object_id: str
    chance: float
    """Chance that any of the object's safety elements is at grade 3 or worse now."""
    low: float
    high: float
    element_ids: tuple[str, ...]
    """The doubtful safety elements, most doubtful first."""
    worst_recorded: int | None = None
    """The worst grade last recorded on a safety element and not treated since; None: none was graded."""
    not_known: tuple[str, ...] = ()
    """Safety elements nobody ever graded."""
    threshold: float
    """The chance from which an object is flagged."""
    hung: bool = False
    reason: str
    """Why, in one sentence."""
    caution: str
    """What to do now, in the words used everywhere."""


class KindValues(RiskSeam):
    """Value judgement: what a kind of element has lost for good at each grade, and what a treatment keeps."""

    kind: str
    lost: tuple[float, float, float, float]
    """Lost fraction of the original substance at grades 1..4; 0 at grade 1, below 1 at grade 4."""
    original_kept_pct: float
    """Percent kept of what was still original where a treatment does not say."""
    source: str


class MaterialRow(RiskSeam):
    """How long a grade lasts on a material, what speeds it up, and who says so."""

    material: str
    years: tuple[float, float, float]
    spread: float
    factors: dict[str, float]
    """Cause -> factor on the speed of wear at severity 2."""
    source: str


class RiskValues(RiskSeam):
    """Every table the risk room judges by, as shown to its users."""

    kinds: tuple[KindValues, ...]
    materials: tuple[MaterialRow, ...]
