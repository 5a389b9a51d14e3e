"""What the museum owns and where it stands: halls, objects, their elements, hazards and moves."""

from __future__ import annotations

import datetime as dt

from pydantic import Field

from triage.records.base import Id, Record
from triage.records.vocabulary import HazardState, Mounting


class Hall(Record):
    """A gallery. Areas in m2, lengths in metres; None: not known, so not checked."""

    hall_id: Id
    name: str = ""
    floor_m2: float | None = Field(default=None, ge=0)
    clear_m2: float = Field(default=0.0, ge=0)
    """Floor free to lower an object onto and to work on."""
    most_away: int | None = Field(default=None, ge=0)
    """Objects of the hall that may be off display at once; None: no limit."""
    door_width_m: float | None = Field(default=None, gt=0)
    door_height_m: float | None = Field(default=None, gt=0)
    length_m: float | None = Field(default=None, gt=0)
    width_m: float | None = Field(default=None, gt=0)

    @property
    def called(self) -> str:
        """The name people use, or the id where there is none."""
        return self.name or self.hall_id


class MuseumObject(Record):
    """A large object. Lengths in metres, mass in kg, area in m2; None: not known."""

    object_id: Id
    name: str = ""
    category: str = ""
    hall_id: Id | None = None
    """None: in store."""
    mounting: Mounting = Mounting.FLOOR
    length_m: float | None = Field(default=None, ge=0)
    span_m: float | None = Field(default=None, ge=0)
    height_m: float | None = Field(default=None, ge=0)
    mass_kg: float | None = Field(default=None, ge=0)
    display_m2: float = Field(default=0.0, ge=0)
    significance: float = Field(default=50.0, ge=0, le=100)
    x_m: float | None = None
    y_m: float | None = None
    turned_deg: float | None = None
    in_the_way: tuple[Id, ...] = ()
    """Objects that stand under it or on its way out: said wherever it moves, no constraint."""
    away_points: int | None = Field(default=None, ge=0)

    @property
    def hung(self) -> bool:
        """Whether the object hangs."""
        return self.mounting is Mounting.HUNG

    @property
    def called(self) -> str:
        """The name people use, or the id where there is none."""
        return self.name or self.object_id


class Element(Record):
    """A graded part of an object: a covering, a structure, a tyre, a fitting it hangs from."""

    object_id: Id
    element_id: Id
    kind: str = ""
    material: str = ""
    share: float | None = Field(default=None, ge=0)
    """Share of the object's significance; None: equal. See :meth:`Collection.shares`."""
    safety: bool = False
    """Its failure can hurt someone."""

    @property
    def key(self) -> tuple[str, str]:
        """(object_id, element_id): an element_id is unique only within its object."""
        return self.object_id, self.element_id


class Hazard(Record):
    """A hazard of an object. An object without any row is not surveyed, never free of hazards."""

    object_id: Id
    hazard: str
    note: str = ""
    state: HazardState = HazardState.SUSPECTED
    by: str = ""
    date: dt.date | None = None


class Move(Record):
    """From a day on, the object stood in this hall (None: in store)."""

    object_id: Id
    date: dt.date
    hall_id: Id | None = None
