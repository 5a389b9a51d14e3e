"""How work on each build of object runs here: stages with this museum's own hours per m2 or per 100 kg.

Common practice without a source, invented figures. Areas are shares of length x span; door sizes shares of
span and height, or metres where the recipe says so.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Step:
    """One stage of a recipe; ``only``: hung or standing objects, blank: both."""

    title: str
    months: int
    place: str
    area: float
    hours: dict[str, float]
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


def _h(text: str) -> dict[str, float]:
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


_LOWER = "Lowering to clear floor, taking apart and moving out"


def _study(months: int, hours: str) -> Step:
    return Step("Evidence, research and plan of work", months, "", 0, _h(hours), away=False)


def _down(hours: str) -> tuple[Step, Step]:
    return (
        Step(
            _LOWER,
            1,
            "hall",
            1,
            _h(hours),
            only="hung",
            wait=3,
        ),
        Step("Taking apart and moving out", 1, "hall", 1, _h(hours), only="standing", wait=3),
    )


def _back(hours: str) -> tuple[Step, Step]:
    return (
        Step("Moving back, putting together and hoisting", 1, "hall", 1, _h(hours), only="hung", wait=6),
        Step("Moving back and putting together", 1, "hall", 1, _h(hours), only="standing", wait=4),
    )


FABRIC_FULL = Recipe(
    "full",
    "Full restoration",
    24_000,
    330,
    "m2",
    (
        _study(3, "c0.8"),
        *_down("r0.9 c0.3"),
        Step("Recording, opening up, survey of the hidden", 3, "strip", 0.55, _h("c3.4 f0.8 w0.5"), wait=6),
        Step("Repair of wood and metal structure", 6, "structure", 0.8, _h("w6.6 m2.6 c1 e1"), wait=3),
        Step("Covering, doping and drying, finish and markings", 4, "paint", 0.6, _h("f7.2 c0.8"), wait=4),
        Step("Trial assembly, rigging, inspection", 2, "assembly", 1.4, _h("r1.8 m0.5 c0.6 e0.4"), wait=4),
        *_back("r0.9 c0.3"),
    ),
    {
        "covering": (1, 45), "wings": (1, 92), "fuselage": (1, 92), "engine": (1, 94), "cockpit": (2, 88),
        "markings": (1, 55), "wires": (1, 70), "suspension": (1, 60), "tyres": (2, None),
    },
    0.8,
)  # fmt: skip
FABRIC_PART = Recipe(
    "part",
    "Partial re-covering and local repair",
    5_000,
    110,
    "m2",
    (
        _study(1, "c0.5"),
        *_down("r0.8 c0.2"),
        Step("Opening the worst panels, recording and survey", 1, "strip", 0.45, _h("c1.2 f0.6"), wait=4),
        Step("Local repair of structure", 2, "structure", 0.5, _h("w1.8 m0.6 c0.3"), wait=3),
        Step("Covering the opened panels, doping and drying", 2, "paint", 0.5, _h("f3 c0.5"), wait=3),
        *_back("r0.8 c0.2"),
    ),
    {"covering": (1, 74), "wings": (2, 96), "markings": (2, 80), "suspension": (1, 70)},
    0.85,
)
METAL_FULL = Recipe(
    "full",
    "Full restoration",
    30_000,
    420,
    "m2",
    (
        _study(3, "c0.9"),
        *_down("r1.2 c0.3 m0.5"),
        Step("Draining, opening up, recording, survey", 3, "strip", 0.6, _h("c3 m1.6 e1.4"), wait=6),
        Step("Corrosion removed, frames and skins repaired", 8, "structure", 0.8, _h("m12 c1.6 e2"), wait=3),
        Step("Protective coatings and markings", 3, "paint", 0.7, _h("f4 c0.8"), wait=4),
        Step("Trial assembly, inspection, photographs", 2, "assembly", 1.4, _h("r2 m1 c0.5"), wait=4),
        *_back("r1.2 c0.3"),
    ),
    {
        "skin": (1, 90), "frame": (1, 93), "engine": (1, 94), "cockpit": (2, 85), "glazing": (2, 70),
        "castings": (2, 80), "markings": (1, 60), "tyres": (2, None), "suspension": (1, 60),
    },
    0.7,
)  # fmt: skip
METAL_PART = Recipe(
    "part",
    "Corrosion treatment of the worst areas",
    6_000,
    130,
    "m2",
    (
        _study(1, "c0.5"),
        *_down("r1 c0.2"),
        Step(
            "Opening, corrosion mapped and removed",
            3,
            "structure",
            0.5,
            _h("m4.2 c1.4 e0.5"),
            wait=3,
        ),
        Step("Passivation, protective coatings", 2, "paint", 0.5, _h("f1.4 c0.5"), wait=3),
        *_back("r1 c0.2"),
    ),
    {"skin": (2, 96), "frame": (2, 97), "castings": (2, 88), "tyres": (2, None)},
    0.75,
)
LARGE_PART = Recipe(
    "part",
    "Treatment of outer wings and tail, fuselage cleaned",
    14_000,
    70,
    "m2",
    (
        _study(3, "c0.3"),
        Step("Outer wings and tail taken off and moved out", 1, "hall", 1, _h("r0.4 c0.1"), wait=3),
        Step(
            "Opening, corrosion mapped and removed",
            6,
            "structure",
            0.22,
            _h("m1.8 c0.5"),
            0.2,
            0.6,
            3,
        ),
        Step("Passivation, protective coatings", 3, "paint", 0.2, _h("f0.7 c0.2"), 0.15, 0.6, 3),
        Step("Putting together in the hall", 1, "hall", 1, _h("r0.4 c0.1"), wait=3),
    ),
    {"skin": (2, 96), "frame": (2, 97), "markings": (2, 85), "tyres": (2, None)},
    0.7,
)
GLIDER_FULL = Recipe(
    "full",
    "Full restoration",
    12_000,
    210,
    "m2",
    (
        _study(2, "c0.6"),
        *_down("r0.5 c0.2"),
        Step(
            "Opening up, recording, survey of glue joints",
            2,
            "strip",
            0.4,
            _h("c2 f0.5"),
            0.12,
            wait=6,
        ),
        Step("Repair of wood structure", 5, "structure", 0.55, _h("w5.5 c0.6 m0.5"), 0.12, wait=3),
        Step("Covering, doping and drying, finish", 3, "paint", 0.5, _h("f4.5 c0.4"), 0.12, wait=4),
        Step("Trial assembly, inspection, photographs", 1, "assembly", 1.2, _h("r0.9 c0.4"), 0.12, wait=4),
        *_back("r0.5 c0.2"),
    ),
    {
        "covering": (1, 45),
        "wings": (1, 93),
        "fuselage": (1, 93),
        "fittings": (1, 85),
        "seat": (2, 88),
        "suspension": (1, 60),
    },
    0.8,
)
GLIDER_PART = Recipe(
    "part",
    "Partial re-covering and repair of glue joints",
    3_000,
    70,
    "m2",
    (
        _study(1, "c0.4"),
        *_down("r0.5 c0.1"),
        Step("Opening, survey and repair of glue joints", 2, "structure", 0.4, _h("w1.8 c0.8"), 0.12, wait=3),
        Step("Covering the opened panels, doping and drying", 2, "paint", 0.4, _h("f1.8 c0.3"), 0.12, wait=3),
        *_back("r0.5 c0.1"),
    ),
    {"covering": (1, 72), "wings": (2, 96), "suspension": (1, 70)},
    0.85,
)
ROTOR_FULL = Recipe(
    "full",
    "Full restoration",
    22_000,
    360,
    "m2",
    (
        _study(2, "c0.8"),
        *_down("r0.9 c0.2"),
        Step("Recording, draining, opening up", 2, "strip", 0.55, _h("c2 m1 e2"), 0.3, 0.9, 6),
        Step("Structure repaired, gearbox preserved", 6, "structure", 0.75, _h("m6 e4 w2 c0.8"), 0.3, 0.9, 3),
        Step("Protective coatings and markings", 2, "paint", 0.65, _h("f3 c0.5"), 0.3, 0.9, 4),
        Step("Assembly, blades, inspection", 2, "assembly", 1.3, _h("r1.4 e0.8 c0.5"), 0.3, 0.9, 4),
        *_back("r0.8 c0.2"),
    ),
    {
        "skin": (1, 91), "gearbox": (1, 85), "blades": (2, 85), "engine": (1, 94), "glazing": (2, 70),
        "cabin": (2, 85), "markings": (1, 60), "tyres": (2, None),
    },
    0.75,
)  # fmt: skip
ROTOR_PART = Recipe(
    "part",
    "Gearbox preserved, corrosion treated",
    5_000,
    120,
    "m2",
    (
        _study(1, "c0.4"),
        *_down("r0.7 c0.2"),
        Step(
            "Drained, gearbox preserved, corrosion off",
            3,
            "structure",
            0.5,
            _h("m1.8 e2.4 c0.6"),
            0.3,
            0.9,
            3,
        ),
        Step("Protective coatings", 1, "paint", 0.5, _h("f1.2 c0.3"), 0.3, 0.9, 3),
        *_back("r0.7 c0.2"),
    ),
    {"gearbox": (2, 92), "skin": (2, 96), "engine": (2, 97)},
    0.8,
)
HULL_PART = Recipe(
    "part",
    "Repair of the planking and frames, in two halves",
    16_000,
    150,
    "m2",
    (
        _study(2, "c0.5"),
        *_down("r1.2 c0.3"),
        Step("Controlled drying, recording, survey", 3, "strip", 0.7, _h("c1.6 w0.4"), 0.22, 0.8, 4),
        Step(
            "Planking, frames, fastenings repaired",
            6,
            "structure",
            0.7,
            _h("w3.6 m0.6 c0.6"),
            0.22,
            0.8,
            3,
        ),
        Step("Paint after period evidence", 2, "paint", 0.7, _h("f1.6 c0.4"), 0.22, 0.8, 3),
        *_back("r1.2 c0.2"),
    ),
    {"hull": (1, 88), "frames": (1, 92), "fastenings": (1, 80), "markings": (1, 60)},
    0.8,
)
HULL_ONE_PIECE = Recipe(
    "onepiece",
    "Repair of the hull in one piece, joints never parted",
    9_000,
    120,
    "m2",
    (
        _study(2, "c0.5"),
        Step("Moving out in one piece", 1, "hall", 1, _h("r1.5 c0.3"), wait=3),
        Step(
            "Planking, frames, fastenings repaired",
            6,
            "structure",
            0.9,
            _h("w3.6 m0.6 c1"),
            0.46,
            0.95,
            3,
        ),
        Step("Moving back in one piece", 1, "hall", 1, _h("r1.5 c0.3"), 0.46, 0.95, 3),
    ),
    {"hull": (1, 93), "frames": (1, 95), "fastenings": (1, 85)},
    0.8,
)
ENGINE_FULL = Recipe(
    "full",
    "Opened up, cleaned and preserved inside and out",
    9_000,
    900,
    "100kg",
    (
        _study(1, "c4"),
        Step("Moving out, draining, opening up, recording", 1, "strip", 4, _h("e8 c5 r2"), 1, 1, 4),
        Step("Cleaning, removal of corrosion, preservation", 4, "structure", 5, _h("e42 m10 c6"), 1, 1, 3),
        Step("Closing, coatings, photographs", 1, "assembly", 4, _h("e9 c4 f2"), 1, 1, 3),
        Step("Moving back to its stand", 1, "hall", 2, _h("r3"), 1, 1, 3),
    ),
    {"castings": (1, 88), "steelwork": (1, 95), "pipes": (1, 92), "hoses": (1, None), "stand": (1, 90)},
    0.6,
)
ENGINE_PART = Recipe(
    "part",
    "Corrosion removed outside, inhibited inside",
    1_500,
    220,
    "100kg",
    (
        Step("Moving out, draining, recording", 1, "strip", 4, _h("e4 c3 r2"), 1, 1, 3),
        Step("Removal of corrosion, inhibiting", 2, "structure", 5, _h("e11 m5 c3"), 1, 1, 3),
        Step("Moving back to its stand", 1, "hall", 2, _h("r3"), 1, 1, 3),
    ),
    {"castings": (2, 95), "steelwork": (2, 97)},
    0.75,
)
BALLOON_FULL = Recipe(
    "full",
    "Full conservation of envelope, basket and ropes",
    14_000,
    600,
    "100kg",
    (
        _study(2, "c10"),
        Step("Taking down and moving out", 1, "hall", 1, _h("r6 c4"), wait=3),
        Step("Unfolding, surface cleaning, mapping", 2, "strip", 3, _h("c26 f12"), 0.6, 0.8, 4),
        Step("Support of fabric, seams and netting", 5, "paint", 3, _h("f70 c22"), 0.6, 0.8, 4),
        Step("Basket and fittings", 2, "structure", 2, _h("w24 m10 c8"), 0.6, 0.8, 3),
        Step("Rigging in the hall", 1, "hall", 1, _h("r10 c4"), 0.6, 0.8, 4),
    ),
    {"envelope": (1, 85), "basket": (1, 90), "netting": (1, 75), "instruments": (1, 95), "stand": (1, 80)},
    0.75,
)
BALLOON_PART = Recipe(
    "part",
    "Envelope supported, ropes relieved",
    4_000,
    220,
    "100kg",
    (
        Step("Taking down and moving out", 1, "hall", 1, _h("r4 c2"), wait=3),
        Step("Cleaning, support of seams, ropes relieved", 3, "paint", 2, _h("f24 c10"), 0.6, 0.8, 3),
        Step("Rigging in the hall", 1, "hall", 1, _h("r6 c2"), 0.6, 0.8, 3),
    ),
    {"envelope": (2, 94), "netting": (2, 88)},
    0.8,
)
SMALL_PART = Recipe(
    "part",
    "Repair and conservation of the worst parts",
    2_500,
    180,
    "100kg",
    (
        _study(1, "c4"),
        Step("Moving out, recording, opening up", 1, "strip", 1.6, _h("c8 r4"), 1, 1, 3),
        Step("Repair of structure and surfaces", 2, "structure", 2, _h("w18 m6 f6 c8"), 1, 1, 3),
        Step("Moving back", 1, "hall", 1.2, _h("r5"), 1, 1, 3),
    ),
    {"shell": (2, 94), "bellows": (2, 80), "wiring": (2, 70), "structure": (2, 95), "surface": (2, 80)},
    0.85,
)
WRECK_FULL = Recipe(
    "full",
    "Reconstruction with new structure and covering",
    20_000,
    380,
    "m2",
    FABRIC_FULL.steps,
    {"covering": (1, 2), "wings": (1, 25), "fuselage": (1, 35), "engine": (2, 85), "wires": (1, 5)},
    0.9,
)

FULL = {
    "fabric": FABRIC_FULL, "metal": METAL_FULL, "glider": GLIDER_FULL, "rotor": ROTOR_FULL,
    "engine": ENGINE_FULL, "balloon": BALLOON_FULL, "wreck": WRECK_FULL,
}  # fmt: skip
PART = {
    "fabric": FABRIC_PART, "metal": METAL_PART, "glider": GLIDER_PART, "rotor": ROTOR_PART,
    "engine": ENGINE_PART, "balloon": BALLOON_PART, "wood": HULL_PART, "simulator": SMALL_PART,
    "model": SMALL_PART,
}  # fmt: skip
