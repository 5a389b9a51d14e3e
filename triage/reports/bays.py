"""Bays and hall floors over the months: who stands where, who waits, when all work stands still."""

from __future__ import annotations

from itertools import groupby
from operator import itemgetter

from triage.planning.ledger import Grid
from triage.records.vocabulary import HALL_PLACE
from triage.reports.cautions import FLOOR_IS_AREA
from triage.reports.queue import stage_cautions
from triage.reports.rows import BayBar, BayLane, Span
from triage.reports.study import Study
from triage.reports.view import PlannedJob, PlanView
from triage.reports.words import hall_name


def bay_lanes(study: Study) -> tuple[BayLane, ...]:
    """Return every space, then every hall whose floor some treatment works on, in the record's order."""
    view = PlanView(study)
    spaces = [_space_lane(view, row) for row in range(len(view.problem.spaces))]
    working = {
        view.problem.object_by_id[t.object_id].hall_id
        for t in view.problem.treatments
        if any(stage.place == HALL_PLACE for stage in t.stages)
    }
    halls = [_hall_lane(view, row) for row, hall in enumerate(view.problem.halls) if hall.hall_id in working]
    return (*spaces, *halls)


def closed_spans(study: Study) -> tuple[Span, ...]:
    """Return the months in which all work stands still, neighbours joined."""
    first, runs = study.collection.settings.first_month, []
    for _, group in groupby(enumerate(study.assembled.problem.closed), key=lambda pair: pair[1] - pair[0]):
        months = [month for _, month in group]
        runs.append(Span(first + months[0], first + months[-1]))
    return tuple(runs)


def _space_lane(view: PlanView, row: int) -> BayLane:
    room = view.problem.spaces[row]
    space = view.study.collection.space_by_id[room.space_id]
    known = space.door_width_m is not None and space.door_height_m is not None
    return BayLane(
        lane_id=room.space_id,
        name=space.called,
        what="space",
        kind=space.kind,
        area_m2=room.area_m2,
        used_m2=_numbers(view.ledger.area[row]),
        slots=None if space.slots is None else room.slots,
        used_slots=_numbers(view.ledger.slots[row]),
        bars=_bars(view, room.space_id),
        note="" if known else "Its door is not measured: not checked.",
    )


def _hall_lane(view: PlanView, row: int) -> BayLane:
    room = view.problem.halls[row]
    bars = _bars(view, room.hall_id, hall=True)
    first = view.study.collection.settings.first_month
    busy = [
        sum(b.work.from_month <= first + m <= (b.waits or b.work).to_month for b in bars)
        for m in range(view.problem.months)
    ]
    return BayLane(
        lane_id=room.hall_id,
        name=f"Floor of {hall_name(view.study.collection, room.hall_id)}",
        what="hall",
        kind="hall floor",
        area_m2=_numbers(view.ledger.room.clear[row] + view.ledger.freed[row]),
        used_m2=_numbers(view.ledger.floor[row]),
        slots=None,
        used_slots=tuple(busy),
        bars=bars,
        note=FLOOR_IS_AREA,
    )


def _bars(view: PlanView, lane_id: str, hall: bool = False) -> tuple[BayBar, ...]:
    bars = []
    for job in view.jobs:
        home = view.problem.object_by_id[job.object_id].hall_id
        for number, span in enumerate(job.timeline.spans):
            here = span.stage.place == HALL_PLACE and home == lane_id if hall else span.space_id == lane_id
            if here:
                bars.append((span.start, _bar(view, job, number, lane_id)))
    return tuple(bar for _, bar in sorted(bars, key=itemgetter(0)))


def _bar(view: PlanView, job: PlannedJob, number: int, lane_id: str) -> BayBar:
    span, stage = job.timeline.spans[number], job.stages[number]
    item = view.problem.object_by_id[job.object_id]
    own_spot = 0 if item.hung or stage.place != HALL_PLACE else item.display_m2
    return BayBar(
        lane_id=lane_id,
        object_id=job.object_id,
        object_name=view.study.collection.object_by_id[job.object_id].called,
        treatment_title=job.treatment.called,
        stage_number=stage.stage,
        stage_title=stage.title or f"Stage {stage.stage}",
        work=view.span(span.start, span.end),
        waits=view.waits(span),
        area_m2=max(0, span.stage.area_m2 - own_spot),
        running=job.running,
        cautions=stage_cautions(view, job, number),
    )


def _numbers(row: Grid) -> tuple[int, ...]:
    return tuple(row.tolist())
