"""The words of every caution, and where they stand."""

from __future__ import annotations

import pytest

from tests.museum import museum
from triage.records import Stage
from triage.reports.cautions import (
    BENEATH_HUNG,
    HUNG_LOAD,
    MOVING,
    NOT_SURVEYED,
    hazard_caution,
    hazard_cautions,
    lifting_cautions,
    stage_lifting,
)


def stages(*places: str | None) -> tuple[Stage, ...]:
    """Return stages at these places, away where they have one."""
    return tuple(
        Stage(treatment_id="T", stage=n, months=1, place=place, away=place is not None)
        for n, place in enumerate(places, 1)
    )


def texts(object_id: str, number: int, *places: str | None) -> list[str]:
    """Return the lifting cautions before one stage (from 0)."""
    item = museum().object_by_id[object_id]
    return [c.text for c in stage_lifting(item, stages(*places), number)]


def test_the_hung_load_caution_defers_to_licensed_practice_and_local_code() -> None:
    """It keeps people away, names who may lift, and says that the plan permits nothing."""
    for words in (
        "no one beneath",
        "licensed lifting practice",
        "competent person",
        "local code",
        "no permission",
    ):
        assert words in HUNG_LOAD


def test_a_hung_object_is_cautioned_at_every_lowering_and_hoisting() -> None:
    """Before its first and last stage on a floor, and before each stage on the hall floor."""
    places = ("hall", "bay", "spray", "hall")

    assert [texts("GLIDER", n, *places) for n in range(4)] == [[HUNG_LOAD], [MOVING], [MOVING], [HUNG_LOAD]]


def test_a_hung_object_that_goes_straight_to_a_bay_is_lowered_and_hoisted_too() -> None:
    """Without hall stages the first stage in a bay is the lowering and the last the hoisting."""
    assert [texts("GLIDER", n, None, "bay", "bay") for n in range(3)] == [[], [HUNG_LOAD], [HUNG_LOAD]]


def test_a_standing_object_is_cautioned_where_it_is_moved() -> None:
    """Before the first and last stage and each change of place, not while it stays where it is."""
    assert [texts("BIPLANE", n, "bay", "bay", "spray", "spray", "spray") for n in range(5)] == [
        [MOVING],
        [],
        [MOVING],
        [],
        [MOVING],
    ]


def test_work_beneath_a_hung_object_is_cautioned_without_any_move() -> None:
    """A gallery action at a suspended object asks for its supports to be inspected first."""
    glider, engine = (museum().object_by_id[i] for i in ("GLIDER", "ENGINE"))

    assert [c.text for c in lifting_cautions(glider, stages(None))] == [BENEATH_HUNG]
    assert lifting_cautions(engine, stages(None)) == ()


def test_hazards_not_cleared_are_shown_and_no_row_is_not_surveyed() -> None:
    """The glider's dope is shown, the engine's cleared asbestos is not, the biplane was never surveyed."""
    assert ["nitrate" in c.text for c in hazard_cautions(museum(), "GLIDER")] == [True]
    assert hazard_cautions(museum(), "ENGINE") == ()
    assert [c.text for c in hazard_cautions(museum(), "BIPLANE")] == [NOT_SURVEYED]


@pytest.mark.parametrize(
    ("hazard", "words"),
    [
        ("Radium dials", "radiation"),
        ("asbestos lagging", "sampled"),
        ("Cellulose nitrate dope", "fire authority"),
        ("zinc chromate primer", "no dry sanding"),
        ("lead paint", "wipe-test"),
        ("ejection seat", "armourer"),
        ("residual fuel in tanks", "confined space"),
        ("carbon tetrachloride extinguisher", "identified"),
        ("sharp leading edges", "competent person"),
        ("coil of wire", "competent person"),
    ],
)
def test_each_hazard_has_its_caution_and_its_authority(hazard: str, words: str) -> None:
    """Known hazards by their words, whole words only; any other waits for a competent person."""
    assert words in hazard_caution(hazard)
    assert "Governed by" in hazard_caution(hazard)
