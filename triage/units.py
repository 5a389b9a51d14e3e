"""Months, centimetres and whole numbers: the only place that converts one into another.

A calendar month is held as one integer, ``year * 12 + month - 1``, so that months subtract.
"""

from __future__ import annotations

import datetime as dt
import math
import re

MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DAYS_A_YEAR = 365.25
ROUNDING = 1e-9
"""Slack against binary fractions when a decimal number is rounded up or down (12.000000000001 m2 is 12)."""

_MONTH = re.compile(r"(\d{4})-(\d{1,2})")


def month_no(text: str) -> int:
    """Return the month number of ``YYYY-MM``.

    Raises
    ------
    ValueError
        If the text is not a year from 1000 on and a month from 01 to 12.
    """
    found = _MONTH.fullmatch(text.strip())
    if found is None or not 1 <= int(found[2]) <= 12 or int(found[1]) < 1000:
        raise ValueError(f"{text!r} is not a month written YYYY-MM")
    return int(found[1]) * 12 + int(found[2]) - 1


def month_of(day: dt.date) -> int:
    """Return the month number that holds a day."""
    return day.year * 12 + day.month - 1


def first_day(month: int) -> dt.date:
    """Return the first day of a month number."""
    return dt.date(month // 12, month % 12 + 1, 1)


def month_iso(month: int) -> str:
    """Return a month number as ``YYYY-MM``."""
    return f"{month // 12:04d}-{month % 12 + 1:02d}"


def month_words(month: int) -> str:
    """Return a month number as people write it: ``Mar 2027``."""
    return f"{MONTH_NAMES[month % 12]} {month // 12}"


def round_up(value: float) -> int:
    """Return a need as a whole number, rounded up (needs round up, room rounds down)."""
    return math.ceil(value - ROUNDING)


def round_down(value: float) -> int:
    """Return room as a whole number, rounded down."""
    return math.floor(value + ROUNDING)


def cm_up(metres: float | None) -> int:
    """Return a need in whole centimetres; unknown is 0, which passes every door."""
    return 0 if metres is None else round_up(metres * 100)


def cm_down(metres: float | None, unknown: int) -> int:
    """Return an opening in whole centimetres; unknown is the value given."""
    return unknown if metres is None else round_down(metres * 100)


def spread_evenly(total: int, parts: int) -> tuple[int, ...]:
    """Spread a whole number over parts that differ by at most one, larger first.

    Raises
    ------
    ValueError
        If parts is below 1 or total is negative.
    """
    if parts < 1 or total < 0:
        raise ValueError(f"cannot spread {total} over {parts} parts")
    small, rest = divmod(total, parts)
    return (small + 1,) * rest + (small,) * (parts - rest)
