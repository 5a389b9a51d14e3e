"""The only place that reads files: a collection folder or workbook of unknown quality to raw rows.

Met with sense: UTF-8 with or without mark, UTF-16, Windows-1252 (with a note); any line ends; commas,
semicolons, tabs; workbooks under a CSV's name; any case of file names. Limits: ``raw.MOST_BYTES`` a file,
``raw.MOST_ROWS`` a table, ``raw.MOST_UNPACKED`` for a workbook unpacked.
"""

from __future__ import annotations

import difflib
from pathlib import Path

from triage.errors import Fault, Level, UnusableInput
from triage.survey.columns import TABLES
from triage.survey.delimited import normal, read_delimited
from triage.survey.raw import MOST_BYTES, RawTable, Source
from triage.survey.workbook import OLD_OFFICE_MARK, ZIP_MARK, UnreadableWorkbook, read_workbook

TABLE_ENDINGS = (".csv", ".tsv", ".txt", ".xlsx", ".xlsm", ".xls")
_WORKBOOKS = (".xlsx", ".xlsm")
_ALSO_NOTED = (".ods", ".numbers", ".json", ".gz", ".zip")


def read_source(path: Path) -> Source:
    """Return every table at a path as raw rows.

    Raises
    ------
    UnusableInput
        If there is nothing at the path, or it can be neither listed nor read.
    """
    try:
        if path.is_dir():
            return _read_folder(path)
        if path.is_file():
            return _read_single(path)
    except OSError as bad:
        raise UnusableInput(f"{path} cannot be read: {bad.strerror or bad}.") from bad
    raise UnusableInput(f"There is no collection at {path}. Give a folder of CSV files or one XLSX workbook.")


def _read_folder(path: Path) -> Source:
    files = sorted(p for p in path.iterdir() if not p.name.startswith(("~$", ".")))
    chosen: dict[str, Path] = {}
    source = Source(workbook=False)
    tables = [p for p in files if p.suffix.lower() in TABLE_ENDINGS and normal(p.stem) in TABLES]
    for file in sorted(tables, key=_rank):
        name = normal(file.stem)
        if name in chosen:
            source.faults.append(_second_file(file, chosen[name]))
        else:
            chosen[name] = file
    others = [p for p in files if p not in tables and p.is_file()]
    books = [p for p in others if p.suffix.lower() in _WORKBOOKS]
    if not chosen and len(books) == 1:
        return _read_single(books[0])
    for name, file in chosen.items():
        _read_table_file(source, name, file)
    missing = [n for n in TABLES if n not in chosen]
    source.faults.extend(
        _unknown_file(p.name, p.stem, missing)
        for p in others
        if p.suffix.lower() in TABLE_ENDINGS + _ALSO_NOTED
    )
    return source


def _rank(file: Path) -> tuple[bool, int, bool, str]:
    """Sort ``grades.csv`` before ``Grades.csv`` before ``grades.xlsx``."""
    ending = TABLE_ENDINGS.index(file.suffix.lower())
    return not file.is_file(), ending, file.name != file.name.lower(), file.name


def _second_file(file: Path, chosen: Path) -> Fault:
    return Fault(
        level=Level.WARNING,
        file=file.name,
        rule=f"Two files hold this table; {chosen.name} was read and this one was not.",
        mend="Remove or rename the one that is not meant.",
    )


def _unknown_file(label: str, stem: str, missing: list[str]) -> Fault:
    close = difflib.get_close_matches(normal(stem), missing, n=1, cutoff=0.75)
    hint = (
        f"Rename it to {close[0]} if that is meant." if close else "Nothing needs doing if it is not meant."
    )
    return Fault(
        level=Level.NOTE,
        file=label,
        rule="No table of a collection has this name; it was not read.",
        mend=hint,
    )


