"""How work on airframes runs in the invented museum (figures invented)."""

from __future__ import annotations

from demo_collection.recipe import Recipe, Step, back, down, hours, study

FABRIC_FULL = Recipe(
    "full",
    "Full restoration",
    20_000,
    300,
    "m2",
    (
        study(3, "c0.8"),
        *down("r0.7 c0.3"),
        Step("Recording, opening up, survey", 3, "strip", 0.55, hours("c3.4 f0.8 w0.5"), wait=6),
        Step("Repair of wood and metal structure", 6, "structure", 0.8, hours("w5.2 m2.6 c1 e1"), wait=3),
        Step("Covering, doping and drying, finish and markings", 4, "paint", 0.6, hours("f4.2 c0.8"), wait=4),
        Step("Trial assembly, rigging, inspection", 2, "assembly", 1.4, hours("r1.8 m0.5 c0.6 e0.4"), wait=4),
        *back("r0.7 c0.3"),
    ),
    {
        "covering": (1, 68), "wings": (1, 95), "fuselage": (1, 95), "engine": (1, 96), "cockpit": (2, 92),
        "markings": (1, 75), "wires": (1, 80), "suspension": (1, 90), "tyres": (2, None),
    },
    0.5,
)  # fmt: skip
FABRIC_PART = Recipe(
    "part",
    "Partial re-covering and local repair",
    7_000,
    150,
    "m2",
    (
        study(1, "c0.5"),
        *down("r0.6 c0.2"),
        Step("Opening the worst panels, recording and survey", 2, "strip", 0.45, hours("c1 f0.5"), wait=4),
        Step("Local repair of structure", 2, "structure", 0.5, hours("w1.3 m0.6 c0.3"), wait=3),
        Step("Covering the opened panels, doping and drying", 3, "paint", 0.5, hours("f2.2 c0.4"), wait=3),
        *back("r0.6 c0.2"),
    ),
    {
        "covering": (1, 86),
        "wings": (2, 97),
        "markings": (2, 90),
        "suspension": (1, 90),
    },
    0.75,
)
METAL_FULL = Recipe(
    "full",
    "Full restoration",
    24_000,
    340,
    "m2",
    (
        study(3, "c0.9"),
        *down("r0.8 c0.3 m0.5"),
        Step("Draining, opening up, recording, survey", 3, "strip", 0.6, hours("c3 m1.6 e1.4"), wait=6),
        Step("Corrosion removed, frames, skins repaired", 8, "structure", 0.8, hours("m10 c1.6 e2"), wait=3),
        Step("Protective coatings and markings", 3, "paint", 0.7, hours("f3.2 c0.8"), wait=4),
        Step("Trial assembly, inspection, photographs", 2, "assembly", 1.4, hours("r2 m1 c0.5"), wait=4),
        *back("r0.8 c0.3"),
    ),
    {
        "skin": (1, 94), "frame": (1, 95), "engine": (1, 96), "cockpit": (2, 90), "glazing": (2, 80),
        "gearbox": (2, 85), "markings": (1, 75), "tyres": (2, None), "suspension": (1, 90),
    },
    0.45,
)  # fmt: skip
METAL_PART = Recipe(
    "part",
    "Corrosion treatment of the worst areas",
    8_000,
    150,
    "m2",
    (
        study(1, "c0.5"),
        *down("r0.5 c0.2"),
        Step(
            "Opening, corrosion mapped and removed",
            3,
            "structure",
            0.5,
            hours("m4.2 c1.4 e0.5"),
            wait=3,
        ),
        Step("Passivation, protective coatings", 2, "paint", 0.5, hours("f1.4 c0.5"), wait=3),
        *back("r0.5 c0.2"),
    ),
    {
        "skin": (2, 97),
        "frame": (2, 98),
        "gearbox": (2, 92),
        "tyres": (2, None),
        "suspension": (1, 90),
    },
    0.65,
)
LARGE_PART = Recipe(
    "part",
    "Treatment of outer wings and tail, fuselage cleaned",
    8_000,
    42,
    "m2",
    (
        study(3, "c0.15"),
        Step("Outer wings and tail taken off and moved out", 1, "hall", 1, hours("r0.16 c0.06"), wait=3),
        Step(
            "Opening, corrosion mapped and removed",
            4,
            "structure",
            0.14,
            hours("m1.3 c0.3"),
            0.2,
            0.6,
            3,
        ),
        Step("Passivation, protective coatings", 2, "paint", 0.13, hours("f0.5 c0.15"), 0.15, 0.6, 3),
        Step("Putting together in the hall", 1, "hall", 1, hours("r0.16 c0.06"), wait=3),
    ),
    {
        "skin": (1, 97),
        "frame": (2, 98),
        "markings": (2, 92),
        "tyres": (2, None),
    },
    0.55,
)
GLIDER_FULL = Recipe(
    "full",
    "Full restoration",
    14_000,
    260,
    "m2",
    (
        study(2, "c0.6"),
        *down("r0.5 c0.2"),
        Step(
            "Opening up, recording, survey of glue joints",
            2,
            "strip",
            0.4,
            hours("c2 f0.5"),
            0.12,
            wait=6,
        ),
        Step("Repair of wood structure", 5, "structure", 0.55, hours("w4.4 c0.6 m0.5"), 0.12, wait=3),
        Step("Covering, doping and drying, finish", 3, "paint", 0.5, hours("f3.1 c0.4"), 0.12, wait=4),
        Step("Trial assembly, inspection, photographs", 1, "assembly", 1.2, hours("r0.9 c0.4"), 0.12, wait=4),
        *back("r0.5 c0.2"),
    ),
    {
        "covering": (1, 66),
        "wings": (1, 95),
        "fuselage": (1, 95),
        "fittings": (1, 90),
        "seat": (2, 92),
        "suspension": (1, 90),
    },
    0.5,
)
GLIDER_PART = Recipe(
    "part",
    "Partial re-covering and repair of glue joints",
    6_000,
    130,
    "m2",
    (
        study(1, "c0.4"),
        *down("r0.5 c0.1"),
        Step(
            "Opening, survey and repair of glue joints", 2, "structure", 0.4, hours("w1.4 c0.8"), 0.12, wait=3
        ),
        Step(
            "Covering the opened panels, doping and drying", 3, "paint", 0.4, hours("f1.8 c0.3"), 0.12, wait=3
        ),
        *back("r0.5 c0.1"),
    ),
    {
        "covering": (1, 85),
        "wings": (2, 97),
        "suspension": (1, 90),
    },
    0.75,
)
ROTOR_FULL = Recipe(
    "full",
    "Full restoration",
    22_000,
    360,
    "m2",
    (
        study(2, "c0.8"),
        *down("r0.9 c0.2"),
        Step("Recording, draining, opening up", 2, "strip", 0.55, hours("c2 m1 e2"), 0.3, 0.9, 6),
        Step("Structure and gearbox", 6, "structure", 0.75, hours("m6 e4 w2 c0.8"), 0.3, 0.9, 3),
        Step("Protective coatings and markings", 2, "paint", 0.65, hours("f2.2 c0.4"), 0.3, 0.9, 4),
        Step("Assembly, blades, inspection", 2, "assembly", 1.3, hours("r1.4 e0.8 c0.5"), 0.3, 0.9, 4),
        *back("r0.6 c0.2"),
    ),
    {
        "skin": (1, 94), "gearbox": (1, 90), "blades": (1, 92), "engine": (1, 96), "glazing": (2, 80),
        "cabin": (2, 90), "markings": (1, 75), "tyres": (2, None),
    },
    0.5,
)  # fmt: skip
ROTOR_PART = Recipe(
    "part",
    "Gearbox preserved, corrosion treated",
    8_000,
    180,
    "m2",
    (
        study(1, "c0.4"),
        *down("r0.7 c0.2"),
        Step(
            "Drained, gearbox preserved, corrosion off",
            3,
            "structure",
            0.5,
            hours("m1.8 e2.4 c0.6"),
            0.3,
            0.9,
            3,
        ),
        Step("Protective coatings", 1, "paint", 0.5, hours("f1.2 c0.3"), 0.3, 0.9, 3),
        *back("r0.7 c0.2"),
    ),
    {
        "gearbox": (1, 94),
        "skin": (2, 97),
        "engine": (2, 98),
    },
    0.7,
)
HULL_PART = Recipe(
    "part",
    "Repair of the planking and frames, in two halves",
    18_000,
    190,
    "m2",
    (
        study(2, "c0.5"),
        *down("r0.7 c0.3"),
        Step("Controlled drying, recording, survey", 3, "strip", 0.55, hours("c1.6 w0.4"), 0.22, 0.8, 4),
        Step(
            "Planking, frames, fastenings repaired",
            6,
            "structure",
            0.7,
            hours("w3.6 m0.6 c0.6"),
            0.22,
            0.8,
            3,
        ),
        Step("Paint after period evidence", 2, "paint", 0.7, hours("f1.6 c0.4"), 0.22, 0.8, 3),
        *back("r0.7 c0.2"),
    ),
    {
        "hull": (1, 93),
        "frames": (1, 95),
        "fastenings": (1, 88),
        "markings": (1, 75),
    },
    0.6,
)
HULL_ONE_PIECE = Recipe(
    "onepiece",
    "Repair of the hull in one piece, joints never parted",
    9_000,
    120,
    "m2",
    (
        study(2, "c0.5"),
        Step("Moving out in one piece", 1, "hall", 1, hours("r0.7 c0.3"), wait=3),
        Step(
            "Planking, frames, fastenings repaired",
            6,
            "structure",
            0.8,
            hours("w3.6 m0.6 c1"),
            0.46,
            0.95,
            3,
        ),
        Step("Moving back in one piece", 1, "hall", 1, hours("r0.7 c0.3"), 0.46, 0.95, 3),
    ),
    {
        "hull": (1, 96),
        "frames": (1, 97),
        "fastenings": (1, 92),
    },
    0.6,
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
