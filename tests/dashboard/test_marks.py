"""Marks: grade, caution, links, tables."""

from __future__ import annotations

import pytest

from dashboard.parts import marks
from tests.dashboard.reading import of_class, of_kind, prop, text


@pytest.mark.parametrize(("grade", "name"), [(1, "good"), (2, "fair"), (3, "poor"), (4, "unacceptable")])
def test_a_grade_is_steps_and_number_and_name(grade: int, name: str) -> None:
    """A grade shows as many filled steps as it is, its number, and is read out with its name."""
    mark = marks.grade_mark(grade)

    assert len(of_class(mark, "on")) == grade
    assert text(mark) == str(grade)
    assert prop(mark, "aria-label") == f"grade {grade}, {name}"


def test_what_could_not_be_seen_has_no_number() -> None:
    """A part that could not be seen has no filled step, no number, and says so."""
    mark = marks.grade_mark(None)

    assert of_class(mark, "on") == []
    assert text(mark) == "–"
    assert "could not be seen" in prop(mark, "aria-label")


def test_a_grade_set_by_a_treatment_is_told_apart() -> None:
    """A grade after a treatment carries its own mark and words, so that it is not read as an observation."""
    mark = marks.grade_mark(1, treated=True)

    assert "treated" in prop(mark, "className").split()
    assert "set by a treatment" in prop(mark, "aria-label")


def test_a_caution_has_the_sign_the_word_and_every_line() -> None:
    """A caution always carries the sign, begins with the word, and keeps each line."""
    box = marks.caution(["Keep away.", "Ask the safety officer."], about="radium")

    assert prop(box, "className") == "caution"
    assert len(of_class(box, "sign")) == 1
    assert text(box) == "Caution: radium Keep away. Ask the safety officer."


def test_ids_are_escaped_in_addresses() -> None:
    """An id with a blank, a slash or a letter beyond ASCII still makes one address."""
    assert marks.object_path("A 1/ü") == "/object/A%201%2F%C3%BC"


def test_facts_without_a_value_are_left_out() -> None:
    """Unknown facts do not leave an empty line."""
    assert text(marks.facts([("Size", ""), ("Kind", "trainer"), ("Bay", None)])) == "Kind trainer"


def test_number_columns_are_set_flush_right() -> None:
    """Columns of numbers carry the class that aligns them, in head and body."""
    table = marks.data_table("Hours", ["Month", "Hours"], [["Jan 2027", 12]], numbers=[1])

    assert [text(c) for c in of_class(table, "num")] == ["Hours", "12"]
    assert of_kind(table, "Caption")[0].children == "Hours"
