"""Rules on what was seen and done: days, improvements without treatment, what was never graded."""

from __future__ import annotations

import datetime as dt
import itertools
from collections import Counter, defaultdict
from dataclasses import dataclass

from triage.errors import Level
from triage.records.vocabulary import Mounting
from triage.survey.checks.context import Check, Survey, by_value
from triage.survey.sheet import Row

_NAMED = 5  # examples named in a summarising note


def _future_round(survey: Survey) -> None:
    """A round lies before now."""
    sheet = survey.sheets["rounds"]
    for row in sheet.rows:
        day = row.values.get("date")
        if survey.now and day and day >= survey.now:
            rule = f"A round lies before the first month ({survey.month()}); this one is in the future."
            sheet.refuse(row, "date", rule, "Correct the date, or first_month in settings.")


def _future_treated(survey: Survey) -> None:
    """What was treated was treated before now."""
    sheet = survey.sheets["treated"]
    for row in sheet.rows:
        day = row.values.get("date")
        if survey.now and day and day >= survey.now:
            rule = f"A treatment done lies before the first month ({survey.month()})."
            sheet.refuse(
                row, "date", rule, "Correct the date; work to come belongs in treatments or running."
            )


def _future_move(survey: Survey) -> None:
    """A move after now is no fact yet."""
    sheet = survey.sheets["moves"]
    for row in sheet.rows:
        day = row.values.get("date")
        if survey.now and day and day >= survey.now:
            rule = f"The move lies in the future ({survey.month()})."
            sheet.say(row, "date", rule, "Correct the date if it is not meant.", Level.WARNING)


def _future_climate(survey: Survey) -> None:
    """A year that has not begun has no climate yet."""
    sheet = survey.sheets["environment"]
    for row in sheet.rows:
        year = row.values.get("year")
        if survey.now and year and dt.date(year, 1, 1) > survey.now:
            rule = f"The year has not begun ({survey.month()})."
            sheet.say(row, "year", rule, "Correct the year if it is not meant.", Level.WARNING)


def _cause_dates(survey: Survey) -> None:
    """A cause ends after it began."""
    sheet = survey.sheets["findings"]
    for row in sheet.rows:
        began, ended = row.values.get("began_on"), row.values.get("ended_on")
        if began and ended and ended < began:
            rule = f"The cause ended before it began ({began})."
            sheet.say(row, "ended_on", rule, "Correct one of the two days.", Level.WARNING)


def _finding_days(survey: Survey) -> None:
    """A cause seen in a round had begun by then and had not ended."""
    sheet = survey.sheets["findings"]
    rounds = survey.registers["rounds"].known
    for row in sheet.rows:
        seen = rounds.get(row.values.get("round_id"))
        day = seen.values.get("date") if seen else None
        began, ended = row.values.get("began_on"), row.values.get("ended_on")
        if day and ended and ended < day and not (began and ended < began):
            rule = f"The cause ended before the round in which it was seen ({day})."
            sheet.say(row, "ended_on", rule, "Correct the day, or the round.", Level.WARNING)
        if day and began and began > day:
            rule = f"The cause began after the round in which it was seen ({day})."
            sheet.say(row, "began_on", rule, "Correct the day, or the round.", Level.WARNING)


# --- improvements ---


@dataclass(slots=True)
class _Day:
    """The grades of one element on one day."""

    best: int
    worst: int
    row: Row


def _days_of_elements(survey: Survey) -> dict[tuple[str, str], dict[dt.date, _Day]]:
    rounds = survey.registers["rounds"].known
    found: dict[tuple[str, str], dict[dt.date, _Day]] = defaultdict(dict)
    for row in survey.sheets["grades"].rows:
        grade = row.values.get("grade")
        if grade is None or not row.usable:
            continue
        values = row.values
        day = rounds[values["round_id"]].values["date"]
        days = found[values["object_id"], values["element_id"]]
        seen = days.setdefault(day, _Day(grade, grade, row))
        if grade < seen.best:
            seen.best, seen.row = grade, row
        seen.worst = max(seen.worst, grade)
    return found


def _treated_days(survey: Survey) -> tuple[dict[tuple[str, str | None], list[dt.date]], set[str]]:
    """Return (object, element or None) -> days of treatment, and objects with a treatment row set aside."""
    days: dict[tuple[str, str | None], list[dt.date]] = defaultdict(list)
    doubtful: set[str] = set()
    for row in survey.sheets["treated"].rows:
        obj: str = row.values.get("object_id", "")
        if row.usable:
            days[obj, row.values["element_id"]].append(row.values["date"])
        elif obj:
            doubtful.add(obj)
    return days, doubtful


