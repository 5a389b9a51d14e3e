"""Which way an object leaves its hall and comes back, and in which size it passes the hall's door.

A stage's width and height are those with which the object passes the door into that stage's space. It passes
the door of its own hall twice: going out with the size of the first stage outside the hall, coming back with
the size of the last stage outside (or of the hall stage after it, where that gives a smaller one: the object
is taken apart for the way back).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from triage.records.objects import Hall
from triage.records.vocabulary import HALL_PLACE
from triage.records.workshop import Stage
from triage.units import cm_down, cm_up


@dataclass(frozen=True)
class Passage:
    """One way through the hall's door: the stage whose size counts."""

    way: str
    stage: Stage
    width_m: float | None
    height_m: float | None


def outside_hall(stage: Stage) -> bool:
    """Return whether the object has left its hall: it is in a space, or away on no floor of ours."""
    return stage.place != HALL_PLACE and (stage.place is not None or stage.away)


def passages(stages: Sequence[Stage], already_out: bool = False) -> tuple[Passage, ...]:
    """Return the ways through the hall's door, none if the object never leaves its hall."""
    outside = [i for i, stage in enumerate(stages) if outside_hall(stage)]
    if not outside:
        return ()
    first, last = stages[outside[0]], stages[outside[-1]]
    after = stages[outside[-1] + 1] if outside[-1] + 1 < len(stages) else None
    back = Passage("back in", last, last.width_m, last.height_m)
    if after is not None and after.place == HALL_PLACE:
        back = Passage("back in", last, *(_smaller(last, after)))
    if already_out:
        return (back,)
    return Passage("out", first, first.width_m, first.height_m), back


def _smaller(last: Stage, after: Stage) -> tuple[float | None, float | None]:
    """Return the smaller size, for each measure that both stages give."""
    widths = [w for w in (last.width_m, after.width_m) if w is not None]
    heights = [h for h in (last.height_m, after.height_m) if h is not None]
    return min(widths, default=None), min(heights, default=None)


def too_big_for(passage: Passage, hall: Hall) -> str:
    """Return why the object does not pass its hall's door, or an empty text if it does or nobody knows."""
    measures = (
        ("wide", passage.width_m, hall.door_width_m),
        ("high", passage.height_m, hall.door_height_m),
    )
    for word, need, door in measures:
        if door is not None and cm_up(need) > cm_down(door, 0):
            return (
                f"it is {need:g} m {word} on its way {passage.way} (stage {passage.stage.stage}), "
                f"the door of {hall.called} is {door:g} m {word}"
            )
    return ""
