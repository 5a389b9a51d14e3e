"""Twelve years of yearly rounds: a true progressive history, and what assessors wrote of it.

True wear: an element leaves its grade at the rate ln 2 / (median years), times the object's own tempo, the
hall's climate and the causes at work; it never gets better by itself. Assessors: most grades are right,
some one step off by a tendency of each assessor, a few plain slips; a tenth is graded again by a second one.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from functools import cache

from demo_collection.anatomy import Part, parts_of
from demo_collection.cast import CAST, HALL_OF, NEVER_GRADED, Cast
from demo_collection.chance import pick, stream
from demo_collection.events import ARRIVED, CAUSES_AT_WORK, FORCED, hall_at, treated_rows
from demo_collection.museum import FACTORS, MEDIANS, YEARS, climate

Row = dict[str, object]
START = {
    "sound": (0.80, 0.20, 0.0, 0.0),
    "worn": (0.55, 0.38, 0.07, 0.0),
    "tired": (0.20, 0.50, 0.28, 0.02),
    "wreck": (0.0, 0.0, 0.0, 1.0),
}
TENDENCY = {
    "assessor A": -0.5,
    "assessor B": 0.5,
    "assessor C": 0.0,
    "assessor D": 0.2,
    "assessor E": -0.2,
}
"""Log factor on the chance of a grade one too bad; its negative on one too good."""
TOO_BAD, TOO_GOOD, SLIP = 0.02, 0.025, 0.001
AGAIN = 0.10
CHECKED = 0.35
"""Factor on the wear of safety elements: they are checked and greased."""
_MONTH_OF_ROUND = {"H1": 3, "H2": 4, "H3": 5, "H4": 9, "H5": 10, "": 11}
_NO_ROUND = {("H2", 2020), ("H5", 2018), ("H3", 2016), ("H4", 2021)}
_STORE_YEARS = (2016, 2019, 2022, 2025)


@dataclass(frozen=True)
class Walk:
    """One round: a hall or the store, a day, an assessor; ``again``: a second assessor's re-grade."""

    round_id: str
    hall_id: str
    day: dt.date
    assessor: str
    again: bool


@cache
def walks() -> tuple[Walk, ...]:
    """Return every round of the twelve years."""
    found: list[Walk] = []
    for year in YEARS:
        team = ["assessor A", "assessor B", "assessor C"]
        team += ["assessor E"] if year < 2020 else ["assessor D"]
        for number, (hall, month) in enumerate(_MONTH_OF_ROUND.items()):
            if (hall, year) in _NO_ROUND or (hall == "" and year not in _STORE_YEARS):
                continue
            chance = stream("walk", hall, year)
            day = dt.date(year, month, 3 + int(20 * chance.random()))
            first = team[(number + year) % len(team)]
            second = team[(number + year + 1 + int(2 * chance.random())) % len(team)]
            name = f"{year}-{hall or 'store'}"
            found.append(Walk(name, hall, day, first, False))
            found.append(Walk(f"{name}-again", hall, day + dt.timedelta(days=6), second, True))
    return tuple(found)


def _rate(c: Cast, part: Part, grade: int, day: dt.date) -> float:
    """Return the true yearly rate of leaving a grade."""
    log_rate = math.log(math.log(2) / MEDIANS[part.material][grade - 1]) + math.log(c.tempo)
    if part.safety:
        log_rate += math.log(CHECKED)
    for cause in CAUSES_AT_WORK:
        on_it = cause.object_id == c.object_id and cause.element_id in ("", part.element_id)
        if on_it and cause.began <= day and (cause.ended is None or day < cause.ended):
            log_rate += math.log(FACTORS[part.material][cause.cause]) * cause.severity / 2
    hall = hall_at(c.object_id, c.hall_id, day)
    if hall:
        light, _, humid, _ = climate(hall, min(max(day.year, YEARS[0]), YEARS[-1]))
        fades = FACTORS[part.material]["daylight"] > 1.3
        log_rate += 0.15 * math.log(light / 150) if fades else 0.02 * (humid - 55)
    return math.exp(log_rate)


