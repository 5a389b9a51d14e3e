"""Rows as plain values for programs: months as YYYY-MM, days as ISO dates."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

from triage.units import month_iso

MONTH_FIELDS = frozenset({"from_month", "to_month", "month", "fullest_month"})
"""Fields of rows that hold a calendar month."""


def plain(value: Any) -> Any:
    """Return a row, or a sequence or mapping of rows, as values that JSON can carry."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: _field(field.name, getattr(value, field.name)) for field in dataclasses.fields(value)
        }
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    return value.isoformat() if isinstance(value, dt.date) else value


def _field(name: str, value: Any) -> Any:
    if name in MONTH_FIELDS and isinstance(value, int):
        return month_iso(value)
    return plain(value)
