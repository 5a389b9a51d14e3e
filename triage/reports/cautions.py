"""The words of every caution, defined once so that each looks the same wherever it is met.

The tool flags and defers: it never says that something may be lifted, opened or entered. Authorities named
beside a hazard are those of published guidance and law in the UK and the US; elsewhere the local code stands.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from triage.records import Collection, Hazard, MuseumObject, Stage
from triage.records.vocabulary import HALL_PLACE
from triage.reports.rows import Caution

NO_PERMISSION = "This plan is no permission to lift."
HUNG_LOAD = (
    "Suspended load: no one beneath it. Lowering and hoisting only by licensed lifting practice, to a "
    "lifting plan by a competent person, with examined gear and a checked structure, under the local code. "
    + NO_PERMISSION
)
MOVING = (
    "Lifting, jacking and moving a large object: only to a plan by a competent person, with rated and "
    "examined gear, under the local code. " + NO_PERMISSION
)
BENEATH_HUNG = (
    "Work at or beneath a suspended object: have its supports inspected by a competent person first, and "
    "work at height only under the local code."
)
NOT_SURVEYED = (
    "Hazards not surveyed: have a competent person look for them before anything is moved or opened. "
    "That nobody wrote one down does not mean there is none."
)
FLOOR_IS_AREA = (
    "Hall floor is counted as area, not shape: measure the spot and the way before anything moves."
)


@dataclass(frozen=True)
class HazardCaution:
    """What is said beside a hazard whose name holds one of these words, and whose rules govern it."""

    words: tuple[str, ...]
    text: str
    authority: str


HAZARD_CAUTIONS = (
    HazardCaution(
        ("radium", "luminous", "luminised", "radioactive", "radiation"),
        "contamination and radon: not opened or moved until surveyed, a cockpit's dials counted together",
        "a radiation protection adviser and the radiation code (UK IRR 2017; US NRC or state)",
    ),
    HazardCaution(
        ("asbestos",),
        "presumed present until sampled: no drilling, sanding or brushing",
        "the asbestos code (UK CAR 2012; OSHA 1910.1001, 1926.1101)",
    ),
    HazardCaution(
        ("nitrate", "dope", "celluloid"),
        "burns fiercely and makes its own oxygen, its fumes corrode: kept apart, no heat, no sparks",
        "the local fire authority (NFPA 30, 33, 40)",
    ),
    HazardCaution(
        ("chromate", "chromium"),
        "no dry sanding; the dust is limited by law",
        "the chromium code (OSHA 1910.1026; UK COSHH)",
    ),
    HazardCaution(
        ("lead", "cadmium"),
        "wipe-test before abrading, dust kept down",
        "the lead and cadmium codes (OSHA 1910.1025, 1910.1027; UK CLAW 2002)",
    ),
    HazardCaution(
        (
            "ejection",
            "explosive",
            "cartridge",
            "canopy charge",
            "pyrotechnic",
            "rocket",
            "ammunition",
            "ordnance",
        ),
        "treated as live until a qualified armourer certifies otherwise in writing",
        "the service or owner, the maker and the police",
    ),
    HazardCaution(
        (
            "fuel",
            "oxygen",
            "hydraulic",
            "tyre",
            "tire",
            "strut",
            "bottle",
            "pressure",
            "pressurised",
            "tank",
            "oil",
        ),
        "drained, vented and tagged before it enters a bay; pressure let off by those trained for it; "
        "a tank is a confined space",
        "the type's manual and the confined-space and pressure codes (OSHA 1910.146; UK DSEAR, PSSR 2000)",
    ),
    HazardCaution(
        ("suspended", "suspension", "hanging"),
        "nobody beneath it until its supports have been inspected by a competent person",
        "licensed lifting practice and the lifting code (UK LOLER 1998; OSHA 1910.184)",
    ),
    HazardCaution(
        ("electrical", "wiring", "battery", "batterie"),
        "not switched on or connected until somebody qualified has tested it",
        "a qualified electrician (common practice, no source)",
    ),
    HazardCaution(
        ("mould", "mold", "droppings"),
        "no dry brushing, no work without breathing protection",
        "a site safety adviser (common practice, no source)",
    ),
    HazardCaution(
        ("pcb", "tetrachloride", "extinguisher", "pesticide", "beryllium", "magnesium", "mercury", "arsenic"),
        "identified before any work",
        "a site safety adviser",
    ),
)
OTHER_HAZARD = HazardCaution((), "not touched until a competent person has said how", "a site safety adviser")


def hazard_caution(hazard: str) -> str:
    """Return what is said beside a hazard: what to do until somebody competent decides, and who that is."""
    text = hazard.casefold()
    found = next((h for h in HAZARD_CAUTIONS if re.search(_any_of(h.words), text)), OTHER_HAZARD)
    return f"{found.text}. Governed by {found.authority}."


def _any_of(words: tuple[str, ...]) -> str:
    """Return a pattern for any of the words, alone or as a plural: ``lead`` is not in ``leading``."""
    return rf"\b(?:{'|'.join(words)})s?\b"


def hazard_text(hazard: Hazard) -> str:
    """Return one hazard as one line: name, state, the museum's note, the caution."""
    note = f" ({hazard.note})" if hazard.note else ""
    return f"{hazard.hazard}, {hazard.state.value}{note}: {hazard_caution(hazard.hazard)}"


def hazard_cautions(collection: Collection, object_id: str) -> tuple[Caution, ...]:
    """Return the hazards nobody has cleared; "not surveyed" where nobody recorded any survey."""
    if not collection.surveyed(object_id):
        return (Caution("hazard", NOT_SURVEYED),)
    return tuple(Caution("hazard", hazard_text(h)) for h in collection.open_hazards(object_id))


def moves(stage: Stage) -> bool:
    """Return whether the object is moved for a stage: it takes floor or is off display."""
    return stage.place is not None or stage.away


def lifting_cautions(item: MuseumObject, stages: Sequence[Stage]) -> tuple[Caution, ...]:
    """Return what is said about lifting before a whole job: hung loads, other moves, work beneath."""
    if any(moves(stage) for stage in stages):
        return (Caution("lifting", HUNG_LOAD if item.hung else MOVING),)
    return (Caution("lifting", BENEATH_HUNG),) if item.hung and stages else ()


def stage_lifting(item: MuseumObject, stages: Sequence[Stage], number: int) -> tuple[Caution, ...]:
    """Return what is said about lifting before the stage with this index.

    A hung object is lowered before its first stage on a floor or away and hoisted after its last; every
    stage on the hall floor may be either. Everything else is a move wherever the place changes.
    """
    moving = [i for i, stage in enumerate(stages) if moves(stage)]
    if number not in moving:
        return ()
    ends = number in (moving[0], moving[-1])
    if item.hung and (ends or stages[number].place == HALL_PLACE):
        return (Caution("lifting", HUNG_LOAD),)
    carried = ends or stages[number].place != stages[number - 1].place
    return (Caution("lifting", MOVING),) if carried else ()
