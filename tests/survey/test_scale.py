"""What each grade looks like, and how the grades stand to other published scales."""

from __future__ import annotations

import itertools

import pytest

from triage.records.vocabulary import GRADE_NAMES
from triage.survey.scale import OTHER_SCALES, OtherScale, describe, families, family


@pytest.mark.parametrize(
    ("kind", "material", "expected"),
    [
        ("covering", "doped linen", "covering fabric"),
        ("fuselage covering", "aluminium alloy", "metal skin"),
        ("skin", "duralumin", "metal skin"),
        ("wing", "spruce", "timber structure"),
        ("structure", "steel tube", "metal structure"),
        ("finish", "paint film", "finish and markings"),
        ("canopy", "acrylic", "glazing"),
        ("tyres", "natural rubber", "tyres and rubber"),
        ("suspension fitting", "mild steel", "suspension fittings"),
        ("bracing wire", "steel wire", "rigging and cables"),
        ("interior", "leather", "upholstery and interior"),
        ("engine", "magnesium alloy", "engine"),
        ("instruments", "brass", "instruments"),
        ("gasket", "natural rubber", "tyres and rubber"),
        ("", "", "general"),
    ],
)
def test_kinds_and_materials_find_their_family(kind: str, material: str, expected: str) -> None:
    """An element's own words choose the description; what fits nowhere has the general one."""
    assert family(kind, material) == expected
    assert describe(kind, material, 1) == families()[expected][0]


def test_every_family_tells_four_grades_apart() -> None:
    """Four descriptions a family, no two alike anywhere."""
    texts = list(itertools.chain.from_iterable(families().values()))
    assert len(texts) == 4 * len(families()) == len(set(texts))


@pytest.mark.parametrize("grade", [0, 5, -1])
def test_other_grades_have_no_description(grade: int) -> None:
    """Only 1 to 4 are grades."""
    with pytest.raises(ValueError, match="from 1 to 4"):
        describe("covering", "linen", grade)


@pytest.mark.parametrize("grade", [3, 4])
def test_doubtful_suspension_sends_people_away_first(grade: int) -> None:
    """Grades 3 and 4 of what an object hangs from keep people from beneath and call a competent person."""
    text = describe("suspension point", "steel", grade)
    assert "keep people from beneath it" in text
    assert "competent person" in text


def test_radium_is_named_where_dials_are_described() -> None:
    """Broken dials are not to be opened or touched before a radiation survey."""
    assert "radium" in describe("instruments", "brass", 3)
    assert "radiation adviser" in describe("instruments", "brass", 4)


@pytest.mark.parametrize("scale", OTHER_SCALES, ids=lambda s: s.name)
def test_other_scales_cover_our_grades_in_order_and_say_their_status(scale: OtherScale) -> None:
    """Recalled: EN 16096 classes. Seen: the names of the four grades and the five-grade handbook."""
    steps = scale.steps
    grades = [grade for grade, _, _ in steps]
    assert grades == sorted(grades)
    assert set(grades) == set(GRADE_NAMES)
    assert "V" in scale.status or scale.status == "M"
