"""Why a job does not start sooner, or why an object has none: every start tried against the rest of the plan.

The other jobs stay where they are. For each earlier month the best way to fit the object's job is
searched exactly (:mod:`triage.planning.fitting`); where there is none, what is short is named.
"""

from __future__ import annotations

from triage.planning.fitting import Beside, Fitting
from triage.planning.outcome import Violation
from triage.planning.points import timelines_of
from triage.planning.problem import Job, Plan, PlanningProblem, PlanTreatment, Seam, Whole
from triage.planning.telling import Telling, Try
from triage.planning.timeline import Timeline, calendar_of
from triage.planning.words import IDS, Names

__all__ = ["Blocking", "Names", "Try", "what_blocks"]


class Blocking(Seam):
    """What keeps an object's job from starting sooner, or from being in the plan at all."""

    object_id: str
    treatment_id: str | None
    """The treatment planned; None if there is none."""
    start: Whole | None
    tries: tuple[Try, ...]
    """A job planned: every earlier open month, the nearest first. Else every treatment and open month."""
    sentences: tuple[str, ...]


def what_blocks(problem: PlanningProblem, plan: Plan, object_id: str, names: Names = IDS) -> Blocking:
    """Return which rule or resource keeps an object's job from starting sooner, or from being planned.

    Parameters
    ----------
    problem, plan
        The problem and a plan of it.
    object_id
        The object asked about.
    names
        What the sentences call objects, treatments, halls, spaces and display rules; ids if not given.

    Raises
    ------
    ValueError
        If the object is not in the problem or a job of the plan has no timeline.
    """
    if object_id not in problem.object_by_id:
        raise ValueError(f"there is no object {object_id} in the problem")
    calendar = calendar_of(problem)
    jobs = [job for job in plan.jobs if job.object_id != object_id]
    beside = Beside(problem, timelines_of(problem, calendar, jobs))
    telling = Telling(problem, names)
    own = next((job for job in plan.jobs if job.object_id == object_id), None)
    if own is None:
        return _unplanned(beside, telling, object_id)
    return _planned(beside, telling, timelines_of(problem, calendar, [own])[0])


def _planned(beside: Beside, telling: Telling, timeline: Timeline) -> Blocking:
    treatment, start = timeline.treatment, timeline.start
    fitting = Fitting(beside, treatment)
    now = _own_points(beside, timeline) + _move_points(beside.problem, treatment, start)
    months = [m for m in reversed(beside.calendar.open_months) if m < start]
    tries = tuple(_try(telling, fitting, month, now) for month in months)
    return Blocking(
        object_id=timeline.object_id,
        treatment_id=treatment.treatment_id,
        start=start,
        tries=tries,
        sentences=tuple(telling.planned(timeline.object_id, start, tries)),
    )


def _unplanned(beside: Beside, telling: Telling, object_id: str) -> Blocking:
    problem = beside.problem
    dropped = _drop_points(problem, object_id)
    now = problem.object_by_id[object_id].loss_if_never + dropped
    sentences: list[str] = []
    tries: list[Try] = []
    for treatment in (t for t in problem.treatments if t.object_id == object_id):
        fitting = Fitting(beside, treatment)
        mine = [_try(telling, fitting, month, now) for month in beside.calendar.open_months]
        tries.extend(mine)
        best = min((t for t in mine if t.change is not None), key=lambda t: t.change or 0, default=None)
        moves = 0 if best is None else _move_points(problem, treatment, best.start) - dropped
        sentences.append(telling.unplanned(fitting, mine, moves))
    return Blocking(
        object_id=object_id,
        treatment_id=None,
        start=None,
        tries=tuple(tries),
        sentences=tuple(sentences) or (telling.untreatable(object_id),),
    )


def _try(telling: Telling, fitting: Fitting, start: int, now: int) -> Try:
    treatment, problem = fitting.treatment, telling.problem
    promise = _promise(telling, treatment, start)
    lack = None if promise else fitting.lack_from(start)
    found = None if promise or lack else fitting.best_from(start)
    if found is not None:
        change = found[0] + _move_points(problem, treatment, start) - now
        return Try(treatment_id=treatment.treatment_id, start=start, fits=True, change=change, lacks=())
    lacks = (promise,) if promise else tuple(telling.lacks(fitting, lack, start)) if lack else ()
    return Try(treatment_id=treatment.treatment_id, start=start, fits=False, change=None, lacks=lacks)


def _own_points(beside: Beside, timeline: Timeline) -> int:
    points = timeline.treatment.loss_if_done[timeline.end]
    points += timeline.away_months * beside.problem.object_by_id[timeline.object_id].away_points
    return points + sum(beside.overtime(span.stage, span.start) for span in timeline.spans)


def _former(problem: PlanningProblem, object_id: str) -> Job | None:
    jobs = problem.baseline.plan.jobs if problem.baseline else ()
    return next((job for job in jobs if job.object_id == object_id), None)


def _drop_points(problem: PlanningProblem, object_id: str) -> int:
    former = _former(problem, object_id)
    return problem.baseline.drop_points if former and problem.baseline else 0


def _move_points(problem: PlanningProblem, treatment: PlanTreatment, start: int) -> int:
    former = _former(problem, treatment.object_id)
    if former is None or problem.baseline is None:
        return 0
    if former.treatment_id != treatment.treatment_id:
        return problem.baseline.drop_points
    return problem.baseline.move_points * abs(start - former.stages[0].start)


def _is_frozen(problem: PlanningProblem, former: Job) -> bool:
    return problem.baseline is not None and former.stages[0].start < problem.baseline.frozen_until


def _promise(telling: Telling, treatment: PlanTreatment, start: int) -> Violation | None:
    """Return the pin or frozen start that a job of this treatment and start would break."""
    mine = treatment.object_id
    pin, former = telling.problem.pin_of.get(mine), _former(telling.problem, mine)
    kept: tuple[str, int] | None = None
    if pin is not None:
        kept = (pin.treatment_id, pin.start)
    elif former is not None and _is_frozen(telling.problem, former):
        kept = (former.treatment_id, former.stages[0].start)
    if kept is None or kept == (treatment.treatment_id, start):
        return None
    text = telling.promise(*kept, frozen=pin is None)
    return Violation(rule=9, ids=(mine, kept[0]), from_month=kept[1], to_month=kept[1], text=text)
