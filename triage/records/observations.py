"""What was seen and done: rounds, grades, findings, treatments done, the climate of the halls."""

from __future__ import annotations

import datetime as dt

from pydantic import Field

from triage.records.base import Id, Record


class Round(Record):
    """One walk by one assessor; a second assessor's re-grade is a round of its own."""

    round_id: Id
    date: dt.date
    assessor: str | None = None


class Grade(Record):
    """One grade of one element in one round. None: looked for, could not be seen."""

    round_id: Id
    object_id: Id
    element_id: Id
    grade: int | None = Field(default=None, ge=1, le=4)
    note: str = ""


class ConditionFinding(Record):
    """Something noted on an element (None: the whole object) with its cause."""

    finding_id: Id
    round_id: Id
    object_id: Id
    element_id: Id | None = None
    cause: str = ""
    severity: int = Field(default=2, ge=1, le=3)
    extent_pct: float | None = Field(default=None, ge=0, le=100)
    note: str = ""
    ended_on: dt.date | None = None
    began_on: dt.date | None = None


class Treated(Record):
    """A treatment that was done: from its day on the element (None: all) is at the grade given."""

    date: dt.date
    object_id: Id
    element_id: Id | None = None
    grade_after: int = Field(ge=1, le=4)
    note: str = ""


class Climate(Record):
    """A hall's climate in one year: light in klux hours, temperature in C, humidity and its swing in % RH."""

    hall_id: Id
    year: int
    light_klux_h: float | None = Field(default=None, ge=0)
    temperature_c: float | None = Field(default=None, ge=-60, le=70)
    humidity_pct: float | None = Field(default=None, ge=0, le=100)
    humidity_swing_pct: float | None = Field(default=None, ge=0, le=100)


class Material(Record):
    """How long a grade lasts on a material in ordinary display, as median years, and what speeds it up."""

    material: str
    years_1_to_2: float | None = Field(default=None, gt=0)
    years_2_to_3: float | None = Field(default=None, gt=0)
    years_3_to_4: float | None = Field(default=None, gt=0)
    """None: as the built-in table has it."""
    spread: float = Field(default=2.5, gt=1)
    """Factor: the median lies between years / spread and years * spread with 90 % belief."""
    factors: dict[str, float] = Field(default_factory=dict)
    """Cause -> factor on the speed of wear at severity 2; its logarithm goes in proportion to severity."""
    source: str = ""

    @property
    def years(self) -> tuple[float | None, float | None, float | None]:
        """Median years in grade 1, 2 and 3; None where the built-in table counts."""
        return self.years_1_to_2, self.years_2_to_3, self.years_3_to_4
