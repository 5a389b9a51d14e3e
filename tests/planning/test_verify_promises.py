"""The checker on pins, the former plan, points and outcomes: rules 9 and 10."""

from __future__ import annotations

from typing import Any

import pytest

from tests.planning.build import broken, hall, job, only, plan, problem, space, stage, thing, trade, treatment
from triage.planning.outcome import Ending, Outcome, gap_of
from triage.planning.points import never, score
from triage.planning.problem import Baseline, Job, Pin, Plan, PlanningProblem, Points
from triage.planning.verify import verify, verify_outcome

NOTHING = Points(loss=0, away=0, overtime=0, moves=0, total=0)


def pinned(start: int = 2, space_ids: tuple[str | None, ...] | None = None) -> PlanningProblem:
    """Return a problem in which A is promised T-A, two stages, the first in a bay."""
    return problem(
        treatment("A", stage(place="bay"), stage(most_wait=2)),
        treatment("A", stage(place="bay"), stage(), treatment_id="T2"),
        treatment("B"),
        spaces=(space(), space("bay 2")),
        pins=(Pin(object_id="A", treatment_id="T-A", start=start, space_ids=space_ids),),
    )


def former(*jobs: Job, frozen: int = 0, move: int = 3, drop: int = 40) -> Baseline:
    """Return a former plan."""
    return Baseline(
        plan=Plan(problem_digest="", jobs=jobs, points=NOTHING),
        frozen_until=frozen,
        move_points=move,
        drop_points=drop,
    )


def test_a_pin_is_kept() -> None:
    """Treatment and first start as promised; the later start is free within rule 2."""
    assert broken(pinned(), job("A", (2, "bay 1"), 3)) == []
    assert broken(pinned(), job("A", (2, "bay 2"), 5)) == []


def test_a_pin_is_missed_without_the_job() -> None:
    """A promised job must be in the plan."""
    found = only(verify(pinned(), plan(pinned())))
    assert (found.rule, found.ids) == (9, ("A", "T-A"))


def test_a_pin_is_missed_at_another_start() -> None:
    """One month late is another start."""
    assert broken(pinned(), job("A", (3, "bay 1"), 4)) == [9]


def test_a_pin_is_missed_by_another_treatment() -> None:
    """Another treatment at the same start does not keep the promise."""
    other = Job(object_id="A", treatment_id="T2", stages=job("A", (2, "bay 1"), 3).stages)
    assert broken(pinned(), other) == [9]


@pytest.mark.parametrize(("space_id", "rules"), [("bay 2", []), ("bay 1", [9])])
def test_a_pinned_space_is_kept(space_id: str, rules: list[int]) -> None:
    """Where the pin names a space, that stage is in it; null leaves the other stage free."""
    assert broken(pinned(space_ids=("bay 2", None)), job("A", (2, space_id), 3)) == rules


def test_a_start_before_frozen_until_is_kept() -> None:
    """A former start in month 1 is frozen until 2, free until 1."""
    frozen = problem(treatment("A"), baseline=former(job("A", 1), frozen=2))
    assert broken(frozen, job("A", 1)) == []
    assert broken(frozen, job("A", 2)) == [9]
    assert broken(frozen) == [9]
    assert broken(problem(treatment("A"), baseline=former(job("A", 1), frozen=1))) == []


def test_only_the_first_start_is_frozen() -> None:
    """A later stage of a frozen job may move."""
    of = problem(treatment("A", stage(), stage(most_wait=3)), baseline=former(job("A", 0, 1), frozen=3))
    assert broken(of, job("A", 0, 4)) == []


def test_points_add_loss_away_overtime_and_moves() -> None:
    """Worked by hand: A ends at 3 (30), away 3 months at 1, 4 h over at 2, moved 1 month at 3; B 100."""
    of = problem(
        treatment("A", stage(2, away=True, hours={"metal": (14, 10)})),
        treatment("B"),
        closed=(1,),
        trades=(trade(most=5),),
        baseline=former(job("A", 1)),
    )
    expected = Points(loss=30 + 100, away=3, overtime=8, moves=3, total=144)
    assert score(of, [job("A", 0)]) == expected


def test_calendar_months_count_as_moves() -> None:
    """From 0 to 4 over closed months is four months of difference."""
    of = problem(treatment("A"), closed=(1, 2), baseline=former(job("A", 0)))
    assert score(of, [job("A", 4)]).moves == 12


def test_a_dropped_and_a_changed_job_cost_drop_points_and_a_new_one_nothing() -> None:
    """A has no job, B another treatment, C is new: twice 40."""
    of = problem(
        treatment("A"),
        treatment("B"),
        treatment("B", treatment_id="T2"),
        treatment("C"),
        baseline=former(job("A", 0), job("B", 0)),
    )
    other = Job(object_id="B", treatment_id="T2", stages=job("B", 0).stages)
    assert score(of, [other, job("C", 0)]).moves == 80


def test_overtime_is_counted_over_all_jobs_of_a_month() -> None:
    """Two jobs of 6 h where 10 h are there: 2 h over."""
    of = problem(
        treatment("A", stage(hours={"metal": (6,)})),
        treatment("B", stage(hours={"metal": (6,)})),
        trades=(trade(most=2),),
    )
    assert score(of, [job("A", 0), job("B", 0)]).overtime == 4
    assert score(of, [job("A", 0), job("B", 1)]).overtime == 0


def test_never_counts_pinned_jobs_without_waits() -> None:
    """B is left alone (100); A's pinned stages from 2 end at 4 (40)."""
    assert never(pinned()) == 140


