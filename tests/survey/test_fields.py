"""Readers of single cells: what is understood, what is refused, and in which words."""

from __future__ import annotations

import datetime as dt

import pytest

from triage.records.vocabulary import HazardState, RuleKind
from triage.survey import fields as f


@pytest.mark.parametrize("text", ["0", "5", "3.5", "NaN", "4-5", "-1", "one", "1e0", "٣", "inf", "33"])
def test_a_grade_is_one_of_four_whole_numbers(text: str) -> None:
    """Anything but 1 to 4 is refused with the scale in the rule and the choices in the mend."""
    with pytest.raises(f.BadCell, match="from 1 \\(good\\) to 4 \\(unacceptable\\)") as bad:
        f.read_grade(text)
    assert bad.value.mend == "Write 1, 2, 3 or 4."


@pytest.mark.parametrize(("text", "grade"), [("1", 1), ("4", 4), ("3.0", 3), ("2.00", 2), ("2,0", 2)])
def test_a_whole_grade_from_a_spreadsheet_is_understood(text: str, grade: int) -> None:
    """3.0 is the grade 3."""
    assert f.read_grade(text) == grade


@pytest.mark.parametrize(
    "text", ["2025-03-04", "2025-03-04 00:00:00", "2025-03-04T00:00", "2025-03-04T00:00:00.000Z"]
)
def test_a_date_may_carry_midnight(text: str) -> None:
    """ISO days are read; a time of day only where it is midnight."""
    assert f.read_date(text) == dt.date(2025, 3, 4)


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("3/4/2025", "Write 2025-03-04 or 2025-04-03, whichever is meant."),
        ("31/12/2025", "Write 2025-12-31, if that is meant."),
        ("31.02.2025", "No reading of this is a day in the calendar; write the right one as YYYY-MM-DD."),
        ("2025/3/4", "Write 2025-03-04, if that is meant."),
        ("3/4/25", "Write the year with four digits, as YYYY-MM-DD."),
        (
            "45720",
            "This looks like a spreadsheet's number of the day 2025-03-04; write that if it is meant.",
        ),
        ("spring 2025", "Write the date as YYYY-MM-DD, for instance 2026-03-31."),
    ],
)
def test_other_dates_are_refused_with_the_days_they_may_mean(text: str, mend: str) -> None:
    """No day is guessed: the mend offers every reading."""
    with pytest.raises(f.BadCell, match="YYYY-MM-DD") as bad:
        f.read_date(text)
    assert bad.value.mend == mend


@pytest.mark.parametrize("text", ["2025-02-29", "2025-00-10", "0025-03-04", "2025-03-04 14:30"])
def test_days_that_cannot_be_are_refused(text: str) -> None:
    """A day that is not in the calendar, a year out of range, a time of day."""
    with pytest.raises(f.BadCell):
        f.read_date(text)


def test_the_leap_day_of_a_leap_year_is_a_day() -> None:
    """29 February 2024 exists."""
    assert f.read_date("2024-02-29") == dt.date(2024, 2, 29)


def test_months_are_read_from_months_and_from_days() -> None:
    """YYYY-MM and an ISO day of that month are the same month number, year * 12 + month - 1."""
    assert f.read_month("2026-03") == f.read_month("2026-03-31") == 2026 * 12 + 2


@pytest.mark.parametrize("text", ["2026", "2026-13", "03/2026", "Mar 2026", "2026-02-30"])
def test_other_months_are_refused(text: str) -> None:
    """A month needs year and month."""
    with pytest.raises(f.BadCell):
        f.read_month(text)


def test_a_window_may_be_months_after_the_first() -> None:
    """A plain whole number is months after first_month; a year is not."""
    assert f.read_month_or_ahead("18") == f.read_month_or_ahead("18.0") == f.MonthsAhead(18)
    assert f.read_month_or_ahead("2027-01") == 2027 * 12
    with pytest.raises(f.BadCell, match="whole months after first_month"):
        f.read_month_or_ahead("2027")


