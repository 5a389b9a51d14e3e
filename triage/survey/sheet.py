"""A table as understood: its rows, and all that is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from triage.errors import Fault, Level
from triage.survey.declaring import AS_DEFAULT, Table

_SHOWN = 80
_NO_FAULTS: frozenset[str] = frozenset()


@dataclass(slots=True, eq=False)
class Row:
    """One row as understood. ``values`` holds what could be read, under the columns' names."""

    table: str
    line: int
    values: dict[str, Any]
    cells: list[str]
    family: dict[str, float]
    """Values of prefix columns: trade or cause -> number."""
    bad: frozenset[str] = _NO_FAULTS
    """Columns with a fault."""
    aside: bool = False
    """Set aside for a fault of its own."""
    waits_for: Row | None = None
    """A faulty row this one depends on: it is set aside too, without a fault of its own."""
    held: bool = False
    """Kept with a faulty cell read as unknown; no plan is made with it."""

    @property
    def usable(self) -> bool:
        """Whether the row becomes a record."""
        return not self.aside and self.waits_for is None


@dataclass
class Sheet:
    """One table as understood, and all that is wrong with it."""

    table: Table
    label: str
    present: bool
    readable: bool
    """False: nothing can be said about ids that this table should hold."""
    rows: list[Row] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)
    """Column -> place in the row, from 0."""
    families: dict[str, int] = field(default_factory=dict)
    """Trade or cause of a prefix column -> place in the row."""
    headers: dict[int, str] = field(default_factory=dict)
    """Place -> header as written, for columns in use."""
    extras: dict[str, int] = field(default_factory=dict)
    """Columns beyond the contract -> place."""
    header_line: int = 1
    stray: list[Row] = field(default_factory=list)
    """Rows whose key could not be read or was taken: ids nobody has may be theirs."""

    def usable(self) -> list[Row]:
        """Return the rows that become records."""
        return [r for r in self.rows if r.usable]

    def text(self, row: Row, column: str) -> str:
        """Return a cell as written, shortened for people."""
        place = self.places.get(column)
        if place is None or place >= len(row.cells):
            return ""
        return shortened(row.cells[place])

    def say(
        self,
        row: Row | None,
        column: str,
        rule: str,
        mend: str,
        level: Level = Level.FAULT,
        value: str | None = None,
    ) -> None:
        """Add a fault, warning or note, without setting anything aside."""
        seen = value if value is not None else self.text(row, column) if row is not None else ""
        self.faults.append(
            Fault(
                level=level,
                file=self.label,
                row=row.line if row is not None else None,
                column=column,
                value=shortened(seen),
                rule=rule,
                mend=mend,
                loosens=self.table.limits and level is Level.FAULT,
            )
        )

    def refuse(self, row: Row, column: str, rule: str, mend: str, value: str | None = None) -> None:
        """Add a fault and set the row aside; where the table keeps such rows, only the cell is lost."""
        self.lose(row, column)
        kept = row.held and column in self.table.by_name and not self.table.by_name[column].needed
        self.say(row, column, rule, f"{mend} {self.table.meanwhile}" if kept else mend, value=value)

    def lose(self, row: Row, column: str) -> None:
        """Take a faulty cell out of a row, and the row with it unless the table keeps it."""
        row.bad = row.bad | {column}
        declared = self.table.by_name.get(column)
        if self.table.keeps and declared is not None and not declared.needed:
            fallback = declared.if_faulty
            row.values[column] = declared.default if fallback is AS_DEFAULT else fallback
            row.held = True
        else:
            row.values.pop(column, None)
            row.aside = True


def shortened(text: str) -> str:
    """Return a value short enough to stand in a sentence."""
    return text if len(text) <= _SHOWN else text[: _SHOWN - 1] + "…"
