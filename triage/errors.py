"""What can go wrong, as data first and as exceptions second.

TriageError
├── UnusableInput      input that cannot be used at all; carries every fault found (exit 2)
└── Cancelled          the user stopped the work (exit 130)
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from pydantic import BaseModel, ConfigDict


class Level(StrEnum):
    """How much a fault matters: a fault sets its row aside, a warning and a note do not."""

    FAULT = "fault"
    WARNING = "warning"
    NOTE = "note"


class Fault(BaseModel):
    """One thing wrong with the input: where it is, what was seen, which rule it breaks, how to mend it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    level: Level = Level.FAULT
    file: str
    row: int | None = None
    """Line of the table as a spreadsheet counts it: the header is row 1. None: the whole file."""
    column: str = ""
    value: str = ""
    rule: str
    mend: str
    loosens: bool = False
    """True if leaving the row out would loosen a promise, a limit or running work: no plan is made then."""

    def sentence(self) -> str:
        """Return the fault as one line for people."""
        where = self.file
        if self.row is not None:
            where += f", row {self.row}"
        if self.column:
            where += f", column {self.column}"
        seen = f" Found: {self.value!r}." if self.value else ""
        return f"{self.level.value.upper()}  {where}: {self.rule}{seen} Mend: {self.mend}"


class JsonFault(BaseModel):
    """One thing wrong with a JSON file, at a JSON pointer (RFC 6901)."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    path: str
    value: str
    rule: str
    mend: str

    def sentence(self) -> str:
        """Return the fault as one line for people."""
        return f"{self.path or '/'}: {self.rule} Found: {self.value}. Mend: {self.mend}"


class TriageError(Exception):
    """Base of every error this package raises on purpose."""


class UnusableInput(TriageError):  # noqa: N818 - reads as a sentence where it is raised
    """Input that cannot be used at all.

    Parameters
    ----------
    message
        What cannot be used, in one sentence.
    faults
        Every fault found, in reading order.
    """

    def __init__(self, message: str, faults: Iterable[Fault | JsonFault] = ()) -> None:
        super().__init__(message)
        self.faults: tuple[Fault | JsonFault, ...] = tuple(faults)


class Cancelled(TriageError):  # noqa: N818 - as UnusableInput
    """The user stopped the work."""
