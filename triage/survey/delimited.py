"""Delimited text (CSV and its cousins) from bytes of unknown encoding to raw rows."""

from __future__ import annotations

import codecs
import csv
from collections.abc import Iterable, Iterator

from triage.errors import Fault, Level
from triage.survey.raw import MOST_ROWS, Broken, RawTable, clean, is_blank

DELIMITERS = ",;\t|"
HEADER_SEARCH = 10  # rows looked at for the header
_LONGEST_CELL = 60_000_000  # characters the csv module may meet; longer than any file read
_LINES_IN_A_CELL = 200
_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


def read_delimited(name: str, label: str, data: bytes, known: frozenset[str]) -> RawTable:
    """Return the rows of a delimited file.

    Parameters
    ----------
    name, label
        The table, and how faults name it.
    data
        The file's bytes, at most ``raw.MOST_BYTES``.
    known
        Names of the table's columns: the delimiter that makes most of them wins.
    """
    text, faults = _decode(label, data)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text, said = _declared_delimiter(text)
    if text.count("\n") > MOST_ROWS:
        faults.append(
            Fault(
                file=label,
                rule=f"A table has at most {MOST_ROWS:,} rows.",
                mend="Split off older years, or delete empty rows at the end.",
            )
        )
        return RawTable(name, label, [], faults=faults)
    lines = text.split("\n")
    del text  # a large file is held once
    delimiter = said or _delimiter(lines, known)
    table = RawTable(name, label, [], decimal_comma=delimiter != ",", faults=faults)
    shared: dict[str, str] = {}
    for line, (cells, broken) in enumerate(_records(lines, delimiter), start=1):
        row = [shared.setdefault(c, c) if len(c) < 24 else c for c in map(clean, cells)]
        if is_blank(row):
            continue
        table.rows.append((line, row))
        if broken is not None:
            table.row_faults[line] = broken
    return table


def _decode(label: str, data: bytes) -> tuple[str, list[Fault]]:
    encoding = next((name for mark, name in _MARKS if data.startswith(mark)), None) or _unmarked(data)
    faults = []
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
        faults.append(
            Fault(
                level=Level.NOTE,
                file=label,
                rule="The file is not UTF-8; it was read as Windows-1252.",
                mend="Check accented letters, and save it as 'CSV UTF-8'.",
            )
        )
    text = text.removeprefix("\ufeff")
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        faults.append(
            Fault(
                level=Level.WARNING,
                file=label,
                row=line,
                rule="The file has NUL characters, as damaged files do; they were taken out.",
                mend="Compare this row with the original and save the file anew.",
            )
        )
        text = text.replace("\x00", "")
    return text, faults


def _unmarked(data: bytes) -> str:
    """Return the encoding of a file without a mark: UTF-16 shows as a NUL in every second byte."""
    head = data[:2000]
    half = max(len(head) // 2, 1)
    if len(head) >= 8 and len(data) % 2 == 0:
        if head[1::2].count(0) > 0.7 * half and head[0::2].count(0) < 0.1 * half:
            return "utf-16-le"
        if head[0::2].count(0) > 0.7 * half and head[1::2].count(0) < 0.1 * half:
            return "utf-16-be"
    return "utf-8"


def _declared_delimiter(text: str) -> tuple[str, str]:
    """Take off a first line ``sep=;``, which spreadsheets neither show nor count."""
    first, _, rest = text.partition("\n")
    first = first.strip().strip('"')
    if first.lower().startswith("sep=") and len(first) == 5 and first[4] in DELIMITERS:
        return rest, first[4]
    return text, ""


def normal(header: str) -> str:
    """Return a header's name for comparison: case, spaces and hyphens do not matter."""
    return "_".join(clean(header).casefold().replace("-", " ").split())


def _delimiter(lines: list[str], known: frozenset[str]) -> str:
    head = [line for line in lines[: 3 * HEADER_SEARCH] if line.strip()][:HEADER_SEARCH]

    def score(delimiter: str) -> int:
        found = (next(_reader([line], delimiter), []) for line in head)
        return max((sum(normal(c) in known for c in cells) for cells in found), default=0)

    return max(DELIMITERS, key=score)


def _reader(lines: Iterable[str], delimiter: str) -> Iterator[list[str]]:
    before = csv.field_size_limit(_LONGEST_CELL)
    try:
        yield from csv.reader(lines, delimiter=delimiter)
    finally:
        csv.field_size_limit(before)


def _records(lines: list[str], delimiter: str) -> Iterator[tuple[list[str], Broken | None]]:
    if not any(line.count('"') % 2 for line in lines):
        for cells in _reader(lines, delimiter):
            yield cells, None
        return
    yield from _quoted_records(lines, delimiter)


def _quoted_records(lines: list[str], delimiter: str) -> Iterator[tuple[list[str], Broken | None]]:
    """Part rows where quotes stay open at a line's end: a cell of several lines, or a stray quote mark."""
    width = len(next(_reader([next((x for x in lines if x.strip()), "")], delimiter), []))
    at = 0
    while at < len(lines):
        line = lines[at]
        if line.count('"') % 2 == 0:
            yield next(_reader([line], delimiter), []), None
            at += 1
            continue
        end = _closing_line(lines, at)
        if end is not None:
            cells = next(_reader((x + "\n" for x in lines[at : end + 1]), delimiter), [])
            if len(cells) == width:
                yield cells, None
                at = end + 1
                continue
        yield (
            line.replace('"', "").split(delimiter),
            Broken(
                "A quote mark is opened and never closed.",
                "Close it, or write it twice if it belongs to the text.",
                line.strip(),
            ),
        )
        at += 1


def _closing_line(lines: list[str], at: int) -> int | None:
    last = min(len(lines), at + _LINES_IN_A_CELL)
    return next((i for i in range(at + 1, last) if lines[i].count('"') % 2), None)
