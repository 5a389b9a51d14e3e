"""Stages in time: open and closed months, waits, ends."""

from __future__ import annotations

from tests.planning.build import job, problem, stage, treatment
from triage.planning.timeline import calendar_of, end_without_waits, timeline_of


def test_work_skips_closed_months() -> None:
    """A stage of three months from month 1 with month 2 closed works in 1, 3 and 4 and ends at 5."""
    of = problem(treatment("A", stage(3)), closed=(2,))
    found = timeline_of(calendar_of(of), of.treatments[0], job("A", 1))
    assert found is not None
    assert found.spans[0].working == (1, 3, 4)
    assert found.end == 5


def test_a_stage_keeps_its_place_until_the_next_one_starts() -> None:
    """A first stage of one month before a second from month 3 keeps its place in months 0, 1 and 2."""
    of = problem(treatment("A", stage(1), stage(2, most_wait=2)))
    found = timeline_of(calendar_of(of), of.treatments[0], job("A", 0, 3))
    assert found is not None
    assert [(s.start, s.until, s.end) for s in found.spans] == [(0, 3, 1), (3, 5, 5)]


def test_the_last_stage_does_not_keep_its_place_through_a_closed_month_behind_it() -> None:
    """A last stage that works in month 1 with month 2 closed is gone at 2."""
    of = problem(treatment("A", stage(1)), closed=(2,))
    found = timeline_of(calendar_of(of), of.treatments[0], job("A", 1))
    assert found is not None
    assert found.spans[0].until == 2


def test_work_beyond_the_horizon_has_no_timeline() -> None:
    """Two months from the last month do not fit; one month does."""
    of = problem(treatment("A", stage(2)), treatment("B", stage(1)))
    calendar = calendar_of(of)
    assert timeline_of(calendar, of.treatments[0], job("A", 5)) is None
    last = timeline_of(calendar, of.treatments[1], job("B", 5))
    assert last is not None
    assert last.end == 6


def test_months_off_display_count_waits_and_closed_months() -> None:
    """Away in months 0 (work), 1 (closed) and 2 (wait), not in the second stage."""
    of = problem(treatment("A", stage(1, away=True), stage(1, most_wait=1)), closed=(1,))
    found = timeline_of(calendar_of(of), of.treatments[0], job("A", 0, 3))
    assert found is not None
    assert found.away_months == 3


def test_end_without_waits_steps_over_closed_months() -> None:
    """Two stages of one and two months from 0 with 1 closed end at 4."""
    of = problem(treatment("A", stage(1), stage(2)), closed=(1,))
    assert end_without_waits(calendar_of(of), of.treatments[0].stages, 0) == 4


def test_end_without_waits_is_unknown_beyond_the_horizon() -> None:
    """Stages that need more open months than there are have no end."""
    of = problem(treatment("A", stage(3), stage(3)), closed=(1,))
    assert end_without_waits(calendar_of(of), of.treatments[0].stages, 0) is None
