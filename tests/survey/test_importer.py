"""Reading a whole collection: defaults, folders of every kind, what is kept and what is held back."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tests.survey.good_museum import Tables, csv_text, good_tables, write_folder, write_workbook
from triage.errors import Level, UnusableInput
from triage.records.chains import CHAINS
from triage.records.vocabulary import Mounting
from triage.survey import Intake, read_collection
from triage.survey.raw import MOST_BYTES, MOST_ROWS
from triage.units import month_no


def _read(tables: Tables, folder: Path) -> Intake:
    return read_collection(write_folder(tables, folder))


def _change(tables: Tables, name: str, line: int, column: str, text: str) -> None:
    tables[name][line - 1][tables[name][0].index(column)] = text


def test_a_folder_and_a_workbook_of_one_collection_read_equal(tmp_path: Path) -> None:
    """Numbers, ids and dates come out the same from CSV text and from cells of a sheet."""
    folder = _read(good_tables(), tmp_path / "folder")
    book = read_collection(write_workbook(good_tables(), tmp_path / "museum.xlsx"))
    assert book.faults == folder.faults == ()
    assert book.collection == folder.collection is not None
    assert book.counts == folder.counts


def test_a_folder_that_holds_only_a_workbook_is_that_workbook(tmp_path: Path) -> None:
    """A folder with one XLSX file and no table is read as the workbook."""
    write_workbook(good_tables(), tmp_path / "museum.xlsx")
    assert read_collection(tmp_path).collection is not None


def test_only_the_needed_files_make_a_collection(tmp_path: Path) -> None:
    """With the five needed files alone everything is read; halls known by name only are said so, once."""
    tables = {
        n: t for n, t in good_tables().items() if n in {"settings", "objects", "elements", "rounds", "grades"}
    }
    intake = _read(tables, tmp_path)
    assert intake.errors == intake.warnings == ()
    assert intake.collection is not None
    assert [h.hall_id for h in intake.collection.halls] == ["H2", "H1"]
    assert [n.file for n in intake.notes] == ["halls.csv", "hazards.csv"]
    assert "2 halls that objects name are known by name only" in intake.notes[0].rule


def test_blank_cells_take_their_defaults(tmp_path: Path) -> None:
    """Significance 50, severity 2, no limits, in store, whole horizon: as the contract says."""
    tables = good_tables()
    for column in ("significance", "mounting", "hall_id", "display_m2"):
        _change(tables, "objects", 13, column, "")
    _change(tables, "findings", 2, "severity", "")
    intake = _read(tables, tmp_path)
    assert intake.faults == ()
    record = intake.collection
    assert record is not None
    last = record.object_by_id["OB12"]
    assert (last.significance, last.mounting, last.hall_id, last.display_m2) == (50, Mounting.STORE, None, 0)
    assert record.findings[0].severity == 2
    assert record.hall_by_id["H2"].most_away is None
    assert record.availability[0].amount is None
    assert [b.year for b in record.budget] == [2026, 2027]  # a blank amount is no limit


def test_months_ahead_count_from_the_first_month(tmp_path: Path) -> None:
    """not_before 6 is the month six after first_month."""
    record = _read(good_tables(), tmp_path).collection
    assert record is not None
    assert record.treatment_by_id["T05"].not_before == month_no("2026-07")
    assert record.settings.now == dt.date(2026, 1, 1)


def test_extra_columns_are_kept_and_noted(tmp_path: Path) -> None:
    """A column beyond the contract is a note, and its values stay with the intake."""
    tables = good_tables()
    tables["objects"] = [[*r, "maker" if i == 0 else f"maker {i}"] for i, r in enumerate(tables["objects"])]
    intake = _read(tables, tmp_path)
    assert [f.level for f in intake.faults] == [Level.NOTE]
    assert intake.extras == {"objects.csv": ("maker",)}
    assert intake.extra_columns[0].values[0] == (2, "maker 1")


def test_unknown_files_are_noted_and_near_names_pointed_out(tmp_path: Path) -> None:
    """A file no table is kept in is a note; a name close to a missing table's says which."""
    tables = good_tables()
    tables["finding"] = tables.pop("findings")
    intake = _read(tables, tmp_path)
    (tmp_path / "README.md").write_text("not a table", encoding="utf-8")
    assert [(f.level, f.file, f.mend) for f in intake.faults] == [
        (Level.NOTE, "finding.csv", "Rename it to findings if that is meant.")
    ]