def _improved_untreated(survey: Survey) -> None:
    """An element does not get better by itself. On one day, grades come before treatments."""
    sheet = survey.sheets["grades"]
    treated, doubtful = _treated_days(survey)
    for (obj, element), days in _days_of_elements(survey).items():
        if obj in doubtful:
            continue
        done = (*treated.get((obj, element), ()), *treated.get((obj, None), ()))
        order = sorted(days)
        for before, after in itertools.pairwise(order):
            if days[after].worst >= days[before].best or any(before <= d < after for d in done):
                continue
            rule = "The element improved with no treatment recorded in between."
            mend = (
                f"It had grade {days[before].best} on {before}: record the treatment, or check both grades."
            )
            sheet.say(days[after].row, "grade", rule, mend, Level.WARNING)


# --- what is missing ---


def _first_of(names: list[str]) -> str:
    """Return the first few names as a list in a sentence."""
    return ", ".join(names[:_NAMED]) + (" and others" if len(names) > _NAMED else "")


def _zero_shares(survey: Survey) -> None:
    """An object's shares are scaled to 1, so one of them is above zero."""
    sheet = survey.sheets["elements"]
    for rows in by_value(sheet.rows, "object_id").values():
        shares = [None if "share" in r.bad else r.values.get("share") for r in rows]
        if not all(s == 0 for s in shares):
            continue
        rule = "All shares of this object are 0, so they cannot be scaled to 1."
        sheet.refuse(rows[0], "share", rule, "Give at least one element a share above 0, or leave all blank.")
        for row in rows:
            row.values["share"] = None


def _never_graded(survey: Survey) -> None:
    """Elements nobody graded are forecast from their material alone."""
    sheet = survey.sheets["elements"]
    grades = survey.sheets["grades"]
    if not (sheet.readable and grades.readable):
        return
    graded = {(r.values.get("object_id"), r.values.get("element_id")) for r in grades.rows}
    never = [
        k for r in sheet.usable() if (k := (r.values["object_id"], r.values["element_id"])) not in graded
    ]
    if never:
        named = _first_of([f"{o} {e}" for o, e in never])
        rule = f"{len(never)} of {len(sheet.usable())} elements were never graded: {named}."
        sheet.say(None, "", rule, "They are forecast from their material alone; grade them next.", Level.NOTE)


def _not_surveyed(survey: Survey) -> None:
    """An object without a hazard row is not surveyed, never free of hazards."""
    sheet = survey.sheets["hazards"]
    objects = survey.sheets["objects"].usable()
    surveyed = {r.values.get("object_id") for r in sheet.rows}
    missing = [r.values["object_id"] for r in objects if r.values["object_id"] not in surveyed]
    if missing and sheet.readable:
        named = _first_of(missing)
        rule = f"{len(missing)} of {len(objects)} objects are not surveyed for hazards (no row): {named}."
        mend = "Have a competent person survey them before they are moved or opened; record what is found."
        sheet.say(None, "", rule, mend, Level.NOTE)


def _hung_without_support(survey: Survey) -> None:
    """What a hung object hangs from is an element that can hurt someone."""
    sheet = survey.sheets["objects"]
    elements = survey.sheets["elements"]
    if not elements.readable:
        return
    safe = Counter(r.values.get("object_id") for r in elements.rows if r.values.get("safety") or not r.usable)
    for row in sheet.usable():
        hung = row.values.get("mounting") is Mounting.HUNG and "mounting" not in row.bad
        if hung and not safe[row.values["object_id"]]:
            rule = "The object hangs, and none of its elements is a safety element."
            mend = (
                "Add the fittings it hangs from to elements with safety yes, and have them inspected by a "
                "competent person; keep people from beneath it where they are in doubt."
            )
            sheet.say(row, "mounting", rule, mend, Level.WARNING)


def _material_unknown(survey: Survey) -> None:
    """An element without a material is forecast from the row ``other``."""
    sheet = survey.sheets["elements"]
    blank = [r for r in sheet.usable() if not r.values.get("material")]
    if blank:
        rule = (
            f"{len(blank)} of {len(sheet.usable())} elements have no material; they are forecast as 'other'."
        )
        sheet.say(None, "material", rule, "Write the material where it is known.", Level.NOTE)


HISTORY_CHECKS: tuple[Check, ...] = (
    _future_round,
    _future_treated,
    _future_move,
    _future_climate,
    _cause_dates,
    _zero_shares,
)


def _halls_by_name(survey: Survey) -> None:
    """Without a table of halls, the halls that objects name are known by name only."""
    halls, objects = survey.sheets["halls"], survey.sheets["objects"]
    named = {r.values["hall_id"] for r in objects.usable() if r.values.get("hall_id")}
    if named and halls.readable and not halls.rows:
        rule = f"The table has no rows; the {len(named)} halls that objects name are known by name only."
        mend = (
            "Add them with clear floor, doors and most_away: without, no floor is clear and no limit holds."
        )
        halls.say(None, "", rule, mend, Level.NOTE)


LATE_NOTES: tuple[Check, ...] = (
    _halls_by_name,
    _finding_days,
    _improved_untreated,
    _never_graded,
    _not_surveyed,
    _hung_without_support,
    _material_unknown,
)
