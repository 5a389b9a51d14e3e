"""Usable rows to frozen records."""

from __future__ import annotations

import itertools
from typing import Any

from triage.records import Collection, Hall, MuseumObject, Settings, Stage, Treatment
from triage.records.base import Record
from triage.records.chains import stages_from_chain
from triage.records.vocabulary import Mounting
from triage.survey.fields import MonthsAhead
from triage.survey.sheet import Row, Sheet

_FIELD_OF = {"treatment_effects": "effects"}


def build_collection(sheets: dict[str, Sheet], settings: Settings) -> Collection:
    """Return the collection made of all usable rows; blank cells took their defaults."""
    records: dict[str, Any] = {
        _FIELD_OF.get(name, name): tuple(_records_of(sheet, settings))
        for name, sheet in sheets.items()
        if sheet.table.record is not None
    }
    if sheets["halls"].readable and not sheets["halls"].rows:
        records["halls"] = tuple(Hall(hall_id=h) for h in _halls_named(sheets))
    records["stages"] = _all_stages(records["stages"], records["treatments"], records["objects"])
    return Collection(settings=settings, **records)


def _records_of(sheet: Sheet, settings: Settings) -> list[Record]:
    record = sheet.table.record
    if record is None:
        return []
    renamed = {c.name: c.record_field for c in sheet.table.columns if c.becomes}
    family = sheet.table.prefix.record_field if sheet.table.prefix else ""
    made = []
    for row in sheet.usable():
        values = {renamed.get(k, k): v for k, v in row.values.items()} if renamed else dict(row.values)
        if family:
            values[family] = row.family
        if sheet.table.name in _FINISHERS and not _FINISHERS[sheet.table.name](values, settings):
            continue
        made.append(record(**values))
    return made


def _finish_object(values: dict[str, Any], settings: Settings) -> bool:
    if values["mounting"] is None:
        values["mounting"] = Mounting.FLOOR if values["hall_id"] else Mounting.STORE
    return True


def _finish_treatment(values: dict[str, Any], settings: Settings) -> bool:
    for name in ("not_before", "not_after"):
        if isinstance(values[name], MonthsAhead):
            values[name] = settings.first_month + values[name].months
    return True


def _finish_budget(values: dict[str, Any], settings: Settings) -> bool:
    """A year with a blank amount has no limit, so it makes no record."""
    return values["amount"] is not None


def _finish_stage(values: dict[str, Any], settings: Settings) -> bool:
    values["hours"] = {t: h for t, h in values["hours"].items() if h}
    return True


_FINISHERS = {
    "objects": _finish_object,
    "treatments": _finish_treatment,
    "budget": _finish_budget,
    "stages": _finish_stage,
}


def _halls_named(sheets: dict[str, Sheet]) -> list[str]:
    """Return the halls that other tables name, in order, where there is no table of halls."""
    rows: itertools.chain[Row] = itertools.chain.from_iterable(
        sheets[n].usable() for n in ("objects", "moves", "environment")
    )
    return list(dict.fromkeys(r.values["hall_id"] for r in rows if r.values.get("hall_id")))


def _all_stages(
    written: tuple[Stage, ...], treatments: tuple[Treatment, ...], objects: tuple[MuseumObject, ...]
) -> tuple[Stage, ...]:
    """Return stages as written and those made from templates, by treatment and number."""
    staged = {s.treatment_id for s in written}
    by_id = {o.object_id: o for o in objects}
    made = [
        stage
        for t in treatments
        if t.template and t.treatment_id not in staged
        for stage in stages_from_chain(t, by_id[t.object_id])
    ]
    return tuple(sorted((*written, *made), key=lambda s: (s.treatment_id, s.stage)))
