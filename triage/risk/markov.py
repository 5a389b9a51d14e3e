"""The progressive chain on grades 1 to 4 in continuous time, by uniformisation.

``P(tau) = sum_n Poisson(n; c tau) R^n`` with ``R = I + Q / c`` and c the largest rate. Every term is
positive, so nothing cancels: equal rates, which are the normal starting point, need no special case, unlike
the sum of exponentials from the eigenvalues (A. Jensen, Skand. Aktuarietidskr. 36, 1953, 87-91; recalled).

The rates of a chain are per unit of *worn time* tau: calendar time multiplied by the speed of wear, so that
covariates that change within an interval are integrated exactly by adding the pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

GRADES = 4
STEPS = GRADES - 1
BANDS = (0.25, 1.0, 8.0, 64.0, 512.0)
"""Intervals are summed in bands of c * tau, so that one long interval does not lengthen every sum."""
SAFE_EXP = 600.0
"""Beyond this the first Poisson term underflows, and the terms are taken from logarithms."""


def generators(rates: Array) -> Array:
    """Return the generator Q of each chain.

    Parameters
    ----------
    rates
        Shape (..., 3): the rate of leaving grade 1, 2 and 3 for the next, per year, all above 0.

    Returns
    -------
    Array
        Shape (..., 4, 4); rows sum to 0, grade 4 is never left.
    """
    rates = np.asarray(rates, dtype=float)
    Q = np.zeros((*rates.shape[:-1], GRADES, GRADES))
    for step in range(STEPS):
        Q[..., step, step] = -rates[..., step]
        Q[..., step, step + 1] = rates[..., step]
    return Q


def terms_needed(most: float) -> int:
    """Return how many Poisson terms leave less than rounding error behind at c * tau = most."""
    return int(np.ceil(most + 8.0 * np.sqrt(most) + 10.0))


def poisson_terms(x: Array, terms: int) -> Array:
    """Return Poisson probabilities of 0..terms-1 at means x, shape (len(x), terms)."""
    n = np.arange(terms)
    if x.size and float(x.max()) > SAFE_EXP:
        safe = np.maximum(x, 1e-300)[:, None]
        return np.asarray(np.exp(n * np.log(safe) - safe - gammaln(n + 1.0)))
    basis = np.empty((terms, x.size))
    basis[0] = np.exp(-x)
    for k in range(1, terms):
        np.multiply(basis[k - 1], x / k, out=basis[k])
    return basis.T


@dataclass(frozen=True)
class Band:
    """Intervals of like c * tau: their rows by chain, where each chain begins, their Poisson terms."""

    rows: Ints
    edges: Ints
    basis: Array

    def parts(self) -> Iterator[tuple[int, slice]]:
        """Yield each chain that has rows here, and where they are."""
        for chain in np.flatnonzero(np.diff(self.edges)):
            yield int(chain), slice(int(self.edges[chain]), int(self.edges[chain + 1]))


@dataclass(frozen=True)
class Powers:
    """R^n of every chain, shape (chains, terms, 4, 4), and the uniformisation rate c of each."""

    c: Array
    R: Array
    powers: Array


class Transitions:
    """P(tau) of many intervals over several chains, and the way back from dL/dP to dL/d(rates, tau).

    Parameters
    ----------
    rates
        Shape (chains, 3), per unit of worn time.
    groups
        For each chain, the rows of ``tau`` that belong to it.
    tau
        Worn time of each interval, shape (n,), at least 0.
    """

    def __init__(self, rates: Array, groups: tuple[Ints, ...], tau: Array) -> None:
        self._Q = generators(rates)
        self._tau = tau
        c = rates.max(axis=1)
        self._bands = tuple(_bands(c, groups, tau))
        longest = max((band.basis.shape[1] for band in self._bands), default=1)
        self._powers = _powers(c, self._Q, longest)
        self.P = np.empty((tau.size, GRADES, GRADES))
        for band in self._bands:
            found = np.empty((band.rows.size, GRADES * GRADES))
            coefs = self._powers.powers[:, : band.basis.shape[1]].reshape(c.size, -1, GRADES * GRADES)
            for chain, part in band.parts():
                np.matmul(band.basis[part], coefs[chain], out=found[part])
            self.P[band.rows] = found.reshape(-1, GRADES, GRADES)

    def back(self, W: Array, chain_of: Ints) -> tuple[Array, Array]:
        """Return (dL/drates, dL/dtau) from W = dL/dP, shape (n, 4, 4).

        ``P`` does not depend on c, so c is held fixed: dL/dQ = dL/dR / c, and dP/dtau = Q P.
        """
        held = self._powers
        G = np.zeros_like(held.powers)
        for band in self._bands:
            terms = band.basis.shape[1]
            mine = W[band.rows].reshape(-1, GRADES * GRADES)
            for chain, part in band.parts():
                G[chain, :terms] += (band.basis[part].T @ mine[part]).reshape(terms, GRADES, GRADES)
        dR = np.zeros_like(held.R)
        bar = np.zeros_like(held.R)
        transposed = held.R.transpose(0, 2, 1)
        for n in range(held.powers.shape[1] - 1, 0, -1):
            bar = bar + G[:, n]
            dR += held.powers[:, n - 1].transpose(0, 2, 1) @ bar
            bar = bar @ transposed
        dQ = dR / held.c[:, None, None]
        drates = np.stack([dQ[:, k, k + 1] - dQ[:, k, k] for k in range(STEPS)], axis=1)
        QP = self._Q[chain_of] @ self.P
        return drates, np.einsum("nij,nij->n", W, QP)


def _bands(c: Array, groups: tuple[Ints, ...], tau: Array) -> Iterator[Band]:
    sizes = np.array([g.size for g in groups], dtype=np.int64)
    rows = np.concatenate(groups) if groups else np.zeros(0, dtype=np.int64)
    chain = np.repeat(np.arange(sizes.size), sizes)
    x = c[chain] * tau[rows]
    which = np.searchsorted(np.asarray(BANDS), x)
    for b in np.unique(which):
        inside = np.flatnonzero(which == b)
        edges = np.searchsorted(chain[inside], np.arange(sizes.size + 1))
        mine = x[inside]
        yield Band(rows[inside], edges, poisson_terms(mine, terms_needed(float(mine.max()))))


def _powers(c: Array, Q: Array, terms: int) -> Powers:
    R = np.eye(GRADES) + Q / c[:, None, None]
    powers = np.empty((c.size, terms, GRADES, GRADES))
    powers[:, 0] = np.eye(GRADES)
    for n in range(1, terms):
        powers[:, n] = powers[:, n - 1] @ R
    return Powers(c, R, powers)


def rates_of_medians(years: Array) -> Array:
    """Return the rates whose exponential stays have these medians: ln 2 / median."""
    return np.asarray(np.log(2.0) / np.asarray(years, dtype=float))


def expected_ahead(worn: Array, values: Array) -> Array:
    """Return the expected value at the end of a stretch of time, for each grade it may begin at.

    ``(P v)[g] = sum_n Poisson(n; c) (R^n v)[g]``, each element with its own c, no matrix formed.

    Parameters
    ----------
    worn
        Shape (3, n): rate of leaving each grade, multiplied by the stretch of worn time.
    values
        Shape (4, n) or (4, 1): the value of each grade at the end.

    Returns
    -------
    Array
        Shape (4, n).
    """
    longest = float(worn.max(initial=0.0))
    parts = max(1, int(np.ceil(longest / SAFE_EXP)))
    held = worn / parts
    c = np.maximum(held.max(axis=0), 1e-300)
    onward = held / c
    terms = terms_needed(longest / parts)
    out = np.broadcast_to(values, (GRADES, worn.shape[1])).astype(float)
    for _ in range(parts):
        power, weight = out, np.exp(-c)
        total = weight * power
        for n in range(1, terms):
            weight = weight * (c / n)
            power = power.copy()
            power[:STEPS] += onward * (power[1:] - power[:STEPS])
            total += weight * power
        out = total
    return out


def columns(worn: Array) -> Array:
    """Return P of each element as P[end, start], shape (4, 4, n), from ``worn`` of shape (3, n)."""
    return np.stack([expected_ahead(worn, np.eye(GRADES)[:, [end]]) for end in range(GRADES)])


def onward(step: Array, state: Array) -> Array:
    """Return the distribution (4, n) one step later; ``step`` from :func:`columns`."""
    return np.stack([(state[: end + 1] * step[end, : end + 1]).sum(axis=0) for end in range(GRADES)])


def earlier(step: Array, ahead: Array) -> Array:
    """Return the expected value (4, n) one step earlier, by the grade then."""
    return np.stack([(step[start:, start] * ahead[start:]).sum(axis=0) for start in range(GRADES)])
