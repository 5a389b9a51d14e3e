"""The plan laid out in time: every job's stages with their months, and what uses which room when."""

from __future__ import annotations

from dataclasses import dataclass

from triage.planning.ledger import Ledger, Room
from triage.planning.points import timelines_of
from triage.planning.problem import PlanningProblem
from triage.planning.timeline import StageSpan, Timeline, calendar_of
from triage.records import Stage, Treatment
from triage.reports.rows import Span
from triage.reports.study import Study


@dataclass(frozen=True)
class PlannedJob:
    """A job of the plan with its months and the museum's own record of its treatment."""

    timeline: Timeline
    treatment: Treatment
    stages: tuple[Stage, ...]
    running: bool

    @property
    def object_id(self) -> str:
        """The object treated."""
        return self.timeline.object_id


class PlanView:
    """A study's plan in time. Without a plan it has no jobs.

    Raises
    ------
    ValueError
        If the plan was made for another problem.
    """

    def __init__(self, study: Study) -> None:
        self.study = study
        self.problem: PlanningProblem = study.assembled.problem
        self.jobs = tuple(sorted(_jobs(study), key=lambda j: (j.timeline.start, j.timeline.end, j.object_id)))
        self.by_object = {job.object_id: job for job in self.jobs}
        self.ledger = Ledger(Room(self.problem))
        for job in self.jobs:
            self.ledger.put(job.timeline)

    def span(self, start: int, until: int) -> Span:
        """Return the problem's months start..until-1 as calendar months."""
        first = self.study.collection.settings.first_month
        return Span(first + start, first + until - 1)

    def off_display(self, timeline: Timeline) -> tuple[Span, ...]:
        """Return when a job takes its object off display, runs of stages joined; never for one in store."""
        if self.problem.object_by_id[timeline.object_id].hall_id is None:
            return ()
        runs: list[tuple[int, int]] = []
        for span in timeline.spans:
            if not span.stage.away:
                continue
            if runs and runs[-1][1] == span.start:
                runs[-1] = (runs[-1][0], span.until)
            else:
                runs.append((span.start, span.until))
        return tuple(self.span(start, until) for start, until in runs)

    def is_away(self, object_id: str, month: int) -> bool:
        """Return whether an object is off display in a month of the problem."""
        return bool(self.ledger.gone[self.ledger.room.object_row[object_id], month] > 0)

    def waits(self, span: StageSpan) -> Span | None:
        """Return the months a stage stands after its work, or None."""
        return self.span(span.end, span.until) if span.until > span.end else None


def _jobs(study: Study) -> list[PlannedJob]:
    outcome, assembled = study.outcome, study.assembled
    if outcome is None or outcome.plan is None:
        return []
    calendar = calendar_of(assembled.problem)
    return [
        PlannedJob(
            timeline=timeline,
            treatment=study.collection.treatment_by_id[timeline.treatment.treatment_id],
            stages=assembled.stages_of[timeline.treatment.treatment_id],
            running=timeline.treatment.treatment_id in assembled.running,
        )
        for timeline in timelines_of(assembled.problem, calendar, outcome.plan.jobs)
    ]
