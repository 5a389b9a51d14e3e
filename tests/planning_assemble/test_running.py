"""Work that goes on becomes a pinned job of what is left."""

from __future__ import annotations

from typing import Any

import pytest

from tests.museum import STAGES, losses, month, museum, settings
from triage.planning.assemble import Assembled, assemble
from triage.planning.problem import Pin
from triage.records import Availability, Running
from triage.records.vocabulary import Limited


def assembled(running: Running | None = None, **changes: Any) -> Assembled:
    """Return the museum with the glider's recovering going on, unless another row is given."""
    usual = Running(object_id="GLIDER", treatment_id="T-GLIDER", stage=2, months_left=3, space_id="BAY1")
    collection = museum(running=(running or usual,), **changes)
    return assemble(collection, losses(collection))


def row(**changes: Any) -> Running:
    """Return the glider's running row with some of it changed."""
    usual: dict[str, Any] = {
        "object_id": "GLIDER",
        "treatment_id": "T-GLIDER",
        "stage": 2,
        "months_left": 3,
        "space_id": "BAY1",
    }
    return Running(**(usual | changes))


def test_only_the_stages_left_are_planned() -> None:
    """In stage 2 of 3 the lowering is behind it; the look-up back starts at stage 2."""
    result = assembled()

    assert [s.months for s in result.problem.treatment_by_id["T-GLIDER"].stages] == [3, 1]
    assert [s.stage for s in result.stages_of["T-GLIDER"]] == [2, 3]
    assert result.running == {"T-GLIDER"}


def test_it_costs_nothing_and_starts_now() -> None:
    """Cost 0, earliest = latest = 0, pinned with the bay it stands in; later stages are free."""
    result = assembled()
    treatment = result.problem.treatment_by_id["T-GLIDER"]

    assert (treatment.cost, treatment.earliest, treatment.latest) == (0, 0, 0)
    assert result.problem.pins == (
        Pin(object_id="GLIDER", treatment_id="T-GLIDER", start=0, space_ids=("BAY1", None)),
    )


def test_it_starts_in_the_first_open_month() -> None:
    """With January and February closed it goes on in March."""
    closed = (Availability(what=Limited.CLOSED, from_month=month("2027-01"), to_month=month("2027-02")),)
    result = assembled(availability=closed)
    treatment = result.problem.treatment_by_id["T-GLIDER"]

    assert (treatment.earliest, treatment.latest, result.problem.pins[0].start) == (2, 2, 2)


def test_hours_left_are_pro_rata_where_nobody_says() -> None:
    """302.5 hours over four months, three left: 226.875, rounded up 227, spread 76, 76, 75."""
    stage = assembled().problem.treatment_by_id["T-GLIDER"].stages[0]

    assert stage.hours == {"woodwork": (76, 76, 75)}


def test_hours_left_are_taken_where_somebody_says() -> None:
    """A number given replaces pro rata, 0 included; a trade the stage did not name may have hours left."""
    given = row(hours_left={"woodwork": 10.5, "rigging": 4})
    stage = assembled(given).problem.treatment_by_id["T-GLIDER"].stages[0]

    assert stage.hours == {"woodwork": (4, 4, 3), "rigging": (2, 1, 1)}
    none_left = assembled(row(hours_left={"woodwork": 0})).problem.treatment_by_id["T-GLIDER"].stages[0]
    assert none_left.hours == {}


def test_finished_and_standing_there_is_one_month_without_hours() -> None:
    """months_left 0: one month, no hours, still in its bay and away."""
    stage = assembled(row(months_left=0)).problem.treatment_by_id["T-GLIDER"].stages[0]

    assert (stage.months, stage.hours, stage.place, stage.away, stage.area_m2) == (1, {}, "bay", True, 46)


def test_later_stages_keep_their_own_hours() -> None:
    """Only the present stage is cut."""
    stage = assembled().problem.treatment_by_id["T-GLIDER"].stages[1]

    assert (stage.months, stage.hours, stage.most_wait) == (1, {"rigging": (40,)}, 6)


def test_a_stage_without_a_space_pins_none() -> None:
    """On the hall floor no space is named; a blank space in a bay leaves the choice free."""
    on_floor = assembled(row(stage=1, months_left=1, space_id=None))
    blank = assembled(row(space_id=None))

    assert on_floor.problem.pins[0].space_ids is None
    assert blank.problem.pins[0].space_ids is None


