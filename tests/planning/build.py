"""Small problems built by hand: every field has a harmless value unless a test says otherwise."""

from __future__ import annotations

from typing import Any

from triage.planning.outcome import Violation
from triage.planning.points import score
from triage.planning.problem import (
    BudgetLimit,
    HallRoom,
    Job,
    PlacedStage,
    Plan,
    PlanningProblem,
    PlanObject,
    PlanRule,
    PlanStage,
    PlanTreatment,
    Points,
    SpaceRoom,
    TradeHours,
)
from triage.planning.verify import verify

H = 6


def stage(months: int = 1, **fields: Any) -> PlanStage:
    """Return a stage that needs nothing and takes nothing off display."""
    usual: dict[str, Any] = {
        "hours": {},
        "place": None,
        "area_m2": 0,
        "width_cm": 0,
        "height_cm": 0,
        "most_wait": 0,
        "away": False,
    }
    return PlanStage(months=months, **{**usual, **fields})


def treatment(object_id: str, *stages: PlanStage, months: int = H, **fields: Any) -> PlanTreatment:
    """Return the treatment ``T-<object_id>``; it loses 10 points a month of its end."""
    usual: dict[str, Any] = {
        "treatment_id": f"T-{object_id}",
        "cost": 0,
        "earliest": 0,
        "latest": months - 1,
        "loss_if_done": tuple(10 * e for e in range(months + 1)),
    }
    return PlanTreatment(object_id=object_id, stages=stages or (stage(),), **{**usual, **fields})


def thing(object_id: str, **fields: Any) -> PlanObject:
    """Return an object on the floor of hall east: 30 m2, 100 points if left alone."""
    usual: dict[str, Any] = {
        "hall_id": "east",
        "display_m2": 30,
        "hung": False,
        "loss_if_never": 100,
        "away_points": 1,
    }
    return PlanObject(object_id=object_id, **{**usual, **fields})


def space(space_id: str = "bay 1", months: int = H, **fields: Any) -> SpaceRoom:
    """Return a bay of 50 m2 for one job, with a door of 400 x 300 cm."""
    usual: dict[str, Any] = {
        "kind": "bay",
        "area_m2": (50,) * months,
        "slots": (1,) * months,
        "door_width_cm": 400,
        "door_height_cm": 300,
    }
    return SpaceRoom(space_id=space_id, **{**usual, **fields})


def hall(hall_id: str = "east", months: int = H, clear: int = 20, away: int = 9) -> HallRoom:
    """Return a hall."""
    return HallRoom(hall_id=hall_id, clear_m2=(clear,) * months, most_away=(away,) * months)


def trade(
    trade_id: str = "metal", months: int = H, hours: int = 10, most: int = 0, cost: int = 2
) -> TradeHours:
    """Return a trade."""
    return TradeHours(
        trade_id=trade_id, hours=(hours,) * months, overtime_most=(most,) * months, overtime_points=cost
    )


def rule(
    kind: Any, *object_ids: str, number: int | None = None, first: int = 0, last: int = H - 1
) -> PlanRule:
    """Return the display rule R."""
    return PlanRule(
        rule_id="R", kind=kind, object_ids=object_ids, number=number, from_month=first, to_month=last
    )


def budget(amount: int, first: int = 0, last: int = H - 1) -> BudgetLimit:
    """Return a budget."""
    return BudgetLimit(from_month=first, to_month=last, amount=amount)


def problem(*treatments: PlanTreatment, months: int = H, **fields: Any) -> PlanningProblem:
    """Return a problem with the objects its treatments need, hall east and trade metal."""
    ids = dict.fromkeys(t.object_id for t in treatments)
    usual: dict[str, Any] = {
        "first_month": "2030-01",
        "objects": tuple(thing(i) for i in ids),
        "halls": (hall(months=months),),
        "trades": (trade(months=months),),
        "spaces": (space(months=months),),
    }
    return PlanningProblem(months=months, treatments=treatments, **{**usual, **fields})


def job(object_id: str, *starts: int | tuple[int, str | None]) -> Job:
    """Return a job by its stages' starts, each a month or (month, space)."""
    placed = [
        PlacedStage(start=s, space_id=None) if isinstance(s, int) else PlacedStage(start=s[0], space_id=s[1])
        for s in starts
    ]
    return Job(object_id=object_id, treatment_id=f"T-{object_id}", stages=tuple(placed))


def plan(of: PlanningProblem, *jobs: Job, points: Points | None = None) -> Plan:
    """Return a plan with the right digest, and right points where the jobs have any."""
    if points is None:
        try:
            points = score(of, jobs)
        except ValueError:
            points = Points(loss=0, away=0, overtime=0, moves=0, total=0)
    return Plan(problem_digest=of.digest(), first_month=of.first_month, jobs=jobs, points=points)


def broken(of: PlanningProblem, *jobs: Job) -> list[int]:
    """Return the numbers of the rules the jobs break, each once."""
    return sorted({v.rule for v in verify(of, plan(of, *jobs))})


def only(found: tuple[Violation, ...]) -> Violation:
    """Return the one violation found."""
    assert len(found) == 1, [v.text for v in found]
    return found[0]
