"""The likelihood against the R package msm on a shared simulated panel (statement in data/README.md).

Source: msm 1.7 (C. Jackson, Journal of Statistical Software 38(8), 2011) under R 4.2.2, run on
``museum80_simulated.csv``. Two of its conventions are matched: a series of one row is dropped, and the chance
of the first state counts even where that state is declared true (a constant).
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import cache
from itertools import groupby
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import fmin_l_bfgs_b

from triage.risk.likelihood import Natural, log_likelihood, log_likelihood_and_slopes
from triage.risk.misgrading import Misgrading
from triage.risk.panel import UNKNOWN, Panel, Series, lay_out

Array = NDArray[np.float64]
FILE = Path(__file__).parent / "data" / "museum80_simulated.csv"
COVARIATES = ("light", "T", "RH", "leak", "suspended")
FIRST = np.tile([0.55, 0.28, 0.12, 0.05], (6, 1))
ERRORS = Misgrading(too_bad=0.08, too_good=0.10, floor=0.0).matrix()[None]
KNOWN_STARTS = 154
CONSTANT = -2 * KNOWN_STARTS * np.log(0.55)
BASE = np.log([0.1, 0.12, 0.15])
OFFSETS = np.array(
    [(0, 0, 0), (-1, -0.9, -0.8), (-0.5, -0.4, -0.6), (-0.3, -0.3, -0.3), (-1, -1, -1), (0, 0.1, 0.2)]
)
AT_OPTIMUM_RATES = np.array(
    [
        (0.118187, 0.161882, 0.136555),
        (0.032219, 0.056708, 0.112106),
        (0.049697, 0.082186, 0.052926),
        (0.062792, 0.081521, 0.060735),
        (0.016517, 0.021636, 0.110890),
        (0.095672, 0.118124, 0.121647),
    ]
)
AT_OPTIMUM_COEF = (0.475558, 0.100943, 0.407335, 0.458917, 0.204027)
AT_OPTIMUM_SE_COEF = (0.085944, 0.078421, 0.092411, 0.132273, 0.122106)
AT_OPTIMUM_SE_RATES_0 = (0.158463, 0.180144, 0.290492)


def _series() -> Iterator[Series]:
    with FILE.open(encoding="utf-8", newline="") as file:
        for _, group in groupby(csv.DictReader(file), key=lambda row: row["id"]):
            rows = list(group)
            if len(rows) == 1:
                continue
            known = rows[0]["true"] == "1"
            recorded = np.array([int(r["state"]) for r in rows])[1 if known else 0 :]
            gaps = np.diff([float(r["t"]) for r in rows])
            x = np.array([[float(r[c]) for c in COVARIATES] for r in rows])[:-1]
            step = np.arange(len(gaps)) + (0 if known else 1)
            start = int(rows[0]["state"]) if known else UNKNOWN
            yield Series(int(rows[0]["mat"]), start, recorded, np.zeros(recorded.size, int), step, gaps, x)


@cache
def panel() -> Panel:
    """Return the panel as msm reads it."""
    return lay_out(list(_series()), 6, len(COVARIATES))


def minus_2_log_likelihood(log_rates: Array, coef: Array) -> float:
    return -2 * log_likelihood(panel(), Natural(log_rates, coef, FIRST, ERRORS)) + float(CONSTANT)


def _objective(theta: Array) -> tuple[float, Array]:
    value, slopes = log_likelihood_and_slopes(
        panel(), Natural(theta[:18].reshape(6, 3), theta[18:], FIRST, ERRORS)
    )
    return -value, -np.concatenate([slopes.log_rates.ravel(), slopes.coef])


@cache
def optimum() -> Array:
    """Return the maximum likelihood estimate of 18 log rates and 5 effects, started at one rate for all."""
    start = np.concatenate([np.tile(BASE, 6), np.zeros(5)])
    return np.asarray(fmin_l_bfgs_b(_objective, start, factr=1.0, pgtol=1e-8, maxiter=500)[0])


def test_the_panel_is_read_as_the_package_reads_it() -> None:
    """634 series, 23 of one row dropped, 154 with a true first state."""
    assert panel().series == 611
    assert int((~panel().unknown).sum()) == KNOWN_STARTS
    assert abs(CONSTANT - 184.133796) < 1e-6


def test_likelihood_with_one_set_of_rates_and_no_effects() -> None:
    """Fixed point A: -2 log L = 5643.705647456 in msm."""
    assert minus_2_log_likelihood(np.tile(BASE, (6, 1)), np.zeros(5)) == pytest.approx(
        5643.705647456, abs=1e-5
    )


def test_likelihood_with_rates_by_material_and_effects() -> None:
    """Fixed point B: -2 log L = 5509.030381385 in msm."""
    coef = np.array([0.3, 0.1, 0.2, 0.5, 0.1])
    assert minus_2_log_likelihood(BASE + OFFSETS, coef) == pytest.approx(5509.030381385, abs=1e-5)


def test_optimum() -> None:
    """C: the maximum over 23 parameters, its rates, effects and standard errors (msm: 5477.238762117)."""
    theta = optimum()
    assert minus_2_log_likelihood(theta[:18].reshape(6, 3), theta[18:]) == pytest.approx(
        5477.238762117, abs=1e-5
    )
    assert np.exp(theta[:18].reshape(6, 3)) == pytest.approx(AT_OPTIMUM_RATES, abs=1e-3)
    assert theta[18:] == pytest.approx(AT_OPTIMUM_COEF, abs=1e-3)


def test_standard_errors_at_the_optimum() -> None:
    """C: standard errors from the Hessian, by differences of the exact gradient, to 1e-3."""
    theta, step = optimum(), 1e-5
    hessian = np.empty((23, 23))
    for k in range(23):
        up, down = theta.copy(), theta.copy()
        up[k] += step
        down[k] -= step
        hessian[k] = (_objective(up)[1] - _objective(down)[1]) / (2 * step)
    errors = np.sqrt(np.diag(np.linalg.inv((hessian + hessian.T) / 2)))
    assert errors[:3] == pytest.approx(AT_OPTIMUM_SE_RATES_0, abs=1e-3)
    assert errors[18:] == pytest.approx(AT_OPTIMUM_SE_COEF, abs=1e-3)
