"""Which promises clash: a set that cannot be kept, none of which can be spared."""

from __future__ import annotations

import pytest

from tests.planning.build import job, problem, rule, space, stage, treatment
from tests.problems.brute_force import best_plan
from tests.problems.tiny import tiny_problem
from triage.planning.clashes import conflicts
from triage.planning.problem import Baseline, Pin, Plan, PlanningProblem, Points


def feasible(of: PlanningProblem) -> bool:
    """Return whether any plan keeps all rules, by trying all."""
    return best_plan(of) is not None


def pin(object_id: str, start: int = 0) -> Pin:
    """Return the promise of T-<object_id>."""
    return Pin(object_id=object_id, treatment_id=f"T-{object_id}", start=start)


def test_two_pins_for_one_bay_clash() -> None:
    """Of four pins and a rule the two that meet in the bay are named."""
    of = problem(
        *(treatment(i, stage(2, place="bay")) for i in ("A", "B")),
        *(treatment(i) for i in ("C", "D")),
        spaces=(space(),),
        pins=(pin("A"), pin("C"), pin("B", 1), pin("D")),
        rules=(rule("on_show", "C"),),
    )
    found = conflicts(of, feasible)
    assert [(v.rule, v.ids, v.from_month, v.to_month) for v in found] == [
        (9, ("A", "T-A"), 0, 1),
        (9, ("B", "T-B"), 1, 2),
    ]
    assert found[0].text == "A is promised T-A from Jan 2030."


def test_a_pin_and_a_display_rule_clash() -> None:
    """An object that must be away and on show at once."""
    of = problem(
        treatment("A", stage(away=True)), pins=(pin("A", 2),), rules=(rule("on_show", "A", first=2, last=3),)
    )
    assert {v.rule for v in conflicts(of, feasible)} == {7, 9}


def test_a_frozen_start_clashes_alone() -> None:
    """A former start in a closed month cannot be kept; the freeze is named."""
    points = Points(loss=0, away=0, overtime=0, moves=0, total=0)
    former = Plan(problem_digest="", jobs=(job("A", 1),), points=points)
    of = problem(
        treatment("A"),
        closed=(1,),
        baseline=Baseline(plan=former, frozen_until=2, move_points=0, drop_points=0),
    )
    found = conflicts(of, feasible)
    assert [v.ids for v in found] == [("A", "T-A")]
    assert "frozen" in found[0].text


def test_a_rule_nobody_can_keep_is_named() -> None:
    """At least two of one object on show: impossible by itself."""
    of = problem(treatment("A"), rules=(rule("at_least", "A", number=2),))
    found = conflicts(of, feasible)
    assert [v.ids for v in found] == [("R", "A")]


IMPOSSIBLE = [seed for seed in range(250) if best_plan(tiny_problem(seed)) is None]


Key = tuple[int, tuple[str, ...], str]


def with_only(of: PlanningProblem, named: list[Key]) -> PlanningProblem:
    """Return the problem with only the promises of these rules and ids."""
    baseline = of.baseline
    if baseline is not None:
        frozen = {ids for number, ids, text in named if number == 9 and "frozen" in text}
        jobs = tuple(j for j in baseline.plan.jobs if (j.object_id, j.treatment_id) in frozen)
        plan = baseline.plan.model_copy(update={"jobs": jobs})
        baseline = baseline.model_copy(update={"plan": plan})
    pinned = {ids for number, ids, text in named if number == 9 and "promised" in text}
    shown = {ids[0] for number, ids, _ in named if number == 7}
    return of.model_copy(
        update={
            "pins": tuple(p for p in of.pins if (p.object_id, p.treatment_id) in pinned),
            "rules": tuple(r for r in of.rules if r.rule_id in shown),
            "baseline": baseline,
        }
    )


@pytest.mark.parametrize("part", range(3))
def test_the_promises_named_clash_and_none_can_be_spared(part: int) -> None:
    """On impossible tiny problems: the set alone is impossible, and without any one of it possible."""
    assert len(IMPOSSIBLE) >= 20
    for seed in IMPOSSIBLE[part::3]:
        of = tiny_problem(seed)
        named = [(v.rule, v.ids, v.text) for v in conflicts(of, feasible)]
        assert not feasible(with_only(of, named)), seed
        for spared in named:
            assert feasible(with_only(of, [n for n in named if n != spared])), (seed, spared)
