"""Reading a collection of unknown quality, in one pass, into records and a complete list of what is wrong."""

from __future__ import annotations

from pathlib import Path

from triage.errors import Fault, Level
from triage.survey.build import build_collection
from triage.survey.checks import check_everything
from triage.survey.checks.context import Survey
from triage.survey.columns import NEEDED, TABLES
from triage.survey.intake import ExtraColumn, FileCount, Intake
from triage.survey.register import loosening_roots
from triage.survey.rows import read_sheet
from triage.survey.settings import read_settings
from triage.survey.sheet import Sheet
from triage.survey.table import read_source


def read_collection(path: Path) -> Intake:
    """Return a collection as read: a folder of CSV files, or one XLSX workbook with sheets of the same names.

    Bad content never raises: every fault is in the result, and good rows are kept.

    Raises
    ------
    UnusableInput
        If there is nothing at the path, or it cannot be read at all.
    """
    source = read_source(Path(path))
    sheets = {
        name: read_sheet(table, source.tables.get(name), source.label(name), name not in source.unreadable)
        for name, table in TABLES.items()
    }
    raw_settings = source.tables.get("settings")
    settings = read_settings(sheets["settings"], raw_settings.decimal_comma if raw_settings else False)
    check_everything(Survey(sheets, settings))
    usable = settings is not None and all(sheets[n].readable for n in NEEDED)
    return Intake(
        collection=build_collection(sheets, settings) if usable and settings is not None else None,
        faults=_all_faults(source.faults, sheets),
        counts={n: _count(s) for n, s in sheets.items() if s.present},
        extra_columns=tuple(_extras(sheets)),
    )


def _all_faults(of_files: list[Fault], sheets: dict[str, Sheet]) -> tuple[Fault, ...]:
    """Return every fault by file, row and column; a faulty row that a promise waits for loosens it."""
    waiting = (r for s in sheets.values() if s.table.limits for r in s.rows if r.waits_for is not None)
    roots = loosening_roots(waiting)
    found = list(of_files)
    for sheet in sheets.values():
        name = sheet.table.name
        for fault in sheet.faults:
            here = (name, fault.row or 0) in roots or ((name, 0) in roots and not sheet.readable)
            loosens = here and fault.level is Level.FAULT and not fault.loosens
            found.append(fault.model_copy(update={"loosens": True}) if loosens else fault)
    order = {sheet.label: n for n, sheet in enumerate(sheets.values())}
    places = {s.label: s.places for s in sheets.values()}

    def place(fault: Fault) -> tuple[int, str, int, int]:
        column = places.get(fault.file, {}).get(fault.column, -1)
        return order.get(fault.file, len(order)), fault.file, fault.row or 0, column

    return tuple(sorted(found, key=place))


def _count(sheet: Sheet) -> FileCount:
    accepted = [r for r in sheet.rows if r.usable and sheet.readable]
    waiting = sum(1 for r in sheet.rows if r.waits_for is not None and not r.aside)
    return FileCount(
        read=len(sheet.rows),
        accepted=len(accepted),
        set_aside=len(sheet.rows) - len(accepted),
        waiting=waiting,
        in_part=sum(1 for r in accepted if r.held),
    )


def _extras(sheets: dict[str, Sheet]) -> list[ExtraColumn]:
    return [
        ExtraColumn(
            sheet.label,
            column,
            tuple((r.line, r.cells[p]) for r in sheet.rows if p < len(r.cells) and r.cells[p]),
        )
        for sheet in sheets.values()
        for column, p in sheet.extras.items()
    ]
