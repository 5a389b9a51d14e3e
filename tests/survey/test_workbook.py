"""XLSX files: cells of every type, formulas, damage, wrong endings, and archives that mean harm."""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.survey.good_museum import good_tables, write_folder, write_workbook
from triage.errors import Level
from triage.survey import Intake, read_collection
from triage.survey.raw import MOST_CELLS, MOST_UNPACKED
from triage.survey.workbook import UnreadableWorkbook, read_workbook


def _book(path: Path) -> Any:
    write_workbook(good_tables(), path)
    return openpyxl.load_workbook(path)


def _read_changed(path: Path, sheet: str, cell: str, value: object, number_format: str = "") -> Intake:
    book = _book(path)
    book[sheet][cell] = value
    if number_format:
        book[sheet][cell].number_format = number_format
    book.save(path)
    return read_collection(path)


@pytest.mark.parametrize("day", [dt.datetime(2024, 5, 16), dt.date(2024, 5, 16)])
def test_date_cells_are_days(day: dt.date, tmp_path: Path) -> None:
    """A cell that is a date is the day it shows."""
    intake = _read_changed(tmp_path / "m.xlsx", "rounds", "B7", day)
    assert intake.faults == ()
    assert intake.collection is not None
    assert intake.collection.round_by_id["R6"].date == dt.date(2024, 5, 16)


def test_a_month_the_spreadsheet_made_a_date_is_its_month(tmp_path: Path) -> None:
    """2026-01 typed into a sheet becomes a date; it is read as its month."""
    intake = _read_changed(tmp_path / "m.xlsx", "settings", "B2", dt.datetime(2026, 1, 1))
    assert intake.faults == ()


def test_a_bare_number_is_no_date(tmp_path: Path) -> None:
    """A day number counts only where the cell is a date; else the day it may mean is offered."""
    (fault,) = _read_changed(tmp_path / "m.xlsx", "rounds", "B7", 45428).errors
    assert (fault.file, fault.row, fault.column, fault.value) == ("rounds", 7, "date", "45428")
    assert "2024-05-16" in fault.mend


def test_whole_numbers_in_id_cells_are_their_digits(tmp_path: Path) -> None:
    """An id typed as the number 12 is the text 12, in every sheet that names it."""
    tables = good_tables()
    for rows in tables.values():
        for row in rows:
            row[:] = ["12" if c == "OB12" else c for c in row]
    write_workbook(tables, tmp_path / "m.xlsx")
    intake = read_collection(tmp_path / "m.xlsx")
    assert intake.faults == ()
    assert intake.collection is not None
    assert "12" in intake.collection.object_by_id


def test_yes_and_no_cells_may_be_truth_values(tmp_path: Path) -> None:
    """A cell that is TRUE says yes."""
    intake = _read_changed(tmp_path / "m.xlsx", "elements", "F2", True)
    assert intake.collection is not None
    assert intake.collection.elements[0].safety


def test_percent_cells_are_what_they_show(tmp_path: Path) -> None:
    """0.5 shown as 50 % is fifty per cent."""
    intake = _read_changed(tmp_path / "m.xlsx", "treatment_effects", "D2", 0.5, "0%")
    assert intake.collection is not None
    assert intake.collection.effects[0].original_kept_pct == 50


def test_error_cells_are_faults(tmp_path: Path) -> None:
    """#N/A is an error value, not a grade."""
    (fault,) = _read_changed(tmp_path / "m.xlsx", "grades", "D2", "#N/A").errors
    assert (fault.row, fault.column, fault.value) == (2, "grade", "#N/A")
    assert fault.rule == "The cell holds a spreadsheet's error value."


def test_a_formula_never_worked_out_is_a_fault_not_a_blank(tmp_path: Path) -> None:
    """A formula without a stored result is not read as 'could not be seen'."""
    (fault,) = _read_changed(tmp_path / "m.xlsx", "grades", "D2", "=1+1").errors
    assert (fault.row, fault.column, fault.value) == (2, "grade", "=1+1")
    assert fault.rule == "The cell holds a formula without a stored result."


def test_blank_rows_are_passed_over_and_counted(tmp_path: Path) -> None:
    """A fault below blank rows of a sheet carries the line the spreadsheet shows."""
    book = _book(tmp_path / "m.xlsx")
    book["grades"]["A300"], book["grades"]["B300"], book["grades"]["C300"] = "R1", "OB99", "covering"
    book.save(tmp_path / "m.xlsx")
    (fault,) = read_collection(tmp_path / "m.xlsx").errors
    assert (fault.row, fault.column, fault.value) == (300, "object_id", "OB99")


