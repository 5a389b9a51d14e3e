"""Figures in words."""

from __future__ import annotations

import pytest

from tests.museum import museum
from triage.reports.rows import Span
from triage.reports.words import at_most_percent, hall_name, listed, percent, share_of_object, value_month


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0, "0 %"),
        (0.0004, "less than 0.1 %"),
        (0.001, "0.1 %"),
        (0.0123, "1.2 %"),
        (0.0994, "9.9 %"),
        (0.0996, "10 %"),
        (0.34, "34 %"),
        (-0.02, "-2.0 %"),
    ],
)
def test_a_share_is_said_with_sensible_digits(share: float, words: str) -> None:
    """One decimal below ten percent, none above, and nothing pretends to be nought."""
    assert percent(share) == words


@pytest.mark.parametrize(
    ("gap", "words"), [(0.0301, "3.1 %"), (0.03, "3.0 %"), (0.0, "0.0 %"), (1e-5, "0.1 %")]
)
def test_an_upper_limit_is_rounded_up(gap: float, words: str) -> None:
    """A gap of 3.01 % is at most 3.1 %, never at most 3.0 %."""
    assert at_most_percent(gap) == words


def test_points_are_a_share_of_their_object() -> None:
    """3200 points of an object of significance 80 are 40 % of it; nothing of no significance is lost."""
    worthless = tuple(o.model_copy(update={"significance": 0}) for o in museum().objects)

    assert share_of_object(museum(), "GLIDER", 3200) == pytest.approx(0.4)
    assert share_of_object(museum(objects=worthless), "GLIDER", 3200) == 0


def test_spans_read_as_calendar_months() -> None:
    """Two months with a dash, one month alone."""
    assert Span(2027 * 12 + 2, 2028 * 12 + 8).words == "Mar 2027 - Sep 2028"
    assert Span(2027 * 12, 2027 * 12).words == "Jan 2027"
    assert Span(2027 * 12, 2027 * 12 + 11).months == 12


def test_halls_have_names() -> None:
    """A hall's name, else its id; no hall is the store."""
    assert [hall_name(museum(), i) for i in ("HARBOUR", "ANNEX", None)] == [
        "Harbour Hall",
        "ANNEX",
        "in store",
    ]


def test_lists_and_value_date_read_as_sentences() -> None:
    """Names with commas and an and; the value date counts from the first month."""
    assert [listed(n) for n in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]
    assert value_month(museum(), 25) == "Jan 2052"
