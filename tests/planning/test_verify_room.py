"""The checker on jobs together: rules 3 to 8, each at its border."""

from __future__ import annotations

import pytest

from tests.planning.build import (
    broken,
    budget,
    hall,
    job,
    only,
    plan,
    problem,
    rule,
    space,
    stage,
    thing,
    trade,
    treatment,
)
from triage.planning.verify import verify


@pytest.mark.parametrize(("area", "rules"), [(25, []), (26, [3])])
def test_the_area_of_a_space_holds(area: int, rules: list[int]) -> None:
    """25 and 25 m2 fill 50 m2; 26 and 25 m2 do not fit."""
    of = problem(
        treatment("A", stage(place="bay", area_m2=area)),
        treatment("B", stage(place="bay", area_m2=25)),
        spaces=(space(slots=(2,) * 6),),
    )
    assert broken(of, job("A", (0, "bay 1")), job("B", (0, "bay 1"))) == rules


@pytest.mark.parametrize(("start", "rules"), [(1, [3]), (2, [])])
def test_the_slots_of_a_space_hold(start: int, rules: list[int]) -> None:
    """A second job may enter a one-job bay when the first has left after two months."""
    of = problem(treatment("A", stage(2, place="bay")), treatment("B", stage(place="bay")))
    assert broken(of, job("A", (0, "bay 1")), job("B", (start, "bay 1"))) == rules


def test_a_waiting_job_keeps_its_slot() -> None:
    """A job done in month 0 that waits for month 2 still fills the bay in month 1."""
    of = problem(treatment("A", stage(place="bay"), stage(most_wait=1)), treatment("B", stage(place="bay")))
    assert broken(of, job("A", (0, "bay 1"), 2), job("B", (1, "bay 1"))) == [3]
    assert broken(of, job("A", (0, "bay 1"), 2), job("B", (2, "bay 1"))) == []


def test_a_closed_month_needs_room_too() -> None:
    """A job at work before and after a closed month stands in the bay during it."""
    of = problem(
        treatment("A", stage(2, place="bay", area_m2=10)),
        closed=(1,),
        spaces=(space(area_m2=(50, 5, 50, 50, 50, 50)),),
    )
    found = only(verify(of, plan(of, job("A", (0, "bay 1")))))
    assert (found.rule, found.from_month, found.to_month, found.ids) == (3, 1, 1, ("bay 1", "A"))


def test_a_last_stage_leaves_before_a_closed_month() -> None:
    """The last stage keeps its place to e-1 only: the closed month behind it is free."""
    of = problem(
        treatment("A", stage(1, place="bay")), closed=(1,), spaces=(space(slots=(1, 0, 1, 1, 1, 1)),)
    )
    assert broken(of, job("A", (0, "bay 1"))) == []


@pytest.mark.parametrize(("area", "rules"), [(20, []), (21, [4])])
def test_a_hung_object_needs_its_whole_area_of_clear_floor(area: int, rules: list[int]) -> None:
    """20 m2 of clear floor lower 20 m2 and no more, whatever the spot it hangs over."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=area, away=True)), objects=(thing("A", hung=True),)
    )
    assert broken(of, job("A", 0)) == rules


@pytest.mark.parametrize(("area", "rules"), [(10, []), (50, []), (51, [4])])
def test_a_floor_object_has_its_own_spot_in_a_hall_stage(area: int, rules: list[int]) -> None:
    """A 30 m2 floor object at work on 50 m2 uses 20 m2 of clear floor; on 10 m2 it uses none."""
    of = problem(treatment("A", stage(place="hall", area_m2=area)))
    assert broken(of, job("A", 0)) == rules


@pytest.mark.parametrize("away", [True, False])
def test_a_hall_stage_uses_floor_away_or_not(away: bool) -> None:
    """Clear floor is used whether the object counts as away or not."""
    of = problem(treatment("A", stage(place="hall", area_m2=21, away=away)), objects=(thing("A", hung=True),))
    assert broken(of, job("A", 0)) == [4]


def _neighbour(**fields: object) -> list[int]:
    """Return what is broken if A needs 50 m2 in month 1 while B has a stage of these fields."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=50)),
        treatment("B", stage(3, **fields)),
        objects=(thing("A", hung=True), thing("B", hung=bool(fields.pop("hung", False)))),
    )
    return broken(of, job("A", 1), job("B", (0, "bay 1" if fields.get("place") == "bay" else None)))


def test_the_spot_of_a_floor_object_that_is_away_is_free() -> None:
    """20 m2 clear and a freed spot of 30 m2 hold 50 m2."""
    assert _neighbour(place="bay", away=True) == []


