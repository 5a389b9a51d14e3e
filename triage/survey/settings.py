"""The settings sheet: one name and one value a row."""

from __future__ import annotations

import difflib
from typing import Any

from triage.errors import Level
from triage.records import Settings
from triage.records.collection import YEARS_PAST_HORIZON
from triage.survey.delimited import normal
from triage.survey.fields import COUNT, MONTH, TEXT, BadCell, Field, number, whole
from triage.survey.sheet import Row, Sheet
from triage.units import ROUNDING

SETTINGS_FIELDS: dict[str, Field] = {
    "first_month": MONTH,
    "months": whole(1, 1200),
    "currency": TEXT,
    "museum": TEXT,
    "overtime_points": COUNT,
    "move_points": COUNT,
    "drop_points": COUNT,
    "value_years": number(0, 1000, above=True),
}
"""Setting -> how its value is read. Defaults stand in :class:`triage.records.Settings`."""
NEEDED_SETTINGS = ("first_month", "months")


def read_settings(sheet: Sheet, decimal_comma: bool) -> Settings | None:
    """Return the settings; None where a needed one is missing or faulty. Faults are added to the sheet."""
    if not sheet.readable:
        return None
    given: dict[str, Any] = {}
    named: dict[str, Row] = {}
    for row in sheet.rows:
        _read_one(sheet, row, decimal_comma, given, named)
    for name in NEEDED_SETTINGS:
        if name not in named and not any(r.aside for r in sheet.rows if "name" not in r.values):
            mend = f"Add a row: {name}, {SETTINGS_FIELDS[name].words}."
            sheet.say(
                None, "name", f"The setting {name} is missing; nothing can be planned without it.", mend
            )
    if any(name not in given for name in NEEDED_SETTINGS):
        return None
    return _long_enough(sheet, Settings(**given), named.get("value_years"))


def _read_one(
    sheet: Sheet, row: Row, decimal_comma: bool, given: dict[str, Any], named: dict[str, Row]
) -> None:
    if not row.values.get("name"):
        return
    name = normal(row.values["name"])
    if name not in SETTINGS_FIELDS:
        _say_unknown(sheet, row, name)
        return
    if name in named:
        rule = f"The setting stands on row {named[name].line} already."
        sheet.refuse(row, "name", rule, "Delete the row that is wrong.")
        return
    named[name] = row
    text = row.values.get("value", "")
    if row.aside or (not text and name not in NEEDED_SETTINGS):
        return
    try:
        if not text:
            raise BadCell(
                f"The setting {name} may not be blank.", f"Write it: {SETTINGS_FIELDS[name].words}."
            )
        given[name] = SETTINGS_FIELDS[name].read(text, decimal_comma)
    except BadCell as bad:
        sheet.refuse(row, "value", bad.rule, bad.mend)


def _say_unknown(sheet: Sheet, row: Row, name: str) -> None:
    close = difflib.get_close_matches(name, SETTINGS_FIELDS, n=1, cutoff=0.75)
    sheet.say(
        row,
        "name",
        "There is no setting of this name; it is not used.",
        f"Write {close[0]} if that is meant." if close else "Nothing needs doing if that is right.",
        Level.WARNING if close else Level.NOTE,
    )


def _long_enough(sheet: Sheet, settings: Settings, row: Row | None) -> Settings:
    """Move the value date to at least ten years past the horizon, and say so."""
    least = settings.least_value_years
    if settings.value_years >= least - ROUNDING:
        return settings
    sheet.say(
        row,
        "value",
        f"The value date must lie {YEARS_PAST_HORIZON} years past the horizon; {least:g} years are used.",
        f"Write value_years as {least:g} or more.",
        Level.NOTE,
        value=f"{settings.value_years:g}",
    )
    return settings.model_copy(update={"value_years": least})
