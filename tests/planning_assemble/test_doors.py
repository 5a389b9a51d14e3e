"""Which size passes the door of the hall."""

from __future__ import annotations

from typing import Any

import pytest

from tests.museum import HALLS, STAGES, losses, museum
from triage.planning.assemble import Assembled, assemble
from triage.planning.assemble.doors import hall_door_reasons, not_checked
from triage.records import Stage


def stage(number: int, place: str | None, **changes: Any) -> Stage:
    """Return a stage of the biplane's treatment; it stands in Harbour Hall, whose door is 6 m by 4 m."""
    usual: dict[str, Any] = {"treatment_id": "T-BIPLANE", "stage": number, "months": 1, "away": True}
    return Stage(**(usual | {"place": place} | changes))


def reasons(*stages: Stage) -> tuple[str, ...]:
    """Return why these stages do not pass the door of Harbour Hall."""
    return hall_door_reasons(museum(), "BIPLANE", stages)


@pytest.mark.parametrize(
    ("width", "height", "passes"),
    [
        (6, 4, True),
        (6.004, 4, False),
        (6, 4.01, False),
        (None, 9, False),
        (5, None, True),
        (None, None, True),
    ],
)
def test_an_object_passes_a_door_of_its_own_size(
    width: float | None, height: float | None, passes: bool
) -> None:
    """Both measures count to the centimetre, need up; a measure nobody knows is not held against it."""
    assert (reasons(stage(1, "bay", width_m=width, height_m=height)) == ()) is passes


def test_a_stage_on_the_hall_floor_passes_no_door() -> None:
    """An object taken apart in its hall may be larger than the door before that."""
    assert reasons(stage(1, "hall", width_m=14), stage(2, "bay", width_m=3)) == ()


def test_a_stage_that_leaves_the_object_where_it_is_passes_no_door() -> None:
    """Research beside a large object needs no door."""
    assert reasons(stage(1, None, width_m=14, away=False)) == ()


def test_away_on_no_floor_of_ours_has_left_the_hall() -> None:
    """An object sent away passes the door of its hall like one in a bay."""
    assert "6 m wide" in reasons(stage(1, None, width_m=14))[0]


def test_a_size_reached_between_two_spaces_does_not_count() -> None:
    """Assembled in one bay for a trial fit and taken apart again, it passes in its smaller sizes."""
    assert reasons(stage(1, "bay", width_m=3), stage(2, "bay", width_m=9), stage(3, "bay", width_m=3)) == ()


def test_an_object_put_together_outside_does_not_come_back_in() -> None:
    """The way back counts with the size of the last stage outside."""
    found = reasons(stage(1, "bay", width_m=3), stage(2, "bay", width_m=9))

    assert found == ("it is 9 m wide on its way back in (stage 2), the door of Harbour Hall is 6 m wide",)


def test_an_object_taken_apart_for_the_way_back_comes_in() -> None:
    """Where the hall stage after gives a smaller size, that one passes the door."""
    assert reasons(stage(1, "bay", width_m=3), stage(2, "bay", width_m=9), stage(3, "hall", width_m=5)) == ()


def test_a_larger_size_on_the_hall_floor_afterwards_is_put_together_there() -> None:
    """Wings fitted in the hall after the move do not pass its door."""
    assert reasons(stage(1, "bay", width_m=3), stage(2, "hall", width_m=14)) == ()


def test_an_object_in_store_has_no_hall_door() -> None:
    """Nothing is compared where there is no hall."""
    assert hall_door_reasons(museum(), "CRATE", (stage(1, "bay", width_m=99),)) == ()


def test_an_unmeasured_hall_door_stops_nothing() -> None:
    """The Loft's door is blank: not checked, never left out."""
    assert hall_door_reasons(museum(), "ENGINE", (stage(1, "bay", width_m=99),)) == ()


def assembled_with_width(width: float) -> Assembled:
    """Return the museum with the biplane's stage this wide, and a bay door that lets it in."""
    stages = (*STAGES[:4], STAGES[4].model_copy(update={"width_m": width}), STAGES[5])
    spaces = tuple(s.model_copy(update={"door_width_m": 20, "area_m2": 90}) for s in museum().spaces)
    collection = museum(stages=stages, spaces=spaces)
    return assemble(collection, losses(collection))


def test_a_treatment_that_does_not_pass_its_halls_door_is_left_out_and_named() -> None:
    """It is not in the problem; a note names treatment, object, size and door."""
    result = assembled_with_width(7)

    assert "T-BIPLANE" not in result.problem.treatment_by_id
    assert [note.kind for note in result.notes] == ["left_out"]
    assert (
        "Restore the biplane (T-BIPLANE) on Sandpiper biplane (BIPLANE) was left out" in result.notes[0].text
    )
    assert "7 m wide" in result.notes[0].text
    assert "T-BIPLANE" in assembled_with_width(6).problem.treatment_by_id


def test_what_nobody_measured_is_said() -> None:
    """Unknown hall door, unknown space door and unknown size each have a sentence; known ones have none."""
    collection = museum()
    glider = collection.stages_of["T-GLIDER"]

    assert not_checked(collection, "GLIDER", glider, (None, "BAY1", None)) == ()
    assert not_checked(collection, "GLIDER", glider, (None, "BAY2", None)) == (
        "Door of South bay not measured: not checked.",
    )
    assert not_checked(collection, "ENGINE", (stage(1, "spray"),), ("SPRAY",)) == (
        "Door of The Loft not measured: not checked.",
        "Size in stage 1 not known: no door checked for it.",
        "Door of Spray room not measured: not checked.",
    )


def test_a_hall_that_is_in_no_table_has_an_unmeasured_door() -> None:
    """Objects may name a hall before halls.csv exists."""
    collection = museum(halls=HALLS[1:])

    assert not_checked(collection, "BIPLANE", (stage(1, "bay", width_m=1, height_m=1),), ("BAY1",)) == (
        "Door of HARBOUR not measured: not checked.",
    )
