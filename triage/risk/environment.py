"""A hall's light, warmth, humidity and swing as factors on the speed of wear, relative to ordinary display.

Ordinary display (20 C, 50 % RH, swings of 10 % RH, 600 klx h of light a year) has factor 1, so that the
material table, which speaks of ordinary display, keeps its meaning. Each factor acts on the share of a
material's wear that answers to it: ``1 - share + share * handbook factor``. Blank: no effect.

Sources. Warmth and humidity: lifetime multiplier ``(50 / RH)^1.3 exp[(Ea / R)(1 / T - 1 / T0)]``, T0 = 20 C,
Michalski, ICOM-CC 13th Triennial, Rio 2002, I, 66-72; Martens, thesis, TU Eindhoven 2012; the speed of wear
is its reciprocal. Light: reciprocity, wear goes with the dose; 600 klx h a year is the limit for low
responsivity of CIE 157:2004 (recalled). Damp: damage rises sharply above 75 % RH, Michalski, ICOM-CC 1993;
its steepness here is from memory. Swing: the square of the swing is from memory, far milder than the
published fatigue of stiff organics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from triage.risk.materials import Responses

Array = NDArray[np.float64]

GAS_CONSTANT = 8.314
"""J / (mol K)."""
KELVIN = 273.15
ORDINARY_C = 20.0
ORDINARY_RH = 50.0
ORDINARY_LIGHT = 600.0
ORDINARY_SWING = 10.0
RH_EXPONENT = 1.3
DAMP_RH = 75.0
DAMP_DOUBLES = 5.0
"""Above 75 % RH each further 5 % doubles the humidity factor (from memory)."""

NAMES = ("light", "warmth", "humidity", "swing")


@dataclass(frozen=True)
class Validity:
    """The range a relation is used in; readings beyond it are taken at its end, and that is said."""

    name: str
    unit: str
    low: float
    high: float


VALIDITY = (
    Validity("light", "klx h a year", 0.0, 6000.0),
    Validity("temperature", "C", 0.0, 40.0),
    Validity("humidity", "% RH", 20.0, 90.0),
    Validity("swing of humidity", "% RH", 0.0, 40.0),
)


def lifetime_multiplier(temperature_c: ArrayLike, humidity_pct: ArrayLike, activation_kj: float) -> Array:
    """Return how many times longer a material lasts than at 20 C and 50 % RH.

    Over a varying climate the *speeds* add: mean multiplier = 1 / mean(1 / multiplier).
    """
    kelvin = np.asarray(temperature_c, dtype=float) + KELVIN
    arrhenius = np.exp(activation_kj * 1000.0 / GAS_CONSTANT * (1 / kelvin - 1 / (ORDINARY_C + KELVIN)))
    return np.asarray((ORDINARY_RH / np.asarray(humidity_pct, dtype=float)) ** RH_EXPONENT * arrhenius)


def light_ratio(light_klux_h: ArrayLike) -> Array:
    """Return the yearly dose over that of ordinary display (50 lx for 10 h is 250 lx for 2 h)."""
    return np.asarray(light_klux_h, dtype=float) / ORDINARY_LIGHT


def humidity_speed(humidity_pct: ArrayLike) -> Array:
    """Return the speed of wear against that at 50 % RH, with the damp rise above 75 %."""
    rh = np.asarray(humidity_pct, dtype=float)
    damp = 2.0 ** (np.maximum(rh - DAMP_RH, 0.0) / DAMP_DOUBLES)
    return np.asarray(damp / lifetime_multiplier(ORDINARY_C, rh, 0.0))


def log_factors(readings: ArrayLike, responses: Responses) -> Array:
    """Return the log factors on the speed of wear of one material.

    Parameters
    ----------
    readings
        Shape (..., 4): light (klx h a year), temperature (C), humidity and its swing (% RH); nan is unknown.
    responses
        The material's shares and activation energy.

    Returns
    -------
    Array
        Shape (..., 4), in the order of ``NAMES``; 0 where the reading is unknown.
    """
    held = clamped(readings)
    speeds = np.stack(
        [
            light_ratio(held[..., 0]),
            1.0 / lifetime_multiplier(held[..., 1], ORDINARY_RH, responses.activation_kj),
            humidity_speed(held[..., 2]),
            (held[..., 3] / ORDINARY_SWING) ** 2,
        ],
        axis=-1,
    )
    share = np.array([responses.light, responses.heat, responses.humidity, responses.swing])
    return np.asarray(np.nan_to_num(np.log(1.0 - share + share * speeds), nan=0.0))


def clamped(readings: ArrayLike) -> Array:
    """Return readings held within the range of validity of each relation; nan stays nan."""
    low = np.array([v.low for v in VALIDITY])
    high = np.array([v.high for v in VALIDITY])
    return np.asarray(np.clip(np.asarray(readings, dtype=float), low, high))


def beyond_validity(readings: ArrayLike) -> tuple[Validity, ...]:
    """Return the relations that some reading goes beyond, in their order."""
    raw = np.asarray(readings, dtype=float).reshape(-1, len(VALIDITY))
    outside = np.nan_to_num(raw - clamped(raw)) != 0.0
    return tuple(v for k, v in enumerate(VALIDITY) if outside[:, k].any())
