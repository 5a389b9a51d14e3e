"""Treatments that cannot be done at all are left out and named; any that could be are kept."""

from __future__ import annotations

from typing import Any

import pytest

from tests.museum import HALLS, SPACES, STAGES, TRADES, losses, month, museum
from triage.planning.assemble import assemble
from triage.records import Availability, Budget, Stage
from triage.records.vocabulary import Limited


def why_left_out(treatment_id: str = "T-BIPLANE", **changes: Any) -> str:
    """Return why a treatment was left out of the changed museum; empty if it was not."""
    collection = museum(**changes)
    result = assemble(collection, losses(collection))
    left_out = result.left_out_by_id.get(treatment_id)
    assert (left_out is None) == (treatment_id in result.problem.treatment_by_id)
    return left_out.words if left_out else ""


def biplane(**changes: Any) -> tuple[Stage, ...]:
    """Return the stages with the biplane's only one changed."""
    return (*STAGES[:4], STAGES[4].model_copy(update=changes), STAGES[5])


def test_the_tiny_museum_leaves_nothing_out() -> None:
    """Every treatment of the fixture can be done."""
    collection = museum()
    result = assemble(collection, losses(collection))

    assert (result.left_out, result.notes) == ((), ())


@pytest.mark.parametrize(("months", "fits"), [(24, True), (25, False)])
def test_work_longer_than_the_horizon_is_left_out(months: int, fits: bool) -> None:
    """24 months fit into 24, 25 do not."""
    assert (why_left_out(stages=biplane(months=months, hours={})) == "") is fits


def test_closed_months_do_not_count_as_working_months() -> None:
    """With two months closed, 22 are left to work in."""
    closed = (Availability(what=Limited.CLOSED, from_month=month("2027-05"), to_month=month("2027-06")),)

    assert why_left_out(stages=biplane(months=22, hours={}), availability=closed) == ""
    assert "23 months of work, and only 22 are left" in why_left_out(
        stages=biplane(months=23, hours={}), availability=closed
    )


def test_a_window_of_closed_months_is_left_out() -> None:
    """Nothing starts while work stands still."""
    closed = (Availability(what=Limited.CLOSED, from_month=month("2027-01"), to_month=month("2027-06")),)
    treatments = tuple(
        t.model_copy(update={"not_after": month("2027-06")}) if t.treatment_id == "T-BIPLANE" else t
        for t in museum().treatments
    )

    assert why_left_out(treatments=treatments, availability=closed) == (
        "work stands still in all months it may start in"
    )


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"area_m2": 80}, ""),
        ({"area_m2": 80.5}, "81 m² of bay floor, the largest it gets into has 80"),
        ({"place": "foundry"}, "needs foundry, and there is no such space"),
        ({"width_m": 5.5, "height_m": 3.4, "area_m2": 51}, "the largest it gets into has 50"),
    ],
)
def test_space_must_exist_be_reached_and_be_large_enough(changes: dict[str, Any], reason: str) -> None:
    """The largest bay it gets into decides; the south bay's door is unmeasured and lets it in."""
    found = why_left_out(stages=biplane(**changes))

    assert found.endswith(reason) if reason else found == ""


def test_a_stage_no_door_lets_in_is_left_out() -> None:
    """With every bay's door measured, one that passes none is named."""
    spaces = (SPACES[0], SPACES[1].model_copy(update={"door_width_m": 4, "door_height_m": 4}), SPACES[2])

    assert why_left_out(stages=biplane(width_m=5.5, area_m2=10), spaces=spaces) == (
        "stage 1 passes the door of no bay"
    )


def test_a_kind_of_space_that_takes_no_job_is_left_out() -> None:
    """Slots 0 everywhere."""
    spaces = tuple(s.model_copy(update={"slots": 0}) for s in SPACES)

    assert why_left_out(spaces=spaces) == "stage 1 needs bay, and none takes a job"


def test_room_in_any_month_is_enough_to_be_kept() -> None:
    """A bay that is large enough in a single month keeps the treatment: the search decides."""
    larger = (
        Availability(
            what=Limited.SPACE, id="BAY1", from_month=month("2027-02"), to_month=month("2027-02"), amount=99
        ),
    )

    assert why_left_out(stages=biplane(area_m2=99), availability=larger) == ""


@pytest.mark.parametrize(("hours", "fits"), [(180 * 9, True), (180 * 9 + 1, False)])
def test_hours_beyond_all_overtime_are_left_out(hours: int, fits: bool) -> None:
    """160 + 20 hours a month for nine months, not one more."""
    assert (why_left_out(stages=biplane(hours={"woodwork": hours})) == "") is fits


def test_a_trade_nobody_has_is_left_out() -> None:
    """Hours of a trade that is in no table cannot be worked."""
    assert why_left_out("T-GLIDER", trades=TRADES[:1]) == (
        "stage 1 needs rigging, a trade nobody has; stage 3 needs rigging, a trade nobody has"
    )


@pytest.mark.parametrize(("amount", "fits"), [(20000, True), (19999.99, False)])
def test_more_money_than_any_year_has_is_left_out(amount: float, fits: bool) -> None:
    """The dearest year decides, rounded down."""
    budget = (Budget(year=2027, amount=amount), Budget(year=2028, amount=100))

    assert (why_left_out(budget=budget) == "") is fits


def test_a_year_without_a_budget_has_no_limit() -> None:
    """A treatment too dear for 2027 may start in 2028, of which no row speaks."""
    assert why_left_out(budget=(Budget(year=2027, amount=1),)) == ""


@pytest.mark.parametrize(("area", "fits"), [(130, True), (130.1, False)])
def test_lowering_needs_floor_with_every_other_spot_free(area: float, fits: bool) -> None:
    """60 m2 clear and the biplane's 70: a hung object needs its whole area."""
    stages = (STAGES[0].model_copy(update={"area_m2": area}), *STAGES[1:])

    assert (why_left_out("T-GLIDER", stages=stages) == "") is fits


@pytest.mark.parametrize(("area", "fits"), [(130, True), (131, False)])
def test_a_standing_object_works_on_its_own_spot_first(area: int, fits: bool) -> None:
    """The biplane has 70 m2 of its own and 60 clear; the glider above it stands on nothing."""
    assert (why_left_out(stages=biplane(place="hall", area_m2=area)) == "") is fits


def test_a_hall_stage_of_an_object_in_store_is_left_out() -> None:
    """No hall, no hall floor."""
    stages = (*STAGES[:5], STAGES[5].model_copy(update={"place": "hall"}))
    objects = tuple(o.model_copy(update={"hall_id": None}) for o in museum().objects)

    assert why_left_out("T-ENGINE", stages=stages, objects=objects) == (
        "stage 1 works on the floor of a hall, and the object stands in none"
    )


def test_a_treatment_without_stages_is_left_out() -> None:
    """Nothing says how long it takes."""
    assert "no stage" in why_left_out("T-ENGINE", stages=STAGES[:5])


def test_every_reason_is_given() -> None:
    """A treatment with two things wrong says both."""
    found = why_left_out(
        stages=biplane(width_m=7, hours={"woodwork": 9000}), halls=HALLS, spaces=(SPACES[0],)
    )

    assert "the door of Harbour Hall is 6 m wide" in found
    assert "1000 h of woodwork" in found
    assert "passes the door of no bay" in found
