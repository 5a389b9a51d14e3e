"""The chain's transition matrices, whatever the rates and times."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.risk.one_chain import transition_matrices
from triage.risk.markov import Transitions, expected_ahead, generators, poisson_terms

Array = NDArray[np.float64]
RATE = st.floats(1e-4, 5.0)
RATES = st.tuples(RATE, RATE, RATE)


@given(RATES, st.floats(0.0, 200.0))
def test_rows_are_distributions_and_nothing_improves(rates: tuple[float, float, float], tau: float) -> None:
    """Every row of P sums to 1, has no negative entry, and no grade gets better."""
    P = transition_matrices(np.array(rates), np.array([tau]))[0]
    assert P.min() >= 0.0
    assert np.allclose(P.sum(axis=1), 1.0, atol=1e-10)
    assert np.array_equal(P, np.triu(P))


@given(RATES, st.floats(0.0, 30.0), st.floats(0.0, 30.0))
def test_time_adds(rates: tuple[float, float, float], first: float, second: float) -> None:
    """P(s + t) = P(s) P(t)."""
    P = transition_matrices(np.array(rates), np.array([first, second, first + second]))
    assert np.allclose(P[0] @ P[1], P[2], atol=1e-12)


def test_no_time_changes_nothing() -> None:
    """P(0) is the identity, exactly."""
    assert np.array_equal(
        transition_matrices(np.array([0.1, 0.2, 0.3]), np.zeros(2)), np.tile(np.eye(4), (2, 1, 1))
    )


def test_scaling_rates_is_scaling_time() -> None:
    """Twice the rates for half the time is the same matrix."""
    rates, tau = np.array([0.1, 0.07, 0.2]), np.array([0.3, 4.0, 17.0])
    assert np.allclose(transition_matrices(2 * rates, tau / 2), transition_matrices(rates, tau), atol=1e-14)


@pytest.mark.parametrize("mean", [0.0, 0.5, 60.0, 2000.0])
def test_poisson_terms_sum_to_one(mean: float) -> None:
    """The terms kept leave nothing behind, far beyond where the first one underflows too."""
    from triage.risk.markov import terms_needed

    assert poisson_terms(np.array([mean]), terms_needed(mean)).sum() == pytest.approx(1.0, abs=1e-10)


def test_slopes_of_the_matrices_match_differences() -> None:
    """dL/drates and dL/dtau are those of central differences, over several chains and bands of time."""
    rng = np.random.default_rng(4)
    rates, tau = rng.uniform(0.05, 0.6, (3, 3)), rng.exponential(9.0, 60)
    chain = rng.integers(0, 3, 60)
    groups = tuple(np.flatnonzero(chain == m) for m in range(3))
    W = rng.normal(size=(60, 4, 4))

    def total(at: Array, times: Array) -> float:
        return float((Transitions(at, groups, times).P * W).sum())

    drates, dtau = Transitions(rates, groups, tau).back(W, chain)
    step = 1e-6
    for m in range(3):
        for k in range(3):
            moved = np.zeros_like(rates)
            moved[m, k] = step
            slope = (total(rates + moved, tau) - total(rates - moved, tau)) / (2 * step)
            assert drates[m, k] == pytest.approx(slope, rel=1e-6, abs=1e-6)
    moved = np.zeros_like(tau)
    moved[7] = step
    assert dtau[7] == pytest.approx(
        (total(rates, tau + moved) - total(rates, tau - moved)) / (2 * step), rel=1e-6
    )


@given(RATES, st.floats(0.0, 400.0))
def test_expected_values_are_those_of_the_matrix(rates: tuple[float, float, float], years: float) -> None:
    """The vector form gives what the matrix form gives, a thousand jumps ahead too."""
    values = np.array([[0.0], [0.1], [0.4], [0.9]])
    P = transition_matrices(np.array(rates), np.array([years]))[0]
    ahead = expected_ahead(np.array(rates)[:, None] * years, values)
    assert np.allclose(ahead, P @ values, atol=1e-9)


def test_generator_leaves_each_grade_for_the_next_only() -> None:
    """Rows of Q sum to 0 and grade 4 is never left."""
    Q = generators(np.array([0.1, 0.2, 0.3]))
    assert np.allclose(Q.sum(axis=1), 0.0)
    assert Q[0, 1] == 0.1
    assert not Q[3].any()
