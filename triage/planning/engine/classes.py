"""Classes of identical spaces.

Spaces with the same kind, doors, areas and slots are interchangeable, so a plan is first made over their
class with the room of all of them, and single spaces are chosen afterwards. A space named in a pin is a
class of its own, so that the pin can be kept.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from triage.planning.engine.calendar import Ints
from triage.planning.problem import PlanningProblem, PlanStage, SpaceRoom


@dataclass(frozen=True)
class SpaceClass:
    """Identical spaces: their ids, and area (months,) and slots (months,) of one of them."""

    members: tuple[str, ...]
    kind: str
    door_width_cm: int
    door_height_cm: int
    area: Ints
    slots: Ints

    def admits(self, stage: PlanStage) -> bool:
        """Return whether a stage is of this kind and passes the doors."""
        return (
            stage.place == self.kind
            and stage.width_cm <= self.door_width_cm
            and stage.height_cm <= self.door_height_cm
        )


def space_classes(problem: PlanningProblem, *, merge: bool = True) -> tuple[SpaceClass, ...]:
    """Group the spaces of a problem; with ``merge`` off every space is a class of its own."""
    named = {space for pin in problem.pins for space in pin.space_ids or () if space is not None}
    groups: dict[object, list[SpaceRoom]] = {}
    for space in problem.spaces:
        alone = space.space_id if not merge or space.space_id in named else None
        key = (alone, space.kind, space.door_width_cm, space.door_height_cm, space.area_m2, space.slots)
        groups.setdefault(key, []).append(space)
    return tuple(_class_of(members) for members in groups.values())


def _class_of(members: list[SpaceRoom]) -> SpaceClass:
    first = members[0]
    return SpaceClass(
        members=tuple(space.space_id for space in members),
        kind=first.kind,
        door_width_cm=first.door_width_cm,
        door_height_cm=first.door_height_cm,
        area=np.array(first.area_m2, dtype=np.int64),
        slots=np.array(first.slots, dtype=np.int64),
    )
