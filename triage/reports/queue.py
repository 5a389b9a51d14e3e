"""The queue: which object comes off display next, when, into which bay, and why."""

from __future__ import annotations

from triage.planning.assemble.doors import not_checked
from triage.planning.timeline import StageSpan
from triage.records import Stage
from triage.records.vocabulary import HALL_PLACE, TreatmentKind
from triage.reports.cautions import hazard_cautions, lifting_cautions, moves, stage_lifting
from triage.reports.free_first import free_first, move_first
from triage.reports.rows import Caution, JobRow, StageRow
from triage.reports.safety import safety_cautions
from triage.reports.study import Study
from triage.reports.view import PlannedJob, PlanView
from triage.reports.why import why_treated
from triage.reports.words import hall_name, listed


def queue_rows(study: Study) -> tuple[JobRow, ...]:
    """Return the workshop jobs that are still to begin, in the order in which objects come off display.

    A job that takes nothing off display (its object is in store) stands where its work begins.
    """
    return _rows(study, "queue")


def gallery_rows(study: Study) -> tuple[JobRow, ...]:
    """Return what is to be done in the galleries, by start."""
    return _rows(study, "gallery")


def running_rows(study: Study) -> tuple[JobRow, ...]:
    """Return the work that goes on already, of both kinds."""
    return _rows(study, "running")


def row_of(view: PlanView, object_id: str) -> JobRow | None:
    """Return one object's row with the number it has in its list; None if it has no job."""
    job = view.by_object.get(object_id)
    if job is None:
        return None
    return job_row(view, job, _ordered(view, _list_of(job)).index(job) + 1)


def _rows(study: Study, name: str) -> tuple[JobRow, ...]:
    view = PlanView(study)
    return tuple(job_row(view, job, n) for n, job in enumerate(_ordered(view, name), 1))


def _list_of(job: PlannedJob) -> str:
    if job.running:
        return "running"
    return "queue" if job.treatment.kind is TreatmentKind.WORKSHOP else "gallery"


def _ordered(view: PlanView, name: str) -> list[PlannedJob]:
    """Return the jobs of a list by the month their objects go off display, else work begins."""

    def when(job: PlannedJob) -> tuple[int, int, str]:
        off = view.off_display(job.timeline)
        start = view.span(job.timeline.start, job.timeline.end).from_month
        return (off[0].from_month if off else start), start, job.object_id

    return sorted((job for job in view.jobs if _list_of(job) == name), key=when)


def job_row(view: PlanView, job: PlannedJob, position: int) -> JobRow:
    """Return one job ready to be read out."""
    collection, timeline = view.study.collection, job.timeline
    item = collection.object_by_id[job.object_id]
    space_ids = tuple(dict.fromkeys(s.space_id for s in timeline.spans if s.space_id is not None))
    loss_treated = timeline.treatment.loss_if_done[timeline.end]
    return JobRow(
        position=position,
        object_id=item.object_id,
        object_name=item.called,
        hall_id=item.hall_id,
        hall_name=hall_name(collection, item.hall_id),
        mounting=item.mounting.value,
        treatment_id=job.treatment.treatment_id,
        treatment_title=job.treatment.called,
        kind=job.treatment.kind.value,
        running=job.running,
        span=view.span(timeline.start, timeline.end),
        off_display=view.off_display(timeline),
        bays=tuple(collection.space_by_id[i].called for i in space_ids),
        space_ids=space_ids,
        stages=tuple(_stage_row(view, job, n) for n in range(len(job.stages))),
        move_first=move_first(view, job),
        free_first=free_first(view, job),
        cautions=job_cautions(view, job),
        why=why_treated(view.study, item.object_id, loss_treated),
        cost=timeline.treatment.cost,
        loss_untreated=view.problem.object_by_id[item.object_id].loss_if_never,
        loss_treated=loss_treated,
    )


def job_cautions(view: PlanView, job: PlannedJob) -> tuple[Caution, ...]:
    """Return what must be read before a job: doubtful safety, lifting, hazards, what was not checked."""
    collection = view.study.collection
    item = collection.object_by_id[job.object_id]
    first = move_first(view, job)
    way = (Caution("lifting", f"Move first: {listed(first)}."),) if first else ()
    spaces = [span.space_id for span in job.timeline.spans]
    unknown = not_checked(collection, item.object_id, job.stages, spaces)
    return (
        *safety_cautions(view.study, item.object_id),
        *lifting_cautions(item, job.stages),
        *way,
        *hazard_cautions(collection, item.object_id),
        *(Caution("not_checked", text) for text in unknown),
    )


def stage_cautions(view: PlanView, job: PlannedJob, number: int) -> tuple[Caution, ...]:
    """Return what must be read before one stage (index from 0): lifting, hazards, what was not checked."""
    collection, stage = view.study.collection, job.stages[number]
    item = collection.object_by_id[job.object_id]
    opens = moves(stage) or stage.hours or job.treatment.kind is TreatmentKind.IN_GALLERY
    unknown = not_checked(collection, item.object_id, (stage,), (job.timeline.spans[number].space_id,))
    return (
        *stage_lifting(item, job.stages, number),
        *(hazard_cautions(collection, item.object_id) if opens else ()),
        *(Caution("not_checked", text) for text in unknown),
    )


def _stage_row(view: PlanView, job: PlannedJob, number: int) -> StageRow:
    stage, span = job.stages[number], job.timeline.spans[number]
    return StageRow(
        number=stage.stage,
        title=stage.title or f"Stage {stage.stage}",
        place=_place(view, job, stage, span),
        space_id=span.space_id,
        on_hall_floor=stage.place == HALL_PLACE,
        work=view.span(span.start, span.end),
        waits=view.waits(span),
        away=stage.away,
        area_m2=span.stage.area_m2,
        hours=sum(sum(hours) for hours in span.stage.hours.values()),
        estimated=stage.estimated,
        cautions=stage_cautions(view, job, number),
    )


def _place(view: PlanView, job: PlannedJob, stage: Stage, span: StageSpan) -> str:
    collection = view.study.collection
    if span.space_id is not None:
        return collection.space_by_id[span.space_id].called
    if stage.place == HALL_PLACE:
        return f"clear floor of {hall_name(collection, collection.object_by_id[job.object_id].hall_id)}"
    return ""
