"""What each grade looks like on each kind of element, and how the grades stand to other published scales.

The descriptions are a help for a walk through the gallery: common practice, no source. They are no inspection
and clear nothing for use, for lifting or for standing beneath. On safety elements a doubt is a doubt: keep
people away and have a competent person inspect it.

The names of the four grades are those of S. Keene's condition audits (Managing Conservation in Museums,
1996/2002); see :data:`triage.records.vocabulary.GRADE_NAMES`.
"""

from __future__ import annotations

from dataclasses import dataclass

from triage.records.vocabulary import GRADE_NAMES, WORST_GRADE

_FAMILIES: dict[str, tuple[str, str, str, str]] = {
    "covering fabric": (
        "Taut and whole; the coating is closed and keeps its colour.",
        "Slightly slack or dull, hairline cracks in the coating, old patches that hold; nothing is moving.",
        "Slack or brittle panels, cracks through the coating, lifting tapes or seams, tears that may run.",
        "Torn or splitting, coating falling off, fabric weak at a light touch, or damp and mould beneath.",
    ),
    "metal skin": (
        "Smooth and clean; joints and fastenings tight.",
        "Dents, scratches or light dulling; old corrosion that is dry and stays as it was.",
        "White powder, blisters or staining at joints and fastenings; some fastenings loose or missing.",
        "Holes, flaking layers or edges eaten away; panels loose; corrosion seen to grow.",
    ),
    "timber structure": (
        "Straight and dry; glue lines closed; fittings tight.",
        "Small dry cracks or old repairs that hold; slight distortion that does not grow.",
        "Open glue lines, splits at fittings, fresh dust of insects, soft or stained places.",
        "Broken, rotten or sagging members, parts that move against each other, live insects or wet wood.",
    ),
    "metal structure": (
        "True to shape; coating closed; joints tight.",
        "Worn coating, light even rust or dulling; old damage that stays as it was.",
        "Pitting, rust or powder at joints and inside tubes, cracked coating, bent members.",
        "Cracked, perforated or deformed members, joints that move, corrosion seen to grow.",
    ),
    "finish and markings": (
        "Closed, well held and legible.",
        "Faded, chalking or scratched, but well held.",
        "Cracked, lifting or flaking in places; markings hard to read.",
        "Falling off, or period markings being lost.",
    ),
    "glazing": (
        "Clear and whole; seals sound.",
        "Scratched or slightly hazy or yellow; stays as it was.",
        "Crazed, cloudy or shrinking; cracks at the edges; seals hard or sticky.",
        "Broken, loose, badly warped, or giving off sour or sharp smelling vapour.",
    ),
    "tyres and rubber": (
        "Supple and round; carries its load, or is relieved of it.",
        "Fine surface cracks, slightly flat; stays as it was.",
        "Deep cracks, hard or sticky, flattened under load, crumbs beneath.",
        "Split, collapsed or melting onto the floor or what it touches.",
    ),
    "suspension fittings": (
        "Complete, straight, clean and secured; the last inspection by a competent person is on record.",
        "Light surface rust or worn coating, all secured; inspection on record but due.",
        "Rust, wear, strain or missing securing at any part, or no inspection on record: keep people from "
        "beneath it and have it inspected by a competent person.",
        "Cracked, bent, slipping, frayed or incomplete: keep people from beneath it now, have it inspected "
        "by a competent person; local codes and licensed lifting practice apply.",
    ),
    "rigging and cables": (
        "Even tension; no rust; ends and locking complete.",
        "Dull or lightly rusted on the surface; slightly slack.",
        "Rust between strands, broken wires, worn places at guides, slack, or locking missing.",
        "Frayed through in part, rusted to the core, slipping ends, or holding what could fall.",
    ),
    "upholstery and interior": (
        "Clean, whole and well held.",
        "Faded, worn or slightly stained; seams hold.",
        "Split seams, brittle or powdering surface, loose filling, fresh frass or mould spots.",
        "Coming apart, live insects or mould, or filling that crumbles and falls.",
    ),
    "engine": (
        "Clean, complete and dry; openings closed.",
        "Dust, old oil film or light surface corrosion; no fresh drips.",
        "Fresh drips, corrosion at joints or on magnesium parts, perished hoses, open ports.",
        "Running leaks, swelling or powdering castings, seized or falling parts, harm to what lies beneath.",
    ),
    "instruments": (
        "Complete; dials legible; cases closed.",
        "Faded dial, tarnish or fine scratches; stays as it was.",
        "Loose or cracked glass, flaking dial paint, corroded contacts. Dials may be luminised with radium: "
        "do not open or touch until surveyed.",
        "Open or broken case, paint falling from the dial, parts missing. Treat as contaminated until a "
        "radiation adviser has surveyed it.",
    ),
    "general": (
        "Sound, complete and clean.",
        "Worn or blemished, but stable.",
        "Probably unstable: loose, cracked, corroding or soiled in a way that harms it.",
        "Actively deteriorating, badly weakened, or harming other things.",
    ),
}

