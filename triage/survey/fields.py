"""Readers of single cells: text in, value out, or one exact sentence on what is wrong and how to mend it.

Every reader takes trimmed, non-blank text. ``decimal_comma`` is true for files whose columns are parted by
semicolons or tabs, where 12,5 means twelve and a half.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from triage.units import month_no, month_of

MOST_ID = 40
MOST_TEXT = 32_767
"""Characters of one cell; what a spreadsheet cell can hold."""
MOST_NUMBER = 1e12
EARLIEST_YEAR, LATEST_YEAR = 1800, 2999
ERROR_VALUES = frozenset(
    {"#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#SPILL!", "#CALC!"}
)
"""What a spreadsheet writes where a formula failed."""

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)
_DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)
_ISO_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?:[T ]([\d:.]+)Z?)?", re.ASCII)
_OTHER_DAY = re.compile(r"(\d{1,4})[-/. ](\d{1,2})[-/. ](\d{1,4})", re.ASCII)
_WHOLE_FLOAT = re.compile(r"(\d+)\.0+", re.ASCII)
_CONTROL = re.compile(r"[\x00-\x08\x0a-\x1f\x7f]")
_DAY_ZERO = dt.date(1899, 12, 30)  # day 0 of a spreadsheet's day numbers


class BadCell(ValueError):  # noqa: N818 - reads as a sentence where it is raised
    """A cell that breaks its column's rule.

    Parameters
    ----------
    rule
        The rule it breaks, one sentence.
    mend
        What to write instead, one sentence.
    """

    def __init__(self, rule: str, mend: str) -> None:
        super().__init__(rule)
        self.rule = rule
        self.mend = mend


@dataclass(frozen=True)
class Field:
    """How the cells of a column are read, and how that is said to people."""

    words: str
    read: Callable[[str, bool], Any]


@dataclass(frozen=True)
class MonthsAhead:
    """A month written as months after ``first_month``."""

    months: int


def _check_length(text: str) -> None:
    if len(text) > MOST_TEXT:
        raise BadCell(
            f"A cell holds at most {MOST_TEXT:,} characters; this one has {len(text):,}.",
            "Shorten the text, or check whether a quote mark was left open.",
        )


def read_text(text: str, decimal_comma: bool = False) -> str:
    """Return free text as it is."""
    _check_length(text)
    return text


def read_id(text: str, decimal_comma: bool = False) -> str:
    """Return an id: at most 40 characters, one line, no ``;``. A spreadsheet's 12.0 is 12."""
    if ";" in text:
        raise BadCell("An id has no semicolon.", "Write one id without ';'.")
    if len(text) > MOST_ID:
        raise BadCell(
            f"An id has at most {MOST_ID} characters; this one has {len(text)}.",
            "Shorten it, in every file that names it.",
        )
    if _CONTROL.search(text):
        raise BadCell("An id is one line of plain text.", "Take out the line break or control character.")
    whole = _WHOLE_FLOAT.fullmatch(text)
    return whole[1] if whole else text


def read_ids(text: str, decimal_comma: bool = False) -> tuple[str, ...]:
    """Return ids parted by semicolons, each once, in order."""
    _check_length(text)
    found = dict.fromkeys(read_id(part.strip()) for part in text.split(";") if part.strip())
    if not found:
        raise BadCell("The list names nothing.", "Write ids parted by ';', or leave the cell blank.")
    return tuple(found)


def read_words(text: str, decimal_comma: bool = False) -> tuple[str, ...]:
    """Return texts parted by semicolons, each once, in order."""
    _check_length(text)
    return tuple(dict.fromkeys(part.strip() for part in text.split(";") if part.strip()))


def _number(text: str, decimal_comma: bool) -> float:
    plain = text.replace(" ", "")
    if decimal_comma and _DECIMAL_COMMA.fullmatch(plain):
        plain = plain.replace(",", ".")
    if " " in text or not _NUMBER.fullmatch(plain):
        raise BadCell("A number is needed here.", _number_mend(text))
    value = float(plain)
    if not math.isfinite(value) or abs(value) > MOST_NUMBER:
        raise BadCell(f"A number is at most {MOST_NUMBER:,.0f}.", "Write a number that can be measured.")
    return value


