"""What reading a collection gives: the records that can be used, and everything that is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from triage.errors import Fault, Level
from triage.records import Collection


@dataclass(frozen=True)
class FileCount:
    """Rows of one table: ``accepted + set_aside == read``; blank rows are not counted.

    ``waiting`` of the rows set aside have no fault of their own: they name a faulty row. ``in_part`` of the
    accepted rows have a faulty cell that is read as unknown.
    """

    read: int
    accepted: int
    set_aside: int
    waiting: int = 0
    in_part: int = 0


@dataclass(frozen=True)
class ExtraColumn:
    """A column beyond the contract: kept with its values, used by nothing."""

    file: str
    column: str
    values: tuple[tuple[int, str], ...]
    """(row, text) of every cell that is not blank."""


@dataclass(frozen=True)
class Intake:
    """A collection as read. ``collection`` is None where needed files or settings cannot be used at all."""

    collection: Collection | None
    faults: tuple[Fault, ...]
    """Every fault, warning and note, in the order of files and rows."""
    counts: Mapping[str, FileCount] = field(default_factory=dict)
    """Table name (``grades``) -> counts, for every table that is there."""
    extra_columns: tuple[ExtraColumn, ...] = ()

    @cached_property
    def errors(self) -> tuple[Fault, ...]:
        """The faults proper: each sets its row, or at least its cell, aside."""
        return tuple(f for f in self.faults if f.level is Level.FAULT)

    @cached_property
    def warnings(self) -> tuple[Fault, ...]:
        """What looks wrong and was used all the same."""
        return tuple(f for f in self.faults if f.level is Level.WARNING)

    @cached_property
    def notes(self) -> tuple[Fault, ...]:
        """What is worth knowing."""
        return tuple(f for f in self.faults if f.level is Level.NOTE)

    @cached_property
    def loosening(self) -> tuple[Fault, ...]:
        """Faults that would loosen a promise, a limit or running work: no plan is made while they stand."""
        return tuple(f for f in self.faults if f.loosens)

    @cached_property
    def extras(self) -> dict[str, tuple[str, ...]]:
        """File -> names of its extra columns."""
        found: dict[str, tuple[str, ...]] = {}
        for extra in self.extra_columns:
            found[extra.file] = (*found.get(extra.file, ()), extra.column)
        return found
