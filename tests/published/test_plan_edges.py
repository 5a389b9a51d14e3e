"""Problems at the edge of the contract, solved and compared with every plan tried."""

from __future__ import annotations

import random

import pytest

from tests.planning.build import problem, rule, stage, thing, trade, treatment
from tests.problems.brute_force import best_plan
from tests.problems.tiny import tiny_problem
from triage.planning.outcome import Ending
from triage.planning.problem import Pin, PlanningProblem
from triage.planning.reading import problem_json, read_problem
from triage.planning.solver import Limits, solve
from triage.planning.verify import verify_outcome

AWAY = stage(away=True)


def pinned(of: PlanningProblem, start: int, *spaces: str) -> PlanningProblem:
    """Return the problem with T-A promised from a month."""
    pin = Pin(object_id="A", treatment_id="T-A", start=start, space_ids=spaces or None)
    return of.model_copy(update={"pins": (pin,)})


EDGES: dict[str, PlanningProblem] = {
    "no objects": problem(),
    "no treatments": problem(objects=(thing("A"),)),
    "all months closed": problem(treatment("A"), closed=tuple(range(6))),
    "one month": problem(treatment("A", months=1), months=1),
    "never startable": problem(treatment("A", earliest=3, latest=2)),
    "latest beyond the horizon": problem(treatment("A", earliest=2, latest=99)),
    "losses below nothing": problem(
        treatment("A", loss_if_done=(-50,) * 7), objects=(thing("A", loss_if_never=-10),)
    ),
    "losses that fall with time": problem(treatment("A", loss_if_done=(60, 50, 40, 30, 20, 10, 0))),
    "large losses": problem(
        treatment("A", loss_if_done=(2**40,) * 7), objects=(thing("A", loss_if_never=2**45),)
    ),
    "free overtime": problem(treatment("A", stage(hours={"metal": (12,)})), trades=(trade(most=5, cost=0),)),
    "hours of nothing before a closed month": problem(
        treatment("A", stage(2, hours={"metal": (0, 10)})), closed=(1,)
    ),
    "a pin into a closed month": pinned(problem(treatment("A"), closed=(0,)), 0),
    "a pin that outlasts the horizon": pinned(problem(treatment("A", stage(4))), 4),
    "a pin to a space where none is needed": pinned(problem(treatment("A")), 0, "bay 1"),
    "a pin outside its window": pinned(problem(treatment("A", earliest=2)), 1),
    "more on show than there are": problem(treatment("A"), rules=(rule("at_least", "A", number=2),)),
    "a rule about nobody that cannot hold": problem(treatment("A"), rules=(rule("at_least", number=1),)),
    "a rule about nobody that holds": problem(treatment("A"), rules=(rule("at_least", number=0),)),
    "a rule beyond the horizon": problem(
        treatment("A", AWAY), rules=(rule("on_show", "A", first=50, last=60),)
    ),
    "a rule that names an object twice": problem(
        treatment("A", AWAY), rules=(rule("not_together", "A", "A"),)
    ),
}


def agree(of: PlanningProblem) -> None:
    """Assert that the search proves what trying every plan finds."""
    read = read_problem(problem_json(of))
    expected, outcome = best_plan(read), solve(read, Limits(seconds=30))
    assert verify_outcome(read, outcome) == ()
    if expected is None:
        assert outcome.ending is Ending.IMPOSSIBLE
        assert outcome.conflicts
    else:
        assert outcome.ending is Ending.PROVEN_BEST
        assert outcome.plan is not None
        assert outcome.plan.points.total == expected[0]


@pytest.mark.parametrize("name", EDGES)
def test_an_edge_of_the_contract_is_solved(name: str) -> None:
    """Empty, closed, impossible and odd problems end as trying every plan says."""
    agree(EDGES[name])


@pytest.mark.parametrize("first", range(0, 30, 10))
def test_losses_in_any_order_are_solved(first: int) -> None:
    """The contract does not say that losses rise with the end, nor that they are above nothing."""
    for seed in range(first, first + 10):
        rng, of = random.Random(seed), tiny_problem(seed)
        treatments = tuple(
            t.model_copy(update={"loss_if_done": tuple(rng.randint(-50, 150) for _ in t.loss_if_done)})
            for t in of.treatments
        )
        agree(of.model_copy(update={"treatments": treatments}))
