"""Plans between the search's numbers and the ids that leave it."""

from __future__ import annotations

from collections.abc import Iterable

from triage.planning.engine.assign import Assigned
from triage.planning.engine.columns import Selection, make_column, selection_of
from triage.planning.engine.instance import Instance
from triage.planning.engine.wire import SentJob


def sent_jobs(inst: Instance, plan: Selection, assigned: Assigned) -> tuple[SentJob, ...]:
    """Return a plan with its single spaces as ids and calendar months."""
    jobs: list[SentJob] = []
    for o in sorted(plan.columns):
        column = plan.columns[o]
        spaces = tuple(assigned.spaces.get((o, k)) for k in range(len(column.starts)))
        treatment = inst.problem.treatments[column.treatment]
        starts = tuple(inst.calendar.month(p) for p in column.starts)
        jobs.append((treatment.object_id, treatment.treatment_id, starts, spaces))
    return tuple(jobs)


def received_plan(inst: Instance, jobs: Iterable[SentJob]) -> Selection:
    """Rebuild a plan over this instance's classes."""
    number = {t.treatment_id: k for k, t in enumerate(inst.problem.treatments)}
    class_of = {space: g for g, one in enumerate(inst.classes) for space in one.members}
    columns = []
    for _, treatment_id, starts, spaces in jobs:
        positions = tuple(int(inst.calendar.position[m]) for m in starts)
        classes = tuple(-1 if space is None else class_of[space] for space in spaces)
        columns.append(make_column(inst, number[treatment_id], positions, classes))
    return selection_of(columns)
