"""Put the planning problem together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from triage.planning.assemble.assembled import Assembled, LeftOut, Note
from triage.planning.assemble.display import plan_objects, plan_rules
from triage.planning.assemble.doors import hall_door_reasons
from triage.planning.assemble.fits import Fit
from triage.planning.assemble.horizon import Horizon, horizon_of
from triage.planning.assemble.room import budget_limits, hall_rooms, space_rooms, trade_hours
from triage.planning.assemble.running import RunningJob, running_job
from triage.planning.assemble.treatments import plan_treatment
from triage.planning.problem import Pin, PlanningProblem, PlanTreatment
from triage.records import Collection, Running, Stage, Treatment
from triage.records.passages import outside_hall
from triage.risk import ObjectLoss
from triage.units import month_iso

SCALE = "100 points are the whole of an object of significance 1"


@dataclass
class Gathered:
    """Treatments as they are taken in, with what is said about them."""

    treatments: list[PlanTreatment] = field(default_factory=list)
    pins: list[Pin] = field(default_factory=list)
    stages_of: dict[str, tuple[Stage, ...]] = field(default_factory=dict)
    running: set[str] = field(default_factory=set)
    left_out: list[LeftOut] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)


def assemble(collection: Collection, losses: Mapping[str, ObjectLoss]) -> Assembled:
    """Turn records and losses into the planning problem.

    Parameters
    ----------
    collection
        The museum's record.
    losses
        object_id -> its loss in points, one for every object, with ``if_done`` of every treatment as H+1
        points; what falls with a later end is levelled (:func:`treatments.whole_losses`).
    """
    settings = collection.settings
    horizon = horizon_of(settings, collection.availability)
    trades, spaces = trade_hours(collection, horizon), space_rooms(collection, horizon)
    halls, budgets = hall_rooms(collection, horizon), budget_limits(collection, horizon)
    objects = plan_objects(collection, losses)
    gathered = Gathered()
    fit = Fit(horizon, trades, spaces, halls, budgets, objects)
    for running in collection.running_by_object.values():
        _take_running(gathered, collection, running, horizon, losses)
    for treatment in collection.treatments:
        _take_treatment(gathered, collection, treatment, fit, losses)
    problem = PlanningProblem(
        first_month=month_iso(settings.first_month),
        months=settings.months,
        scale=SCALE,
        closed=tuple(sorted(horizon.closed)),
        trades=trades,
        spaces=spaces,
        halls=halls,
        budgets=budgets,
        objects=objects,
        treatments=tuple(gathered.treatments),
        rules=plan_rules(collection, horizon),
        pins=tuple(gathered.pins),
    )
    return Assembled(
        collection=collection,
        problem=problem,
        notes=tuple(gathered.notes),
        left_out=tuple(gathered.left_out),
        stages_of=gathered.stages_of,
        running=frozenset(gathered.running),
    )


def _take_running(
    gathered: Gathered,
    collection: Collection,
    running: Running,
    horizon: Horizon,
    losses: Mapping[str, ObjectLoss],
) -> None:
    treatment = collection.treatment_by_id[running.treatment_id]
    stages = collection.stages_of.get(running.treatment_id, ())
    if_done = losses[running.object_id].if_done[running.treatment_id]
    job = running_job(running, treatment, stages, horizon, if_done)
    called = _called(collection, treatment)
    if job is None:
        why = (
            "no stage of it is left"
            if horizon.open_months
            else "work stands still in every month planned for"
        )
        gathered.notes.append(Note("warning", f"{called} is running but not in the plan: {why}."))
        return
    gathered.treatments.append(job.treatment)
    gathered.pins.append(job.pin)
    gathered.stages_of[treatment.treatment_id] = job.stages
    gathered.running.add(treatment.treatment_id)
    gathered.notes.extend(_running_notes(collection, job, called))


def _running_notes(collection: Collection, job: RunningJob, called: str) -> list[Note]:
    notes = []
    if job.months_cut:
        plural = "month" if job.months_cut == 1 else "months"
        text = f"{called} would outlast the months planned for: {job.months_cut} {plural} of it were cut."
        notes.append(Note("shortened", text))
    out = outside_hall(job.stages[0])
    reasons = hall_door_reasons(collection, job.treatment.object_id, job.stages, already_out=out)
    notes.extend(Note("warning", f"{called} is running, but {reason}.") for reason in reasons)
    return notes


def _take_treatment(
    gathered: Gathered,
    collection: Collection,
    treatment: Treatment,
    fit: Fit,
    losses: Mapping[str, ObjectLoss],
) -> None:
    running = collection.running_by_object.get(treatment.object_id)
    if running is not None:
        if running.treatment_id != treatment.treatment_id:
            reasons: tuple[str, ...] = (f"{running.treatment_id} is running on the same object",)
            gathered.left_out.append(LeftOut(treatment.treatment_id, treatment.object_id, reasons))
        return
    stages = collection.stages_of.get(treatment.treatment_id, ())
    if_done = losses[treatment.object_id].if_done[treatment.treatment_id]
    plan = plan_treatment(treatment, stages, fit.horizon, if_done)
    reasons = (
        *hall_door_reasons(collection, treatment.object_id, stages),
        *fit.reasons_against(plan),
    )
    if reasons:
        left_out = LeftOut(treatment.treatment_id, treatment.object_id, reasons)
        gathered.left_out.append(left_out)
        text = f"{_called(collection, treatment)} was left out: {left_out.words}."
        gathered.notes.append(Note("left_out", text))
        return
    gathered.treatments.append(plan)
    gathered.stages_of[treatment.treatment_id] = stages


def _called(collection: Collection, treatment: Treatment) -> str:
    name = collection.object_by_id[treatment.object_id].called
    return f"{treatment.called} ({treatment.treatment_id}) on {name} ({treatment.object_id})"
