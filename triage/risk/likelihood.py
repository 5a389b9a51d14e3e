"""Likelihood of the recorded grades and its exact gradient, by forward-backward over all series at once.

A hidden Markov model in continuous time: the true grade wears forward with its material's rates times the
speed of wear; each recorded grade is drawn from the misgrading matrix's row of the true one (as in
C. Jackson, Journal of Statistical Software 38(8), 2011, section 4; recalled).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.risk.markov import Transitions
from triage.risk.panel import Panel

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Natural:
    """The model's quantities themselves, before any prior.

    ``log_rates`` (chains, 3) per year at speed 1; ``coef`` (covariates,); ``first`` (chains, 4) the chances
    of each true grade at a first observation; ``errors`` (assessors, 4, 4) the misgrading matrices.
    """

    log_rates: Array
    coef: Array
    first: Array
    errors: Array


@dataclass(frozen=True)
class Slopes:
    """Gradient of the log likelihood by ``log_rates``, ``coef`` and ``first``."""

    log_rates: Array
    coef: Array
    first: Array


@dataclass(frozen=True)
class Forward:
    """What the forward pass leaves: states as chances of grades 1 to 4, and each observation's weight."""

    before: Array
    """Shape (observations, 4): the state after the observation before, none of the interval worn yet."""
    weight: Array
    """Shape (observations,): the chance of the recorded grade given those before it."""
    last: Array
    """Shape (series, 4): the state after the last observation of each series."""


def starts(panel: Panel, first: Array) -> Array:
    """Return the distribution each series starts from, shape (series, 4)."""
    return np.where(panel.unknown[:, None], first[panel.series_chain], panel.start)


def transitions(panel: Panel, natural: Natural) -> Transitions:
    """Return the transition matrices of every observation's interval."""
    return Transitions(np.exp(natural.log_rates), panel.groups, panel.exposure.tau(natural.coef))


def emissions(panel: Panel, natural: Natural) -> Array:
    """Return the chance of each observation under each true grade, shape (observations, 4)."""
    return np.asarray(natural.errors[panel.assessor, :, panel.recorded])


def forward(panel: Panel, P: Array, seen: Array, start: Array) -> Forward:
    """Run the filter: the true grade's distribution given the grades so far."""
    before = np.empty_like(seen)
    weight = np.empty(seen.shape[0])
    state = start.copy()
    for t, count in enumerate(panel.counts):
        rows = slice(panel.offsets[t], panel.offsets[t] + count)
        before[rows] = state[:count]
        moved = np.matmul(state[:count, None, :], P[rows])[:, 0] * seen[rows]
        total = moved.sum(axis=1)
        weight[rows] = total
        state[:count] = moved / total[:, None]
    return Forward(before, weight, state)


def filtered(panel: Panel, natural: Natural) -> Array:
    """Return the true grade's distribution after each series' last observation, shape (series, 4)."""
    P = transitions(panel, natural).P
    return forward(panel, P, emissions(panel, natural), starts(panel, natural.first)).last


def log_likelihood(panel: Panel, natural: Natural) -> float:
    """Return the log likelihood of every recorded grade."""
    P = transitions(panel, natural).P
    run = forward(panel, P, emissions(panel, natural), starts(panel, natural.first))
    return float(np.log(run.weight).sum())


def log_likelihood_and_slopes(panel: Panel, natural: Natural) -> tuple[float, Slopes]:
    """Return the log likelihood and its exact gradient."""
    moves = transitions(panel, natural)
    seen = emissions(panel, natural)
    run = forward(panel, moves.P, seen, starts(panel, natural.first))
    W, initial = _backward(panel, moves.P, seen, run)
    drates, dtau = moves.back(W, panel.chain_of)
    first = np.zeros_like(natural.first)
    np.add.at(first, panel.series_chain[panel.unknown], initial[panel.unknown])
    slopes = Slopes(drates * np.exp(natural.log_rates), panel.exposure.back(dtau, natural.coef), first)
    return float(np.log(run.weight).sum()), slopes


def _backward(panel: Panel, P: Array, seen: Array, run: Forward) -> tuple[Array, Array]:
    """Return dL/dP of every interval and dL/dstart of every series."""
    ahead = np.ones((panel.series, 4))
    onward = np.empty_like(seen)
    for t in range(panel.counts.size - 1, -1, -1):
        count = panel.counts[t]
        rows = slice(panel.offsets[t], panel.offsets[t] + count)
        onward[rows] = seen[rows] * ahead[:count] / run.weight[rows, None]
        ahead[:count] = np.matmul(P[rows], onward[rows, :, None])[:, :, 0]
    return run.before[:, :, None] * onward[:, None, :], ahead