def test_the_objects_other_treatments_are_left_out() -> None:
    """The shade is not offered while the glider is in the bay; nothing else is touched."""
    result = assembled()

    assert [item.treatment_id for item in result.left_out] == ["T-SHADE"]
    assert "T-GLIDER is running" in result.left_out[0].words
    assert {t.treatment_id for t in result.problem.treatments} == {"T-GLIDER", "T-BIPLANE", "T-ENGINE"}


def test_its_loss_is_that_of_its_treatment() -> None:
    """loss_if_done comes from the same losses as for a treatment not yet begun."""
    collection = museum()
    expected = assemble(collection, losses(collection)).problem.treatment_by_id["T-GLIDER"].loss_if_done

    assert assembled().problem.treatment_by_id["T-GLIDER"].loss_if_done == expected


def test_what_ends_with_the_horizon_is_whole() -> None:
    """Three months and one are four: a horizon of four months cuts nothing."""
    result = assembled(settings=settings(months=4))

    assert [s.months for s in result.problem.treatment_by_id["T-GLIDER"].stages] == [3, 1]
    assert [n for n in result.notes if n.kind == "shortened"] == []


@pytest.mark.parametrize(("months", "left", "cut"), [(3, [3], "1 month of it"), (2, [2], "2 months of it")])
def test_what_outlasts_the_horizon_is_shortened_to_end_there(months: int, left: list[int], cut: str) -> None:
    """The hours of the months that are left stay as they were, and a note says what was cut."""
    result = assembled(settings=settings(months=months))
    treatment = result.problem.treatment_by_id["T-GLIDER"]

    assert [s.months for s in treatment.stages] == left
    assert treatment.stages[0].hours == {"woodwork": (76, 76, 75)[:months]}
    assert [s.stage for s in result.stages_of["T-GLIDER"]] == [2]
    assert result.problem.pins[0].space_ids == ("BAY1",)
    assert [n.kind for n in result.notes if cut in n.text] == ["shortened"]


def test_closed_months_shorten_running_work_too() -> None:
    """Four months of work in five months of which two are closed: one is cut."""
    closed = (Availability(what=Limited.CLOSED, from_month=month("2027-02"), to_month=month("2027-03")),)
    result = assembled(settings=settings(months=5), availability=closed)

    assert [s.months for s in result.problem.treatment_by_id["T-GLIDER"].stages] == [3]


def test_running_work_is_never_left_out_for_a_door() -> None:
    """It is out already; that it does not come back in through the door is said."""
    stages = (STAGES[0], STAGES[1].model_copy(update={"width_m": 9}), *STAGES[3:])
    result = assembled(stages=stages)

    assert "T-GLIDER" in result.problem.treatment_by_id
    assert any(n.kind == "warning" and "9 m wide on its way back in" in n.text for n in result.notes)


def test_running_work_that_is_out_already_is_not_measured_on_its_way_out() -> None:
    """In the hall it has yet to pass the door; in the bay it has passed it, whatever the table says."""
    large, smaller = STAGES[1].model_copy(update={"width_m": 9}), STAGES[2].model_copy(update={"width_m": 5})
    stages = (STAGES[0], large, smaller, *STAGES[3:])
    in_hall = assembled(row(stage=1, months_left=1, space_id=None), stages=stages)
    in_bay = assembled(stages=stages)

    assert any("on its way out" in n.text for n in in_hall.notes)
    assert not any("on its way" in n.text for n in in_bay.notes)


def test_running_work_is_never_left_out_for_want_of_money_or_hours() -> None:
    """What cannot go on as planned is for the search to say, as a clash, not to be dropped silently."""
    result = assembled(row(hours_left={"woodwork": 99999}))

    assert "T-GLIDER" in result.problem.treatment_by_id


def test_with_every_month_closed_running_work_is_said_to_stand_still() -> None:
    """No open month: no job can be pinned, and a warning says so."""
    closed = (Availability(what=Limited.CLOSED),)
    result = assembled(availability=closed)

    assert result.problem.pins == ()
    assert any("work stands still in every month" in n.text for n in result.notes if n.kind == "warning")