def _number_mend(text: str) -> str:
    if _THOUSANDS.fullmatch(text):
        return f"Write {text.replace(',', '')} or {text.replace(',', '.')}, whichever is meant."
    if _DECIMAL_COMMA.fullmatch(text):
        return f"Write a decimal point: {text.replace(',', '.')}."
    if "%" in text:
        return "Write the bare number, without the per cent sign."
    return "Write digits with a decimal point, without unit or thousands mark."


def _limits(low: float | None, high: float | None, above: bool) -> str:
    if low is not None and high is not None:
        return f"from {low:g} to {high:g}"
    return f"above {low:g}" if above else f"of {low:g} or more"


def number(low: float | None = None, high: float | None = None, *, above: bool = False) -> Field:
    """Return the reader of a finite number within limits (``above``: the low limit itself is refused)."""

    def read(text: str, decimal_comma: bool = False) -> float:
        value = _number(text, decimal_comma)
        too_low = low is not None and (value <= low if above else value < low)
        if too_low or (high is not None and value > high):
            raise BadCell(
                f"The number must be {_between(low, high, above)}.",
                f"Write a number {_limits(low, high, above)}.",
            )
        return value

    words = "number" if low is None and high is None else f"number {_limits(low, high, above)}"
    return Field(words, read)


def _between(low: float | None, high: float | None, above: bool) -> str:
    if low is not None and high is not None:
        return f"between {low:g} and {high:g}"
    return f"above {low:g}" if above else f"at least {low:g}"


def whole(low: int, high: int | None = None) -> Field:
    """Return the reader of a whole number within limits; 3.0 is 3."""
    span = f"from {low} to {high}" if high is not None else f"of {low} or more"

    def read(text: str, decimal_comma: bool = False) -> int:
        mend = f"Write a whole number {span}."
        try:
            value = _number(text, decimal_comma)
        except BadCell as bad:
            raise BadCell("A whole number is needed here.", mend) from bad
        if value != int(value):
            raise BadCell("A whole number is needed here.", mend)
        if value < low or (high is not None and value > high):
            raise BadCell(f"A whole number {span} is needed here.", mend)
        return int(value)

    return Field(f"whole number {span}", read)


def read_grade(text: str, decimal_comma: bool = False) -> int:
    """Return a grade 1 to 4."""
    found = {"1": 1, "2": 2, "3": 3, "4": 4}.get(text)
    if found is None:
        plain = re.sub(r"^([1-4])[.,]0+$", r"\1", text)
        found = int(plain) if plain in {"1", "2", "3", "4"} else None
    if found is None:
        raise BadCell(
            "A grade is a whole number from 1 (good) to 4 (unacceptable).",
            "Write 1, 2, 3 or 4.",
        )
    return found


def read_percent(text: str, decimal_comma: bool = False) -> float:
    """Return a percentage 0 to 100, with or without its sign."""
    try:
        value = _number(text.removesuffix("%").strip(), decimal_comma)
    except BadCell as bad:
        raise BadCell("A percentage is needed here.", "Write a number from 0 to 100.") from bad
    if not 0 <= value <= 100:
        raise BadCell("A percentage lies between 0 and 100.", "Write a number from 0 to 100.")
    return value


def read_share(text: str, decimal_comma: bool = False) -> float:
    """Return a share, at least 0; shares are scaled to 1, so 25 % is read as the quarter it is."""
    bare = text.removesuffix("%").strip()
    value: float = NOT_NEGATIVE.read(bare or text, decimal_comma)
    return value if bare == text else value / 100


_YES_NO = {
    "yes": True,
    "y": True,
    "true": True,
    "1": True,
    "no": False,
    "n": False,
    "false": False,
    "0": False,
}


def read_yes_no(text: str, decimal_comma: bool = False) -> bool:
    """Return yes or no; y, n, true, false, 1 and 0 are understood."""
    found = _YES_NO.get(text.casefold())
    if found is None:
        raise BadCell("The answer is yes or no.", "Write yes or no.")
    return found


