"""How work on engines, balloons and small objects runs in the invented museum (figures invented)."""

from __future__ import annotations

from demo_collection.recipe import Recipe, Step, back, down, hours, study

ENGINE_FULL = Recipe(
    "full",
    "Opened up, cleaned and preserved inside and out",
    9_000,
    900,
    "100kg",
    (
        study(1, "c4"),
        Step("Moving out, draining, opening up, recording", 1, "strip", 4, hours("e8 c5 r2"), 1, 1, 4),
        Step("Cleaning, removal of corrosion, preservation", 4, "structure", 5, hours("e42 m10 c6"), 1, 1, 3),
        Step("Closing, coatings, photographs", 1, "assembly", 4, hours("e9 c4 f2"), 1, 1, 3),
        Step("Moving back to its stand", 1, "hall", 2, hours("r3"), 1, 1, 3),
    ),
    {
        "castings": (1, 93),
        "steelwork": (1, 97),
        "pipes": (1, 95),
        "hoses": (1, None),
        "stand": (1, 92),
    },
    0.4,
)
ENGINE_PART = Recipe(
    "part",
    "Corrosion removed outside, inhibited inside",
    1_500,
    220,
    "100kg",
    (
        Step("Moving out, draining, recording", 1, "strip", 4, hours("e4 c3 r2"), 1, 1, 3),
        Step("Removal of corrosion, inhibiting", 2, "structure", 5, hours("e11 m5 c3"), 1, 1, 3),
        Step("Moving back to its stand", 1, "hall", 2, hours("r3"), 1, 1, 3),
    ),
    {
        "castings": (2, 97),
        "steelwork": (2, 98),
    },
    0.65,
)
BALLOON_FULL = Recipe(
    "full",
    "Full conservation of envelope, basket and ropes",
    14_000,
    600,
    "100kg",
    (
        study(2, "c10"),
        Step("Taking down and moving out", 1, "hall", 1, hours("r6 c4"), wait=3),
        Step("Unfolding, surface cleaning, mapping", 2, "strip", 3, hours("c14 f7"), 0.6, 0.8, 4),
        Step("Support of fabric, seams and netting", 5, "paint", 3, hours("f36 c12"), 0.6, 0.8, 4),
        Step("Basket and fittings", 2, "structure", 2, hours("w9 m6 c5"), 0.6, 0.8, 3),
        Step("Rigging in the hall", 1, "hall", 1, hours("r6 c3"), 0.6, 0.8, 4),
    ),
    {
        "envelope": (1, 90),
        "basket": (1, 94),
        "netting": (1, 85),
        "instruments": (1, 97),
        "stand": (1, 92),
    },
    0.55,
)
BALLOON_PART = Recipe(
    "part",
    "Envelope supported, ropes relieved",
    4_000,
    220,
    "100kg",
    (
        Step("Taking down and moving out", 1, "hall", 1, hours("r4 c2"), wait=3),
        Step("Cleaning, support of seams, ropes relieved", 3, "paint", 2, hours("f14 c6"), 0.6, 0.8, 3),
        Step("Rigging in the hall", 1, "hall", 1, hours("r6 c2"), 0.6, 0.8, 3),
    ),
    {
        "envelope": (2, 96),
        "netting": (2, 92),
    },
    0.7,
)
SMALL_PART = Recipe(
    "part",
    "Repair and conservation of the worst parts",
    2_500,
    180,
    "100kg",
    (
        study(1, "c4"),
        down("r8 c2")[0],
        Step("Moving out, recording, opening up", 1, "strip", 1.6, hours("c8 r4"), 0.6, 1, 3),
        Step("Repair of structure and surfaces", 2, "structure", 2, hours("w18 m6 f6 c8"), 0.6, 1, 3),
        Step("Moving back", 1, "hall", 1.2, hours("r5"), 0.6, 1, 3, only="standing"),
        back("r10 c2")[0],
    ),
    {
        "shell": (1, 96),
        "bellows": (2, 90),
        "wiring": (2, 88),
        "structure": (1, 96),
        "surface": (2, 90),
    },
    0.7,
)
