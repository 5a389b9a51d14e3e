"""Climate as factors on the speed of wear, relative to ordinary display."""

from __future__ import annotations

import math

import numpy as np
import pytest

from triage.risk.environment import beyond_validity, humidity_speed, lifetime_multiplier, log_factors
from triage.risk.materials import Responses, prior_of

ALL = Responses(light=1.0, heat=1.0, humidity=1.0, swing=1.0, activation_kj=100.0)
UNKNOWN = math.nan


@pytest.mark.parametrize("name", ["doped fabric", "steel", "rubber", "other"])
def test_ordinary_display_has_no_effect(name: str) -> None:
    """At 20 C, 50 % RH, swings of 10 % and 600 klx h the tables keep their meaning."""
    assert log_factors([600.0, 20.0, 50.0, 10.0], prior_of(name).responses) == pytest.approx(np.zeros(4))


def test_blank_means_no_effect() -> None:
    """An unknown reading neither speeds nor slows."""
    assert log_factors([UNKNOWN] * 4, ALL).tolist() == [0.0] * 4


def test_each_factor_acts_on_its_share_only() -> None:
    """Half the wear answers to light: four times the light is two and a half times the wear."""
    half = Responses(light=0.5, heat=0.0, humidity=0.0, swing=0.0, activation_kj=100.0)
    assert log_factors([2400.0, 30.0, 80.0, 30.0], half) == pytest.approx([math.log(2.5), 0.0, 0.0, 0.0])


def test_the_dark_stops_only_what_light_does() -> None:
    """No light leaves the share that does not answer to light, never less."""
    half = Responses(light=0.5, heat=0.0, humidity=0.0, swing=0.0, activation_kj=100.0)
    assert log_factors([0.0, 20.0, 50.0, 10.0], half)[0] == pytest.approx(math.log(0.5))


def test_worse_readings_never_slow_wear() -> None:
    """More light, warmth, humidity and swing each speed it."""
    low, high = log_factors([[100.0, 10.0, 35.0, 5.0], [1000.0, 25.0, 85.0, 20.0]], ALL)
    assert (high > low).all()


def test_damp_rises_sharply_above_75_percent() -> None:
    """80 % is worse than the smooth rule alone says, 75 % is not."""
    smooth = 1.0 / lifetime_multiplier(20.0, [75.0, 80.0], 0.0)
    assert humidity_speed([75.0, 80.0]) / smooth == pytest.approx([1.0, 2.0])


def test_readings_beyond_validity_count_as_its_end_and_are_named() -> None:
    """-20 C counts as 0 C; what was clamped is said."""
    assert log_factors([600.0, -20.0, 50.0, 10.0], ALL)[1] == log_factors([600.0, 0.0, 50.0, 10.0], ALL)[1]
    assert [v.name for v in beyond_validity([[600.0, -20.0, 50.0, UNKNOWN]])] == ["temperature"]
    assert beyond_validity([[600.0, 20.0, UNKNOWN, 10.0]]) == ()
