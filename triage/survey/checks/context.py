"""What the checks work on."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field

from triage.records import Settings
from triage.survey.register import Register
from triage.survey.sheet import Row, Sheet


@dataclass
class Survey:
    """The sheets being checked, the museum's settings where they can be used, and who is who."""

    sheets: dict[str, Sheet]
    settings: Settings | None
    registers: dict[str, Register] = field(default_factory=dict)

    @property
    def now(self) -> dt.date | None:
        """The first day of the first month; None where the settings do not say it."""
        return self.settings.now if self.settings else None

    def month(self) -> str:
        """Return how people are told what now is."""
        return f"now is {self.now}, the first day of first_month"


Check = Callable[[Survey], None]


def by_value(rows: list[Row], column: str) -> dict[str, list[Row]]:
    """Return value -> rows, in the rows' order; rows without the value are left out."""
    found: dict[str, list[Row]] = {}
    for row in rows:
        value = row.values.get(column)
        if value is not None:
            found.setdefault(value, []).append(row)
    return found
