"""Environment factors against handbook relations.

Lifetime multiplier: S. Michalski, ICOM-CC 13th Triennial, Rio 2002, I, 66-72; M. Martens, thesis, TU
Eindhoven 2012; formula, exponent and both activation energies were seen, the table below is computed from
them independently. Rules of thumb seen in print: a drop of 5 C doubles life; halving RH more than doubles it.
Light: dose arithmetic from a maker's published tests and a lighting maker's knowledge page.
"""

from __future__ import annotations

import numpy as np
import pytest

from triage.risk.environment import lifetime_multiplier, light_ratio, log_factors
from triage.risk.materials import Responses

CELLULOSE, VARNISH = 100.0, 70.0
ORGANIC = Responses(light=1.0, heat=1.0, humidity=1.0, swing=0.0, activation_kj=CELLULOSE)


@pytest.mark.parametrize(
    ("celsius", "humidity", "cellulose", "varnish"),
    [
        (20, 50, 1.0, 1.0),
        (15, 50, 2.0380, 1.6460),
        (10, 50, 4.2591, 2.7575),
        (25, 50, 0.5025, 0.6178),
        (30, 50, 0.2583, 0.3877),
        (20, 25, 2.4623, 2.4623),
        (20, 75, 0.5903, 0.5903),
        (10, 30, 8.2740, 5.3570),
        (25, 60, 0.3965, 0.4874),
        (30, 70, 0.1668, 0.2504),
    ],
)
def test_lifetime_multiplier(celsius: float, humidity: float, cellulose: float, varnish: float) -> None:
    """Every row of the table, to its four digits, for 100 and 70 kJ/mol."""
    assert float(lifetime_multiplier(celsius, humidity, CELLULOSE)) == pytest.approx(cellulose, abs=6e-5)
    assert float(lifetime_multiplier(celsius, humidity, VARNISH)) == pytest.approx(varnish, abs=6e-5)


@pytest.mark.parametrize(("celsius", "humidity"), [(15, 50), (25, 60), (30, 70), (10, 30)])
def test_speed_of_wear_is_the_reciprocal_of_the_lifetime(celsius: float, humidity: float) -> None:
    """For a material that answers wholly to both, the model's factors give the handbook's multiplier back."""
    warmth, damp = log_factors([np.nan, celsius, humidity, np.nan], ORGANIC)[1:3]
    assert np.exp(-(warmth + damp)) == pytest.approx(float(lifetime_multiplier(celsius, humidity, CELLULOSE)))


def test_light_dose_is_what_counts() -> None:
    """Reciprocity: 50 lx for 10 h are 250 lx for 2 h; 450 lx, 12 h a day, 20 years are 39.42 Mlx h."""
    assert light_ratio(50 * 10 / 1000) == light_ratio(250 * 2 / 1000)
    twenty_years = float(light_ratio(450 * 12 * 365 / 1000)) * 600 * 20 / 1000
    assert twenty_years == pytest.approx(39.42)


def test_ordinary_display_is_the_limit_for_low_responsivity() -> None:
    """200 lx for 3,000 h a year are 600 klx h (CIE 157:2004, recalled, unverified; the rest arithmetic)."""
    assert float(light_ratio(200 * 3000 / 1000)) == 1.0
    assert log_factors([200 * 3000 / 1000, np.nan, np.nan, np.nan], ORGANIC)[0] == 0.0
