"""Raw rows to understood rows: every cell read by its column's field."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from triage.errors import Level
from triage.survey.columns import SETTINGS
from triage.survey.declaring import Column, Table
from triage.survey.fields import ERROR_VALUES, BadCell
from triage.survey.header import find_header
from triage.survey.raw import Broken, RawTable
from triage.survey.settings import NEEDED_SETTINGS
from triage.survey.sheet import Row, Sheet

_NO_FAMILY: dict[str, float] = {}  # shared by rows of tables without prefix columns; never written to


def read_sheet(table: Table, raw: RawTable | None, label: str, readable: bool) -> Sheet:
    """Return a table as understood.

    Parameters
    ----------
    table
        Its declaration.
    raw
        Its raw rows; None if there is no such file.
    label
        How faults name it.
    readable
        False if the file is there and could not be read.
    """
    sheet = Sheet(table, label, present=raw is not None or not readable, readable=readable)
    if raw is None:
        if readable and table.needed:
            _say_missing(sheet)
        return sheet
    loosens = {"loosens": True} if table.limits else {}
    sheet.faults.extend(f.model_copy(update=loosens) if f.level is Level.FAULT else f for f in raw.faults)
    if not readable:
        return sheet
    if not raw.rows:
        if table.needed:
            sheet.say(None, "", "The file is empty; a collection needs it.", _columns_mend(table))
            sheet.readable = False
        return sheet
    start = find_header(sheet, raw)
    if not sheet.readable:
        return sheet
    for line, cells in raw.rows[start + 1 :]:
        sheet.rows.append(Row(table.name, line, {}, cells, {} if table.prefix else _NO_FAMILY))
    if table.needed and not sheet.rows:
        sheet.say(None, "", "The file has a header and no rows; a collection needs them.", "Add its rows.")
    _read_rows(sheet, raw)
    return sheet


def _say_missing(sheet: Sheet) -> None:
    sheet.readable = False
    kind = "sheet" if not sheet.label.endswith(".csv") else "file"
    sheet.say(None, "", f"The {kind} is missing; a collection needs it.", _columns_mend(sheet.table))


def _columns_mend(table: Table) -> str:
    names = ", ".join(c.name for c in table.columns if c.needed or table is SETTINGS)
    rows = f", and rows for {' and '.join(NEEDED_SETTINGS)}" if table is SETTINGS else ""
    return f"Add it, with a header row that names at least: {names}{rows}."


def _read_rows(sheet: Sheet, raw: RawTable) -> None:
    columns = [(sheet.table.by_name[n], p) for n, p in sheet.places.items()]
    absent = [c for c in sheet.table.columns if c.name not in sheet.places]
    named = [p for p, written in sheet.headers.items() if written]
    width = range(max(named) + 1, max(sheet.headers) + 2)
    seen: dict[tuple[int, str], Any] = {}
    for row in sheet.rows:
        for column in absent:
            row.values[column.name] = column.default
        if _row_is_whole(sheet, row, raw, width):
            for column, place in columns:
                _read_cell(sheet, row, column, place, raw, seen)
            _read_family(sheet, row, raw, seen)
        else:
            _read_key_only(sheet, row, raw)


def _row_is_whole(sheet: Sheet, row: Row, raw: RawTable, width: range) -> bool:
    broken = raw.row_faults.get(row.line)
    while len(row.cells) >= width.stop and not row.cells[-1]:
        row.cells.pop()
    if raw.even:
        row.cells.extend([""] * (width.start - len(row.cells)))
    if broken is None and (raw.even or len(row.cells) in width):
        return True
    if broken is None:
        more = len(row.cells) >= width.stop
        broken = Broken(
            f"The row has {len(row.cells)} cells; the header has {width.start}.",
            "Put quotes round text that holds the separator."
            if more
            else "Add the missing cells; leave them blank between separators if they are not known.",
            " | ".join(row.cells),
        )
    sheet.say(row, "", broken.rule, broken.mend, value=broken.value)
    row.aside = True
    return False


def _read_key_only(sheet: Sheet, row: Row, raw: RawTable) -> None:
    """Read what can be read of the key of a row set aside, so that rows that name it are not blamed."""
    row.values.clear()
    for name in sheet.table.key:
        place = sheet.places[name]
        if place < len(row.cells) and row.cells[place]:
            try:
                column = sheet.table.by_name[name]
                row.values[name] = column.field.read(row.cells[place], raw.decimal_comma)
            except BadCell:
                continue


def _read_cell(
    sheet: Sheet, row: Row, column: Column, place: int, raw: RawTable, seen: dict[tuple[int, str], Any]
) -> None:
    text = row.cells[place]
    if raw.cell_faults and (row.line, place) in raw.cell_faults:
        broken = raw.cell_faults[row.line, place]
        sheet.refuse(row, column.name, broken.rule, broken.mend, value=broken.value)
        return
    if not text:
        if column.needed:
            mend = f"Write it: {column.field.words}."
            sheet.refuse(row, column.name, "This cell may not be blank.", mend)
        else:
            row.values[column.name] = column.default
        return
    found = _understood(column.field.read, text, place, raw, seen)
    if isinstance(found, BadCell):
        mend = (
            found.mend if column.needed or not column.blank else f"{found.mend} Blank means: {column.blank}."
        )
        sheet.refuse(row, column.name, found.rule, mend)
    else:
        row.values[column.name] = found


def _understood(
    read: Callable[[str, bool], Any], text: str, place: int, raw: RawTable, seen: dict[tuple[int, str], Any]
) -> Any:
    """Return what a cell says, or its BadCell; each text is read once per column."""
    found = seen.get((place, text))
    if found is not None:
        return found
    if text in ERROR_VALUES:
        return BadCell("The cell holds a spreadsheet's error value.", "Mend the formula, or write the value.")
    try:
        found = read(text, raw.decimal_comma)
    except BadCell as bad:
        return bad
    if len(text) < 24:
        seen[place, text] = found
    return found


def _read_family(sheet: Sheet, row: Row, raw: RawTable, seen: dict[tuple[int, str], Any]) -> None:
    prefix = sheet.table.prefix
    if prefix is None:
        return
    for name, place in sheet.families.items():
        header = sheet.headers[place]
        broken = raw.cell_faults.get((row.line, place))
        text = row.cells[place]
        if broken is not None:
            sheet.refuse(row, header, broken.rule, broken.mend, value=broken.value)
        elif text:
            found = _understood(prefix.field.read, text, place, raw, seen)
            if isinstance(found, BadCell):
                sheet.refuse(row, header, found.rule, found.mend, value=text)
            else:
                row.family[name] = found