def test_a_remark_beside_the_table_is_a_warning(tmp_path: Path) -> None:
    """A value in a column without a header is said and not read; the row is kept."""
    intake = _read_changed(tmp_path / "m.xlsx", "grades", "H4", "ask the assessor")
    assert [(f.level, f.row, f.value) for f in intake.faults] == [(Level.WARNING, 4, "ask the assessor")]


def test_unknown_sheets_are_noted(tmp_path: Path) -> None:
    """A sheet that is no table is a note; sheet names forgive case and spaces."""
    book = _book(tmp_path / "m.xlsx")
    book.create_sheet("Ideas")
    book["display_rules"].title = "Display rules"
    book.save(tmp_path / "m.xlsx")
    intake = read_collection(tmp_path / "m.xlsx")
    assert [(f.level, f.file) for f in intake.faults] == [(Level.NOTE, "Ideas")]
    assert intake.collection is not None
    assert len(intake.collection.display_rules) == 3


def _single(name: str) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    for row in good_tables()[name]:
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_a_workbook_named_csv_is_read_with_a_note(tmp_path: Path) -> None:
    """The file's content counts, not its ending."""
    write_folder(good_tables(), tmp_path)
    (tmp_path / "rounds.csv").write_bytes(_single("rounds"))
    intake = read_collection(tmp_path)
    assert [(f.level, f.file) for f in intake.faults] == [(Level.NOTE, "rounds.csv")]
    assert intake.counts["rounds"].accepted == 6


def test_a_table_may_be_a_workbook_of_its_own(tmp_path: Path) -> None:
    """``rounds.xlsx`` beside CSV files is the table of rounds."""
    write_folder(good_tables(), tmp_path)
    (tmp_path / "rounds.csv").unlink()
    (tmp_path / "rounds.xlsx").write_bytes(_single("rounds"))
    assert read_collection(tmp_path).faults == ()


@pytest.mark.parametrize(
    ("content", "rule"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "old (XLS) or password-protected"),
        (b"PK\x03\x04 and then nothing", "not a sound XLSX workbook"),
    ],
)
def test_other_office_files_are_refused_in_words(content: bytes, rule: str, tmp_path: Path) -> None:
    """Old, protected and damaged workbooks are one fault each, and nothing that names them complains."""
    write_folder(good_tables(), tmp_path)
    (tmp_path / "objects.csv").write_bytes(content)
    intake = read_collection(tmp_path)
    assert [f.file for f in intake.errors] == ["objects.csv"]
    assert rule in intake.errors[0].rule


def _archive(parts: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return out.getvalue()


def test_a_zip_bomb_is_refused_before_it_is_unpacked() -> None:
    """An archive that would unpack beyond the limit is refused by its directory."""
    bomb = _archive({"xl/workbook.xml": bytes(1000), "xl/worksheets/sheet1.xml": bytes(MOST_UNPACKED)})
    assert len(bomb) < MOST_UNPACKED / 100
    with pytest.raises(UnreadableWorkbook, match="would unpack to more than 200 MB"):
        read_workbook(bomb)


def test_a_document_type_is_refused() -> None:
    """Entities, the way to external files and to bombs of text, never reach a parser."""
    part = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/hostname">]><x>&e;</x>'
    with pytest.raises(UnreadableWorkbook, match="document type"):
        read_workbook(_archive({"xl/workbook.xml": part}))


def test_another_archive_is_no_workbook() -> None:
    """A zip file without a workbook's parts says so."""
    with pytest.raises(UnreadableWorkbook, match="not an XLSX workbook"):
        read_workbook(_archive({"content.xml": b"<x/>"}))


def test_a_sheet_of_too_many_cells_is_refused(tmp_path: Path) -> None:
    """Wide rows of nothing do not eat the memory: the sheet is refused."""
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("grades")
    blank: list[str | None] = [None] * 16_383
    for _ in range(MOST_CELLS // 16_384 + 2):
        sheet.append([*blank, "x"])
    book.save(tmp_path / "wide.xlsx")
    table = read_workbook((tmp_path / "wide.xlsx").read_bytes())["grades"]
    assert table.rows == []
    assert "10,000,000 cells" in table.faults[0].rule