def test_file_names_in_any_case_are_the_table(tmp_path: Path) -> None:
    """``Grades.CSV`` is the table of grades."""
    write_folder(good_tables(), tmp_path)
    (tmp_path / "grades.csv").rename(tmp_path / "Grades.CSV")
    assert read_collection(tmp_path).faults == ()


def test_semicolon_files_may_write_decimal_commas(tmp_path: Path) -> None:
    """A hall of 900,5 m2 in a semicolon file has 900.5 m2."""
    rows = [[c.replace("900.5", "900,5") for c in r] for r in good_tables()["halls"]]
    write_folder(good_tables(), tmp_path)
    (tmp_path / "halls.csv").write_text(csv_text(rows, ";"), encoding="utf-8")
    record = read_collection(tmp_path).collection
    assert record is not None
    assert record.hall_by_id["H2"].floor_m2 == 900.5


def test_a_missing_needed_file_is_one_fault_without_followers(tmp_path: Path) -> None:
    """Without elements nothing can be used, and no grade is blamed for it."""
    tables = good_tables()
    del tables["elements"]
    intake = _read(tables, tmp_path)
    assert intake.collection is None
    assert [(f.file, f.row, f.rule) for f in intake.errors] == [
        ("elements.csv", None, "The file is missing; a collection needs it.")
    ]


def test_a_missing_table_that_others_name_is_one_fault(tmp_path: Path) -> None:
    """Stages without any space are said once, with how many rows it concerns."""
    tables = good_tables()
    del tables["spaces"]
    del tables["running"]
    tables["availability"] = tables["availability"][:3]
    (fault,) = _read(tables, tmp_path).errors
    assert (fault.file, fault.row, fault.column) == ("stages.csv", 3, "place")
    assert "spaces is missing or has no rows. 15 more rows do so too." in fault.rule


def test_a_faulty_measure_keeps_the_object_and_holds_its_treatments(tmp_path: Path) -> None:
    """An object with a bad mass keeps its elements and grades; no treatment of it is planned till mended."""
    tables = good_tables()
    _change(tables, "objects", 4, "mass_kg", "heavy")
    intake = _read(tables, tmp_path)
    assert len(intake.errors) == 1
    assert "no treatment of this object is planned" in intake.errors[0].mend
    record = intake.collection
    assert record is not None
    assert record.object_by_id["OB03"].mass_kg is None
    assert len(record.elements_of["OB03"]) == 3
    assert "T03" not in record.treatment_by_id
    assert intake.counts["objects"].in_part == 1
    assert intake.counts["treatments"].waiting == 1


def test_an_element_whose_safety_cannot_be_read_counts_as_safety(tmp_path: Path) -> None:
    """In doubt an element can hurt someone."""
    tables = good_tables()
    _change(tables, "elements", 2, "safety", "perhaps")
    record = _read(tables, tmp_path).collection
    assert record is not None
    assert record.elements[0].safety


def test_an_incomplete_treatment_is_not_planned(tmp_path: Path) -> None:
    """A faulty stage holds back its treatment, the other stages and the effects, without faults of theirs."""
    tables = good_tables()
    _change(tables, "stages", 16, "months", "0")
    intake = _read(tables, tmp_path)
    assert [(f.row, f.column) for f in intake.errors] == [(16, "months")]
    record = intake.collection
    assert record is not None
    assert "T04" not in record.treatment_by_id
    assert "T04" not in record.stages_of
    assert "T04" not in record.effects_of


@pytest.mark.parametrize(
    ("table", "line", "column", "text", "loosens"),
    [
        ("display_rules", 2, "number", "many", True),
        ("availability", 3, "amount", "-1", True),
        ("budget", 2, "amount", "-1", True),
        ("halls", 2, "most_away", "two", True),
        ("running", 2, "stage", "9", True),
        ("settings", 6, "value", "-1", True),
        ("grades", 2, "grade", "9", False),
        ("objects", 4, "mass_kg", "heavy", False),
        ("stages", 16, "months", "0", False),
        ("objects", 2, "mass_kg", "heavy", True),  # its treatment is running
        ("treatments", 3, "cost", "-1", True),  # it is running
        ("stages", 2, "months", "0", True),  # its treatment is running
        ("objects", 5, "object_id", "", True),  # promised to be on show
    ],
)
def test_what_would_loosen_a_promise_says_so(
    table: str, line: int, column: str, text: str, loosens: bool, tmp_path: Path
) -> None:
    """A fault loosens where its row is a promise, a limit or running work, or one of these waits for it."""
    tables = good_tables()
    _change(tables, table, line, column, text)
    intake = _read(tables, tmp_path)
    assert [f.loosens for f in intake.errors] == [loosens]
    assert len(intake.loosening) == loosens


