"""The search against OR-Tools CP-SAT, an independent solver, through the contract file.

CP-SAT (Google OR-Tools, Apache-2.0; a test-only dependency) solves its own model of the ten rules,
``tests/problems/cpsat.py``. Every plan of either passes the checker.
"""

from __future__ import annotations

import pytest

from tests.problems.brute_force import best_plan
from tests.problems.cpsat import solve_cpsat
from tests.problems.generator import Shortage, make_problem
from tests.problems.tiny import tiny_problem
from triage.planning.outcome import Ending
from triage.planning.reading import problem_json, read_problem
from triage.planning.solver import Limits, solve
from triage.planning.verify import verify, verify_outcome

SMALL: tuple[tuple[int, int, int, Shortage], ...] = (
    (1, 8, 18, "mixed"),
    (2, 8, 24, "budget"),
    (3, 10, 18, "hours"),
    (4, 10, 24, "space"),
    (5, 12, 24, "hall"),
    (6, 12, 18, "mixed"),
)


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_cpsat_agrees_with_every_plan_tried(first: int) -> None:
    """The reference model itself: same best total as brute force, plans pass the checker."""
    for seed in range(first, first + 20):
        problem = tiny_problem(seed)
        expected = best_plan(problem)
        plan, bound = solve_cpsat(problem, 20, 1)
        if expected is None:
            assert (plan, bound) == (None, None), seed
        else:
            assert plan is not None
            assert verify(problem, plan) == (), seed
            assert plan.points.total == bound == expected[0], seed


@pytest.mark.slow
@pytest.mark.parametrize(("seed", "objects", "months", "shortage"), SMALL)
def test_the_search_agrees_with_cpsat(seed: int, objects: int, months: int, shortage: Shortage) -> None:
    """Both prove their plan best, and the totals are equal."""
    made = make_problem(seed, objects, months, shortage=shortage, pins=seed % 2, baseline=seed % 3 == 0)
    problem = read_problem(problem_json(made))
    plan, bound = solve_cpsat(problem, 30, 2)
    outcome = solve(problem, Limits(seconds=30))
    assert plan is not None
    assert plan.points.total == bound
    assert verify(problem, plan) == ()
    assert outcome.plan is not None
    assert verify_outcome(problem, outcome) == ()
    assert outcome.ending is Ending.PROVEN_BEST
    assert outcome.plan.points.total == bound
