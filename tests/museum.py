"""A tiny invented museum, built by hand, small enough to work out on paper.

Month 0 is January 2027 and there are 24 months. Two halls (Harbour has measured doors, Loft has none), four
objects (a hung glider over a floor object, an engine on a plinth, one object in store), two bays and a spray
room, two trades. Tests change it with ``model_copy(update=...)`` or :func:`museum`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from triage.records import (
    Collection,
    ConditionFinding,
    Effect,
    Element,
    Grade,
    Hall,
    Hazard,
    MuseumObject,
    Round,
    Settings,
    Space,
    Stage,
    Trade,
    Treatment,
)
from triage.records.vocabulary import HazardState, Mounting, TreatmentKind
from triage.risk import ObjectLoss
from triage.units import month_no

FIRST = month_no("2027-01")
MONTHS = 24


def month(text: str) -> int:
    """Return the calendar month number of ``YYYY-MM``."""
    return month_no(text)


def settings(**changes: Any) -> Settings:
    """Return the settings of the tiny museum, some of them changed."""
    usual = {"museum": "Saltmarsh Air Hall", "first_month": FIRST, "months": MONTHS, "currency": "EUR"}
    return Settings(**(usual | changes))


HALLS = (
    Hall(
        hall_id="HARBOUR",
        name="Harbour Hall",
        floor_m2=900,
        clear_m2=60,
        most_away=2,
        door_width_m=6,
        door_height_m=4,
    ),
    Hall(hall_id="LOFT", name="The Loft", floor_m2=200, clear_m2=10),
)
OBJECTS = (
    MuseumObject(
        object_id="GLIDER",
        name="Tern glider",
        category="glider",
        hall_id="HARBOUR",
        mounting=Mounting.HUNG,
        span_m=14,
        length_m=6,
        height_m=2,
        display_m2=40,
        significance=80,
        in_the_way=("BIPLANE",),
    ),
    MuseumObject(
        object_id="BIPLANE",
        name="Sandpiper biplane",
        category="aircraft",
        hall_id="HARBOUR",
        mounting=Mounting.FLOOR,
        display_m2=70.9,
        significance=61,
    ),
    MuseumObject(
        object_id="ENGINE",
        name="Radial engine",
        category="engine",
        hall_id="LOFT",
        mounting=Mounting.PLINTH,
        display_m2=4,
        significance=20,
    ),
    MuseumObject(
        object_id="CRATE", name="Crated hull", category="hull", mounting=Mounting.STORE, significance=30
    ),
)
ELEMENTS = (
    Element(object_id="GLIDER", element_id="covering", kind="covering", material="doped linen", share=3),
    Element(
        object_id="GLIDER", element_id="hangers", kind="supports", material="steel", share=1, safety=True
    ),
    Element(object_id="BIPLANE", element_id="covering", kind="covering", material="doped linen"),
    Element(object_id="ENGINE", element_id="cylinders", kind="structure", material="steel"),
    Element(object_id="CRATE", element_id="hull", kind="structure", material="wood"),
)
ROUNDS = (
    Round(round_id="R24", date=dt.date(2024, 3, 1), assessor="A"),
    Round(round_id="R25", date=dt.date(2025, 3, 1), assessor="B"),
    Round(round_id="R26", date=dt.date(2026, 3, 1), assessor="A"),
)
GRADES = (
    Grade(round_id="R24", object_id="GLIDER", element_id="covering", grade=1),
    Grade(round_id="R25", object_id="GLIDER", element_id="covering", grade=2),
    Grade(round_id="R26", object_id="GLIDER", element_id="covering", grade=3, note="taut seams gone"),
    Grade(round_id="R24", object_id="GLIDER", element_id="hangers", grade=2),
    Grade(round_id="R26", object_id="GLIDER", element_id="hangers", grade=None),
    Grade(round_id="R24", object_id="BIPLANE", element_id="covering", grade=2),
    Grade(round_id="R26", object_id="BIPLANE", element_id="covering", grade=2),
    Grade(round_id="R26", object_id="ENGINE", element_id="cylinders", grade=2),
)
FINDINGS = (
    ConditionFinding(
        finding_id="F1", round_id="R25", object_id="GLIDER", element_id="covering", cause="light", severity=3
    ),
    ConditionFinding(
        finding_id="F2",
        round_id="R26",
        object_id="ENGINE",
        cause="leak",
        severity=2,
        note="oil on the plinth",
    ),
)
HAZARDS = (
    Hazard(object_id="GLIDER", hazard="cellulose nitrate dope", state=HazardState.CONFIRMED),
    Hazard(object_id="ENGINE", hazard="asbestos", state=HazardState.CLEARED),
)
TREATMENTS = (
    Treatment(
        treatment_id="T-GLIDER",
        object_id="GLIDER",
        title="Re-cover the glider",
        cost=12000.2,
        ends_causes=("light",),
    ),
    Treatment(
        treatment_id="T-SHADE",
        object_id="GLIDER",
        title="Shade the window",
        kind=TreatmentKind.IN_GALLERY,
        cost=300,
        ends_causes=("light",),
    ),
    Treatment(treatment_id="T-BIPLANE", object_id="BIPLANE", title="Restore the biplane", cost=20000),
    Treatment(
        treatment_id="T-ENGINE",
        object_id="ENGINE",
        title="Catch and drain the oil",
        kind=TreatmentKind.IN_GALLERY,
        cost=50,
        ends_causes=("leak",),
    ),
)
EFFECTS = (
    Effect(treatment_id="T-GLIDER", element_id="covering", grade_after=1, original_kept_pct=60),
    Effect(treatment_id="T-BIPLANE", element_id="covering", grade_after=1, original_kept_pct=70),
)
STAGES = (
    Stage(
        treatment_id="T-GLIDER",
        stage=1,
        title="Lower",
        months=1,
        place="hall",
        area_m2=90,
        width_m=14,
        away=True,
        hours={"rigging": 40},
    ),
    Stage(
        treatment_id="T-GLIDER",
        stage=2,
        title="Re-cover",
        months=4,
        place="bay",
        area_m2=45.2,
        width_m=2.5,
        height_m=2.001,
        most_wait=2,
        away=True,
        hours={"woodwork": 302.5, "rigging": 0},
    ),
    Stage(
        treatment_id="T-GLIDER",
        stage=3,
        title="Hoist",
        months=1,
        place="hall",
        area_m2=90,
        most_wait=6,
        away=True,
        hours={"rigging": 40},
    ),
    Stage(treatment_id="T-SHADE", stage=1, title="Fit a shade", months=1, hours={"woodwork": 8}),
    Stage(
        treatment_id="T-BIPLANE",
        stage=1,
        title="Restore",
        months=9,
        place="bay",
        area_m2=60,
        away=True,
        hours={"woodwork": 900},
    ),
    Stage(treatment_id="T-ENGINE", stage=1, title="Tray and drain", months=1, hours={"woodwork": 4}),
)
SPACES = (
    Space(
        space_id="BAY1",
        name="North bay",
        kind="bay",
        area_m2=80.9,
        slots=1,
        door_width_m=5,
        door_height_m=3.509,
    ),
    Space(space_id="BAY2", name="South bay", kind="bay", area_m2=50),
    Space(space_id="SPRAY", name="Spray room", kind="spray", area_m2=30, slots=1),
)
TRADES = (
    Trade(trade="woodwork", hours_per_month=160.9, overtime_hours=20.5),
    Trade(trade="rigging", hours_per_month=80),
)


def museum(**changes: Any) -> Collection:
    """Return the tiny museum, some of its tables changed."""
    usual: dict[str, Any] = {
        "settings": settings(),
        "halls": HALLS,
        "objects": OBJECTS,
        "elements": ELEMENTS,
        "rounds": ROUNDS,
        "grades": GRADES,
        "findings": FINDINGS,
        "hazards": HAZARDS,
        "treatments": TREATMENTS,
        "effects": EFFECTS,
        "stages": STAGES,
        "spaces": SPACES,
        "trades": TRADES,
    }
    return Collection(**(usual | changes))


def losses(collection: Collection, saved: Mapping[str, float] | None = None) -> dict[str, ObjectLoss]:
    """Return losses made by a plain rule, so that a test can work them out.

    An object loses 40 points for each of significance if nothing is done. A treatment saves 12 of them (or
    the ``saved`` of its id), less one tenth of a point for each month it ends later, times significance.
    """
    months = collection.settings.months
    found = {}
    for item in collection.objects:
        weight = item.significance
        if_done = {
            t.treatment_id: tuple(
                weight * (40 - (saved or {}).get(t.treatment_id, 12) + 0.1 * e) for e in range(months + 1)
            )
            for t in collection.treatments_of.get(item.object_id, ())
        }
        elements = collection.elements_of.get(item.object_id, ())
        best = next(iter(if_done), None)
        found[item.object_id] = ObjectLoss(
            object_id=item.object_id,
            never=40 * weight,
            low=25 * weight,
            high=60 * weight,
            value_years=25,
            wait_year=1.2 * weight if best else 0,
            wait_treatment=best,
            by_element=tuple((e.element_id, 40 * weight / len(elements)) for e in elements),
            by_cause=tuple((f.cause, 5 * weight) for f in collection.findings_of.get(item.object_id, ())),
            if_done=if_done,
        )
    return found