def _with_template(tables: Tables) -> Tables:
    tables["treatments"].append(["T20", "OB03", "Clean", "in_gallery", "10", "", "", "", "", "gallery_clean"])
    return tables


def test_a_template_gives_the_stages_and_marks_them_as_estimates(tmp_path: Path) -> None:
    """A treatment with a template and no stages of its own has the chain's stages."""
    tables = _with_template(good_tables())
    chain = CHAINS["gallery_clean"]
    tables["trades"] += [[t, "100", ""] for t in sorted({t for s in chain.stages for t in s.hours})]
    intake = _read(tables, tmp_path)
    assert intake.faults == ()
    assert intake.collection is not None
    stages = intake.collection.stages_of["T20"]
    assert [s.stage for s in stages] == list(range(1, len(stages) + 1))
    assert all(s.estimated for s in stages)


def test_a_template_the_workshop_cannot_serve_is_a_fault(tmp_path: Path) -> None:
    """A chain whose trades nobody has is named, with the trades that lack."""
    (fault,) = _read(_with_template(good_tables()), tmp_path).errors
    assert (fault.row, fault.column, fault.value) == (11, "template", "gallery_clean")
    assert fault.rule.startswith("The chain needs what the workshop does not have: ")


def test_nothing_at_the_path_is_unusable(tmp_path: Path) -> None:
    """Only a path that cannot be read raises."""
    with pytest.raises(UnusableInput, match="no collection at"):
        read_collection(tmp_path / "nowhere")


def test_a_lone_csv_file_is_told_that_a_folder_is_needed(tmp_path: Path) -> None:
    """A file that is neither folder nor workbook is one fault."""
    write_folder(good_tables(), tmp_path)
    intake = read_collection(tmp_path / "grades.csv")
    assert intake.collection is None
    assert any("folder of CSV files or one XLSX workbook" in f.rule for f in intake.errors)


def test_an_empty_folder_names_each_needed_file(tmp_path: Path) -> None:
    """Each needed table is reported missing, and nothing else."""
    intake = read_collection(tmp_path)
    missing = ["settings.csv", "objects.csv", "elements.csv", "rounds.csv", "grades.csv"]
    assert [f.file for f in intake.errors] == missing
    assert intake.errors[0].mend.endswith("at least: name, value, and rows for first_month and months.")


def test_files_beyond_the_limits_are_refused_at_once(tmp_path: Path) -> None:
    """A file over the size limit is not opened; a table over the row limit is not parted into rows."""
    write_folder(good_tables(), tmp_path)
    with (tmp_path / "grades.csv").open("wb") as large:
        large.truncate(MOST_BYTES + 1)
    (tmp_path / "findings.csv").write_text("finding_id\n" + "\n" * MOST_ROWS, encoding="utf-8")
    intake = read_collection(tmp_path)
    assert [(f.file, f.rule.split(";")[0]) for f in intake.errors] == [
        ("grades.csv", "A file has at most 50 MB"),
        ("findings.csv", f"A table has at most {MOST_ROWS:,} rows."),
    ]
    assert intake.collection is None


def test_faults_come_in_the_order_of_files_rows_and_columns(tmp_path: Path) -> None:
    """The list reads like the folder: file by file, top to bottom, left to right."""
    tables = good_tables()
    _change(tables, "stages", 5, "months", "0")
    _change(tables, "grades", 30, "grade", "9")
    _change(tables, "grades", 4, "grade", "9")
    _change(tables, "grades", 4, "round_id", "R9")
    places = [(f.file, f.row, f.column) for f in _read(tables, tmp_path).errors]
    assert places == [
        ("grades.csv", 4, "round_id"),
        ("grades.csv", 4, "grade"),
        ("grades.csv", 30, "grade"),
        ("stages.csv", 5, "months"),
    ]
