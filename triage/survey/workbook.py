"""XLSX workbooks to raw rows: the values a spreadsheet shows, never its formulas."""

from __future__ import annotations

import datetime as dt
import io
import struct
import warnings
import zipfile
import zlib
from typing import Any
from xml.etree.ElementTree import ParseError

import openpyxl
from openpyxl.utils.exceptions import InvalidFileException

from triage.errors import Fault
from triage.survey.raw import MOST_CELLS, MOST_ROWS, MOST_UNPACKED, Broken, RawTable, clean, is_blank

ZIP_MARK = b"PK\x03\x04"
OLD_OFFICE_MARK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_CHUNK = 1 << 20
_DAMAGED = (
    zipfile.BadZipFile, InvalidFileException, ParseError, zlib.error, struct.error, EOFError, OSError,
    KeyError, IndexError, ValueError, TypeError, AttributeError, OverflowError,
    NotImplementedError,  # a zip method Python does not know
    RuntimeError,  # an encrypted zip
)  # fmt: skip
"""What openpyxl and zipfile raise on files that are not sound workbooks."""


class UnreadableWorkbook(ValueError):  # noqa: N818 - as BadCell
    """A workbook that cannot be read at all; says why and what to do."""

    def __init__(self, rule: str, mend: str) -> None:
        super().__init__(rule)
        self.rule = rule
        self.mend = mend


def read_workbook(data: bytes) -> dict[str, RawTable]:
    """Return sheet name -> raw rows, in the workbook's order; a sheet's name and label are its own.

    Raises
    ------
    UnreadableWorkbook
        If the file is no sound XLSX workbook or would unpack to more than ``raw.MOST_UNPACKED`` bytes.
    """
    try:
        formulas = _inspect(data)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # openpyxl warns of features that do not touch values
            sheets = _read_sheets(data)
            if formulas:
                _mark_formulas_without_value(data, sheets)
    except UnreadableWorkbook:
        raise
    except _DAMAGED as bad:
        raise UnreadableWorkbook(
            "The file is not a sound XLSX workbook.",
            "Open it in a spreadsheet and save it anew as XLSX, or save each sheet as CSV UTF-8.",
        ) from bad
    return sheets


def _inspect(data: bytes) -> bool:
    """Check sizes and parts before anything is unpacked; return whether any cell holds a formula."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = archive.infolist()
        if sum(p.file_size for p in parts) > MOST_UNPACKED:
            raise UnreadableWorkbook(
                f"The workbook would unpack to more than {MOST_UNPACKED // 1_000_000} MB.",
                "Delete what is not needed (pictures, empty rows), or save each sheet as CSV UTF-8.",
            )
        if not any(p.filename == "xl/workbook.xml" for p in parts):
            raise UnreadableWorkbook(
                "The file is a zip archive but not an XLSX workbook.",
                "Save it as XLSX, or save each sheet as CSV UTF-8.",
            )
        unpacked = 0
        formulas = False
        for part in (p for p in parts if p.filename.endswith((".xml", ".rels"))):
            with archive.open(part) as stream:
                tail = b""
                while chunk := stream.read(_CHUNK):
                    unpacked += len(chunk)
                    seen = tail + chunk
                    _refuse(seen, unpacked)
                    in_sheet = part.filename.startswith("xl/worksheets/")
                    formulas = formulas or (in_sheet and (b"<f>" in seen or b"<f " in seen))
                    tail = chunk[-16:]
    return formulas


def _refuse(seen: bytes, unpacked: int) -> None:
    if b"<!DOCTYPE" in seen or b"<!ENTITY" in seen or unpacked > MOST_UNPACKED:
        raise UnreadableWorkbook(
            "The workbook holds a document type or unpacks to more than it says; no spreadsheet writes that.",
            "Do not trust the file; ask where it comes from.",
        )


def _read_sheets(data: bytes) -> dict[str, RawTable]:
    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    try:
        return {sheet.title: _read_sheet(sheet) for sheet in book.worksheets}
    finally:
        book.close()


def _read_sheet(sheet: Any) -> RawTable:
    table = RawTable(sheet.title, sheet.title, [], even=True)
    sheet.reset_dimensions()
    shared: dict[str, str] = {}
    met = 0
    for line, row in enumerate(sheet.iter_rows(), start=1):
        met += len(row)
        if len(table.rows) >= MOST_ROWS or met > MOST_CELLS:
            table.faults.append(_too_large(sheet.title))
            table.rows.clear()
            break
        cells = [_text(cell) for cell in row]
        while cells and not cells[-1]:
            cells.pop()
        if not is_blank(cells):
            table.rows.append((line, [shared.setdefault(c, c) if len(c) < 24 else c for c in cells]))
    return table


def _too_large(title: str) -> Fault:
    return Fault(
        file=title,
        rule=f"A table has at most {MOST_ROWS:,} rows and {MOST_CELLS:,} cells.",
        mend="Split off older years; delete formatted but empty rows and columns.",
    )


def _text(cell: Any) -> str:
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        return _number_text(value, "%" in (cell.number_format or ""))
    if isinstance(value, dt.datetime):
        whole_day = value.time() == dt.time()
        return value.date().isoformat() if whole_day else value.isoformat(" ", "seconds")
    return str(value)


def _number_text(value: float, percent: bool) -> str:
    if percent:
        value = round(value * 100, 10)
    digits = str(int(value)) if float(value).is_integer() else repr(value)
    return digits + ("%" if percent else "")


def _mark_formulas_without_value(data: bytes, sheets: dict[str, RawTable]) -> None:
    """Mark cells whose formula was never worked out: they would otherwise be read as blank."""
    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False)
    try:
        for sheet in book.worksheets:
            table = sheets[sheet.title]
            cells_at = dict(table.rows)
            sheet.reset_dimensions()
            for line, row in enumerate(sheet.iter_rows(), start=1):
                for place, cell in enumerate(row):
                    if cell.data_type == "f" and not _has_text(cells_at.get(line), place):
                        table.cell_faults[line, place] = Broken(
                            "The cell holds a formula without a stored result.",
                            "Open the workbook in a spreadsheet, save it, or write the value itself.",
                            str(cell.value),
                        )
    finally:
        book.close()


def _has_text(cells: list[str] | None, place: int) -> bool:
    return cells is not None and place < len(cells) and bool(cells[place])
