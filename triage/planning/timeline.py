"""When a job works, stands and ends: rules 1 and 2 of the planning problem, for one job at a time.

Integers only. Knows nothing of room, hours or points; :mod:`triage.planning.ledger` adds those up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from triage.planning.problem import Job, PlanningProblem, PlanStage, PlanTreatment


@dataclass(frozen=True, slots=True)
class Calendar:
    """Which of the months 0..H-1 are open, and how many lie before each.

    ``before[m]`` is the number of open months in 0..m-1, for m in 0..H.
    """

    months: int
    open_months: tuple[int, ...]
    before: tuple[int, ...]

    def is_open(self, month: int) -> bool:
        """Return True if work goes on in this month (False outside the horizon)."""
        return 0 <= month < self.months and self.before[month + 1] > self.before[month]

    def open_between(self, start: int, end: int) -> int:
        """Return the number of open months in start..end-1 (both within 0..H)."""
        return self.before[end] - self.before[start]

    def working_months(self, start: int, count: int) -> tuple[int, ...]:
        """Return the first ``count`` open months from ``start``; fewer if the horizon ends first."""
        first = self.before[start]
        return self.open_months[first : first + count]


def calendar_of(problem: PlanningProblem) -> Calendar:
    """Return the problem's calendar; closed months outside the horizon are of no effect."""
    closed = set(problem.closed)
    is_open = [month not in closed for month in range(problem.months)]
    return Calendar(
        months=problem.months,
        open_months=tuple(m for m, yes in enumerate(is_open) if yes),
        before=tuple(accumulate(is_open, initial=0)),
    )


@dataclass(frozen=True, slots=True)
class StageSpan:
    """One stage in time: works in ``working``, keeps its place and away state in start..until-1."""

    stage: PlanStage
    start: int
    working: tuple[int, ...]
    until: int
    space_id: str | None

    @property
    def end(self) -> int:
        """The month after the last working month."""
        return self.working[-1] + 1


@dataclass(frozen=True, slots=True)
class Timeline:
    """One job in time. ``end`` is the month after the last stage's last working month (e of rule 1)."""

    treatment: PlanTreatment
    spans: tuple[StageSpan, ...]

    @property
    def object_id(self) -> str:
        """The object the job is on."""
        return self.treatment.object_id

    @property
    def start(self) -> int:
        """The month the first stage starts in."""
        return self.spans[0].start

    @property
    def end(self) -> int:
        """The month after the last working month of the last stage."""
        return self.spans[-1].end

    @property
    def away_months(self) -> int:
        """Months off display, waits and closed months included."""
        return sum(max(0, span.until - span.start) for span in self.spans if span.stage.away)


def timeline_of(calendar: Calendar, treatment: PlanTreatment, job: Job) -> Timeline | None:
    """Return the job in time, or None where it has none.

    A job has no timeline if its stages are not as many as its treatment's, a start lies outside the
    horizon, or a stage's work would outlast the horizon. Starts in closed months, too early or too
    late ones do have a timeline: what is wrong with them is for the checker to say.
    """
    starts = [placed.start for placed in job.stages]
    if len(starts) != len(treatment.stages) or not starts:
        return None
    spans = []
    followers: list[int | None] = [*starts[1:], None]
    for stage, placed, follower in zip(treatment.stages, job.stages, followers, strict=True):
        if not 0 <= placed.start < calendar.months:
            return None
        working = calendar.working_months(placed.start, stage.months)
        if len(working) < stage.months or not working:
            return None
        until = working[-1] + 1 if follower is None else follower
        spans.append(StageSpan(stage, placed.start, working, until, placed.space_id))
    return Timeline(treatment, tuple(spans))


def end_without_waits(calendar: Calendar, stages: Sequence[PlanStage], start: int) -> int | None:
    """Return the end of a job whose stages follow each other at once, or None if it outlasts the horizon."""
    end = start
    for stage in stages:
        if not 0 <= end < calendar.months:
            return None
        working = calendar.working_months(end, stage.months)
        if len(working) < stage.months or not working:
            return None
        end = working[-1] + 1
    return end
