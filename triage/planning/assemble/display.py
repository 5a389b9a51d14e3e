"""Objects and the promises about what is on show."""

from __future__ import annotations

from collections.abc import Mapping

from triage.planning.assemble.horizon import Horizon
from triage.planning.problem import PlanObject, PlanRule
from triage.records import Collection, MuseumObject
from triage.records.vocabulary import Mounting
from triage.risk import ObjectLoss
from triage.units import round_down, round_up

SIGNIFICANCE_A_POINT = 20
"""A month off display costs one point for each 20 of significance begun (value judgement)."""


def away_points(item: MuseumObject) -> int:
    """Return what a month off display costs: as given, else 0 in store, else significance / 20 rounded up."""
    if item.away_points is not None:
        return item.away_points
    if item.hall_id is None or item.mounting is Mounting.STORE:
        return 0
    return round_up(item.significance / SIGNIFICANCE_A_POINT)


def plan_objects(collection: Collection, losses: Mapping[str, ObjectLoss]) -> tuple[PlanObject, ...]:
    """Return the objects; the floor one stands on is room it can free, so it rounds down."""
    return tuple(
        PlanObject(
            object_id=item.object_id,
            hall_id=item.hall_id,
            display_m2=round_down(item.display_m2),
            hung=item.hung,
            loss_if_never=round(losses[item.object_id].never),
            away_points=away_points(item),
        )
        for item in collection.objects
    )


def plan_rules(collection: Collection, horizon: Horizon) -> tuple[PlanRule, ...]:
    """Return the promises that touch the horizon, cut at its ends."""
    rules = []
    for rule in collection.display_rules:
        months = horizon.clip(rule.from_month, rule.to_month)
        if months:
            rules.append(
                PlanRule(
                    rule_id=rule.rule_id,
                    kind=rule.rule.value,
                    object_ids=rule.objects,
                    number=rule.number,
                    from_month=months[0],
                    to_month=months[-1],
                )
            )
    return tuple(rules)
