"""Valid plans found by chance: jobs are put one by one where they happen to fit."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterable, Iterator

from triage.planning.ledger import Ledger, Room
from triage.planning.points import score
from triage.planning.problem import Job, PlacedStage, Plan, PlanningProblem, PlanTreatment
from triage.planning.timeline import Calendar, calendar_of, timeline_of


def random_plan(problem: PlanningProblem, rng: random.Random, *, tries: int = 6) -> Plan:
    """Return a valid plan of a problem without pins and without a frozen former plan.

    Each object gets up to ``tries`` random jobs; the first that fits beside those before is kept.
    """
    calendar, ledger = calendar_of(problem), Ledger(Room(problem))
    choices = list(problem.treatments)
    rng.shuffle(choices)
    jobs: dict[str, Job] = {}
    for treatment in choices:
        for job in _random_jobs(problem, calendar, treatment, rng, tries):
            timeline = timeline_of(calendar, treatment, job)
            if treatment.object_id in jobs or timeline is None:
                continue
            beside = copy.deepcopy(ledger, {id(ledger.room): ledger.room})
            beside.put(timeline)
            if not beside.shortfalls():
                ledger = beside
                jobs[treatment.object_id] = job
    return plan_of(problem, jobs.values())


def plan_of(problem: PlanningProblem, jobs: Iterable[Job]) -> Plan:
    """Return well-formed jobs as a plan with its points and digest."""
    ordered = tuple(sorted(jobs, key=lambda j: j.object_id))
    return Plan(
        problem_digest=problem.digest(),
        first_month=problem.first_month,
        jobs=ordered,
        points=score(problem, ordered),
    )


def _random_jobs(
    problem: PlanningProblem, calendar: Calendar, treatment: PlanTreatment, rng: random.Random, tries: int
) -> Iterator[Job]:
    for _ in range(tries):
        if treatment.earliest > treatment.latest:
            return
        soonest = rng.randint(treatment.earliest, treatment.latest)
        month = next((m for m in calendar.open_months if m >= soonest), None)
        placed: list[PlacedStage] = []
        for number, stage in enumerate(treatment.stages):
            if month is None or (number == 0 and month > treatment.latest):
                break
            fits = [
                s.space_id
                for s in problem.spaces
                if s.kind == stage.place
                and stage.width_cm <= s.door_width_cm
                and stage.height_cm <= s.door_height_cm
            ]
            if stage.place not in (None, "hall") and not fits:
                return
            space = None if stage.place in (None, "hall") else rng.choice(fits)
            placed.append(PlacedStage(start=month, space_id=space))
            working = calendar.working_months(month, stage.months)
            if len(working) < stage.months:
                break
            month = _after(calendar, treatment, number, working[-1] + 1, rng)
        else:
            yield Job(
                object_id=treatment.object_id, treatment_id=treatment.treatment_id, stages=tuple(placed)
            )


def _after(
    calendar: Calendar, treatment: PlanTreatment, number: int, end: int, rng: random.Random
) -> int | None:
    """Return the start of the stage after ``number``, most often without a wait."""
    if number + 1 == len(treatment.stages):
        return end
    wait = rng.choice((0, 0, rng.randint(0, treatment.stages[number + 1].most_wait)))
    later = calendar.open_months[calendar.before[end] + wait :]
    return later[0] if later else None
