"""A planning problem as the search sees it: numbers, positions and rows instead of ids."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from triage.planning.engine.calendar import Bools, Calendar, Ints
from triage.planning.engine.classes import SpaceClass, space_classes
from triage.planning.engine.resources import Resources, resources_of
from triage.planning.problem import PlanningProblem, PlanObject, PlanStage, PlanTreatment

Piece = tuple[Ints, Ints]
"""Resource rows and what is used of each."""


@dataclass(frozen=True)
class StageNumbers:
    """One stage: how long, where it may be, what it uses each month and each working month."""

    months: int
    most_wait: int
    classes: tuple[int, ...]
    """Classes of space it may be in; (-1,) if it needs none."""
    area: int
    away: bool
    floor: int
    """Clear floor of the home hall it uses."""
    frees: int
    """Floor of the home hall it leaves free."""
    hours: tuple[tuple[int, Ints], ...]
    """(trade, hours of each working month), trades with no hours left out."""


@dataclass(frozen=True)
class TreatmentNumbers:
    """One treatment of one object: stages, allowed first starts and what each costs besides its loss."""

    index: int
    object_index: int
    cost: int
    stages: tuple[StageNumbers, ...]
    start_allowed: Bools
    """(positions,) first starts within earliest..latest and any promise."""
    start_points: Ints
    """(positions,) points for departing from the baseline."""
    loss: Ints
    """(months + 1,) loss by the month after the end."""


@dataclass(frozen=True)
class ObjectNumbers:
    """One object: its hall (-1: none), display rules, treatments, and the points of leaving it alone."""

    index: int
    hall: int
    display: int
    hung: bool
    away_points: int
    none_points: int
    """Points if it gets no job: loss_if_never, and the drop if the baseline had one."""
    must: bool
    """True if it may not be left without a job (pin or frozen baseline job)."""
    rules: tuple[int, ...]
    treatments: tuple[int, ...]


@dataclass(frozen=True)
class Instance:
    """Everything the search needs, made once per process."""

    problem: PlanningProblem
    calendar: Calendar
    classes: tuple[SpaceClass, ...]
    resources: Resources
    objects: tuple[ObjectNumbers, ...]
    treatments: tuple[TreatmentNumbers, ...]
    pieces: dict[tuple[int, int, int, int, int], Piece] = field(
        default_factory=dict, compare=False, repr=False
    )
    """What single stages use, by (treatment, stage, position, month after, class); filled as it is needed."""

    @property
    def months(self) -> int:
        """Length of the horizon."""
        return self.problem.months

    def lowering(self, hall: int, stage: StageNumbers) -> Ints:
        """Return (months,) what a stage needs beyond a hall's clear floor, negative what it frees."""
        clear = np.array(self.problem.halls[hall].clear_m2, dtype=np.int64)
        return np.maximum(0, stage.floor - clear) - stage.frees


@dataclass(frozen=True)
class Promise:
    """A job that must be kept: treatment, first start (calendar month), spaces by stage or None."""

    treatment_id: str
    start: int
    space_ids: tuple[str | None, ...] | None = None


def promises(problem: PlanningProblem) -> dict[str, list[Promise]]:
    """Return the pins and frozen baseline jobs of each object (rule 9)."""
    kept: dict[str, list[Promise]] = {}
    for pin in problem.pins:
        kept.setdefault(pin.object_id, []).append(Promise(pin.treatment_id, pin.start, pin.space_ids))
    if problem.baseline is not None:
        for job in problem.baseline.plan.jobs:
            if job.stages and job.stages[0].start < problem.baseline.frozen_until:
                kept.setdefault(job.object_id, []).append(Promise(job.treatment_id, job.stages[0].start))
    return kept


def build_instance(problem: PlanningProblem, *, merge: bool = True) -> Instance:
    """Translate a problem; ``merge`` groups identical spaces into classes."""
    calendar = Calendar.of(problem)
    classes = space_classes(problem, merge=merge)
    kept = promises(problem)
    by_object: dict[str, list[int]] = {o.object_id: [] for o in problem.objects}
    for index, treatment in enumerate(problem.treatments):
        by_object[treatment.object_id].append(index)
    number = {o.object_id: index for index, o in enumerate(problem.objects)}
    objects = tuple(
        _object_numbers(problem, index, o, tuple(by_object[o.object_id]), bool(kept.get(o.object_id)))
        for index, o in enumerate(problem.objects)
    )
    return Instance(
        problem=problem,
        calendar=calendar,
        classes=classes,
        resources=resources_of(problem, classes),
        objects=objects,
        treatments=tuple(
            _treatment_numbers(problem, calendar, classes, index, t, number, kept.get(t.object_id, []))
            for index, t in enumerate(problem.treatments)
        ),
    )


