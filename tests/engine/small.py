"""Problems small enough to read, and everything that can be done in them."""

from __future__ import annotations

from collections.abc import Iterator

from triage.planning.engine.columns import Key
from triage.planning.engine.instance import Instance
from triage.planning.problem import (
    PlanningProblem,
    PlanObject,
    PlanStage,
    PlanTreatment,
    SpaceRoom,
)

FIRST_MONTH = "2027-04"


def stage(months: int = 1, **changes: object) -> PlanStage:
    """One stage in a bay, 10 m2, off display, no hours."""
    usual: dict[str, object] = {
        "months": months,
        "hours": {},
        "place": "bay",
        "area_m2": 10,
        "width_cm": 100,
        "height_cm": 100,
        "most_wait": 0,
        "away": True,
    }
    return PlanStage.model_validate({**usual, **changes})


def thing(object_id: str, loss: int = 100) -> PlanObject:
    """An object in store."""
    return PlanObject(
        object_id=object_id, hall_id=None, display_m2=0, hung=False, loss_if_never=loss, away_points=0
    )


def treatment(object_id: str, months: int, *stages: PlanStage, losses: tuple[int, ...] = ()) -> PlanTreatment:
    """A free treatment that saves everything but one point a month."""
    return PlanTreatment(
        treatment_id=f"{object_id} work",
        object_id=object_id,
        cost=0,
        earliest=0,
        latest=months - 1,
        loss_if_done=losses or tuple(range(months + 1)),
        stages=stages,
    )


def bay(space_id: str, months: int, area: int = 10, slots: int = 1) -> SpaceRoom:
    """A bay with a 2 m door."""
    return SpaceRoom(
        space_id=space_id,
        kind="bay",
        area_m2=(area,) * months,
        slots=(slots,) * months,
        door_width_cm=200,
        door_height_cm=200,
    )


def one_bay(months: int = 6, objects: int = 3, **changes: object) -> PlanningProblem:
    """Objects that each need the only bay for two months."""
    names = [f"o{k}" for k in range(objects)]
    problem = PlanningProblem(
        first_month=FIRST_MONTH,
        months=months,
        spaces=(bay("b1", months),),
        objects=tuple(thing(name) for name in names),
        treatments=tuple(treatment(name, months, stage(2)) for name in names),
    )
    return problem.model_copy(update=changes)


def every_key(inst: Instance) -> Iterator[Key]:
    """Yield every job that keeps rules 1, 2, 3 (doors) and 9 taken alone, by plain recursion."""
    for t in inst.treatments:
        for start in range(inst.calendar.positions):
            if t.start_allowed[start]:
                yield from _longer(inst, t.index, (start,), ())


def _longer(
    inst: Instance, treatment_index: int, starts: tuple[int, ...], classes: tuple[int, ...]
) -> Iterator[Key]:
    stages = inst.treatments[treatment_index].stages
    here = stages[len(starts) - 1]
    after = starts[-1] + here.months
    for g in here.classes:
        if len(starts) == len(stages):
            if after <= inst.calendar.positions:
                yield treatment_index, starts, (*classes, g)
            continue
        for wait in range(stages[len(starts)].most_wait + 1):
            if after + wait < inst.calendar.positions:
                yield from _longer(inst, treatment_index, (*starts, after + wait), (*classes, g))
