"""Work that goes on: the stages left, pinned to where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from triage.planning.assemble.horizon import Horizon
from triage.planning.assemble.treatments import plan_stage, spread_hours, whole_losses
from triage.planning.problem import Pin, PlanStage, PlanTreatment
from triage.records import Running, Stage, Treatment
from triage.records.vocabulary import HALL_PLACE


@dataclass(frozen=True)
class RunningJob:
    """A pinned treatment, the museum's stages that are left, and whether the horizon cut it short."""

    treatment: PlanTreatment
    pin: Pin
    stages: tuple[Stage, ...]
    months_cut: int


def present_stage(stage: Stage, running: Running) -> PlanStage:
    """Return what is left of the stage the work is in.

    ``months_left`` 0 means finished and standing there: one month without hours. A trade without
    ``hours_left`` has its hours pro rata, the hours of a month as before.
    """
    months = max(1, running.months_left)
    left: dict[str, float] = {}
    if running.months_left > 0:
        left = {trade: total * running.months_left / stage.months for trade, total in stage.hours.items()}
        left.update(running.hours_left)
    return plan_stage(stage).model_copy(update={"months": months, "hours": spread_hours(left, months)})


def cut_to(stages: Sequence[PlanStage], months: int) -> tuple[PlanStage, ...]:
    """Return the stages, back to back, as far as this many open months go."""
    kept: list[PlanStage] = []
    for stage in stages:
        if months == 0:
            break
        worked = min(stage.months, months)
        hours = {trade: hours[:worked] for trade, hours in stage.hours.items()}
        kept.append(stage.model_copy(update={"months": worked, "hours": hours}))
        months -= worked
    return tuple(kept)


def running_job(
    running: Running,
    treatment: Treatment,
    stages: Sequence[Stage],
    horizon: Horizon,
    if_done: Sequence[float],
) -> RunningJob | None:
    """Return the pinned job of running work, or None if no month is open or no stage is left.

    Cost 0 (it is spent), start in the first open month, the first stage in the space where it stands.
    """
    left = tuple(stage for stage in stages if stage.stage >= running.stage)
    if not left or not horizon.open_months:
        return None
    whole = (present_stage(left[0], running), *(plan_stage(stage) for stage in left[1:]))
    kept = cut_to(whole, len(horizon.open_months))
    start = horizon.open_months[0]
    in_space = left[0].place is not None and left[0].place != HALL_PLACE and running.space_id is not None
    return RunningJob(
        treatment=PlanTreatment(
            treatment_id=treatment.treatment_id,
            object_id=running.object_id,
            cost=0,
            earliest=start,
            latest=start,
            loss_if_done=whole_losses(if_done),
            stages=kept,
        ),
        pin=Pin(
            object_id=running.object_id,
            treatment_id=treatment.treatment_id,
            start=start,
            space_ids=(running.space_id, *(None,) * (len(kept) - 1)) if in_space else None,
        ),
        stages=left[: len(kept)],
        months_cut=sum(s.months for s in whole) - sum(s.months for s in kept),
    )
