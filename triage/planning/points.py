"""What a plan costs in points: rule 10 added up again from the plan alone, with no solver."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from triage.planning.problem import Job, PlanningProblem, Points
from triage.planning.timeline import Calendar, Timeline, calendar_of, end_without_waits, timeline_of


def timelines_of(problem: PlanningProblem, calendar: Calendar, jobs: Iterable[Job]) -> list[Timeline]:
    """Return the timelines of well-formed jobs.

    Raises
    ------
    ValueError
        If a job has no timeline (unknown treatment, wrong number of stages, outside the horizon).
    """
    found = []
    for job in jobs:
        treatment = problem.treatment_by_id.get(job.treatment_id)
        timeline = None if treatment is None else timeline_of(calendar, treatment, job)
        if timeline is None:
            raise ValueError(f"the job {job.treatment_id} on {job.object_id} has no timeline")
        found.append(timeline)
    return found


def points_of(problem: PlanningProblem, timelines: Sequence[Timeline]) -> Points:
    """Return the exact points of a set of jobs given as timelines."""
    treated = {t.object_id for t in timelines}
    loss = sum(o.loss_if_never for o in problem.objects if o.object_id not in treated)
    loss += sum(t.treatment.loss_if_done[t.end] for t in timelines)
    away = sum(t.away_months * problem.object_by_id[t.object_id].away_points for t in timelines)
    overtime = _overtime_points(problem, timelines)
    moves = _move_points(problem, timelines)
    return Points(loss=loss, away=away, overtime=overtime, moves=moves, total=loss + away + overtime + moves)


def score(problem: PlanningProblem, jobs: Iterable[Job]) -> Points:
    """Return the exact points of a set of jobs (rule 10), assuming they are well-formed.

    Objects without a job count at ``loss_if_never``; ``moves`` holds the dropped jobs too.

    Raises
    ------
    ValueError
        If a job has no timeline (unknown treatment, wrong number of stages, outside the horizon).
    """
    return points_of(problem, timelines_of(problem, calendar_of(problem), jobs))


def never(problem: PlanningProblem) -> int:
    """Return the points of doing nothing but the pinned jobs, each without waits, loss only.

    A pinned job that cannot end within the horizon (such a problem is impossible) counts as no job.
    """
    calendar = calendar_of(problem)
    total = 0
    for item in problem.objects:
        loss = item.loss_if_never
        pin = problem.pin_of.get(item.object_id)
        if pin is not None:
            treatment = problem.treatment_by_id[pin.treatment_id]
            end = end_without_waits(calendar, treatment.stages, pin.start)
            if end is not None:
                loss = treatment.loss_if_done[end]
        total += loss
    return total


def _overtime_points(problem: PlanningProblem, timelines: Iterable[Timeline]) -> int:
    used: Counter[tuple[str, int]] = Counter()
    for timeline in timelines:
        for span in timeline.spans:
            for trade_id, hours in span.stage.hours.items():
                for month, amount in zip(span.working, hours, strict=True):
                    used[trade_id, month] += amount
    trades = problem.trade_by_id
    return sum(
        max(0, amount - trades[trade_id].hours[month]) * trades[trade_id].overtime_points
        for (trade_id, month), amount in used.items()
    )


def _move_points(problem: PlanningProblem, timelines: Iterable[Timeline]) -> int:
    if problem.baseline is None:
        return 0
    now = {t.object_id: t for t in timelines}
    total = 0
    for job in problem.baseline.plan.jobs:
        kept = now.get(job.object_id)
        if kept is None or kept.treatment.treatment_id != job.treatment_id:
            total += problem.baseline.drop_points
        else:
            total += problem.baseline.move_points * abs(kept.start - job.stages[0].start)
    return total
