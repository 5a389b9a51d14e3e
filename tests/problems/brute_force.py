"""Every plan of a tiny problem, tried one by one: a reference that shares no code with checker or engine.

A job is played month by month by the words of rules 1 and 2. Jobs are then combined object by object;
a branch is left only where what it already breaks can never be mended by further jobs (hours, floor of
spaces, away limits, display rules, budgets), or where its points cannot fall below the best plan found.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product

from triage.planning.problem import Job, PlacedStage, PlanningProblem, PlanObject, PlanTreatment


@dataclass
class Option:
    """One way to treat an object (or to leave it): its own points and what it uses."""

    object_id: str
    job: Job | None
    points: int
    cost: int = 0
    start: int = -1
    hours: Counter[tuple[str, int]] = field(default_factory=Counter)
    area: Counter[tuple[str, int]] = field(default_factory=Counter)
    slots: Counter[tuple[str, int]] = field(default_factory=Counter)
    away: set[int] = field(default_factory=set)
    in_hall: Counter[int] = field(default_factory=Counter)
    hall_stage: set[int] = field(default_factory=set)


def best_plan(problem: PlanningProblem) -> tuple[int, tuple[Job, ...]] | None:
    """Return the lowest total and its jobs, or None if no plan keeps all the rules."""
    menus = [sorted(_options(problem, thing), key=lambda o: o.points) for thing in problem.objects]
    if not all(menus):
        return None
    floors = [menu[0].points for menu in menus]
    search = _Search(problem, menus, [sum(floors[i:]) for i in range(len(floors) + 1)])
    search.descend([], 0)
    return None if search.best is None else (search.best, search.jobs)


def total_of(problem: PlanningProblem, jobs: Sequence[Job]) -> int | None:
    """Return the total of a set of jobs of known objects, or None if they break a rule."""
    chosen: list[Option] = []
    for thing in problem.objects:
        mine = [job for job in jobs if job.object_id == thing.object_id]
        options = [option for option in _options(problem, thing) if option.job == (mine[0] if mine else None)]
        if len(mine) > 1 or not options:
            return None
        chosen.append(options[0])
    overtime = _breaks_for_good(problem, chosen)
    if overtime is None or not _halls_hold(problem, chosen):
        return None
    return overtime + sum(option.points for option in chosen)


class _Search:
    def __init__(self, problem: PlanningProblem, menus: list[list[Option]], rest: list[int]) -> None:
        self.problem, self.menus, self.rest = problem, menus, rest
        self.best: int | None = None
        self.jobs: tuple[Job, ...] = ()

    def descend(self, chosen: list[Option], points: int) -> None:
        if self.best is not None and points + self.rest[len(chosen)] >= self.best:
            return
        overtime = _breaks_for_good(self.problem, chosen)
        if overtime is None:
            return
        if len(chosen) == len(self.menus):
            total = points + overtime
            if (self.best is None or total < self.best) and _halls_hold(self.problem, chosen):
                self.best = total
                self.jobs = tuple(o.job for o in chosen if o.job is not None)
            return
        for option in self.menus[len(chosen)]:
            self.descend([*chosen, option], points + option.points)


def _options(problem: PlanningProblem, thing: PlanObject) -> Iterator[Option]:
    pin = next((p for p in problem.pins if p.object_id == thing.object_id), None)
    old = _old_job(problem, thing.object_id)
    frozen = (
        old is not None
        and problem.baseline is not None
        and old.stages[0].start < problem.baseline.frozen_until
    )
    if pin is None and not frozen:
        dropped = problem.baseline.drop_points if old and problem.baseline else 0
        yield Option(thing.object_id, None, thing.loss_if_never + dropped)
    for treatment in problem.treatments:
        if treatment.object_id != thing.object_id:
            continue
        for job in _jobs(problem, treatment):
            first = job.stages[0].start
            if pin and (pin.treatment_id != job.treatment_id or pin.start != first):
                continue
            if (
                pin
                and pin.space_ids
                and any(
                    want is not None and want != placed.space_id
                    for want, placed in zip(pin.space_ids, job.stages, strict=True)
                )
            ):
                continue
            if frozen and old and (old.treatment_id != job.treatment_id or old.stages[0].start != first):
                continue
            option = _played(problem, thing, treatment, job)
            if option is not None:
                yield option


def _old_job(problem: PlanningProblem, object_id: str) -> Job | None:
    jobs = problem.baseline.plan.jobs if problem.baseline else ()
    return next((job for job in jobs if job.object_id == object_id), None)


def _jobs(problem: PlanningProblem, treatment: PlanTreatment) -> Iterator[Job]:
    """Yield every choice of starts and spaces; which of them keep rule 2 is found by playing them."""
    spaces = []
    for stage in treatment.stages:
        if stage.place is None or stage.place == "hall":
            spaces.append([None])
            continue
        spaces.append(
            [
                s.space_id  # type: ignore[misc]  # None and ids share the list of lists
                for s in problem.spaces
                if s.kind == stage.place
                and s.door_width_cm >= stage.width_cm
                and s.door_height_cm >= stage.height_cm
            ]
        )
    for starts in _rising(problem, len(treatment.stages)):
        if treatment.earliest <= starts[0] <= treatment.latest:
            for chosen in product(*spaces):
                placed = tuple(PlacedStage(start=m, space_id=s) for m, s in zip(starts, chosen, strict=True))
                yield Job(object_id=treatment.object_id, treatment_id=treatment.treatment_id, stages=placed)


def _rising(problem: PlanningProblem, count: int, first: int = 0) -> Iterator[tuple[int, ...]]:
    if count == 0:
        yield ()
        return
    for month in range(first, problem.months):
        if month not in problem.closed:
            for rest in _rising(problem, count - 1, month + 1):
                yield (month, *rest)


def _played(problem: PlanningProblem, thing: PlanObject, treatment: PlanTreatment, job: Job) -> Option | None:
    """Play a job month by month; None if it breaks rule 1 or 2."""
    option = Option(thing.object_id, job, 0, treatment.cost, job.stages[0].start)
    number, worked, waited = 0, 0, 0
    month = job.stages[0].start
    while True:
        if month >= problem.months:
            return None
        stages, stage = treatment.stages, treatment.stages[number]
        done = worked == stage.months
        if done and number + 1 < len(stages) and month == job.stages[number + 1].start:
            number, worked, waited = number + 1, 0, 0
            stage, done = stages[number], False
        elif number + 1 < len(stages) and month == job.stages[number + 1].start:
            return None  # the next stage would start before this one is done
        is_open = month not in problem.closed
        if is_open and not done:
            for trade, hours in stage.hours.items():
                option.hours[trade, month] += hours[worked]
            worked += 1
        elif is_open:
            waited += 1
            if waited > stages[number + 1].most_wait:
                return None
        _stand(option, thing, treatment, number, job.stages[number].space_id, month)
        month += 1
        if number + 1 == len(stages) and worked == stage.months:
            break
    option.points = treatment.loss_if_done[month] + thing.away_points * len(option.away)
    option.points += _departure(problem, thing.object_id, job)
    return option


def _stand(
    option: Option, thing: PlanObject, treatment: PlanTreatment, number: int, space: str | None, month: int
) -> None:
    stage = treatment.stages[number]
    if space is not None:
        option.area[space, month] += stage.area_m2
        option.slots[space, month] += 1
    if stage.away:
        option.away.add(month)
    if stage.place == "hall":
        option.hall_stage.add(month)
        option.in_hall[month] += stage.area_m2 if thing.hung else max(0, stage.area_m2 - thing.display_m2)


def _departure(problem: PlanningProblem, object_id: str, job: Job) -> int:
    old = _old_job(problem, object_id)
    if old is None or problem.baseline is None:
        return 0
    if old.treatment_id != job.treatment_id:
        return problem.baseline.drop_points
    return problem.baseline.move_points * abs(old.stages[0].start - job.stages[0].start)


def _breaks_for_good(problem: PlanningProblem, chosen: list[Option]) -> int | None:
    """Return the overtime points so far, or None if a limit is broken that more jobs cannot mend."""
    for budget in problem.budgets:
        spent = sum(o.cost for o in chosen if o.job and budget.from_month <= o.start <= budget.to_month)
        if spent > budget.amount:
            return None
    hall_of = {o.object_id: o.hall_id for o in problem.objects}
    overtime = 0
    for month in range(problem.months):
        for trade in problem.trades:
            extra = sum(o.hours[trade.trade_id, month] for o in chosen) - trade.hours[month]
            if extra > trade.overtime_most[month] and extra > 0:
                return None
            overtime += max(0, extra) * trade.overtime_points
        for space in problem.spaces:
            if sum(o.area[space.space_id, month] for o in chosen) > space.area_m2[month]:
                return None
            if sum(o.slots[space.space_id, month] for o in chosen) > space.slots[month]:
                return None
        gone = {o.object_id for o in chosen if month in o.away}
        for hall in problem.halls:
            if sum(hall_of[g] == hall.hall_id for g in gone) > hall.most_away[month]:
                return None
        if not all(
            _shown(rule.kind, set(rule.object_ids), rule.number, gone)
            for rule in problem.rules
            if rule.from_month <= month <= rule.to_month
        ):
            return None
    return overtime


def _shown(kind: str, group: set[str], number: int | None, gone: set[str]) -> bool:
    if kind == "on_show":
        return not group & gone
    if kind == "at_least":
        return len(group - gone) >= (number or 0)
    return len(group & gone) <= (1 if number is None else number)


def _halls_hold(problem: PlanningProblem, chosen: list[Option]) -> bool:
    """Return whether clear floor, with the spots of floor objects that are away, holds every hall stage."""
    by_id = {o.object_id: o for o in problem.objects}
    for hall in problem.halls:
        here = [o for o in chosen if by_id[o.object_id].hall_id == hall.hall_id]
        for month in range(problem.months):
            free = hall.clear_m2[month]
            for option in here:
                thing = by_id[option.object_id]
                if not thing.hung and month in option.away and month not in option.hall_stage:
                    free += thing.display_m2
            if sum(o.in_hall[month] for o in here) > free:
                return False
    return True
