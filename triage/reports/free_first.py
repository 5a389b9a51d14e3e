"""What must be free before a job can start or go on: whoever holds its bay, its hall's floor, its way."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from triage.planning.timeline import StageSpan
from triage.reports.view import PlannedJob, PlanView
from triage.reports.words import hall_name, listed, object_name
from triage.units import month_words

HANDED_OVER = 3
"""Months after which a bay that stood empty is no longer said to be handed over."""


def move_first(view: PlanView, job: PlannedJob) -> tuple[str, ...]:
    """Return the names of objects that stand under a job's object or on its way out."""
    if not any(stage.place is not None or stage.away for stage in job.stages):
        return ()
    collection = view.study.collection
    return tuple(object_name(collection, i) for i in collection.object_by_id[job.object_id].in_the_way)


def free_first(view: PlanView, job: PlannedJob) -> tuple[str, ...]:
    """Return everything that must be free, as sentences, in the order the job meets it."""
    said = list(_way_sentences(view, job))
    for span in job.timeline.spans:
        said.extend(_bay_sentences(view, job, span))
        said.extend(_floor_sentences(view, job, span))
    return tuple(dict.fromkeys(said))


def _way_sentences(view: PlanView, job: PlannedJob) -> Iterator[str]:
    collection = view.study.collection
    if not move_first(view, job):
        return
    for other in collection.object_by_id[job.object_id].in_the_way:
        away = view.is_away(other, job.timeline.start)
        gone = " It is off display then." if away else ""
        yield f"Move first: {object_name(collection, other)} stands under it or on its way out.{gone}"


def _bay_sentences(view: PlanView, job: PlannedJob, span: StageSpan) -> Iterator[str]:
    """Yield who must have left the bay: the last ones whose staying would leave too little room."""
    if span.space_id is None:
        return
    before = [
        (other, held)
        for other in view.jobs
        if other is not job
        for held in other.timeline.spans
        if held.space_id == span.space_id and held.until <= span.start and _in_the_way(view, held, span)
    ]
    last = max((held.until for _, held in before), default=0)
    if last < span.start - HANDED_OVER:
        return
    for other, held in before:
        if held.until == last:
            name = object_name(view.study.collection, other.object_id)
            space = view.study.collection.space_by_id[span.space_id].called
            leaves = _month(view, last - 1)
            yield f"{space} must be free: {name} is planned to leave it by the end of {leaves}."


def _in_the_way(view: PlanView, held: StageSpan, span: StageSpan) -> bool:
    """Return whether the space could not hold both: its room at the start, less what is there then."""
    row = view.ledger.room.space_row[span.space_id or ""]
    room, month = view.ledger.room, span.start
    area = view.ledger.area[row, month] + held.stage.area_m2 > room.area[row, month]
    return bool(area or view.ledger.slots[row, month] + 1 > room.slots[row, month])


def _floor_sentences(view: PlanView, job: PlannedJob, span: StageSpan) -> Iterator[str]:
    item = view.problem.object_by_id[job.object_id]
    if span.stage.place != "hall" or item.hall_id is None:
        return
    need = span.stage.area_m2 if item.hung else max(0, span.stage.area_m2 - item.display_m2)
    if need == 0:
        return
    hall, row = hall_name(view.study.collection, item.hall_id), view.ledger.room.hall_row[item.hall_id]
    months = slice(span.start, span.until)
    when = view.span(span.start, span.until).words
    text = f"{need} m² of floor in {hall} (an area, not a shape) must be clear, {when}."
    beyond = view.ledger.floor[row, months] - view.ledger.room.clear[row, months]
    if (beyond > 0).any():
        worst = span.start + int(np.argmax(beyond))
        clear = int(view.ledger.room.clear[row, worst])
        text += f" The hall keeps only {clear} m² clear: {_spots(view, item.hall_id, worst)}"
    yield text


def _spots(view: PlanView, hall_id: str, month: int) -> str:
    """Return whose spots in a hall must stay free in a month."""
    collection = view.study.collection
    names = []
    for other in view.jobs:
        item = view.problem.object_by_id[other.object_id]
        if item.hall_id != hall_id or item.hung:
            continue
        held = next((s for s in other.timeline.spans if s.start <= month < s.until), None)
        if held is not None and held.stage.away and held.stage.place != "hall":
            until = max(s.until for s in other.timeline.spans if s.stage.away)
            name = object_name(collection, other.object_id)
            names.append(f"{name} ({item.display_m2} m², away until {_month(view, until - 1)})")
    return f"the spot of {listed(names)} must still be empty then."


def _month(view: PlanView, month: int) -> str:
    return month_words(view.study.assembled.calendar_month(month))