@cache
def truth(object_id: str, element_id: str) -> tuple[tuple[dt.date, int], ...]:
    """Return (month, true grade from then on) of an element, from 2014 on."""
    c = next(x for x in CAST if x.object_id == object_id)
    part = next(p for p in parts_of(c) if p.element_id == element_id)
    forced = FORCED.get((object_id, element_id))
    if forced:
        return tuple((dt.date(year, 1, 1), grade) for year, grade in forced)
    chance = stream("truth", object_id, element_id)
    grade = 1 + pick(chance, START["sound" if part.safety else c.condition])
    done = [r for r in treated_rows() if r["object_id"] == object_id and r["element_id"] in ("", element_id)]
    path = [(dt.date(2014, 1, 1), grade)]
    for month in range(2014 * 12, 2027 * 12):
        day = dt.date(month // 12, month % 12 + 1, 1)
        for row in done:
            if str(row["date"])[:7] == day.isoformat()[:7]:
                grade = min(grade, int(str(row["grade_after"])))
        draw = chance.random()
        if grade < 4 and draw < 1 - math.exp(-_rate(c, part, grade, day) / 12):
            grade += 1
        if grade != path[-1][1]:
            path.append((day + dt.timedelta(days=31), grade))
    return tuple(path)


def true_grade(object_id: str, element_id: str, day: dt.date) -> int:
    """Return the true grade on a day."""
    return [grade for since, grade in truth(object_id, element_id) if since <= day][-1]


def _seen(true: int, walk: Walk, object_id: str, element_id: str) -> int:
    """Return what an assessor wrote for a true grade."""
    chance = stream("seen", walk.round_id, object_id, element_id)
    if chance.random() < SLIP:
        return 1 + pick(chance, (1.0, 1.0, 1.0, 1.0))
    lean = TENDENCY[walk.assessor]
    worse = TOO_BAD * math.exp(lean) if true < 4 else 0.0
    better = TOO_GOOD * math.exp(-lean) if true > 1 else 0.0
    return true + (0, 1, -1)[pick(chance, (1.0 - worse - better, worse, better))]


def _met(c: Cast, walk: Walk) -> bool:
    """Return whether the walk came past the object at all."""
    here = walk.day.year >= ARRIVED.get(c.object_id, 0) and c.object_id != NEVER_GRADED
    skipped = stream("skip", walk.round_id, c.object_id).random() < 0.04
    return here and not skipped and hall_at(c.object_id, c.hall_id, walk.day) == walk.hall_id


_UNSEEN = ("panel closed", "too high to see", "behind the covering", "barrier in front", "light too poor")


def _entry(walk: Walk, c: Cast, part: Part) -> Row | None:
    """Return what one round wrote of one element; None: not looked at."""
    chance = stream("entry", walk.round_id, c.object_id, part.element_id)
    looked, visible, why = chance.random(), chance.random(), chance.random()
    if looked < (1 - AGAIN if walk.again else 0.07):
        return None
    row: Row = {"round_id": walk.round_id, "object_id": c.object_id, "element_id": part.element_id}
    if visible < (0.22 if part.hidden else 0.02):
        return row | {"grade": "", "note": _UNSEEN[int(why * len(_UNSEEN))]}
    true = true_grade(c.object_id, part.element_id, walk.day)
    return row | {"grade": _seen(true, walk, c.object_id, part.element_id), "note": ""}


@cache
def _grade_rows() -> tuple[Row, ...]:
    rows: list[Row] = []
    for walk in walks():
        for c in CAST:
            if not _met(c, walk):
                continue
            rows += [row for part in parts_of(c) if (row := _entry(walk, c, part)) is not None]
    return tuple(rows)


def grade_rows() -> list[Row]:
    """Return the rows of grades.csv."""
    return list(_grade_rows())


def round_rows() -> list[Row]:
    """Return the rows of rounds.csv: the rounds that graded something."""
    used = {r["round_id"] for r in _grade_rows()}
    return [
        {"round_id": w.round_id, "date": w.day.isoformat(), "assessor": w.assessor}
        for w in walks()
        if w.round_id in used
    ]


def finding_rows() -> list[Row]:
    """Return the rows of findings.csv: each cause when first seen, and again if it grew."""
    rows: list[Row] = []
    for cause in CAUSES_AT_WORK:
        hall = HALL_OF[cause.object_id[0]]
        seen = [w for w in walks() if w.hall_id == hall and not w.again and w.day >= cause.began]
        grown = cause.severity == 3 and len(seen) > 3
        for walk, severity in (
            (seen[0], cause.severity - grown),
            *([(seen[3], cause.severity)] if grown else []),
        ):
            rows.append(
                {
                    "finding_id": f"F{len(rows) + 1:03d}",
                    "round_id": walk.round_id,
                    "object_id": cause.object_id,
                    "element_id": cause.element_id,
                    "cause": cause.cause,
                    "severity": severity,
                    "extent_pct": cause.extent,
                    "note": cause.note,
                    "ended_on": cause.ended.isoformat() if cause.ended else "",
                    "began_on": cause.began.isoformat() if cause.dated else "",
                }
            )
    return rows
