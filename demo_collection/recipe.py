"""How work on each build of object runs here: stages with this museum's own hours per m2 or per 100 kg.

Common practice without a source, invented figures. Areas are shares of length x span, on the
hall floor of that with room all round; door sizes are shares of span and height.
"""

from __future__ import annotations

from dataclasses import dataclass, field

_LOWER = "Lowering under a licensed lifting plan, taking apart, moving out"
_HOIST = "Moving back, putting together, hoisting under a licensed lifting plan"


@dataclass(frozen=True)
class Step:
    """One stage of a recipe; ``only``: hung or standing objects, blank: both."""

    title: str
    months: int
    place: str
    area: float
    need: dict[str, float]
    width: float = 0.25
    height: float = 0.85
    wait: int = 0
    away: bool = True
    only: str = ""


@dataclass(frozen=True)
class Recipe:
    """A treatment of one sort: its steps and what it leaves (element -> grade after, % of original kept)."""

    code: str
    title: str
    base_cost: int
    unit_cost: float
    per: str
    """``m2`` of length x span, or ``100kg``."""
    steps: tuple[Step, ...]
    leaves: dict[str, tuple[int, int | None]] = field(default_factory=dict)
    slows_to: float = 1.0


def hours(text: str) -> dict[str, float]:
    """Read ``c4 w2.5`` as hours by trade."""
    names = {
        "c": "conservation",
        "w": "woodwork",
        "m": "metalwork",
        "f": "fabric and dope",
        "e": "engines and systems",
        "r": "rigging",
    }
    return {names[part[0]]: float(part[1:]) for part in text.split()}


def study(months: int, need: str) -> Step:
    """Return the first stage: the object is still on show."""
    return Step("Evidence, research and plan of work", months, "", 0, hours(need), away=False)


def down(need: str) -> tuple[Step, Step]:
    """Return the way out: by lowering for hung objects, over the floor for others."""
    return (
        Step(_LOWER, 1, "hall", 1, hours(need), only="hung", wait=3),
        Step("Taking apart and moving out", 1, "hall", 1, hours(need), only="standing", wait=3),
    )


def back(need: str) -> tuple[Step, Step]:
    """Return the way back: hung objects are built up under the hook, which takes less floor than lowering."""
    return (
        Step(_HOIST, 1, "hall", 0.78, hours(need), only="hung", wait=6),
        Step("Moving back and putting together", 1, "hall", 1, hours(need), only="standing", wait=4),
    )