def _day(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def read_date(text: str, decimal_comma: bool = False) -> dt.date:
    """Return an ISO date; a time of day is accepted only where it is midnight."""
    found = _ISO_DAY.fullmatch(text)
    if found is None:
        raise BadCell("A date is written YYYY-MM-DD.", _date_mend(text))
    if found[4] and found[4].strip("0:."):
        raise BadCell("A date has no time of day.", f"Write {text[:10]}.")
    day = _day(int(found[1]), int(found[2]), int(found[3]))
    if day is None:
        raise BadCell("There is no such day in the calendar.", "Write a day that exists, as YYYY-MM-DD.")
    if not EARLIEST_YEAR <= day.year <= LATEST_YEAR:
        raise BadCell(
            f"A year lies between {EARLIEST_YEAR} and {LATEST_YEAR}.", "Check the year; write YYYY-MM-DD."
        )
    return day


def _date_mend(text: str) -> str:
    if text.isascii() and text.isdigit() and 10_000 <= int(text) <= 80_000:
        meant = _DAY_ZERO + dt.timedelta(days=int(text))
        return f"This looks like a spreadsheet's number of the day {meant}; write that if it is meant."
    found = _OTHER_DAY.fullmatch(text)
    if found is None:
        return "Write the date as YYYY-MM-DD, for instance 2026-03-31."
    first, middle, last = (int(found[i]) for i in (1, 2, 3))
    if len(found[1]) == 4:
        readings = {_day(first, middle, last)}
    elif len(found[3]) == 4:
        readings = {_day(last, middle, first), _day(last, first, middle)}
    else:
        return "Write the year with four digits, as YYYY-MM-DD."
    days = sorted(str(d) for d in readings if d is not None)
    if not days:
        return "No reading of this is a day in the calendar; write the right one as YYYY-MM-DD."
    return f"Write {' or '.join(days)}, {'whichever' if days[1:] else 'if that'} is meant."


def read_month(text: str, decimal_comma: bool = False) -> int:
    """Return a month number from YYYY-MM; a full ISO date gives its month."""
    if _ISO_DAY.fullmatch(text):
        return month_of(read_date(text))
    try:
        found = month_no(text)
    except ValueError as bad:
        raise BadCell("A month is written YYYY-MM.", "Write year and month, for instance 2026-03.") from bad
    if not EARLIEST_YEAR <= found // 12 <= LATEST_YEAR:
        raise BadCell(f"A year lies between {EARLIEST_YEAR} and {LATEST_YEAR}.", "Check the year.")
    return found


def read_month_or_ahead(text: str, decimal_comma: bool = False) -> int | MonthsAhead:
    """Return a month number, or months after ``first_month`` where a plain whole number stands."""
    plain = _WHOLE_FLOAT.sub(r"\1", text)
    if plain.isascii() and plain.isdigit() and len(plain) <= 3:
        return MonthsAhead(int(plain))
    try:
        return read_month(text)
    except BadCell as bad:
        raise BadCell(
            bad.rule.replace("YYYY-MM.", "YYYY-MM, or as whole months after first_month."), bad.mend
        ) from bad


def choice(words: type[StrEnum]) -> Field:
    """Return the reader of one word of a closed list; case, spaces and hyphens are forgiven."""
    known = {w.value: w for w in words}
    listed = ", ".join(known)

    def read(text: str, decimal_comma: bool = False) -> StrEnum:
        found = known.get(re.sub(r"[\s\-]+", "_", text.casefold()))
        if found is None:
            raise BadCell(f"The word must be one of: {listed}.", f"Write one of: {listed}.")
        return found

    return Field(f"one of {listed}", read)


TEXT = Field("text", read_text)
ID = Field(f"id, at most {MOST_ID} characters, no ';'", read_id)
IDS = Field("ids parted by ';'", read_ids)
WORDS = Field("texts parted by ';'", read_words)
GRADE = Field("whole number from 1 to 4", read_grade)
PERCENT = Field("percentage from 0 to 100", read_percent)
SHARE = Field("number of 0 or more, or a percentage", read_share)
YES_NO = Field("yes or no", read_yes_no)
DATE = Field("date, YYYY-MM-DD", read_date)
MONTH = Field("month, YYYY-MM", read_month)
MONTH_OR_AHEAD = Field("month, YYYY-MM, or whole months after first_month", read_month_or_ahead)
YEAR = whole(EARLIEST_YEAR, LATEST_YEAR)
NUMBER = number()
NOT_NEGATIVE = number(0)
POSITIVE = number(0, above=True)
COUNT = whole(0)
FROM_ONE = whole(1)