def _object_numbers(
    problem: PlanningProblem, index: int, o: PlanObject, treatments: tuple[int, ...], must: bool
) -> ObjectNumbers:
    halls = [h.hall_id for h in problem.halls]
    baseline = problem.baseline
    planned = baseline is not None and any(j.object_id == o.object_id for j in baseline.plan.jobs)
    return ObjectNumbers(
        index=index,
        hall=halls.index(o.hall_id) if o.hall_id in halls else -1,
        display=o.display_m2,
        hung=o.hung,
        away_points=o.away_points,
        none_points=o.loss_if_never + (baseline.drop_points if baseline is not None and planned else 0),
        must=must,
        rules=tuple(r for r, rule in enumerate(problem.rules) if o.object_id in rule.object_ids),
        treatments=treatments,
    )


def _treatment_numbers(
    problem: PlanningProblem,
    calendar: Calendar,
    classes: tuple[SpaceClass, ...],
    index: int,
    treatment: PlanTreatment,
    number: dict[str, int],
    kept: list[Promise],
) -> TreatmentNumbers:
    months = calendar.opened
    allowed = (months >= treatment.earliest) & (months <= treatment.latest)
    for promise in kept:
        allowed &= (months == promise.start) & (promise.treatment_id == treatment.treatment_id)
    o = problem.objects[number[treatment.object_id]]
    spaces = [promise.space_ids for promise in kept if promise.space_ids is not None]
    trades = {t.trade_id: k for k, t in enumerate(problem.trades)}
    return TreatmentNumbers(
        index=index,
        object_index=number[treatment.object_id],
        cost=treatment.cost,
        stages=tuple(
            _stage_numbers(o, stage, _admitted(classes, stage, [s[k] for s in spaces if k < len(s)]), trades)
            for k, stage in enumerate(treatment.stages)
        ),
        start_allowed=allowed,
        start_points=_start_points(problem, treatment, months),
        loss=np.array(treatment.loss_if_done, dtype=np.int64),
    )


def _start_points(problem: PlanningProblem, treatment: PlanTreatment, months: Ints) -> Ints:
    """Points of rule 9 for each first start."""
    if problem.baseline is not None:
        for job in problem.baseline.plan.jobs:
            if job.object_id == treatment.object_id and job.stages:
                if job.treatment_id != treatment.treatment_id:
                    return np.full(months.size, problem.baseline.drop_points, dtype=np.int64)
                return np.abs(months - job.stages[0].start) * problem.baseline.move_points
    return np.zeros(months.size, dtype=np.int64)


def _admitted(classes: tuple[SpaceClass, ...], stage: PlanStage, named: list[str | None]) -> tuple[int, ...]:
    if stage.place is None or stage.place == "hall":
        return (-1,) if all(space is None for space in named) else ()
    wanted = [space for space in named if space is not None]
    return tuple(
        k for k, c in enumerate(classes) if c.admits(stage) and all(c.members == (space,) for space in wanted)
    )


def _stage_numbers(
    o: PlanObject, stage: PlanStage, classes: tuple[int, ...], trades: dict[str, int]
) -> StageNumbers:
    in_hall = stage.place == "hall"
    needs_space = stage.place is not None and not in_hall
    frees = stage.away and not in_hall and not o.hung and o.hall_id is not None
    return StageNumbers(
        months=stage.months,
        most_wait=stage.most_wait,
        classes=classes,
        area=stage.area_m2 if needs_space else 0,
        away=stage.away,
        floor=(stage.area_m2 if o.hung else max(0, stage.area_m2 - o.display_m2)) if in_hall else 0,
        frees=o.display_m2 if frees else 0,
        hours=tuple(
            (trades[trade], np.array(hours, dtype=np.int64))
            for trade, hours in sorted(stage.hours.items())
            if any(hours)
        ),
    )
