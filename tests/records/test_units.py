"""Months, centimetres and whole numbers."""

from __future__ import annotations

import datetime as dt

import pytest

from triage import units


def test_months_subtract() -> None:
    """A month is one integer, so that the months between two are their difference."""
    assert units.month_no("2028-02") - units.month_no("2027-11") == 3


@pytest.mark.parametrize("text", ["2027-01", "1999-12"])
def test_a_month_is_written_as_it_was_read(text: str) -> None:
    """YYYY-MM goes round."""
    assert units.month_iso(units.month_no(text)) == text


@pytest.mark.parametrize("text", ["2027-13", "2027-00", "2027", "27-01", "Jan 2027", "2027-01-01", "0999-01"])
def test_what_is_not_a_month_is_refused(text: str) -> None:
    """Only YYYY-MM with a month from 01 to 12 is a month."""
    with pytest.raises(ValueError, match="not a month"):
        units.month_no(text)


def test_days_and_months_meet() -> None:
    """The month of a day starts on that month's first day."""
    month = units.month_of(dt.date(2027, 12, 31))
    assert units.first_day(month) == dt.date(2027, 12, 1)
    assert units.month_words(month) == "Dec 2027"


def test_needs_round_up_and_room_rounds_down() -> None:
    """Rounding never makes something fit that does not, nor fail by a binary fraction."""
    assert (units.round_up(12.01), units.round_down(12.99)) == (13, 12)
    assert units.round_up(0.1 * 3 * 10) == 3
    assert units.round_down(4.35 * 100) == 435
    assert units.cm_up(2.345) == 235
    assert units.cm_down(2.349, 9) == 234


def test_unknown_sizes_pass_and_unknown_doors_take_the_value_given() -> None:
    """An unknown need is 0 cm; an unknown opening is what the caller says."""
    assert units.cm_up(None) == 0
    assert units.cm_down(None, 100_000) == 100_000


@pytest.mark.parametrize(("total", "parts"), [(10, 3), (0, 4), (7, 7), (5, 8), (100, 1)])
def test_hours_are_spread_evenly_larger_first(total: int, parts: int) -> None:
    """The parts sum to the total, differ by at most one and never rise."""
    spread = units.spread_evenly(total, parts)
    assert sum(spread) == total
    assert len(spread) == parts
    assert max(spread) - min(spread) <= 1
    assert list(spread) == sorted(spread, reverse=True)


def test_hours_cannot_be_spread_over_no_month() -> None:
    """Zero parts or a negative total are refused."""
    with pytest.raises(ValueError, match="cannot spread"):
        units.spread_evenly(5, 0)
    with pytest.raises(ValueError, match="cannot spread"):
        units.spread_evenly(-1, 2)
