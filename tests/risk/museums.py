"""Small museums for the tests of the risk room: built by hand, or simulated from a known truth."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

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
from triage.risk.materials import prior_of
from triage.risk.misgrading import Misgrading
from triage.units import month_no

Array = NDArray[np.float64]
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
    leak_effect: float = 1.0,
    speed: float = 1.0,
    climate: bool = True,
) -> Collection:
    """Return a museum whose grades come from the model itself, with leaks of a known effect.

    The true wear does not answer to the climate.
    """
    rng = np.random.default_rng(seed)
    names = sorted(RATES)
    made, parts, grades, findings = [], [], [], []
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
            part = Element(
                object_id=f"O{o}", element_id=f"E{e}", kind="covering", material=material, safety=e == 0
            )
            parts.append(part)
            factor = speed * np.exp(leaky * leak_effect * prior_of(material).log_factor("leak"))
            grades.extend(_walks(part, years, missed, np.array(RATES[material]) * factor, rng))
    return Collection(
        settings=settings(),
        halls=tuple(Hall(hall_id=f"H{h}") for h in range(3)),
        objects=tuple(made),
        elements=tuple(parts),
        rounds=tuple(
            Round(round_id=f"R{y}", date=dt.date(2026 - years + y, 6, 1), assessor=f"a{y % 3}")
            for y in range(years)
        ),
        grades=tuple(grades),
        findings=tuple(findings),
        environment=_readings() if climate else (),
    )


def _readings() -> tuple[Climate, ...]:
    """Return eleven years of three halls, each brighter, warmer and damper than the one before."""
    return tuple(
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
    )


def _walks(part: Element, years: int, missed: float, rates: Array, rng: np.random.Generator) -> list[Grade]:
    """Return the grades of yearly walks, some missed, some misread."""
    errors = Misgrading().matrix()
    found = []
    true = int(rng.choice(4, p=(0.6, 0.25, 0.1, 0.05)))
    for y in range(years):
        true = _worn(true, rates, rng) if y else true
        if rng.random() >= missed:
            seen = int(rng.choice(4, p=errors[true])) + 1
            found.append(
                Grade(round_id=f"R{y}", object_id=part.object_id, element_id=part.element_id, grade=seen)
            )
    return found


def _worn(true: int, rates: Array, rng: np.random.Generator) -> int:
    """Return the true grade (0..3) a year later."""
    left = 1.0
    while true < 3:
        left -= rng.exponential(1.0 / rates[true])
        if left < 0.0:
            return true
        true += 1
    return true
