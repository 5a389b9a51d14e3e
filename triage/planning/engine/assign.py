"""From classes to single spaces: which of some identical spaces each stage stands in.

A class of one space needs no choice. For the others the stages, in order of their start, are placed in the
fullest space that has room, by a search that goes back when one does not fit, up to a number of steps.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from triage.planning.engine.calendar import Ints
from triage.planning.engine.columns import Selection, stage_spans
from triage.planning.engine.instance import Instance

STEPS = 4000


@dataclass(frozen=True)
class Stay:
    """One stage in a class of spaces, from a month to the month after its last."""

    object_index: int
    stage: int
    begin: int
    end: int
    area: int


@dataclass(frozen=True)
class Assigned:
    """Space of each (object, stage) that stands in one, or the object that could not be placed."""

    spaces: dict[tuple[int, int], str]
    misfit: int | None
    proven: bool
    """True if a misfit is certain: every way was tried."""


def assign(inst: Instance, selection: Selection) -> Assigned:
    """Choose a single space for every stage of a plan over classes."""
    stays: dict[int, list[Stay]] = {}
    for o, column in selection.columns.items():
        spans = stage_spans(inst, column.treatment, column.starts)
        stages = inst.treatments[column.treatment].stages
        for k, (g, (begin, end)) in enumerate(zip(column.classes, spans, strict=True)):
            if g >= 0:
                stays.setdefault(g, []).append(Stay(o, k, begin, end, stages[k].area))
    spaces: dict[tuple[int, int], str] = {}
    for g, items in stays.items():
        members = inst.classes[g].members
        if len(members) == 1:
            spaces.update({(s.object_index, s.stage): members[0] for s in items})
            continue
        packed = _Packing(inst, g, items).search()
        if packed.misfit is not None:
            return packed
        spaces.update(packed.spaces)
    return Assigned(spaces, None, False)


class _Packing:
    """Depth-first search for one class."""

    def __init__(self, inst: Instance, g: int, items: list[Stay]) -> None:
        one = inst.classes[g]
        self.members = one.members
        self.items = sorted(items, key=lambda s: (s.begin, -s.area * (s.end - s.begin), s.object_index))
        self.area: Ints = np.tile(one.area, (len(one.members), 1))
        self.slots: Ints = np.tile(one.slots, (len(one.members), 1))
        self.steps = 0
        self.deepest = 0

    def search(self) -> Assigned:
        """Place every stay or say which one does not fit."""
        placed: list[int] = []
        untried: list[list[int]] = [self._choices(0)]
        while untried and self.steps < STEPS:
            self.steps += 1
            if not untried[-1]:
                untried.pop()
                if placed:
                    self._move(self.items[len(placed) - 1], placed.pop(), 1)
                continue
            member = untried[-1].pop()
            self._move(self.items[len(placed)], member, -1)
            placed.append(member)
            if len(placed) == len(self.items):
                chosen = zip(self.items, placed, strict=True)
                return Assigned({(s.object_index, s.stage): self.members[m] for s, m in chosen}, None, False)
            self.deepest = max(self.deepest, len(placed))
            untried.append(self._choices(len(placed)))
        return Assigned({}, self.items[self.deepest].object_index, not untried)

    def _choices(self, index: int) -> list[int]:
        """Spaces with room for a stay, the fullest last; of spaces in the same state only one."""
        stay = self.items[index]
        span = slice(stay.begin, stay.end)
        found: dict[bytes, tuple[int, int]] = {}
        for m in range(len(self.members)):
            area, slots = self.area[m, stay.begin :], self.slots[m, stay.begin :]
            if np.all(self.area[m, span] >= stay.area) and np.all(self.slots[m, span] >= 1):
                found.setdefault(area.tobytes() + slots.tobytes(), (int(self.area[m, span].sum()), m))
        return [m for _, m in sorted(found.values(), reverse=True)]

    def _move(self, stay: Stay, member: int, sign: int) -> None:
        self.area[member, stay.begin : stay.end] += sign * stay.area
        self.slots[member, stay.begin : stay.end] += sign