def _read_bytes(file: Path, label: str) -> bytes | Fault:
    try:
        size = file.stat().st_size
        if size > MOST_BYTES:
            return Fault(
                file=label,
                rule=f"A file has at most {MOST_BYTES // 1_000_000} MB; this one has {size / 1e6:.0f} MB.",
                mend="Split off older years, or delete empty rows and pictures.",
            )
        return file.read_bytes()
    except OSError as bad:
        return Fault(
            file=label,
            rule=f"The file cannot be read: {bad.strerror or bad}.",
            mend="Check that it is a file, and that you may read it.",
        )


def _read_table_file(source: Source, name: str, file: Path) -> None:
    label = source.label(name)
    data = _read_bytes(file, label)
    if isinstance(data, Fault):
        _unreadable(source, name, data)
    elif data.startswith(OLD_OFFICE_MARK):
        mend = "Save it without password as XLSX or as CSV UTF-8."
        rule = "The file is an old (XLS) or password-protected workbook."
        _unreadable(source, name, Fault(file=label, rule=rule, mend=mend))
    elif data.startswith(ZIP_MARK):
        _read_lone_sheet(source, name, data, file)
    else:
        table = read_delimited(name, label, data, frozenset(TABLES[name].by_name))
        if any(f.level is Level.FAULT for f in table.faults):
            source.unreadable.add(name)
        source.tables[name] = table


def _unreadable(source: Source, name: str, fault: Fault) -> None:
    source.unreadable.add(name)
    source.faults.append(fault.model_copy(update={"loosens": TABLES[name].limits}))


def _read_lone_sheet(source: Source, name: str, data: bytes, file: Path) -> None:
    """Read one table kept as a workbook of its own, whatever the file's ending says."""
    label = source.label(name)
    try:
        sheets = read_workbook(data)
    except UnreadableWorkbook as bad:
        _unreadable(source, name, Fault(file=label, rule=bad.rule, mend=bad.mend))
        return
    title = next((t for t in sheets if normal(t) == name), next(iter(sheets), None))
    if title is None:
        return
    table = sheets[title]
    table.name, table.label = name, label
    table.faults = [f.model_copy(update={"file": label}) for f in table.faults]
    if file.suffix.lower() not in _WORKBOOKS:
        table.faults.append(
            Fault(
                level=Level.NOTE,
                file=label,
                rule=f"The file is an XLSX workbook under another ending; its sheet {title!r} was read.",
                mend=f"Rename it to {name}.xlsx, or save it as CSV UTF-8.",
            )
        )
    source.tables[name] = table


def _read_single(file: Path) -> Source:
    """Read a workbook whose sheets are the tables."""
    source = Source(workbook=True)
    data = _read_bytes(file, file.name)
    if isinstance(data, Fault):
        source.faults.append(data)
        source.unreadable.update(TABLES)
        return source
    try:
        if not data.startswith(ZIP_MARK):
            raise UnreadableWorkbook(
                "A collection is a folder of CSV files or one XLSX workbook; this file is neither.",
                "Give the folder that holds the CSV files, or save the workbook as XLSX without password.",
            )
        sheets = read_workbook(data)
    except UnreadableWorkbook as bad:
        source.faults.append(Fault(file=file.name, rule=bad.rule, mend=bad.mend))
        source.unreadable.update(TABLES)
        return source
    _take_sheets(source, sheets)
    return source


def _take_sheets(source: Source, sheets: dict[str, RawTable]) -> None:
    missing = [n for n in TABLES if n not in {normal(t) for t in sheets}]
    for title, table in sheets.items():
        name = normal(title)
        if name not in TABLES:
            source.faults.append(_unknown_file(title, title, missing))
        elif name in source.tables:
            rule = "Two sheets hold this table; the first was read and this one was not."
            mend = "Remove or rename the one that is not meant."
            source.faults.append(Fault(level=Level.WARNING, file=title, rule=rule, mend=mend))
        else:
            table.name = table.label = name
            table.faults = [f.model_copy(update={"file": name}) for f in table.faults]
            if table.faults:
                source.unreadable.add(name)
            source.tables[name] = table
