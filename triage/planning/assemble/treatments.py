"""Treatments that could be given: stages in whole months, hours, m2 and cm, rounded up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import accumulate

from triage.planning.assemble.horizon import Horizon
from triage.planning.problem import PlanStage, PlanTreatment
from triage.records import Stage, Treatment
from triage.units import cm_up, round_up, spread_evenly


def spread_hours(totals: Mapping[str, float], months: int) -> dict[str, tuple[int, ...]]:
    """Return each trade's hours a month: rounded up, differing by at most one, larger first; none where 0."""
    whole = {trade: round_up(total) for trade, total in totals.items()}
    return {trade: spread_evenly(total, months) for trade, total in whole.items() if total > 0}


def plan_stage(stage: Stage) -> PlanStage:
    """Return a stage with its needs rounded up; an unknown size is 0, which passes every door."""
    return PlanStage(
        months=stage.months,
        hours=spread_hours(stage.hours, stage.months),
        place=stage.place,
        area_m2=round_up(stage.area_m2),
        width_cm=cm_up(stage.width_m),
        height_cm=cm_up(stage.height_m),
        most_wait=stage.most_wait,
        away=stage.away,
    )


def whole_losses(if_done: Iterable[float]) -> tuple[int, ...]:
    """Return losses by month of ending as whole points that never fall.

    The value date is fixed, so what is renewed later is fresher on it, and for an element hardly worn the
    figure of the risk room can fall with a later end. That is no reason to put work off: such an end counts
    no less than the earlier ones before it.
    """
    return tuple(round(loss) for loss in accumulate(if_done, max))


def plan_treatment(
    treatment: Treatment, stages: Iterable[Stage], horizon: Horizon, if_done: Iterable[float]
) -> PlanTreatment:
    """Return a treatment with its window cut at the ends of the horizon.

    A window that lies outside leaves earliest > latest, which :func:`fits.reasons_against` names.
    """
    first = horizon.first_month
    earliest = 0 if treatment.not_before is None else max(0, treatment.not_before - first)
    latest = horizon.last if treatment.not_after is None else min(horizon.last, treatment.not_after - first)
    return PlanTreatment(
        treatment_id=treatment.treatment_id,
        object_id=treatment.object_id,
        cost=round_up(treatment.cost),
        earliest=earliest,
        latest=latest,
        loss_if_done=whole_losses(if_done),
        stages=tuple(plan_stage(stage) for stage in stages),
    )
