"""Raw rows to understood rows: headers matched to the declared columns, every cell read by its field."""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field
from typing import Any

from triage.errors import Fault, Level
from triage.survey.columns import AS_DEFAULT, Column, Table
from triage.survey.delimited import normal
from triage.survey.fields import ERROR_VALUES, BadCell
from triage.survey.raw import Broken, RawTable, clean

_HEADER_SEARCH = 10
_SHOWN = 80
_NO_FAULTS: frozenset[str] = frozenset()


@dataclass(slots=True, eq=False)
class Row:
    """One row as understood. ``values`` holds what could be read, under the columns' names."""

    table: str
    line: int
    values: dict[str, Any]
    cells: list[str]
    family: dict[str, float]
    """Values of prefix columns: trade or cause -> number."""
    bad: frozenset[str] = _NO_FAULTS
    """Columns with a fault."""
    aside: bool = False
    """Set aside for a fault of its own."""
    waits_for: Row | None = None
    """A faulty row this one depends on: it is set aside too, without a fault of its own."""
    held: bool = False
    """Kept with a faulty cell read as unknown; no plan is made with it."""

    @property
    def usable(self) -> bool:
        """Whether the row becomes a record."""
        return not self.aside and self.waits_for is None


@dataclass
class Sheet:
    """One table as understood, and all that is wrong with it."""

    table: Table
    label: str
    present: bool
    readable: bool
    """False: nothing can be said about ids that this table should hold."""
    rows: list[Row] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)
    """Column -> place in the row, from 0."""
    families: dict[str, int] = field(default_factory=dict)
    """Trade or cause of a prefix column -> place in the row."""
    headers: dict[int, str] = field(default_factory=dict)
    """Place -> header as written, for columns in use."""
    extras: dict[str, int] = field(default_factory=dict)
    """Columns beyond the contract -> place."""
    header_line: int = 1
    stray: list[Row] = field(default_factory=list)
    """Rows whose key could not be read or was taken: ids nobody has may be theirs."""

    def usable(self) -> list[Row]:
        """Return the rows that become records."""
        return [r for r in self.rows if r.usable]

    def text(self, row: Row, column: str) -> str:
        """Return a cell as written, shortened for people."""
        place = self.places.get(column)
        if place is None or place >= len(row.cells):
            return ""
        return shortened(row.cells[place])

    def say(
        self,
        row: Row | None,
        column: str,
        rule: str,
        mend: str,
        level: Level = Level.FAULT,
        value: str | None = None,
    ) -> None:
        """Add a fault, warning or note, without setting anything aside."""
        seen = value if value is not None else self.text(row, column) if row is not None else ""
        self.faults.append(
            Fault(
                level=level,
                file=self.label,
                row=row.line if row is not None else None,
                column=column,
                value=shortened(seen),
                rule=rule,
                mend=mend,
                loosens=self.table.limits and level is Level.FAULT,
            )
        )

    def refuse(self, row: Row, column: str, rule: str, mend: str, value: str | None = None) -> None:
        """Add a fault and set the row aside; where the table keeps such rows, only the cell is lost."""
        self.say(row, column, rule, mend, value=value)
        self.lose(row, column)

    def lose(self, row: Row, column: str) -> None:
        """Take a faulty cell out of a row, and the row with it unless the table keeps it."""
        row.bad = row.bad | {column}
        declared = self.table.by_name.get(column)
        if self.table.keeps and declared is not None and not declared.needed:
            fallback = declared.if_faulty
            row.values[column] = declared.default if fallback is AS_DEFAULT else fallback
            row.held = True
        else:
            row.values.pop(column, None)
            row.aside = True


def shortened(text: str) -> str:
    """Return a value short enough to stand in a sentence."""
    return text if len(text) <= _SHOWN else text[: _SHOWN - 1] + "…"


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
    start = _find_header(sheet, raw)
    if not sheet.readable:
        return sheet
    for line, cells in raw.rows[start + 1 :]:
        sheet.rows.append(Row(table.name, line, {}, cells, {}))
    if table.needed and not sheet.rows:
        sheet.say(None, "", "The file has a header and no rows; a collection needs them.", "Add its rows.")
    _read_rows(sheet, raw)
    return sheet


def _say_missing(sheet: Sheet) -> None:
    sheet.readable = False
    kind = "sheet" if not sheet.label.endswith(".csv") else "file"
    sheet.say(None, "", f"The {kind} is missing; a collection needs it.", _columns_mend(sheet.table))


def _columns_mend(table: Table) -> str:
    names = ", ".join(c.name for c in table.columns if c.needed)
    return f"Add it, with a header row that names at least: {names}."


# --- the header -----------------------------------------------------------------------------------------------