@pytest.mark.parametrize("text", ["yes", "Y", "TRUE", "1", "no", "n", "False", "0"])
def test_yes_and_no_in_eight_spellings(text: str) -> None:
    """yes, y, true, 1 and their opposites."""
    assert f.read_yes_no(text) is (text.casefold() in {"yes", "y", "true", "1"})


@pytest.mark.parametrize("text", ["nan", "inf", "1_000", "1 000", "12 m", "1,5", "0x10", "--1", "1e400", "٣"])
def test_numbers_are_plain_and_finite(text: str) -> None:
    """No not-a-number, infinity, unit, thousands mark or foreign digit passes as a number."""
    with pytest.raises(f.BadCell):
        f.NUMBER.read(text, False)


def test_a_decimal_comma_counts_only_where_columns_are_parted_otherwise() -> None:
    """12,5 is twelve and a half in a semicolon file, and a fault in a comma file."""
    assert f.NUMBER.read("12,5", True) == 12.5
    with pytest.raises(f.BadCell) as bad:
        f.NUMBER.read("12,5", False)
    assert bad.value.mend == "Write a decimal point: 12.5."


def test_a_thousands_mark_is_not_guessed() -> None:
    """1,200 may be 1200 or 1.2; both are offered."""
    with pytest.raises(f.BadCell) as bad:
        f.NUMBER.read("1,200", False)
    assert bad.value.mend == "Write 1200 or 1.200, whichever is meant."


def test_limits_of_numbers_are_said() -> None:
    """The rule and the mend carry the limits; an open limit itself is refused."""
    assert f.number(0, 100).read("100", False) == 100
    with pytest.raises(f.BadCell, match="between 0 and 100"):
        f.number(0, 100).read("100.1", False)
    with pytest.raises(f.BadCell, match="above 0"):
        f.POSITIVE.read("0", False)


def test_whole_numbers_are_whole() -> None:
    """3.0 is 3; 3.5 and words are not."""
    assert f.COUNT.read("3.0", False) == 3
    for text in ("3.5", "-1", "three", "1e13"):
        with pytest.raises(f.BadCell, match="whole number"):
            f.COUNT.read(text, False)


def test_percentages_with_and_without_sign() -> None:
    """45 and 45 % are the same; 101 is none."""
    assert f.read_percent("45 %") == f.read_percent("45") == 45
    with pytest.raises(f.BadCell):
        f.read_percent("101")


def test_a_share_may_be_a_percentage() -> None:
    """A spreadsheet's 25 % is the quarter it is; other numbers take no sign."""
    assert f.read_share("25%") == f.read_share("25 %") == f.read_share("0.25") == 0.25
    assert f.read_share("12,5%", True) == 0.125
    for text in ("-5%", "%", "a%"):
        with pytest.raises(f.BadCell):
            f.read_share(text)
    with pytest.raises(f.BadCell, match="number is needed"):
        f.NOT_NEGATIVE.read("80%", False)


def test_ids_are_short_single_lines() -> None:
    """40 characters, no semicolon, no line break; a spreadsheet's 12.0 is 12, and 007 stays."""
    assert f.read_id("x" * 40) == "x" * 40
    assert f.read_id("12.0") == "12"
    assert f.read_id("007") == "007"
    for text in ("x" * 41, "a;b", "a\nb"):
        with pytest.raises(f.BadCell):
            f.read_id(text)


def test_lists_are_parted_by_semicolons_each_once() -> None:
    """Spaces and repeats do not matter; a list of nothing is refused."""
    assert f.read_ids(" A ; B;A;") == ("A", "B")
    with pytest.raises(f.BadCell):
        f.read_ids(" ; ")


def test_words_of_closed_lists_forgive_case_and_hyphens() -> None:
    """``On Show`` and ``on-show`` are on_show; other words are refused with the list."""
    read = f.choice(RuleKind).read
    assert read("On Show", False) is read("on-show", False) is RuleKind.ON_SHOW
    with pytest.raises(f.BadCell, match="suspected, confirmed, cleared"):
        f.choice(HazardState).read("gone", False)
