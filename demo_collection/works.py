"""What could be done for each object, what it would leave, and what is being done now."""

from __future__ import annotations

import math
from functools import cache

from demo_collection import airframes as air
from demo_collection import bench_work as bench
from demo_collection.anatomy import parts_of
from demo_collection.cast import CAST, Cast
from demo_collection.chance import stream
from demo_collection.museum import TRADES
from demo_collection.recipe import Recipe, Step

Row = dict[str, object]
FULL = {
    "fabric": air.FABRIC_FULL, "metal": air.METAL_FULL, "glider": air.GLIDER_FULL, "rotor": air.ROTOR_FULL,
    "engine": bench.ENGINE_FULL, "balloon": bench.BALLOON_FULL, "wreck": air.WRECK_FULL,
}  # fmt: skip
PART = {
    "fabric": air.FABRIC_PART, "metal": air.METAL_PART, "glider": air.GLIDER_PART, "rotor": air.ROTOR_PART,
    "engine": bench.ENGINE_PART, "balloon": bench.BALLOON_PART, "wood": air.HULL_PART,
    "simulator": bench.SMALL_PART, "model": bench.SMALL_PART,
}  # fmt: skip
_NORMAL_FLOOR = 90.0
_PLATFORM_M2 = 40
"""Clear floor under a hung object for a working platform and a fence round it."""

_GALLERY: dict[str, tuple[str, int, str, float, dict[str, float], dict[str, tuple[int, int | None]]]] = {
    # work: title, cost, causes ended, slows to, hours, what it leaves
    "tray": (
        "Fluid drained, drip tray and absorbent placed", 650, "oil leak", 0.95,
        {"engines and systems": 24, "conservation": 10}, {},
    ),
    "shade": (
        "Blind fitted and light measured again", 900, "daylight", 0.9,
        {"conservation": 16, "rigging": 10}, {},
    ),
    "roof": (
        "Drips caught and led away, roof light sealed", 2_400, "roof leak", 0.95,
        {"conservation": 14, "rigging": 16}, {},
    ),
    "support": (
        "Supports inspected by a competent person, fittings renewed", 2_800, "hanging load", 1.0,
        {"rigging": 90, "metalwork": 30, "conservation": 8}, {"suspension": (1, 95)},
    ),
    "clean": (
        "Surface cleaning, loose parts secured", 300, "visitors' touch", 0.92,
        {"conservation": 45}, {},
    ),
}  # fmt: skip
_TEMPLATES = {
    "t:fabric_recover": ("Partial re-covering, by the usual chain", 22_000, 0.75),
    "t:glider": ("Full restoration, by the usual chain", 15_000, 0.5),
    "t:metal_corrosion": ("Corrosion treatment, by the usual chain", 26_000, 0.65),
    "t:non_flying": ("Full restoration, by the usual chain", 12_000, 0.5),
    "t:engine": ("Opened up and preserved, by the usual chain", 7_000, 0.4),
    "t:rotorcraft": ("Full restoration, by the usual chain", 46_000, 0.5),
}
_LIKE = {
    "t:fabric_recover": PART["fabric"],
    "t:glider": FULL["glider"],
    "t:metal_corrosion": PART["metal"],
    "t:engine": FULL["engine"],
    "t:rotorcraft": FULL["rotor"],
}
"""Built-in chain -> the recipe whose effects a treatment by that chain is taken to have."""
_ENDS = {"part": "hanging load", "full": "oil leak;hanging load;damp", "onepiece": "damp"}
_SPECIAL: dict[str, dict[str, tuple[int, int | None]]] = {
    "M05-full": {
        "covering": (1, 15),
        "wings": (1, 88),
        "cockpit": (2, 80),
    },  # cloth soaked with oil cannot be kept
}
"""treatment_id -> effects that differ from its recipe."""
_TERMS: dict[str, Row] = {
    "E03-part": {"cost": 21_000, "slows_to": 0.5},  # part is paid by friends of the museum; shaded after
}
"""treatment_id -> what is agreed otherwise than its recipe says."""
_WINDOWS = {"M11-roof": ("2027-03", ""), "B02-part": ("", "2030-12"), "S04-full": ("2027-06", "")}
"""treatment_id -> not before, not after."""


def _recipe(c: Cast, work: str) -> Recipe:
    fixed = {"q": air.LARGE_PART, "onepiece": air.HULL_ONE_PIECE}
    return fixed[work] if work in fixed else (FULL if work == "f" else PART)[c.build]


def _id(c: Cast, work: str) -> str:
    names = {"f": "full", "p": "part", "q": "part"}
    return f"{c.object_id}-{names.get(work, work.removeprefix('t:').replace('_', '-'))}"


def _size(c: Cast, recipe: Recipe) -> float:
    return c.floor if recipe.per == "m2" else c.mass / 100


def _nice(value: float, step: int) -> int:
    return math.floor(value / step + 0.5) * step


@cache
def _all_works() -> tuple[tuple[Cast, str, str], ...]:
    """Return (object, work, treatment_id) of every treatment."""
    return tuple((c, work, _id(c, work)) for c in CAST for work in c.works)


def treatment_rows() -> list[Row]:
    """Return the rows of treatments.csv."""
    return [_treatment(c, work, tid) | _TERMS.get(tid, {}) for c, work, tid in _all_works()]


