"""Header rows matched to the declared columns; case, spaces and hyphens do not matter."""

from __future__ import annotations

import difflib

from triage.errors import Level
from triage.survey.declaring import Table
from triage.survey.delimited import HEADER_SEARCH, normal
from triage.survey.raw import RawTable, clean
from triage.survey.sheet import Row, Sheet


def find_header(sheet: Sheet, raw: RawTable) -> int:
    """Match the header row; return its index. Titles above it are passed over with a note."""
    table = sheet.table

    def known(cells: list[str]) -> int:
        return len({normal(c) for c in cells} & table.by_name.keys())

    head = raw.rows[:HEADER_SEARCH]
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
    _match_columns(sheet, header)
    _check_nameless(sheet, header, raw, start + 1)
    _say_missing_columns(sheet, needed)
    return start


def _header_row(sheet: Sheet) -> Row:
    return Row(sheet.table.name, sheet.header_line, {}, [], {})


def _match_columns(sheet: Sheet, header: list[str]) -> None:
    table = sheet.table
    top = _header_row(sheet)
    for place, written in enumerate(header):
        name = normal(written)
        sheet.headers[place] = written
        family = _family_of(table, written)
        twice = name in sheet.places or (family and family in sheet.families)
        if not written:
            continue
        if twice:
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


def _check_nameless(sheet: Sheet, header: list[str], raw: RawTable, start: int) -> None:
    """Warn once of each column without a name that has values; rows longer than the header are ragged."""
    seen = {place for place, written in enumerate(header) if written}
    if not raw.even and len(seen) == len(header):
        return
    for line, cells in raw.rows[start:]:
        if len(cells) > len(header) and not raw.even:
            continue
        for place in range(len(cells)):
            if cells[place] and place not in seen:
                seen.add(place)
                sheet.say(
                    Row(sheet.table.name, line, {}, cells, {}),
                    "",
                    f"Column {place + 1} has no name, and this row has a value in it; it was not read.",
                    "Name the column, or clear it.",
                    Level.WARNING,
                    value=cells[place],
                )


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
