"""The made-up problems are what they say: seeded, well-formed, short of what is named, worth planning."""

from __future__ import annotations

import random

import pytest

from tests.problems.generator import Shortage, make_problem
from tests.problems.plans import random_plan
from tests.problems.tiny import tiny_problem
from triage.planning.points import never
from triage.planning.reading import problem_json, read_problem
from triage.planning.verify import verify

SHORTAGES: tuple[Shortage, ...] = ("mixed", "budget", "hours", "space", "hall")


def test_the_same_seed_makes_the_same_problem() -> None:
    """Twice the same digest; another seed, another problem."""
    assert make_problem(7, 20, 24).digest() == make_problem(7, 20, 24).digest()
    assert make_problem(7, 20, 24).digest() != make_problem(8, 20, 24).digest()


@pytest.mark.parametrize("shortage", SHORTAGES)
def test_problems_are_well_formed(shortage: Shortage) -> None:
    """The reader finds no fault, with pins and a former plan either."""
    for seed in range(4):
        problem = make_problem(seed, 25, 40, shortage=shortage, pins=3, baseline=True)
        assert read_problem(problem_json(problem)).digest() == problem.digest()
        assert problem.pins
        assert problem.baseline is not None


@pytest.mark.parametrize("shortage", SHORTAGES)
def test_a_plan_by_chance_treats_a_good_part_and_saves_points(shortage: Shortage) -> None:
    """Between a fifth and nine tenths of the objects can be treated, all kinds of treatment among them."""
    treated = 0
    kinds = set()
    for seed in range(4):
        problem = make_problem(seed, 40, 48, shortage=shortage)
        plan = random_plan(problem, random.Random(seed))
        assert verify(problem, plan) == ()
        assert plan.points.total < never(problem)
        treated += len(plan.jobs)
        kinds |= {len(job.stages) > 5 for job in plan.jobs}
    assert 0.2 * 160 < treated < 0.9 * 160
    assert kinds == {True, False}


def test_closed_months_are_as_asked() -> None:
    """Every August by default, none or any others if asked."""
    assert make_problem(1, 5, 24).closed == (4, 16)
    assert make_problem(1, 5, 24, closed=()).closed == ()
    assert make_problem(1, 5, 24, closed=(0, 23)).closed == (0, 23)


def test_spaces_are_alike_and_different() -> None:
    """The first two of each kind are equal, so planners may not tell them apart; others are not."""
    problem = make_problem(2, 60, 60)
    bays = [s for s in problem.spaces if s.kind == "bay"]
    assert bays[0].model_copy(update={"space_id": bays[1].space_id}) == bays[1]
    assert len({s.area_m2 for s in bays}) >= 2


def test_tiny_problems_are_tiny() -> None:
    """At most 5 objects and 8 months, each well-formed."""
    for seed in range(100):
        problem = tiny_problem(seed)
        assert len(problem.objects) <= 5
        assert problem.months <= 8
        read_problem(problem_json(problem))
