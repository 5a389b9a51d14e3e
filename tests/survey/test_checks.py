"""Warnings and notes: what looks wrong and is used all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.survey.good_museum import Tables, good_tables, write_folder
from triage.errors import Fault
from triage.survey import read_collection

_TREATED_HEADER = ["date", "object_id", "element_id", "grade_after", "note"]


def _remarks(tables: Tables, folder: Path) -> tuple[Fault, ...]:
    intake = read_collection(write_folder(tables, folder))
    assert not intake.errors
    return intake.warnings


def _improving(second: str, treated: list[list[str]], third: str = "R3") -> Tables:
    """Return a museum where OB04's structure goes from 3 in R2 (2020-05-12) to a grade in R3 (2021-05-13)."""
    tables = good_tables()
    key = ("OB04", "structure")
    tables["grades"] = [r for r in tables["grades"] if (r[1], r[2]) != key]
    tables["grades"] += [["R2", *key, "3", ""], [third, *key, second, ""]]
    tables["treated"] = [_TREATED_HEADER, *treated]
    tables["grades"] = [tables["grades"][0], *tables["grades"][-2:]]
    return tables


def test_an_improvement_without_treatment_is_a_warning(tmp_path: Path) -> None:
    """The warning stands at the better grade and names the earlier one."""
    (warning,) = _remarks(_improving("2", []), tmp_path)
    assert (warning.file, warning.row, warning.column, warning.value) == ("grades.csv", 3, "grade", "2")
    assert warning.rule == "The element improved with no treatment recorded in between."
    assert "grade 3 on 2020-05-12" in warning.mend


@pytest.mark.parametrize("grade", ["3", "4", ""])
def test_no_improvement_no_warning(grade: str, tmp_path: Path) -> None:
    """The same grade, a worse one, and one that could not be seen are no improvement."""
    assert _remarks(_improving(grade, []), tmp_path) == ()


@pytest.mark.parametrize(
    ("day", "element", "warned"),
    [
        ("2020-10-01", "structure", False),
        ("2020-10-01", "", False),  # all elements
        ("2020-10-01", "covering", True),
        ("2020-05-12", "structure", False),  # after that day's grade
        ("2021-05-13", "structure", True),  # after that day's better grade: on one day grades come first
        ("2020-05-11", "structure", True),
    ],
)
def test_a_treatment_in_between_explains_an_improvement(
    day: str, element: str, warned: bool, tmp_path: Path
) -> None:
    """Treatments of the element or of the whole object count, from the day of the first grade on."""
    treated = [[day, "OB04", element, "2", ""]]
    assert bool(_remarks(_improving("2", treated), tmp_path)) is warned


def test_a_second_assessor_on_the_same_day_is_no_improvement(tmp_path: Path) -> None:
    """Two rounds of one day are compared with other days, not with each other."""
    tables = _improving("2", [], third="R2b")
    tables["rounds"].append(["R2b", "2020-05-12", "another"])
    assert _remarks(tables, tmp_path) == ()


def test_a_climate_or_move_of_the_future_is_a_warning(tmp_path: Path) -> None:
    """A year that has not begun and a move after now are pointed out and kept."""
    tables = good_tables()
    tables["environment"].append(["H1", "2027", "400", "", "", ""])
    tables["moves"].append(["OB07", "2026-02-01", "H1"])
    found = _remarks(tables, tmp_path)
    assert [(f.file, f.row) for f in found] == [("environment.csv", 16), ("moves.csv", 5)]


def test_a_treatment_too_wide_for_its_halls_door_is_one_warning(tmp_path: Path) -> None:
    """The treatment is left out of the plan; said once, beside hall and door, at the stage that counts."""
    tables = good_tables()
    tables["halls"][1][5] = "5"
    found = _remarks(tables, tmp_path)
    assert [(f.file, f.row, f.column) for f in found] == [
        ("stages.csv", 4 * n - 1, "width_m") for n in (2, 4, 6, 8)
    ]
    assert all("door of hall H1 (5 m x 6 m) on its way out" in f.rule for f in found)
    assert ["not planned" in f.rule for f in found] == [False, True, True, True]  # T02 is running


