"""Who shares an object's hall or bay while it is being treated."""

from __future__ import annotations

from collections.abc import Iterator

from triage.planning.timeline import StageSpan
from triage.reports.rows import Span
from triage.reports.view import PlannedJob, PlanView
from triage.reports.words import object_name


def neighbours(view: PlanView, object_id: str) -> tuple[str, ...]:
    """Return who is in the same bay, and who else of its hall is off display, while an object is treated."""
    job = view.by_object.get(object_id)
    if job is None:
        return ()
    said = [text for other in view.jobs if other is not job for text in _sentences(view, job, other)]
    return tuple(dict.fromkeys(said))


def _sentences(view: PlanView, job: PlannedJob, other: PlannedJob) -> Iterator[str]:
    collection = view.study.collection
    name = object_name(collection, other.object_id)
    for mine in job.timeline.spans:
        for theirs in other.timeline.spans:
            both = _overlap(view, mine, theirs)
            if both is not None and mine.space_id is not None and mine.space_id == theirs.space_id:
                yield f"{name} is in {collection.space_by_id[mine.space_id].called} too, {both.words}."
    hall_id = collection.object_by_id[job.object_id].hall_id
    if hall_id is None or collection.object_by_id[other.object_id].hall_id != hall_id:
        return
    for mine_off in view.off_display(job.timeline):
        for span in view.off_display(other.timeline):
            if span.from_month <= mine_off.to_month and mine_off.from_month <= span.to_month:
                yield f"{name}, of the same hall, is off display {span.words}."


def _overlap(view: PlanView, one: StageSpan, other: StageSpan) -> Span | None:
    start, until = max(one.start, other.start), min(one.until, other.until)
    return view.span(start, until) if start < until else None
