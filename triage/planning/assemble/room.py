"""What there is: hours, spaces, halls and money, month by month, rounded down."""

from __future__ import annotations

from triage.planning.assemble.horizon import Horizon, by_month
from triage.planning.problem import BudgetLimit, HallRoom, SpaceRoom, TradeHours
from triage.records import Collection
from triage.records.vocabulary import Limited
from triage.units import cm_down, round_down

DOOR_NOT_CHECKED = 1_000_000
"""Opening in cm written for a door nobody measured: everything passes, and the words say "not checked"."""


def no_limit(collection: Collection) -> int:
    """Return a number of objects or jobs that no plan can exceed."""
    return max(1, len(collection.objects))


def trade_hours(collection: Collection, horizon: Horizon) -> tuple[TradeHours, ...]:
    """Return the hours of each trade, and its overtime, which an availability row leaves as it is."""
    return tuple(
        TradeHours(
            trade_id=trade.trade,
            hours=by_month(
                horizon,
                round_down(trade.hours_per_month),
                collection.availability,
                Limited.TRADE,
                trade.trade,
            ),
            overtime_most=(round_down(trade.overtime_hours),) * horizon.months,
            overtime_points=collection.settings.overtime_points,
        )
        for trade in collection.trades
    )


def space_rooms(collection: Collection, horizon: Horizon) -> tuple[SpaceRoom, ...]:
    """Return area, slots and door of each space."""
    rows, free = collection.availability, no_limit(collection)
    return tuple(
        SpaceRoom(
            space_id=space.space_id,
            kind=space.kind,
            area_m2=by_month(horizon, round_down(space.area_m2), rows, Limited.SPACE, space.space_id),
            slots=by_month(
                horizon, free if space.slots is None else space.slots, rows, Limited.SLOTS, space.space_id
            ),
            door_width_cm=cm_down(space.door_width_m, DOOR_NOT_CHECKED),
            door_height_cm=cm_down(space.door_height_m, DOOR_NOT_CHECKED),
        )
        for space in collection.spaces
    )


def hall_rooms(collection: Collection, horizon: Horizon) -> tuple[HallRoom, ...]:
    """Return clear floor and most away of each hall; one that is only named by objects has no clear floor."""
    rows, free = collection.availability, no_limit(collection)
    known = [
        HallRoom(
            hall_id=hall.hall_id,
            clear_m2=by_month(horizon, round_down(hall.clear_m2), rows, Limited.HALL, hall.hall_id),
            most_away=(free if hall.most_away is None else hall.most_away,) * horizon.months,
        )
        for hall in collection.halls
    ]
    named = {o.hall_id: None for o in collection.objects if o.hall_id is not None}
    unknown = [
        HallRoom(
            hall_id=hall_id,
            clear_m2=by_month(horizon, 0, rows, Limited.HALL, hall_id),
            most_away=(free,) * horizon.months,
        )
        for hall_id in named
        if hall_id not in collection.hall_by_id
    ]
    return (*known, *unknown)


def budget_limits(collection: Collection, horizon: Horizon) -> tuple[BudgetLimit, ...]:
    """Return the money of each calendar year that touches the horizon."""
    limits = []
    for row in collection.budget:
        months = horizon.clip(row.year * 12, row.year * 12 + 11)
        if months:
            limits.append(
                BudgetLimit(from_month=months[0], to_month=months[-1], amount=round_down(row.amount))
            )
    return tuple(limits)
