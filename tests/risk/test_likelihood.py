"""The likelihood against summing over every path, and its gradient against differences."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from scipy.linalg import expm

from tests.risk.museums import simulated
from triage.risk.fit import find_mode, hessian_of, objective
from triage.risk.intervals import histories
from triage.risk.likelihood import Natural, filtered, log_likelihood
from triage.risk.markov import generators
from triage.risk.misgrading import Misgrading
from triage.risk.panel import UNKNOWN, Series, lay_out
from triage.risk.parameters import Priors

RATES = np.array([[0.2, 0.1, 0.3]])
FIRST = np.array([[0.5, 0.3, 0.15, 0.05]])
ERRORS = Misgrading().matrix()


def series(start: int, recorded: list[int], gaps: list[float]) -> Series:
    steps = np.arange(len(gaps)) + (1 if start == UNKNOWN else 0)
    n = len(recorded)
    return Series(
        0, start, np.array(recorded), np.zeros(n, int), steps, np.array(gaps), np.zeros((len(gaps), 1))
    )


def natural() -> Natural:
    return Natural(np.log(RATES), np.zeros(1), FIRST, ERRORS[None])


def by_every_path(start: int, recorded: list[int], gaps: list[float]) -> float:
    """Return the likelihood as the sum over all paths of true grades, with scipy's matrix exponential."""
    moves = [expm(generators(RATES[0]) * gap) for gap in gaps]
    total = 0.0
    for path in product(range(4), repeat=len(recorded)):
        if start == UNKNOWN:
            chance, at, left = FIRST[0, path[0]], path[0], path[1:]
            chance *= ERRORS[path[0], recorded[0] - 1]
            seen = recorded[1:]
        else:
            chance, at, left, seen = 1.0, start - 1, path, recorded
        for move, true, grade in zip(moves, left, seen, strict=True):
            chance *= move[at, true] * ERRORS[true, grade - 1]
            at = true
        total += chance
    return total


@pytest.mark.parametrize(
    ("start", "recorded", "gaps"),
    [(0, [1, 2, 2, 3], [1.0, 2.5, 0.7]), (0, [4, 1], [3.0]), (2, [2, 4, 3], [1.0, 0.0, 6.0]), (0, [3], [])],
)
def test_forward_pass_is_the_sum_over_every_path(start: int, recorded: list[int], gaps: list[float]) -> None:
    """Unknown and known starts, a contradiction (4 then 1), two looks on one day, a single grade."""
    panel = lay_out([series(start, recorded, gaps)], 1, 1)
    assert log_likelihood(panel, natural()) == pytest.approx(
        np.log(by_every_path(start, recorded, gaps)), abs=1e-12
    )


def test_series_do_not_depend_on_each_other() -> None:
    """The likelihood of many series is the sum of theirs, in any order."""
    many = [series(0, [1, 2, 3], [1.0, 2.0]), series(1, [1], [4.0]), series(0, [2], []), series(3, [], [])]
    alone = sum(log_likelihood(lay_out([s], 1, 1), natural()) for s in many)
    assert log_likelihood(lay_out(many, 1, 1), natural()) == pytest.approx(alone, abs=1e-12)
    assert log_likelihood(lay_out(many[::-1], 1, 1), natural()) == pytest.approx(alone, abs=1e-12)


def test_the_filter_is_a_distribution() -> None:
    """The state after the last look sums to 1, and without any look it is the start."""
    panel = lay_out([series(0, [2, 2], [1.0]), series(3, [], [])], 1, 1)
    state = filtered(panel, natural())
    assert state.sum(axis=1) == pytest.approx([1.0, 1.0])
    assert state[1].tolist() == [0.0, 0.0, 1.0, 0.0]


def test_gradient_of_the_whole_objective_matches_differences() -> None:
    """Every parameter's slope, away from the mode, to a relative error below 1e-5."""
    record = histories(simulated(8, 3, 8, seed=1, leaks=0.5))
    priors = Priors(record, Misgrading())
    z = np.random.default_rng(2).normal(size=priors.layout.size) * 0.5
    exact = objective(record, priors, z)[1]
    step = 1e-5
    for k in range(z.size):
        up, down = z.copy(), z.copy()
        up[k] += step
        down[k] -= step
        slope = (objective(record, priors, up)[0] - objective(record, priors, down)[0]) / (2 * step)
        assert exact[k] == pytest.approx(slope, rel=1e-5, abs=1e-5)


def test_hessian_matches_differences_one_parameter_at_a_time() -> None:
    """Moving one parameter of all materials at once loses nothing."""
    record = histories(simulated(8, 3, 8, seed=1, leaks=0.5))
    priors = Priors(record, Misgrading())
    z = find_mode(record, priors).z
    hessian = hessian_of(record, priors, z)
    step = 1e-5
    for k in range(z.size):
        up, down = z.copy(), z.copy()
        up[k] += step
        down[k] -= step
        column = (objective(record, priors, up)[1] - objective(record, priors, down)[1]) / (2 * step)
        assert hessian[:, k] == pytest.approx(column, abs=2e-3)


def test_misgrading_rows_are_distributions_with_a_floor() -> None:
    """Rows sum to 1; every grade has some chance to be entered for every other."""
    assert ERRORS.sum(axis=1) == pytest.approx(np.ones(4))
    assert ERRORS.min() == pytest.approx(0.001)
    assert Misgrading(0.1, 0.2, 0.0).matrix()[1] == pytest.approx(np.array([0.2, 1.0, 0.1, 0.0]) / 1.3)
