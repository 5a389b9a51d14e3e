"""Planning problems with published optima or optimal rules, written as contract files and solved.

Each problem goes through the file's text (written, read, solved, checked), so the reader and the
checker are met as well as the search.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import combinations

import pytest

from triage.planning.outcome import Ending, Outcome
from triage.planning.problem import (
    BudgetLimit,
    PlanningProblem,
    PlanObject,
    PlanStage,
    PlanTreatment,
    SpaceRoom,
    TradeHours,
)
from triage.planning.reading import problem_json, read_problem
from triage.planning.solver import Limits, solve
from triage.planning.verify import verify_outcome

SECONDS = 60.0


def solved(problem: PlanningProblem) -> Outcome:
    """Return the outcome of a problem sent through its contract file; the plan has passed the checker."""
    read = read_problem(problem_json(problem))
    outcome = solve(read, Limits(seconds=SECONDS))
    assert verify_outcome(read, outcome) == ()
    return outcome


def best(problem: PlanningProblem) -> int:
    """Return the total of a problem's proven best plan."""
    outcome = solved(problem)
    assert outcome.ending is Ending.PROVEN_BEST
    assert outcome.plan is not None
    return outcome.plan.points.total


def _stage(months: int = 1, **fields: object) -> PlanStage:
    usual: dict[str, object] = {"hours": {}, "place": None, "area_m2": 0, "width_cm": 0, "height_cm": 0}
    return PlanStage(months=months, most_wait=0, away=False, **{**usual, **fields})  # type: ignore[arg-type]  # pydantic checks


def _object(number: int, loss_if_never: int) -> PlanObject:
    return PlanObject(
        object_id=f"{number}",
        hall_id=None,
        display_m2=0,
        hung=False,
        loss_if_never=loss_if_never,
        away_points=0,
    )


def _treatment(number: int, name: str, loss: Sequence[int], stage: PlanStage, cost: int = 0) -> PlanTreatment:
    return PlanTreatment(
        treatment_id=f"{number} {name}",
        object_id=f"{number}",
        cost=cost,
        earliest=0,
        latest=len(loss) - 2,
        loss_if_done=tuple(loss),
        stages=(stage,),
    )


def _trade(name: str, hours: int, months: int = 1) -> TradeHours:
    return TradeHours(trade_id=name, hours=(hours,) * months, overtime_most=(0,) * months, overtime_points=0)


PROFITS = (100, 600, 1200, 2400, 500, 2000)
NEEDS = (
    (8, 12, 13, 64, 22, 41),
    (8, 12, 13, 75, 22, 41),
    (3, 6, 4, 18, 6, 4),
    (5, 10, 8, 32, 6, 12),
    (5, 13, 8, 42, 6, 20),
    (5, 13, 8, 48, 6, 20),
    (0, 0, 0, 0, 8, 0),
    (3, 0, 4, 0, 8, 0),
    (3, 2, 4, 0, 8, 4),
    (3, 2, 4, 8, 8, 4),
)
ROOM = (80, 96, 20, 36, 44, 48, 10, 18, 22, 24)
KNAPSACK_BEST = 3800
"""OR-Library, file mknap1, problem 1 (6 items, 10 limits; Petersen 1967): optimum 3800.

Typed from memory, then compared with the figures as several public repositories quote the file."""


def knapsack(first_as_budget: bool) -> PlanningProblem:
    """Return the knapsack: an item is an object, a limit a trade's hours or, for the first, money."""
    treatments = []
    for item in range(len(PROFITS)):
        hours = {f"limit {i}": (row[item],) for i, row in enumerate(NEEDS) if i or not first_as_budget}
        cost = NEEDS[0][item] if first_as_budget else 0
        treatments.append(_treatment(item, "take", (0, 0), _stage(hours=hours), cost))
    return PlanningProblem(
        first_month="2030-01",
        months=1,
        trades=tuple(_trade(f"limit {i}", room) for i, room in enumerate(ROOM)),
        budgets=(BudgetLimit(from_month=0, to_month=0, amount=ROOM[0]),) if first_as_budget else (),
        objects=tuple(_object(item, profit) for item, profit in enumerate(PROFITS)),
        treatments=tuple(treatments),
    )


def test_the_knapsack_data_has_the_published_optimum() -> None:
    """All 64 choices tried: the data as typed give 3800, so they are the published ones or as good."""
    values = [
        sum(PROFITS[i] for i in chosen)
        for size in range(7)
        for chosen in combinations(range(6), size)
        if all(sum(row[i] for i in chosen) <= room for row, room in zip(NEEDS, ROOM, strict=True))
    ]
    assert max(values) == KNAPSACK_BEST


@pytest.mark.parametrize("first_as_budget", [False, True], ids=["hours", "hours and money"])
def test_multidimensional_knapsack(first_as_budget: bool) -> None:
    """OR-Library mknap1, problem 1: what is left behind is the sum of profits less 3800."""
    assert best(knapsack(first_as_budget)) == sum(PROFITS) - KNAPSACK_BEST


COSTS = (
    (17, 21, 22, 18, 24, 15, 20, 18, 19, 18, 16, 22, 24, 24, 16),
    (23, 16, 21, 16, 17, 16, 19, 25, 18, 21, 17, 15, 25, 17, 24),
    (16, 20, 16, 25, 24, 16, 17, 19, 19, 18, 20, 16, 17, 21, 24),
    (19, 19, 22, 22, 20, 16, 19, 17, 21, 19, 25, 23, 25, 25, 25),
    (18, 19, 15, 15, 21, 25, 16, 16, 23, 15, 22, 17, 19, 22, 24),
)
USES = (
    (8, 15, 14, 23, 8, 16, 8, 25, 9, 17, 25, 15, 10, 8, 24),
    (15, 7, 23, 22, 11, 11, 12, 10, 17, 16, 7, 16, 10, 18, 22),
    (21, 20, 6, 22, 24, 10, 24, 9, 21, 14, 11, 14, 11, 19, 16),
    (20, 11, 8, 14, 9, 5, 6, 19, 19, 7, 6, 6, 13, 9, 18),
    (8, 13, 13, 13, 10, 20, 25, 16, 16, 17, 10, 10, 5, 12, 23),
)
AGENTS = (36, 34, 38, 27, 33)
LEFT = 1000
"""Points of a job nobody does: more than any set of assignments can win, so all are done."""