def test_away_without_a_place_frees_the_spot() -> None:
    """A stage with place null and away frees the spot too."""
    assert _neighbour(place=None, away=True) == []


def test_work_at_its_place_frees_nothing() -> None:
    """An object on show keeps its spot."""
    assert _neighbour(place=None, away=False) == [4]


def test_away_in_a_hall_stage_frees_nothing() -> None:
    """An object away but at work on the hall floor keeps its spot."""
    assert _neighbour(place="hall", away=True, area_m2=0) == [4]


def test_a_hung_object_has_no_spot_to_free() -> None:
    """Only objects that stand free a spot."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=50)),
        treatment("B", stage(3, away=True)),
        objects=(thing("A", hung=True), thing("B", hung=True)),
    )
    assert broken(of, job("A", 1), job("B", 0)) == [4]


def test_a_spot_in_another_hall_does_not_help() -> None:
    """Freed floor counts in the object's own hall."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=50)),
        treatment("B", stage(3, away=True)),
        objects=(thing("A", hung=True), thing("B", hall_id="west")),
        halls=(hall(), hall("west")),
    )
    assert broken(of, job("A", 1), job("B", 0)) == [4]


def test_a_spot_stays_free_while_its_object_waits() -> None:
    """B, away in month 0, waits in month 1 for its next stage: A may use its spot then."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=50)),
        treatment("B", stage(1, away=True), stage(1, most_wait=1)),
        objects=(thing("A", hung=True), thing("B")),
    )
    assert broken(of, job("A", 1), job("B", 0, 2)) == []
    assert broken(of, job("A", 2), job("B", 0, 2)) == [4]


@pytest.mark.parametrize(("hours", "rules"), [(13, []), (14, [5])])
def test_hours_hold_with_overtime(hours: int, rules: list[int]) -> None:
    """10 h and 3 h of overtime allow 13 h in a month."""
    of = problem(treatment("A", stage(hours={"metal": (hours,)})), trades=(trade(most=3),))
    assert broken(of, job("A", 0)) == rules


def test_the_first_hours_fall_in_the_first_working_month() -> None:
    """Hours of 3 and 12 over a closed month: the 12 fall into the month after it."""
    of = problem(treatment("A", stage(2, hours={"metal": (3, 12)})), closed=(1,))
    found = only(verify(of, plan(of, job("A", 0))))
    assert (found.rule, found.from_month, found.ids) == (5, 2, ("metal", "A"))


def test_a_waiting_stage_spends_no_hours() -> None:
    """Full hours in month 0, none in the wait of month 1: another job may work then."""
    of = problem(
        treatment("A", stage(hours={"metal": (10,)}), stage(most_wait=1)),
        treatment("B", stage(hours={"metal": (10,)})),
    )
    assert broken(of, job("A", 0, 2), job("B", 1)) == []
    assert broken(of, job("A", 0, 2), job("B", 0)) == [5]


@pytest.mark.parametrize(("most", "rules"), [(2, []), (1, [6])])
def test_most_away_holds_in_a_hall(most: int, rules: list[int]) -> None:
    """Two of a hall's objects away at once are too many where one may be."""
    of = problem(treatment("A", stage(away=True)), treatment("B", stage(away=True)), halls=(hall(away=most),))
    assert broken(of, job("A", 0), job("B", 0)) == rules


def test_objects_in_store_are_no_halls_objects() -> None:
    """An object without a hall may be away beside a full hall."""
    of = problem(
        treatment("A", stage(away=True)),
        treatment("B", stage(away=True)),
        objects=(thing("A"), thing("B", hall_id=None)),
        halls=(hall(away=1),),
    )
    assert broken(of, job("A", 0), job("B", 0)) == []


@pytest.mark.parametrize(("start", "rules"), [(1, []), (2, [7]), (3, [7]), (4, [])])
def test_on_show_holds_in_its_months(start: int, rules: list[int]) -> None:
    """Months 2 and 3 are promised, both included."""
    of = problem(treatment("A", stage(away=True)), rules=(rule("on_show", "A", first=2, last=3),))
    assert broken(of, job("A", start)) == rules


@pytest.mark.parametrize(("number", "rules"), [(1, []), (2, [7])])
def test_at_least_counts_objects_on_show(number: int, rules: list[int]) -> None:
    """Of two objects one is away: at least one holds, at least two does not."""
    of = problem(
        treatment("A", stage(away=True)), treatment("B"), rules=(rule("at_least", "A", "B", number=number),)
    )
    assert broken(of, job("A", 0)) == rules