def _treatment(c: Cast, work: str, tid: str) -> Row:
    before, after = _WINDOWS.get(tid, ("", ""))
    row: Row = {"treatment_id": tid, "object_id": c.object_id, "not_before": before, "not_after": after}
    if work in _GALLERY:
        title, cost, ends, slows, _, _ = _GALLERY[work]
        return row | {
            "title": title,
            "kind": "in_gallery",
            "cost": cost,
            "ends_causes": ends,
            "slows_to": slows,
        }
    row |= {"kind": "workshop", "ends_causes": _ends(c, work)}
    if work in _TEMPLATES:
        title, cost, slows = _TEMPLATES[work]
        return row | {"title": title, "cost": cost, "slows_to": slows, "template": work.removeprefix("t:")}
    recipe = _recipe(c, work)
    noise = 0.9 + 0.2 * stream("cost", tid).random()
    cost = _nice((recipe.base_cost + recipe.unit_cost * _size(c, recipe)) * noise, 100)
    return row | {"title": recipe.title, "cost": cost, "slows_to": recipe.slows_to}


def _ends(c: Cast, work: str) -> str:
    code = "full" if work.startswith("t:") else _recipe(c, work).code
    if c.object_id == "E03":
        return "hanging load;daylight"  # hung again by the spars, lower and out of the sun
    if c.build == "wood":
        return "damp"
    return _ENDS[code] if c.hung or code != "part" else ""


def effect_rows() -> list[Row]:
    """Return the rows of treatment_effects.csv; a blank share kept means that nobody has judged it yet."""
    rows: list[Row] = []
    for c, work, tid in _all_works():
        own = {p.element_id for p in parts_of(c)}
        for element, (grade, kept) in _leaves(c, work).items():
            if element in own:
                row: Row = {"treatment_id": tid, "element_id": element, "grade_after": grade}
                rows.append(row | {"original_kept_pct": "" if kept is None else kept})
    return rows


def _leaves(c: Cast, work: str) -> dict[str, tuple[int, int | None]]:
    """Return what a treatment leaves: its recipe's effects, with what is special about this object."""
    return _usual(c, work) | _SPECIAL.get(_id(c, work), {})


def _usual(c: Cast, work: str) -> dict[str, tuple[int, int | None]]:
    if work in _GALLERY:
        return _GALLERY[work][5]
    if work in _TEMPLATES:
        return _LIKE[work].leaves if work in _LIKE else {"body": (2, 90), "engine": (2, 95), "cab": (2, 85)}
    return _recipe(c, work).leaves


def stage_rows() -> list[Row]:
    """Return the rows of stages.csv; treatments by a built-in chain have none."""
    rows: list[Row] = []
    for c, work, tid in _all_works():
        if work in _GALLERY:
            rows.append(_gallery_stage(tid, work))
        elif work not in _TEMPLATES:
            rows += _stages(c, _recipe(c, work), tid)
    return rows


def _gallery_stage(tid: str, work: str) -> Row:
    title, _, _, _, hours, _ = _GALLERY[work]
    row: Row = {"treatment_id": tid, "stage": 1, "title": title, "months": 1, "away": "no"}
    if work == "support":
        row |= {"place": "hall", "area_m2": _PLATFORM_M2}
    return row | {f"hours_{t}": hours.get(t, "") for t in TRADES}


def _stages(c: Cast, recipe: Recipe, tid: str) -> list[Row]:
    kept = [s for s in recipe.steps if not s.only or (s.only == "hung") == c.hung]
    kept = [s for s in kept if s.place != "hall" or c.hall_id]
    return [_stage(c, recipe, step, tid, n) for n, step in enumerate(kept, 1)]


def _stage(c: Cast, recipe: Recipe, step: Step, tid: str, number: int) -> Row:
    slow = (
        math.sqrt(max(0.6, c.floor / _NORMAL_FLOOR)) if recipe.per == "m2" and step.place != "hall" else 1.0
    )
    noise = 0.85 + 0.3 * stream("hours", tid, number).random()
    size = _size(c, recipe)
    row: Row = {
        "treatment_id": tid,
        "stage": number,
        "title": step.title,
        "months": max(1, int(step.months * min(slow, 1.5) + 0.5)),
        "place": step.place,
        "area_m2": _area(c, step) if step.place else "",
        "width_m": round(step.width * c.span, 2) if step.place else "",
        "height_m": round(step.height * c.height, 2) if step.place else "",
        "most_wait": step.wait,
        "away": "yes" if step.away else "no",
    }
    hours = {t: _nice(h * size * noise, 2) for t, h in step.need.items()}
    return row | {f"hours_{t}": hours.get(t) or "" for t in TRADES}


def _area(c: Cast, step: Step) -> int:
    return math.ceil(step.area * (c.reach if step.place == "hall" else c.floor))


def running_rows() -> list[Row]:
    """Return the rows of running.csv: a scout, an engine, a patrol aircraft."""
    return [
        {
            "object_id": "E05", "treatment_id": "E05-full", "stage": 4, "months_left": 4, "space_id": "STR-N",
            "hours_left_woodwork": 210, "hours_left_metalwork": 90,
        },
        {
            "object_id": "R03", "treatment_id": "R03-full", "stage": 3, "months_left": 2, "space_id": "STR-S",
            "hours_left_engines and systems": 130,
        },
        {
            "object_id": "A07", "treatment_id": "A07-part", "stage": 4, "months_left": 0, "space_id": "PAINT",
        },
    ]  # fmt: skip
