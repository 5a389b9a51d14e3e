"""Small museums for the tests of the risk room: built by hand, or simulated from a known truth."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import numpy as np

from triage.records import (
    Climate,
    Collection,
    ConditionFinding,
    Element,
    Grade,
    Hall,
    MuseumObject,
    Round,
    Settings,
)
from triage.risk.misgrading import Misgrading
from triage.units import month_no

NOW = "2026-01"
RATES = {"doped fabric": (0.08, 0.10, 0.12), "steel": (0.04, 0.05, 0.07), "rubber": (0.10, 0.12, 0.15)}


def settings(months: int = 60, value_years: float = 25.0) -> Settings:
    """Return settings with now on 1 January 2026."""
    return Settings(museum="Test", first_month=month_no(NOW), months=months, value_years=value_years)


def one_element(
    grades: Sequence[tuple[str, int | None]],
    *,
    kind: str = "covering",
    material: str = "wood",
    **more: object,
) -> Collection:
    """Return a museum of one object with one element and these (date, grade) looks."""
    rounds = tuple(
        Round(round_id=f"R{k}", date=dt.date.fromisoformat(day), assessor="first")
        for k, (day, _) in enumerate(grades)
    )
    seen = tuple(
        Grade(round_id=f"R{k}", object_id="O", element_id="E", grade=g) for k, (_, g) in enumerate(grades)
    )
    base: dict[str, object] = {
        "settings": settings(),
        "halls": (Hall(hall_id="H"),),
        "objects": (MuseumObject(object_id="O", hall_id="H", significance=60),),
        "elements": (Element(object_id="O", element_id="E", kind=kind, material=material),),
        "rounds": rounds,
        "grades": seen,
    }
    return Collection.model_validate({**base, **more})


def simulated(
    objects: int = 20,
    elements: int = 4,
    years: int = 10,
    seed: int = 0,
    missed: float = 0.3,
    leaks: float = 0.2,
    leak_effect: float = 0.6,
    speed: float = 1.0,
    climate: bool = True,
) -> Collection:
    """Return a museum whose grades come from the model itself, with leaks of a known effect.

    The true wear does not answer to the climate.
    """
    rng = np.random.default_rng(seed)
    names = sorted(RATES)
    errors = Misgrading().matrix()
    made, parts, grades, findings = [], [], [], []
    rounds = [
        Round(round_id=f"R{y}", date=dt.date(2026 - years + y, 6, 1), assessor=f"a{y % 3}")
        for y in range(years)
    ]
    for o in range(objects):
        made.append(MuseumObject(object_id=f"O{o}", hall_id=f"H{o % 3}", significance=float(20 + o % 60)))
        leaky = rng.random() < leaks
        if leaky:
            findings.append(
                ConditionFinding(
                    finding_id=f"F{o}", round_id="R0", object_id=f"O{o}", cause="leak", severity=2
                )
            )
        for e in range(elements):
            material = names[(o + e) % len(names)]
            parts.append(
                Element(
                    object_id=f"O{o}", element_id=f"E{e}", kind="covering", material=material, safety=e == 0
                )
            )
            grade = int(rng.choice(4, p=(0.6, 0.25, 0.1, 0.05)))
            for y in range(years):
                if y:
                    grade = _worn(grade, RATES[material], speed * np.exp(leak_effect * leaky), rng)
                if rng.random() >= missed:
                    seen = int(rng.choice(4, p=errors[grade])) + 1
                    grades.append(Grade(round_id=f"R{y}", object_id=f"O{o}", element_id=f"E{e}", grade=seen))
    readings = [
        Climate(
            hall_id=f"H{h}",
            year=2015 + y,
            light_klux_h=200.0 + 300 * h,
            temperature_c=18 + 2.0 * h,
            humidity_pct=45 + 5.0 * h,
            humidity_swing_pct=8 + 4.0 * h,
        )
        for h in range(3)
        for y in range(11)
    ]
    return Collection(
        settings=settings(),
        halls=tuple(Hall(hall_id=f"H{h}") for h in range(3)),
        objects=tuple(made),
        elements=tuple(parts),
        rounds=tuple(rounds),
        grades=tuple(grades),
        findings=tuple(findings),
        environment=tuple(readings) if climate else (),
    )


def _worn(grade: int, rates: Sequence[float], speed: float, rng: np.random.Generator) -> int:
    left = 1.0
    while grade < 3:
        left -= rng.exponential(1.0 / (rates[grade] * speed))
        if left < 0.0:
            return grade
        grade += 1
    return grade
