"""The problem as a whole."""

from __future__ import annotations

import json

import pytest

from tests.museum import losses, museum
from triage.planning.assemble import assemble
from triage.planning.problem import PlanningProblem, value_digest


@pytest.fixture
def problem() -> PlanningProblem:
    """Return the tiny museum's problem."""
    collection = museum()
    return assemble(collection, losses(collection)).problem


def test_month_0_is_the_first_month(problem: PlanningProblem) -> None:
    """No clock is read: the problem starts where the settings say."""
    assert (problem.first_month, problem.months) == ("2027-01", 24)


def test_every_monthly_list_has_one_number_a_month(problem: PlanningProblem) -> None:
    """Hours, overtime, area, slots, clear floor and most away all have H numbers."""
    lists = [
        *(x for t in problem.trades for x in (t.hours, t.overtime_most)),
        *(x for s in problem.spaces for x in (s.area_m2, s.slots)),
        *(x for h in problem.halls for x in (h.clear_m2, h.most_away)),
    ]

    assert {len(numbers) for numbers in lists} == {24}


def test_the_scale_is_stated_in_the_file(problem: PlanningProblem) -> None:
    """A reader of the file learns what a point is."""
    assert problem.scale == "100 points are the whole of an object of significance 1"


def test_the_digest_of_the_file_is_the_digest_of_the_problem(problem: PlanningProblem) -> None:
    """Whoever reads the file we write gets the same digest as we do."""
    assert value_digest(json.loads(problem.model_dump_json())) == problem.digest()


def test_the_same_record_gives_the_same_problem(problem: PlanningProblem) -> None:
    """Assembling has no chance in it."""
    collection = museum()

    assert assemble(collection, losses(collection)).problem == problem


def test_months_lead_back_to_the_calendar() -> None:
    """Month 23 is December 2028."""
    collection = museum()

    assert assemble(collection, losses(collection)).calendar_month(23) == 2028 * 12 + 11