def test_never_counts_no_points_but_loss() -> None:
    """Away months, overtime and dropped jobs are not in never."""
    of = pinned().model_copy(update={"baseline": former(job("B", 0))})
    assert never(of) == 140


@pytest.mark.parametrize("name", ["loss", "away", "overtime", "moves", "total"])
def test_every_wrong_figure_of_points_is_told(name: str) -> None:
    """A figure one too high is named with the right one."""
    of = problem(treatment("A"))
    right = score(of, [job("A", 0)])
    wrong = right.model_copy(update={name: getattr(right, name) + 1})
    found = verify(of, plan(of, job("A", 0), points=wrong))
    assert {v.rule for v in found} == {10}
    assert any(f"for {name} " in v.text and str(getattr(right, name)) in v.text for v in found)


def test_a_plan_for_another_problem_is_told() -> None:
    """The digest ties a plan to its problem."""
    of = problem(treatment("A"))
    other = of.model_copy(update={"scale": "another"})
    assert "another problem" in only(verify(of, plan(other))).text


@pytest.mark.parametrize(("first", "sound"), [("", True), ("2030-01", True), ("2030-02", False)])
def test_a_plan_counts_from_the_problems_first_month(first: str, sound: bool) -> None:
    """An absent first month is no fault, another one is."""
    of = problem(treatment("A"))
    made = plan(of).model_copy(update={"first_month": first})
    assert (verify(of, made) == ()) is sound


def outcome(of: PlanningProblem, made: Plan | None, ending: Ending, **fields: Any) -> Outcome:
    """Return an outcome that is right for a plan found in time with the bound 0, unless said otherwise."""
    bound = fields.pop("bound", 0)
    usual: dict[str, Any] = {
        "problem_digest": of.digest(),
        "made_by": None if made is None else "integer_program",
        "never": never(of),
        "gap": None if made is None else gap_of(made.points.total, bound, never(of)),
        "seconds": 1.0,
        "solver": "",
        "message": "",
    }
    return Outcome(ending=ending, plan=made, bound=bound, **{**usual, **fields})


OF = problem(treatment("A"), treatment("B"))
MADE = plan(OF, job("A", 0), job("B", 0))


@pytest.mark.parametrize(
    "ending",
    [e for e in Ending if e not in (Ending.PROVEN_BEST, Ending.BEST_IN_TIME)],
)
def test_endings_without_a_plan_are_sound(ending: Ending) -> None:
    """Every ending but the two that promise a plan may come without one."""
    assert verify_outcome(OF, outcome(OF, None, ending, bound=None)) == ()


@pytest.mark.parametrize("ending", [Ending.PROVEN_BEST, Ending.BEST_IN_TIME])
def test_endings_that_promise_a_plan_need_one(ending: Ending) -> None:
    """No plan cannot be the best one."""
    assert verify_outcome(OF, outcome(OF, None, ending, bound=None)) != ()


@pytest.mark.parametrize("ending", [Ending.NO_PLAN_IN_TIME, Ending.IMPOSSIBLE, Ending.REJECTED])
def test_endings_that_deny_a_plan_have_none(ending: Ending) -> None:
    """A plan beside "impossible" is a contradiction."""
    assert verify_outcome(OF, outcome(OF, MADE, ending)) != ()


@pytest.mark.parametrize("ending", [Ending.SOLVER_MISSING, Ending.SOLVER_FAILED])
def test_without_a_solver_a_plan_is_greedy(ending: Ending) -> None:
    """An integer program's plan cannot come from a missing solver."""
    assert verify_outcome(OF, outcome(OF, MADE, ending, made_by="greedy", bound=None)) == ()
    assert verify_outcome(OF, outcome(OF, MADE, ending, bound=None)) != ()


def test_proven_best_means_the_bound_is_reached() -> None:
    """Proven best with the total as bound is sound, with a lower bound it is not."""
    assert verify_outcome(OF, outcome(OF, MADE, Ending.PROVEN_BEST, bound=20)) == ()
    assert verify_outcome(OF, outcome(OF, MADE, Ending.PROVEN_BEST, bound=19)) != ()


@pytest.mark.parametrize(
    "wrong",
    [
        {"never": 199},
        {"gap": 0.2},
        {"gap": None},
        {"bound": 21},
        {"problem_digest": "0"},
        {"made_by": None},
        {"seconds": -1.0},
    ],
    ids=lambda wrong: next(iter(wrong)),
)
def test_each_wrong_figure_of_an_outcome_is_told(wrong: dict[str, Any]) -> None:
    """never, gap, bound, digest, maker and seconds are each compared."""
    assert verify_outcome(OF, outcome(OF, MADE, Ending.BEST_IN_TIME)) == ()
    assert {v.rule for v in verify_outcome(OF, outcome(OF, MADE, Ending.BEST_IN_TIME, **wrong))} == {10}


def test_the_gap_is_nothing_where_nothing_could_be_avoided() -> None:
    """never 0 and total 0: gap 0 if the bound is 0, null if it is lower."""
    of = problem(treatment("A"), objects=(thing("A", loss_if_never=0),), halls=(hall(),))
    assert verify_outcome(of, outcome(of, plan(of), Ending.PROVEN_BEST, gap=0.0)) == ()
    assert gap_of(0, 0, 0) == 0.0
    assert gap_of(1, 0, 0) is None


def test_an_outcome_carries_its_plans_faults() -> None:
    """The plan inside is checked too."""
    late = plan(OF, job("A", 0), job("B", 9))
    assert 1 in {v.rule for v in verify_outcome(OF, outcome(OF, late, Ending.BEST_IN_TIME))}