@pytest.mark.parametrize(("number", "rules"), [(None, [7]), (1, [7]), (2, []), (0, [7])])
def test_not_together_counts_objects_away(number: int | None, rules: list[int]) -> None:
    """Two away at once: too many for null (1), 1 and 0, not for 2."""
    of = problem(
        treatment("A", stage(away=True)),
        treatment("B", stage(away=True)),
        rules=(rule("not_together", "A", "B", number=number),),
    )
    assert broken(of, job("A", 0), job("B", 0)) == rules


def test_a_rule_beyond_the_horizon_is_cut_there() -> None:
    """A promise for months 4 to 99 holds in 4 and 5 and breaks nothing else."""
    of = problem(treatment("A", stage(away=True)), rules=(rule("on_show", "A", first=4, last=99),))
    assert broken(of, job("A", 3)) == []
    found = only(verify(of, plan(of, job("A", 5))))
    assert (found.from_month, found.to_month) == (5, 5)


def test_a_rule_that_names_an_object_twice_counts_it_once() -> None:
    """A twice in a pair rule is one object: it may be away."""
    of = problem(treatment("A", stage(away=True)), rules=(rule("not_together", "A", "A"),))
    assert broken(of, job("A", 0)) == []


@pytest.mark.parametrize(("amount", "rules"), [(70, []), (69, [8])])
def test_a_budget_pays_the_jobs_that_start_in_its_months(amount: int, rules: list[int]) -> None:
    """30 and 40 start within months 0 to 2; the 50 of month 3 are not its business."""
    costs = {"A": 30, "B": 40, "C": 50}
    of = problem(*(treatment(i, cost=c) for i, c in costs.items()), budgets=(budget(amount, 0, 2),))
    assert broken(of, job("A", 0), job("B", 2), job("C", 3)) == rules


def test_overlapping_budgets_each_hold() -> None:
    """A cost of 30 fits the first budget, not the second over the same month."""
    of = problem(treatment("A", cost=30), budgets=(budget(30), budget(29, 1, 1)))
    assert broken(of, job("A", 0)) == []
    assert broken(of, job("A", 1)) == [8]


def test_every_broken_rule_is_told_with_its_months_and_objects() -> None:
    """Three shortages at once give three violations, each with its own months and ids."""
    of = problem(
        treatment("A", stage(2, place="bay", area_m2=60, hours={"metal": (11, 5)}, away=True)),
        halls=(hall(away=0),),
    )
    found = verify(of, plan(of, job("A", (1, "bay 1"))))
    assert [(v.rule, v.from_month, v.to_month, v.ids) for v in found] == [
        (3, 1, 2, ("bay 1", "A")),
        (5, 1, 1, ("metal", "A")),
        (6, 1, 2, ("east", "A")),
    ]


def test_only_the_objects_that_use_what_is_short_are_named() -> None:
    """B and C meet in the bay in month 1; A left before, D comes after."""
    of = problem(*(treatment(i, stage(place="bay")) for i in "ABCD"))
    jobs = (job("A", (0, "bay 1")), job("B", (1, "bay 1")), job("C", (1, "bay 1")), job("D", (2, "bay 1")))
    found = only(verify(of, plan(of, *jobs)))
    assert (found.from_month, found.to_month, found.ids) == (1, 1, ("bay 1", "B", "C"))


def test_only_the_jobs_a_budget_pays_are_named() -> None:
    """Of five jobs the two that cost and start in its months, 1 and 2, are named."""
    costs = {"A": 9, "B": 6, "C": 6, "D": 9, "E": 0}
    of = problem(*(treatment(i, cost=c) for i, c in costs.items()), budgets=(budget(10, 1, 2),))
    starts = {"A": 0, "B": 1, "C": 2, "D": 3, "E": 1}
    found = only(verify(of, plan(of, *(job(i, s) for i, s in starts.items()))))
    assert found.ids == ("B", "C")


def test_only_the_jobs_that_work_in_the_months_short_of_hours_are_named() -> None:
    """A works before and after month 1 and none in it; B and C work too much in it."""
    of = problem(
        treatment("A", stage(3, hours={"metal": (5, 0, 5)})),
        treatment("B", stage(hours={"metal": (6,)})),
        treatment("C", stage(hours={"metal": (6,)})),
    )
    found = only(verify(of, plan(of, job("A", 0), job("B", 1), job("C", 1))))
    assert (found.from_month, found.to_month, found.ids) == (1, 1, ("metal", "B", "C"))


def test_a_budget_beyond_the_horizon_is_told_to_the_last_month() -> None:
    """Months 3 to 99 are told as 3 to 5."""
    of = problem(treatment("A", cost=9), budgets=(budget(8, 3, 99),))
    found = only(verify(of, plan(of, job("A", 3))))
    assert (found.from_month, found.to_month) == (3, 5)
