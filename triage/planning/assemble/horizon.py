"""Calendar months of the museum against the months 0..H-1 of the problem."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from triage.records import Availability, Settings
from triage.records.vocabulary import Limited
from triage.units import round_down


@dataclass(frozen=True)
class Horizon:
    """The months planned for, and those in which all work stands still."""

    first_month: int
    months: int
    closed: frozenset[int]

    @property
    def last(self) -> int:
        """The last month, H-1."""
        return self.months - 1

    @property
    def open_months(self) -> tuple[int, ...]:
        """The months in which work goes on."""
        return tuple(m for m in range(self.months) if m not in self.closed)

    def clip(self, from_month: int | None, to_month: int | None) -> range:
        """Return the problem's months within two calendar months, both included; None: no border."""
        return clip(self.first_month, self.months, from_month, to_month)


def clip(first_month: int, months: int, from_month: int | None, to_month: int | None) -> range:
    """Return the months 0..H-1 within two calendar months, both included; empty if outside the horizon."""
    start = 0 if from_month is None else max(0, from_month - first_month)
    stop = months if to_month is None else min(months, to_month - first_month + 1)
    return range(start, max(start, stop))


def horizon_of(settings: Settings, availability: Iterable[Availability]) -> Horizon:
    """Return the horizon of a collection with its closures."""
    closed: set[int] = set()
    for row in availability:
        if row.what is Limited.CLOSED:
            closed.update(clip(settings.first_month, settings.months, row.from_month, row.to_month))
    return Horizon(settings.first_month, settings.months, frozenset(closed))


def by_month(
    horizon: Horizon, usual: int, rows: Iterable[Availability], what: Limited, item: str
) -> tuple[int, ...]:
    """Return the room there is in each month: the usual, replaced where a row says so (a later row wins)."""
    room = [usual] * horizon.months
    for row in rows:
        if row.what is what and row.id == item and row.amount is not None:
            for month in horizon.clip(row.from_month, row.to_month):
                room[month] = round_down(row.amount)
    return tuple(room)
