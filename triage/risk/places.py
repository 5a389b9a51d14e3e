"""Where an object stood, day by day, and that hall's climate year by year.

Before its first recorded move an object's place is not known, and no climate counts. A year a hall has no
reading for takes the last known one before it; years before the first known one take that. From now on the
hall of ``objects.csv`` and its last known climate go on.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.records import Climate, Collection, Move, MuseumObject

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

NOWHERE = 0
"""Index of the place without a climate: in store, or not known."""


@dataclass(frozen=True)
class Climates:
    """Readings of every place and year, shape (places, years, 4); nan is unknown. Place 0 has none."""

    places: dict[str, int]
    first_year: int
    readings: Array

    def year_index(self, year: int) -> int:
        """Return the row of a year, held within the years there are."""
        return min(max(year - self.first_year, 0), int(self.readings.shape[1]) - 1)


def _readings(row: Climate) -> tuple[float, float, float, float]:
    given = (row.light_klux_h, row.temperature_c, row.humidity_pct, row.humidity_swing_pct)
    light, warmth, humidity, swing = (np.nan if v is None else float(v) for v in given)
    return light, warmth, humidity, swing


def climates_of(collection: Collection, first_year: int) -> Climates:
    """Return the climate of every hall from a year to now, gaps filled from the last known year."""
    last_year = collection.settings.now.year
    places = {name: k + 1 for k, name in enumerate(_halls(collection))}
    start = min([first_year, *(c.year for c in collection.environment if c.year <= last_year)])
    readings = np.full((len(places) + 1, last_year - start + 1, 4), np.nan)
    for row in collection.environment:
        if row.year <= last_year:
            readings[places[row.hall_id], row.year - start] = _readings(row)
    _fill(readings, range(1, readings.shape[1]), -1)
    _fill(readings, range(readings.shape[1] - 2, -1, -1), 1)
    return Climates(places, start, readings)


def _halls(collection: Collection) -> list[str]:
    named = {h.hall_id for h in collection.halls} | {c.hall_id for c in collection.environment}
    stood = {o.hall_id for o in collection.objects} | {m.hall_id for m in collection.moves}
    return sorted(named | {hall for hall in stood if hall is not None})


def _fill(readings: Array, years: Iterable[int], neighbour: int) -> None:
    for year in years:
        here = readings[:, year]
        blank = np.isnan(here)
        here[blank] = readings[:, year + neighbour][blank]


@dataclass(frozen=True)
class Stay:
    """Where an object stood: from each day (ordinal) of ``days`` on, in ``place`` and ``year`` (indices)."""

    days: Ints
    place: Ints
    year: Ints


def stay_of(obj: MuseumObject, moves: Iterable[Move], climates: Climates, now: dt.date) -> Stay:
    """Return where an object stood up to now, cut at moves and at the turn of each year."""
    past = sorted((m for m in moves if m.date < now), key=lambda m: m.date)
    began = dt.date(climates.first_year, 1, 1).toordinal()
    changes = {began: present_place(obj, climates) if not past else NOWHERE}
    changes.update({m.date.toordinal(): climates.places.get(m.hall_id or "", NOWHERE) for m in past})
    turns = {dt.date(y, 1, 1).toordinal() for y in range(climates.first_year, now.year + 1)}
    days = np.array(sorted(turns | set(changes)), dtype=np.int64)
    moved = np.array(sorted(changes), dtype=np.int64)
    where = np.array([changes[int(d)] for d in moved], dtype=np.int64)
    place = where[np.maximum(np.searchsorted(moved, days, side="right") - 1, 0)]
    year = [climates.year_index(dt.date.fromordinal(int(d)).year) for d in days]
    return Stay(days, place, np.array(year, dtype=np.int64))


def present_place(obj: MuseumObject, climates: Climates) -> int:
    """Return where an object is taken to stand from now on."""
    return climates.places.get(obj.hall_id or "", NOWHERE)