def _find_header(sheet: Sheet, raw: RawTable) -> int:
    """Match the header row; return its index. Titles above it are passed over with a note."""
    table = sheet.table

    def known(cells: list[str]) -> int:
        return len({normal(c) for c in cells} & table.by_name.keys())

    head = raw.rows[:_HEADER_SEARCH]
    start = max(range(len(head)), key=lambda i: (known(head[i][1]), -i))
    line, header = head[start]
    needed = [c.name for c in table.columns if c.needed]
    if not known(header):
        sheet.readable = False
        sheet.say(
            None,
            "",
            "The first row does not name the columns.",
            f"Write a header row that names at least: {', '.join(needed)}.",
            value=" | ".join(head[0][1]),
        )
        return start
    sheet.header_line = line
    if start:
        sheet.say(
            None,
            "",
            f"The header was found on row {line}; the rows above it were passed over.",
            "Nothing needs doing if they are a title.",
            Level.NOTE,
        )
    _match_columns(sheet, header, raw.rows[start + 1 :])
    _say_missing_columns(sheet, needed)
    return start


def _header_row(sheet: Sheet) -> Row:
    return Row(sheet.table.name, sheet.header_line, {}, [], {})


def _match_columns(sheet: Sheet, header: list[str], rows: list[tuple[int, list[str]]]) -> None:
    table = sheet.table
    top = _header_row(sheet)
    for place, written in enumerate(header):
        name = normal(written)
        sheet.headers[place] = written
        family = _family_of(table, written)
        twice = name in sheet.places or (family and family in sheet.families)
        if not written:
            _check_nameless(sheet, place, rows)
        elif twice:
            sheet.say(
                top,
                written,
                "Two columns have this name; the first is read and this one is not.",
                "Remove or rename the one that is not meant.",
                value=written,
            )
        elif name in table.by_name:
            sheet.places[name] = place
        elif family:
            sheet.families[family] = place
        else:
            _note_extra(sheet, written, place, header)


def _family_of(table: Table, written: str) -> str:
    """Return the trade or cause a prefix column is about, or nothing."""
    prefix = table.prefix.prefix if table.prefix else ""
    plain = clean(written)
    if not prefix or normal(plain) in table.by_name or len(plain) <= len(prefix):
        return ""
    head = plain[: len(prefix)].casefold().replace(" ", "_").replace("-", "_")
    return clean(plain[len(prefix) :]) if head == prefix else ""


def _check_nameless(sheet: Sheet, place: int, rows: list[tuple[int, list[str]]]) -> None:
    for line, cells in rows:
        if place < len(cells) and cells[place]:
            sheet.say(
                Row(sheet.table.name, line, {}, cells, {}),
                "",
                f"Column {place + 1} has no name, and this row has a value in it; it was not read.",
                "Name the column, or clear it.",
                Level.WARNING,
                value=cells[place],
            )
            return


def _note_extra(sheet: Sheet, written: str, place: int, header: list[str]) -> None:
    """Say that a column is not the contract's: kept, and a warning where it may be a misspelt name."""
    name = written
    while name in sheet.extras:
        name += " (again)"
    sheet.extras[name] = place
    missing = sheet.table.by_name.keys() - {normal(h) for h in header}
    close = difflib.get_close_matches(normal(written), missing, n=1, cutoff=0.8)
    sheet.say(
        _header_row(sheet),
        written,
        "The column is not one of this table's; it is kept and not used.",
        f"Rename it to {close[0]} if that is meant." if close else "Nothing needs doing if that is right.",
        Level.WARNING if close else Level.NOTE,
        value=written,
    )


def _say_missing_columns(sheet: Sheet, needed: list[str]) -> None:
    for name in (n for n in needed if n not in sheet.places):
        sheet.readable = False
        close = difflib.get_close_matches(name, sheet.extras, n=1, cutoff=0.7)
        hint = f"Rename the column {close[0]!r} to {name} if that is meant." if close else "Add the column."
        sheet.say(_header_row(sheet), name, "A needed column is missing.", hint, value="")
        if close:
            sheet.faults = [
                f for f in sheet.faults if not (f.column == close[0] and f.level is Level.WARNING)
            ]


# --- the rows -------------------------------------------------------------------------------------------------


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
    if broken is None and len(row.cells) in width:
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
        sheet.refuse(row, column.name, found.rule, found.mend)
    else:
        row.values[column.name] = found


def _understood(
    read: Any, text: str, place: int, raw: RawTable, seen: dict[tuple[int, str], Any]
) -> object | BadCell:
    """Read a cell once per column and text."""
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
    return found  # type: ignore[no-any-return]  # each field gives its own type


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
                row.family[name] = found  # type: ignore[assignment]  # prefix fields read numbers
