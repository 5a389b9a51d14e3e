"""The chain against published numbers and against another implementation.

Source of the ``psor`` figures: manual and help pages of the R package msm 1.8.2 (C. Jackson, Journal of
Statistical Software 38(8), 2011): progression-only chain of four states fitted to psoriatic arthritis visits,
time in months, no covariates. Only the printed figures are used, no data.
"""

from __future__ import annotations

from decimal import Decimal, localcontext

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import simpson
from scipy.linalg import expm

from tests.risk.one_chain import transition_matrices
from triage.risk.markov import expected_ahead, generators

Array = NDArray[np.float64]
PSOR = np.array([0.09125, 0.15716, 0.25982])


RATES = [(0.1, 0.3, 0.05), (0.1, 0.102, 0.104), (0.1, 0.1001, 0.3), (0.1, 0.1, 0.1), (2.0, 0.001, 1.0)]
NEARLY_EQUAL = (0.2, 0.2 * (1 + 1e-6), 0.2 * (1 - 1e-6))
TIMES = np.array([0.001, 0.01, 0.1, 1.0, 3.0, 10.0, 30.0, 60.0])


@pytest.mark.parametrize("rates", RATES)
def test_uniformised_matrices_agree_with_the_matrix_exponential(rates: tuple[float, float, float]) -> None:
    """scipy.linalg.expm, times from a day to sixty years, equal rates too: to 1e-12."""
    other = np.array([expm(generators(np.array(rates)) * t) for t in TIMES])
    assert np.abs(transition_matrices(np.array(rates), TIMES) - other).max() < 1e-12


def sixty_digits(rates: tuple[float, float, float], time: float) -> Array:
    """Return exp(Q t) by its series in 60-digit arithmetic, halved and squared."""
    halvings = 12
    step = [Decimal(r) * Decimal(time) / 2**halvings for r in rates]
    Q = [[-step[i] if i == j else step[i] if j == i + 1 else Decimal(0) for j in range(4)] for i in range(3)]
    Q.append([Decimal(0)] * 4)
    total = power = [[Decimal(int(i == j)) for j in range(4)] for i in range(4)]
    for n in range(1, 30):
        power = [[x / n for x in row] for row in product(power, Q)]
        total = [[x + y for x, y in zip(*rows, strict=True)] for rows in zip(total, power, strict=True)]
    for _ in range(halvings):
        total = product(total, total)
    return np.array([[float(x) for x in row] for row in total])


def product(left: list[list[Decimal]], right: list[list[Decimal]]) -> list[list[Decimal]]:
    """Return the matrix product in the precision of the context."""
    return [
        [sum((left[i][k] * right[k][j] for k in range(4)), Decimal(0)) for j in range(4)] for i in range(4)
    ]


@pytest.mark.parametrize("rates", [*RATES, NEARLY_EQUAL])
def test_uniformised_matrices_are_right_to_the_last_digits(rates: tuple[float, float, float]) -> None:
    """60-digit arithmetic, nearly equal rates too (where scipy's own is off by 1.5e-12): to 1e-14."""
    with localcontext(prec=60):
        exact = np.array([sixty_digits(rates, float(t)) for t in TIMES])
    assert np.abs(transition_matrices(np.array(rates), TIMES) - exact).max() < 1e-14


def test_equal_rates_are_a_poisson_count() -> None:
    """Closed form: with one rate for every step, grades left behind are Poisson counted, stopped at three."""
    x = 0.7 * 2.5
    row = transition_matrices(np.array([0.7, 0.7, 0.7]), np.array([2.5]))[0, 0]
    poisson = np.exp(-x) * np.array([1.0, x, x**2 / 2])
    assert row == pytest.approx([*poisson, 1 - poisson.sum()], abs=1e-15)


def test_unequal_rates_are_the_closed_form() -> None:
    """Closed form of the two-step chance: q1 (exp(-q2 t) - exp(-q1 t)) / (q1 - q2)."""
    a, b, t = 0.3, 0.1, 4.0
    P = transition_matrices(np.array([a, b, 0.2]), np.array([t]))[0]
    assert P[0, 0] == pytest.approx(np.exp(-a * t), abs=1e-15)
    assert P[0, 1] == pytest.approx(a * (np.exp(-b * t) - np.exp(-a * t)) / (a - b), abs=1e-15)


def test_psor_one_month() -> None:
    """P(1), row 1, as printed by the package's help."""
    row = transition_matrices(PSOR, np.array([1.0]))[0, 0]
    assert row == pytest.approx([0.9127936, 0.0806027, 0.0060564, 0.0005474], abs=1e-5)


def test_psor_ten_months() -> None:
    """P(10), all rows, three printed digits."""
    P = transition_matrices(PSOR, np.array([10.0]))[0]
    assert P[0] == pytest.approx([0.402, 0.268, 0.140, 0.190], abs=6e-4)
    assert P[1] == pytest.approx([0, 0.208, 0.204, 0.588], abs=6e-4)
    assert P[2] == pytest.approx([0, 0, 0.0744, 0.926], abs=6e-4)


def time_spent(months: float) -> Array:
    """Return the mean time in each state (columns) from each state (rows), by Simpson's rule over P(t)."""
    t = np.linspace(0.0, months, 20 * int(months) + 1)
    return np.asarray(simpson(transition_matrices(PSOR, t), x=t, axis=0))


def test_psor_mean_stays_and_times_to_the_last_state() -> None:
    """Mean sojourns 10.96, 6.36, 3.85 months; mean times to state 4: 21.17, 10.21, 3.85."""
    forever = time_spent(400.0)[:3, :3]
    assert np.diag(forever) == pytest.approx([10.96, 6.36, 3.85], abs=6e-3)
    assert forever.sum(axis=1) == pytest.approx([21.17, 10.21, 3.85], abs=6e-3)


def test_psor_time_in_each_state_in_ten_months() -> None:
    """From state 1: 6.559, 2.101, 0.733, 0.607 months."""
    assert time_spent(10.0)[0] == pytest.approx([6.559, 2.101, 0.733, 0.607], abs=6e-4)


def test_psor_expected_values_ahead() -> None:
    """The vector form gives the last column of P(10): the chance of state 4 from each state."""
    last = expected_ahead(PSOR[:, None] * 10.0, np.array([[0.0], [0.0], [0.0], [1.0]]))[:, 0]
    assert last == pytest.approx([0.190, 0.588, 0.926, 1.0], abs=6e-4)