def _assignment(loss_of: dict[str, int], by_floor: bool) -> PlanningProblem:
    treatments = []
    for job in range(15):
        for agent in range(5):
            loss = loss_of["least"] + loss_of["sign"] * COSTS[agent][job]
            use = USES[agent][job]
            stage = (
                _stage(place=f"agent {agent}", area_m2=use)
                if by_floor
                else _stage(hours={f"agent {agent}": (use,)})
            )
            treatments.append(_treatment(job, f"by {agent}", (loss, loss), stage))
    spaces = tuple(
        SpaceRoom(
            space_id=f"floor {agent}",
            kind=f"agent {agent}",
            area_m2=(room,),
            slots=(15,),
            door_width_cm=0,
            door_height_cm=0,
        )
        for agent, room in enumerate(AGENTS)
    )
    return PlanningProblem(
        first_month="2030-01",
        months=1,
        trades=tuple(_trade(f"agent {agent}", room) for agent, room in enumerate(AGENTS)),
        spaces=spaces if by_floor else (),
        objects=tuple(_object(job, LEFT) for job in range(15)),
        treatments=tuple(treatments),
    )


@pytest.mark.parametrize("by_floor", [False, True], ids=["hours", "floor"])
def test_generalised_assignment_as_published(by_floor: bool) -> None:
    """OR-Library gap1, problem c515-1 (5 agents, 15 jobs): the best value, maximised, is 336.

    Data and optimum: J. E. Beasley's OR-Library, files gap1 and gapinfo, as public repositories quote
    them; used in Osman (1995), OR Spektrum 17, 211-225, and Cattrysse, Salomon & Van Wassenhove (1994),
    European Journal of Operational Research 72, 167-174.
    """
    assert 15 * 30 - best(_assignment({"least": 30, "sign": -1}, by_floor)) == 336


def test_generalised_assignment_at_least_cost() -> None:
    """The same data minimised: 261, as the comment of a published mathematical-programming example says."""
    assert best(_assignment({"least": 0, "sign": 1}, by_floor=False)) == 261


def _bays(
    lengths: Sequence[int], losses: Sequence[Sequence[int]], never: int, bays: int = 1
) -> PlanningProblem:
    months = len(losses[0]) - 1
    return PlanningProblem(
        first_month="2030-01",
        months=months,
        spaces=tuple(
            SpaceRoom(
                space_id=f"bay {number}",
                kind="bay",
                area_m2=(1,) * months,
                slots=(1,) * months,
                door_width_cm=0,
                door_height_cm=0,
            )
            for number in range(bays)
        ),
        objects=tuple(_object(job, never) for job in range(len(lengths))),
        treatments=tuple(
            _treatment(job, "work", loss, _stage(length, place="bay"))
            for job, (length, loss) in enumerate(zip(lengths, losses, strict=True))
        ),
    )


@pytest.mark.parametrize("seed", range(4))
def test_one_bay_weighted_completion(seed: int) -> None:
    """Smith's rule (W. E. Smith 1956, Naval Research Logistics Quarterly 3, 59-66) is exact.

    On one machine the sum of weighted completion times is least in order of length over weight.
    """
    rng = random.Random(seed)
    jobs = [(rng.randint(1, 4), rng.randint(1, 9)) for _ in range(8)]
    months = sum(length for length, _ in jobs)
    losses = [[weight * end for end in range(months + 1)] for _, weight in jobs]
    end, expected = 0, 0
    for length, weight in sorted(jobs, key=lambda job: job[0] / job[1]):
        end += length
        expected += weight * end
    assert best(_bays([length for length, _ in jobs], losses, 10_000)) == expected


@pytest.mark.parametrize("bays", [2, 3])
def test_equal_bays_total_completion(bays: int) -> None:
    """Shortest first over identical machines gives the least sum of completion times.

    Conway, Maxwell & Miller (1967), Theory of Scheduling, chapter 5 (recalled).
    """
    rng = random.Random(bays)
    lengths = [rng.randint(1, 5) for _ in range(9)]
    months = sum(lengths)
    ends = [0] * bays
    expected = 0
    for length in sorted(lengths):
        soonest = ends.index(min(ends))
        ends[soonest] += length
        expected += ends[soonest]
    losses = [list(range(months + 1)) for _ in lengths]
    assert best(_bays(lengths, losses, 10_000, bays)) == expected


@pytest.mark.parametrize("seed", range(3))
def test_one_bay_fewest_late_jobs(seed: int) -> None:
    """The Moore-Hodgson algorithm (J. M. Moore 1968, Management Science 15, 102-109) is exact.

    Jobs in order of due date; when one is late, the longest so far is left out. Those left out count 1 each.
    """
    rng = random.Random(seed)
    jobs = sorted((rng.randint(3, 18), rng.randint(1, 5)) for _ in range(9))
    kept: list[int] = []
    for due, length in jobs:
        kept.append(length)
        if sum(kept) > due:
            kept.remove(max(kept))
    losses = [[int(end > due) for end in range(21)] for due, _ in jobs]
    assert best(_bays([length for _, length in jobs], losses, 1)) == len(jobs) - len(kept)
