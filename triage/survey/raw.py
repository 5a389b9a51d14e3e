"""Raw rows of text: what every kind of file is turned into before anything is understood."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field

from triage.errors import Fault

MOST_BYTES = 50_000_000
"""Size of one file; larger ones are refused unread."""
MOST_ROWS = 200_000
"""Rows of one table, blank ones included; longer ones are refused at once."""
MOST_CELLS = 10_000_000
"""Cells of one sheet, empty ones included."""
MOST_UNPACKED = 200_000_000
"""Bytes a workbook may unpack to; refused before it is unpacked."""

_ODD_SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u202f\u3000"), " ")
_INVISIBLE = "\u200b\u200c\u200d\u200e\u200f\u2060\ufeff"


@dataclass(frozen=True)
class Broken:
    """What is wrong with a row or a cell before it is understood."""

    rule: str
    mend: str
    value: str = ""


@dataclass
class RawTable:
    """One table as text: rows carry their line as a spreadsheet counts it (header = row 1)."""

    name: str
    label: str
    """How faults name it: ``grades.csv``, or the sheet ``grades``."""
    rows: list[tuple[int, list[str]]]
    decimal_comma: bool = False
    even: bool = False
    """Short rows are rows whose last cells are blank (a sheet), not rows with cells missing (a text file)."""
    faults: list[Fault] = field(default_factory=list)
    row_faults: dict[int, Broken] = field(default_factory=dict)
    cell_faults: dict[tuple[int, int], Broken] = field(default_factory=dict)
    """(line, place of the column from 0) -> what is wrong."""


@dataclass
class Source:
    """All tables of a collection as text, and what is wrong with the files themselves."""

    workbook: bool
    tables: dict[str, RawTable] = field(default_factory=dict)
    unreadable: set[str] = field(default_factory=set)
    faults: list[Fault] = field(default_factory=list)

    def label(self, name: str) -> str:
        """Return how faults name a table."""
        return name if self.workbook else f"{name}.csv"


def clean(cell: str) -> str:
    """Return a cell trimmed, its odd spaces made plain, its letters composed (Unicode NFC)."""
    if cell.isascii():
        return cell.strip()
    cell = unicodedata.normalize("NFC", cell.translate(_ODD_SPACES))
    return cell.strip().strip(_INVISIBLE).strip()


def is_blank(cells: list[str]) -> bool:
    """Return whether a row says nothing."""
    return not any(cells)
