"""The published risk-magnitude scale (ABC method: Michalski and Pedersoli, CCI and ICCROM, 2016).

That three scores of at most 5 add, and that the scale is logarithmic, was seen in a report of the authors'
talk (AIC 44th Annual Meeting, 2016). The formulas and the score table are recalled, unverified; the worked
figures are arithmetic on them.
"""

from __future__ import annotations

import math

import pytest

from triage.risk.magnitude import risk_magnitude


@pytest.mark.parametrize(
    ("years", "lost", "affected", "scores", "a_year"),
    [
        (300, 1.0, 1.0, (2.523, 5, 5), 1 / 300),
        (100, 0.1, 1.0, (3, 4, 5), 1e-3),
        (1, 0.001, 0.01, (5, 2, 3), 1e-5),
        (30, 0.03, 0.3, (3.523, 3.477, 4.477), 3e-4),
        (1000, 1.0, 0.3, (2, 5, 4.477), 3e-4),
    ],
)
def test_worked_figures(
    years: float, lost: float, affected: float, scores: tuple[float, float, float], a_year: float
) -> None:
    """Recalled formulas: slow wear and a rare disaster can tie, and the loss a year follows from MR."""
    found = risk_magnitude(years, lost, affected)
    assert (found.a, found.b, found.c) == pytest.approx(scores, abs=6e-4)
    assert found.mr == pytest.approx(sum(scores), abs=2e-3)
    assert found.lost_a_year == pytest.approx(a_year)


@pytest.mark.parametrize(
    ("score", "years"),
    [
        (5, 1),
        (4.5, 3),
        (4, 10),
        (3.5, 30),
        (3, 100),
        (2.5, 300),
        (2, 1000),
        (1.5, 3000),
        (1, 10_000),
        (0.5, 30_000),
    ],
)
def test_half_points_of_the_score_table(score: float, years: float) -> None:
    """Recalled table: the formula rounded to the nearest half gives its whole A column."""
    assert round(risk_magnitude(years, 1.0, 1.0).a * 2) / 2 == score


def test_a_step_is_ten_times_the_loss_however_it_is_split() -> None:
    """MR 13 is the whole in a hundred years (the seen band "12-13: lost in about 100 years")."""
    assert risk_magnitude(100, 1.0, 1.0).lost_a_year == pytest.approx(0.01)
    assert risk_magnitude(100, 1.0, 1.0).mr == pytest.approx(13.0)
    assert risk_magnitude(10, 0.2, 0.3).mr == pytest.approx(risk_magnitude(100, 1.0, 0.6).mr)
    assert risk_magnitude(7, 0.1, 0.1).mr - risk_magnitude(70, 0.1, 0.1).mr == pytest.approx(1.0)


@pytest.mark.parametrize("bad", [(0, 1, 1), (1, 0, 1), (1, 1.5, 1), (1, 1, -0.1), (math.inf, 2, 1)])
def test_what_has_no_magnitude_is_refused(bad: tuple[float, float, float]) -> None:
    """No time, no loss or more than everything has no score."""
    with pytest.raises(ValueError, match="no magnitude"):
        risk_magnitude(*bad)
