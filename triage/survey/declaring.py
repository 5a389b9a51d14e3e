"""How a table of the collection is declared: its columns, what blank means, what a faulty cell costs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from triage.records.base import Record
from triage.survey.fields import Field


class _AsDefault:
    """Marks a column whose faulty cell is read as blank."""


AS_DEFAULT = _AsDefault()


@dataclass(frozen=True)
class Column:
    """One column: its name, how a cell is read, whether it is needed, and what blank means.

    ``becomes`` names the record's field where it differs from the column.
    ``if_faulty`` is the value taken for a faulty cell in a table that keeps such rows (``Table.keeps``).
    """

    name: str
    field: Field
    needed: bool = False
    default: Any = None
    blank: str = "unknown"
    becomes: str = ""
    if_faulty: Any = AS_DEFAULT

    @property
    def record_field(self) -> str:
        """The field of the record this column fills."""
        return self.becomes or self.name


@dataclass(frozen=True)
class Prefix:
    """A family of columns ``<prefix><name>``: the name (a trade, a cause) is part of the header."""

    prefix: str
    field: Field
    record_field: str
    what: str


@dataclass(frozen=True)
class Table:
    """One file of the folder (or sheet of the workbook).

    ``key`` tells rows apart; two rows with one key are a fault. ``limits`` marks promises, limits and running
    work: leaving out a row would loosen the plan. ``keeps``: a fault in a cell that is not needed costs the
    cell and not the row, so that what depends on the row is not lost.
    """

    name: str
    record: type[Record] | None
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    prefix: Prefix | None = None
    needed: bool = False
    limits: bool = False
    keeps: bool = False
    meanwhile: str = ""
    """What holds for a kept row until its faulty cell is mended."""
    twice: str = ""
    """What to do about a second row with one key."""
    by_name: dict[str, Column] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_name", {c.name: c for c in self.columns})

    @property
    def file(self) -> str:
        """The file's name in a folder."""
        return f"{self.name}.csv"