_KIND_WORDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("suspension fittings", ("suspension", "support", "sling", "hang", "hoist", "attachment")),
    ("rigging and cables", ("cable", "rigging", "bracing", "wire", "controls", "rope", "netting")),
    ("tyres and rubber", ("tyre", "tire", "hose", "seal", "rubber")),
    ("glazing", ("glazing", "canopy", "window", "windscreen", "transparen", "lens")),
    ("instruments", ("instrument", "radio", "avionic", "wiring", "electr")),
    ("engine", ("engine", "gearbox", "transmission", "motor", "powerplant", "machinery", "tank", "pipe")),
    (
        "upholstery and interior",
        ("interior", "upholst", "seat", "trim", "cabin", "cockpit", "furnish", "basket"),
    ),
    ("finish and markings", ("finish", "paint", "marking", "livery", "insignia", "varnish")),
    ("covering fabric", ("cover", "envelope", "fabric", "canvas")),
    ("metal skin", ("skin", "panel", "cowling", "fairing", "plating")),
)
"""Family -> parts of words in an element's kind; the first that is found counts."""

_TIMBER = (
    "wood",
    "spruce",
    "ash",
    "timber",
    "mahogany",
    "oak",
    "pine",
    "bamboo",
    "wicker",
    "veneer",
    "laminated",
)
_METAL = (
    "alumin",
    "steel",
    "iron",
    "alloy",
    "magnes",
    "dural",
    "brass",
    "bronze",
    "copper",
    "metal",
    "titan",
)
_CLOTH = ("linen", "cotton", "fabric", "canvas", "silk", "polyester", "cloth")


def family(kind: str, material: str) -> str:
    """Return the family of descriptions that fits an element of this kind and material."""
    kind_words, material_words = kind.casefold(), material.casefold()
    for name, parts in _KIND_WORDS:
        if any(p in kind_words for p in parts):
            if name == "covering fabric" and _has(material_words, _METAL):
                return "metal skin"
            return name
    if _has(material_words, _TIMBER):
        return "timber structure"
    if _has(material_words, _METAL):
        return "metal structure"
    if _has(material_words, _CLOTH):
        return "covering fabric"
    return "tyres and rubber" if "rubber" in material_words else "general"


def _has(text: str, parts: tuple[str, ...]) -> bool:
    words = text.replace("-", " ").split()
    return any(w.startswith(p) or (len(p) > 3 and p in w) for p in parts for w in words)


def describe(kind: str, material: str, grade: int) -> str:
    """Return what a grade looks like on an element of a kind and material.

    Raises
    ------
    ValueError
        If the grade is not 1 to 4.
    """
    if grade not in GRADE_NAMES:
        raise ValueError(f"a grade is a whole number from 1 to {WORST_GRADE}, not {grade!r}")
    return _FAMILIES[family(kind, material)][grade - 1]


def families() -> dict[str, tuple[str, str, str, str]]:
    """Return family -> descriptions of grades 1 to 4, for printing."""
    return dict(_FAMILIES)


@dataclass(frozen=True)
class OtherScale:
    """A published scale and the step that stands nearest to each of our grades.

    ``status`` says how far the scale's wording was verified: V seen on a public page, M recalled from memory.
    The pairing itself is a judgement; the scales do not measure the same thing.
    """

    name: str
    steps: tuple[tuple[int, str, str], ...]
    """(our grade, step there, what it says there)."""
    source: str
    status: str


OTHER_SCALES: tuple[OtherScale, ...] = (
    OtherScale(
        "EN 16096 condition class",
        (
            (1, "CC0", "no symptoms"),
            (2, "CC1", "minor symptoms"),
            (3, "CC2", "moderately strong symptoms"),
            (4, "CC3", "major symptoms"),
        ),
        "EN 16096:2012, condition survey and report of built heritage; not written for movable objects",
        "M",
    ),
    OtherScale(
        "Norwegian collections handbook, five grades",
        (
            (1, "0", "very good, ready for exhibition"),
            (1, "1", "good, small damage, stable"),
            (2, "2", "satisfactory, surface or minor structural damage, stable"),
            (3, "3", "poor, unstable, handling risks more loss"),
            (4, "4", "critical, active decay or cannot be handled"),
        ),
        "Norwegian collections management handbook, chapter 10",
        "V",
    ),
    OtherScale(
        "Four-grade condition audit",
        (
            (1, "good", "stable, no work needed"),
            (2, "fair", "disfigured or damaged but stable, no immediate action"),
            (3, "poor", "probably unstable, action desirable"),
            (4, "unacceptable", "actively deteriorating or badly weakened, or harming other objects"),
        ),
        "S. Keene, Managing Conservation in Museums, 1996/2002; the four names also seen in public use of it",
        "names V, wording M",
    ),
)
"""Published scales set beside our grades."""
