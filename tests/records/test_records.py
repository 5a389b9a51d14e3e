"""Records and the look-ups of a collection."""

from __future__ import annotations

import datetime as dt

import pytest
from pydantic import ValidationError

from triage.records import (
    Collection,
    Element,
    Grade,
    Hazard,
    MuseumObject,
    Round,
    Running,
    Settings,
    Stage,
    Treatment,
)
from triage.units import month_no

SETTINGS = Settings(first_month=month_no("2027-01"), months=60)


def collection(**tables: object) -> Collection:
    return Collection.model_validate({"settings": SETTINGS, **tables})


def elements(*shares: float | None) -> tuple[Element, ...]:
    return tuple(Element(object_id="A", element_id=f"e{n}", share=s) for n, s in enumerate(shares))


def test_now_is_the_first_day_of_the_first_month() -> None:
    """The present comes from the settings, never from a clock."""
    assert SETTINGS.now == dt.date(2027, 1, 1)
    assert SETTINGS.end_month == month_no("2032-01")


@pytest.mark.parametrize(
    ("given", "scaled"),
    [
        ((2.0, 1.0, 1.0), (0.5, 0.25, 0.25)),
        ((None, None), (0.5, 0.5)),
        ((0.0, 0.0), (0.5, 0.5)),
        ((3.0, 1.0, None), (0.5, 1 / 6, 1 / 3)),
        ((0.0, 4.0), (0.0, 1.0)),
    ],
)
def test_shares_of_an_object_sum_to_one(given: tuple[float | None, ...], scaled: tuple[float, ...]) -> None:
    """Shares are scaled to 1; a blank is the mean of those given; all blank or zero are equal."""
    shares = collection(elements=elements(*given)).shares
    assert sum(shares.values()) == pytest.approx(1.0)
    assert tuple(shares.values()) == pytest.approx(scaled)


def test_shares_are_scaled_within_each_object() -> None:
    """The same element_id in two objects has a share of its own in each."""
    other = Element(object_id="B", element_id="e0")
    shares = collection(elements=(*elements(1.0, 3.0), other)).shares
    assert shares[("A", "e0")] == 0.25
    assert shares[("B", "e0")] == 1.0


def test_cleared_hazards_are_not_open_but_count_as_surveyed() -> None:
    """Suspected and confirmed hazards stay open; a cleared one still shows that somebody looked."""
    rows = tuple(
        Hazard.model_validate({"object_id": "A", "hazard": h, "state": h})
        for h in ("suspected", "confirmed", "cleared")
    )
    record = collection(
        hazards=(*rows, Hazard.model_validate({"object_id": "B", "hazard": "x", "state": "cleared"}))
    )
    assert [h.hazard for h in record.open_hazards("A")] == ["suspected", "confirmed"]
    assert record.open_hazards("B") == ()
    assert record.surveyed("B")


def test_an_object_without_a_hazard_row_is_not_surveyed() -> None:
    """No row never means no hazard."""
    assert not collection().surveyed("A")


def test_a_hazard_without_a_state_is_suspected() -> None:
    """A blank state is the cautious one."""
    assert collection(hazards=(Hazard(object_id="A", hazard="radium"),)).open_hazards("A")


def test_grades_are_grouped_by_element_and_sorted_by_date() -> None:
    """An element's grades come in the order they were seen, "could not be seen" included."""
    rounds = (Round(round_id="r2", date=dt.date(2020, 1, 1)), Round(round_id="r1", date=dt.date(2021, 1, 1)))
    grades = (
        Grade(round_id="r1", object_id="A", element_id="e"),
        Grade(round_id="r2", object_id="A", element_id="e", grade=2),
        Grade(round_id="r2", object_id="B", element_id="e", grade=4),
    )
    found = collection(rounds=rounds, grades=grades).grades_of
    assert [(r.round_id, g.grade) for r, g in found[("A", "e")]] == [("r2", 2), ("r1", None)]
    assert len(found[("B", "e")]) == 1


def test_stages_come_in_order_whatever_the_order_of_rows() -> None:
    """Stages of a treatment are sorted by their number."""
    rows = tuple(Stage(treatment_id="T", stage=n, months=1) for n in (3, 1, 2))
    assert [s.stage for s in collection(stages=rows).stages_of["T"]] == [1, 2, 3]


def test_running_work_is_found_by_its_object() -> None:
    """The look-up of running work is by object."""
    row = Running(object_id="A", treatment_id="T", stage=2, months_left=0)
    assert collection(running=(row,)).running_by_object == {"A": row}


@pytest.mark.parametrize("bad", ["", "a;b", "x" * 41])
def test_an_id_is_one_to_forty_characters_without_a_semicolon(bad: str) -> None:
    """Ids that could not be told apart in a list are refused."""
    with pytest.raises(ValidationError):
        MuseumObject(object_id=bad)


def test_an_id_keeps_its_case_and_may_hold_other_letters() -> None:
    """An id is the museum's own text."""
    assert MuseumObject(object_id="Ä 12/b").object_id == "Ä 12/b"


@pytest.mark.parametrize("grade", [0, 5, 3.5])
def test_grades_outside_one_to_four_are_refused(grade: float) -> None:
    """The scale has four whole grades."""
    with pytest.raises(ValidationError):
        Grade.model_validate({"round_id": "r", "object_id": "A", "element_id": "e", "grade": grade})


def test_records_are_frozen_and_refuse_unknown_fields() -> None:
    """A record cannot be changed after reading, nor carry a field nobody reads."""
    treatment = Treatment(treatment_id="T", object_id="A")
    with pytest.raises(ValidationError, match="frozen"):
        setattr(treatment, "title", "other")  # noqa: B010 - mypy rightly refuses the plain assignment
    with pytest.raises(ValidationError, match="extra"):
        Treatment.model_validate({"treatment_id": "T", "object_id": "A", "colour": "red"})


def test_an_object_is_called_by_its_name_or_else_its_id() -> None:
    """People see a name where there is one."""
    assert MuseumObject(object_id="A").called == "A"
    assert MuseumObject(object_id="A", name="Long Loop").called == "Long Loop"


def test_only_a_hung_object_hangs() -> None:
    """Floor is the mounting where nothing was written."""
    assert not MuseumObject(object_id="A").hung
    assert MuseumObject.model_validate({"object_id": "A", "mounting": "hung"}).hung


def test_a_collection_survives_a_json_round_trip() -> None:
    """The seam is exact: what is written is what is read."""
    record = collection(
        elements=elements(1.0, None),
        running=(Running(object_id="A", treatment_id="T", stage=1, months_left=3),),
    )
    assert Collection.model_validate_json(record.model_dump_json()) == record


def test_a_changed_copy_looks_things_up_anew() -> None:
    """Look-ups already used do not stay behind when a table is replaced."""
    record = collection(elements=elements(1.0, None))
    before = record.object_by_id
    copy = record.model_copy(update={"objects": (MuseumObject(object_id="NEW"),)})

    assert set(copy.object_by_id) == {"NEW"}
    assert record.object_by_id is before