def test_only_the_sizes_with_which_it_passes_count_at_the_halls_door(tmp_path: Path) -> None:
    """Put together between two bays, an object may be wider than the door it left and comes back through."""
    tables = good_tables()
    tables["halls"][1][5] = "7"
    for row in tables["stages"]:
        if row[:2] == ["T04", "3"]:
            row[1], row[6] = "4", "6"
        elif row[:2] == ["T04", "4"]:
            row[1], row[4], row[5], row[6], row[7] = "3", "repair bay", "110", "8", "3.5"
    assert _remarks(tables, tmp_path) == ()


def test_running_work_passes_the_halls_door_on_its_way_back_only(tmp_path: Path) -> None:
    """What is in the workshop already has left its hall, whatever the size it left with."""
    tables = good_tables()
    tables["halls"][2][5] = "5"
    for row in tables["stages"][1:]:
        if row[6] and row[:2] != ["T01", "2"]:
            row[6] = "4"
    assert tables["running"][1][:3] == ["OB01", "T01", "2"]
    assert _remarks(tables, tmp_path) == ()


def test_unknown_doors_and_sizes_are_not_checked(tmp_path: Path) -> None:
    """A blank door or width is unknown and lets everything through."""
    tables = good_tables()
    for row in tables["spaces"][1:]:
        row[5] = row[6] = ""
    tables["stages"][2][6] = "40"
    tables["halls"][1][5] = tables["halls"][2][5] = ""
    assert _remarks(tables, tmp_path) == ()


def test_notes_sum_up_what_nobody_looked_at(tmp_path: Path) -> None:
    """Elements never graded, objects never surveyed and materials unknown are one note each."""
    tables = good_tables()
    tables["elements"].append(["OB05", "radio", "instruments", "", "", "no"])
    tables["hazards"] = tables["hazards"][:9]
    notes = read_collection(write_folder(tables, tmp_path)).notes
    assert [n.file for n in notes] == ["elements.csv", "elements.csv", "hazards.csv"]
    assert notes[0].rule == "1 of 40 elements were never graded: OB05 radio."
    assert notes[1].rule.startswith("1 of 40 elements have no material")
    assert notes[2].rule.startswith(
        "4 of 12 objects are not surveyed for hazards (no row): OB09, OB10, OB11, OB12."
    )


def test_a_treatment_too_wide_throughout_is_one_fault(tmp_path: Path) -> None:
    """Stages of one treatment with one impossible size are said once; the treatment is not planned."""
    tables = good_tables()
    for row in tables["stages"]:
        if row[0] == "T03" and row[6]:
            row[6] = "40"
    intake = read_collection(write_folder(tables, tmp_path))
    assert [(f.file, f.row, f.column) for f in intake.errors] == [("stages.csv", 11, "width_m")]
    assert intake.collection is not None
    assert "T03" not in intake.collection.treatment_by_id


def test_hall_stages_of_a_stored_object_are_one_fault_a_treatment(tmp_path: Path) -> None:
    """An object in store has no hall to work in; said once a treatment."""
    tables = good_tables()
    tables["objects"][3][3] = ""
    tables["stages"][13][4] = "hall"
    assert (tables["stages"][10][0], tables["stages"][13][0]) == ("T03", "T04")
    tables["stages"][12][4] = "hall"
    intake = read_collection(write_folder(tables, tmp_path))
    assert [(f.file, f.row, f.column) for f in intake.errors] == [("stages.csv", 10, "place")]


def test_running_work_under_a_wrong_object_costs_no_other_row(tmp_path: Path) -> None:
    """A row that names another object's treatment does not make that object's own row a repeat."""
    tables = good_tables()
    tables["running"][1][0] = "OB02"
    intake = read_collection(write_folder(tables, tmp_path))
    assert [(f.file, f.row, f.column) for f in intake.errors] == [("running.csv", 2, "treatment_id")]
    assert intake.errors[0].rule == "The treatment is of object 'OB01', not of 'OB02'."
    assert intake.collection is not None
    assert [r.treatment_id for r in intake.collection.running] == ["T02"]
