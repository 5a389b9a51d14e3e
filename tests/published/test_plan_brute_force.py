"""Proven best is best: the search against every plan tried, on tiny problems that meet all ten rules.

The reference (``tests/problems/brute_force.py``) plays each job month by month and shares no code with
the checker or the search.
"""

from __future__ import annotations

import pytest

from tests.problems.brute_force import best_plan
from tests.problems.plans import plan_of
from tests.problems.tiny import tiny_problem
from triage.planning.outcome import Ending
from triage.planning.reading import problem_json, read_problem
from triage.planning.solver import Limits, solve
from triage.planning.verify import verify, verify_outcome

CHECKED = range(400)
SOLVED = range(160)
GROUP = 10


@pytest.mark.parametrize("first", range(0, len(CHECKED), 40))
def test_the_checker_agrees_with_every_plan_tried(first: int) -> None:
    """The best plan by brute force breaks no rule and has exactly the points brute force counted."""
    for seed in CHECKED[first : first + 40]:
        problem = tiny_problem(seed)
        found = best_plan(problem)
        if found is not None:
            plan = plan_of(problem, found[1])
            assert verify(problem, plan) == (), seed
            assert plan.points.total == found[0], seed


def test_the_tiny_problems_meet_what_they_are_for() -> None:
    """Among them are pins, former plans, closed months, overtime, moves and impossible problems."""
    problems = [tiny_problem(seed) for seed in SOLVED]
    found = [best_plan(problem) for problem in problems]
    points = [plan_of(p, f[1]).points for p, f in zip(problems, found, strict=True) if f is not None]
    assert 10 <= found.count(None) <= 40
    assert sum(bool(p.pins) for p in problems) >= 30
    assert sum(p.baseline is not None for p in problems) >= 30
    assert sum(bool(p.closed) for p in problems) >= 50
    assert sum(p.overtime > 0 for p in points) >= 10
    assert sum(p.moves > 0 for p in points) >= 20
    assert sum(p.away > 0 for p in points) >= 50


@pytest.mark.slow
@pytest.mark.parametrize("first", range(0, len(SOLVED), GROUP))
def test_the_search_finds_and_proves_what_brute_force_finds(first: int) -> None:
    """Equal totals, proven; impossible where no plan keeps the rules; through the contract file."""
    for seed in SOLVED[first : first + GROUP]:
        problem = read_problem(problem_json(tiny_problem(seed)))
        expected = best_plan(problem)
        outcome = solve(problem, Limits(seconds=30))
        assert verify_outcome(problem, outcome) == (), seed
        if expected is None:
            assert outcome.ending is Ending.IMPOSSIBLE, seed
            assert outcome.conflicts, seed
        else:
            assert outcome.ending is Ending.PROVEN_BEST, seed
            assert outcome.plan is not None
            assert outcome.plan.points.total == expected[0], seed
