"""Many histories laid out for the likelihood: steps in order, series sorted by length, pieces of time.

A *series* is one element between two treatments. It starts at a known true grade (a treatment's) or at its
first grade with the true grade unknown, and has one *step* an observation: worn time since the one before,
then a recorded grade. Its *tail* is the time from the last observation to now. Time is in pieces over which
every covariate is constant, so worn time is exact: ``tau = sum years * exp(X @ coef)``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.risk.markov import GRADES

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

UNKNOWN = 0
"""A series whose first true grade is not known: it starts at its first recorded grade."""


@dataclass(frozen=True)
class Series:
    """One element between two treatments.

    ``piece_step`` says which observation each piece of time comes before (``len(recorded)``: the tail).
    """

    chain: int
    start: int
    """True grade 1..4 at the first day, or ``UNKNOWN``."""
    recorded: Ints
    """Recorded grades 1..4, in order of time."""
    assessor: Ints
    piece_step: Ints
    piece_years: Array
    piece_x: Array
    """Shape (pieces, covariates)."""


@dataclass(frozen=True)
class Exposure:
    """Calendar time in pieces, and the interval each belongs to."""

    interval: Ints
    """Shape (pieces,)."""
    years: Array
    """Shape (pieces,)."""
    x: Array
    """Shape (pieces, covariates)."""
    intervals: int
    """How many intervals there are."""

    def tau(self, coef: Array) -> Array:
        """Return the worn time of each interval in years at speed 1, shape (intervals,)."""
        return np.bincount(self.interval, self._worn(coef), self.intervals).astype(np.float64)

    def back(self, dtau: Array, coef: Array) -> Array:
        """Return dL/dcoef, shape (covariates,), from dL/dtau, shape (intervals,)."""
        return np.asarray(self.x.T @ (self._worn(coef) * dtau[self.interval]))

    def _worn(self, coef: Array) -> Array:
        return np.asarray(self.years * np.exp(self.x @ coef))


@dataclass(frozen=True)
class Panel:
    """Series in order of falling length; observations in order of step, then series.

    ``counts[t]`` series have a step t; their observations are the rows from ``offsets[t]`` on.
    """

    exposure: Exposure
    """From one observation to the next; its intervals are the observations."""
    counts: Ints
    offsets: Ints
    recorded: Ints
    """Recorded grade minus 1 of each observation."""
    assessor: Ints
    chain_of: Ints
    """Chain of each observation."""
    groups: tuple[Ints, ...]
    """Observations of each chain."""
    start: Array
    """Shape (series, 4): the known first grade; zeros where it is unknown."""
    unknown: NDArray[np.bool_]
    series_chain: Ints
    tail: Exposure
    """From the last observation to now; its intervals are the series."""
    order: Ints
    """Place of each series in the sequence it was laid out from."""

    @property
    def series(self) -> int:
        """How many series there are."""
        return int(self.series_chain.size)

    @property
    def observations(self) -> int:
        """How many recorded grades there are."""
        return int(self.recorded.size)


def _joined(parts: Sequence[NDArray[np.generic]], like: NDArray[np.generic]) -> NDArray[np.generic]:
    return np.concatenate(parts) if parts else like


def lay_out(series: Sequence[Series], chains: int, covariates: int) -> Panel:
    """Lay series out as a panel.

    Parameters
    ----------
    series
        In any order; series without observations keep only their tail.
    chains
        Number of materials; every series' chain is below it.
    covariates
        Number of columns of ``piece_x``.
    """
    lengths = np.array([s.recorded.size for s in series], dtype=np.int64)
    order = np.argsort(-lengths, kind="stable")
    ordered = [series[k] for k in order]
    longest = int(lengths.max(initial=0))
    counts = np.array([int((lengths > t).sum()) for t in range(longest)], dtype=np.int64)
    offsets = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    recorded, assessor, chain_of = (np.zeros(int(offsets[-1]), dtype=np.int64) for _ in range(3))
    for rank, one in enumerate(ordered):
        rows = offsets[: one.recorded.size] + rank
        recorded[rows] = one.recorded - 1
        assessor[rows] = one.assessor
        chain_of[rows] = one.chain
    start = np.zeros((len(ordered), GRADES))
    for rank, one in enumerate(ordered):
        if one.start != UNKNOWN:
            start[rank, one.start - 1] = 1.0
    steps, tail = _exposures(ordered, offsets, covariates)
    return Panel(
        exposure=steps,
        counts=counts,
        offsets=offsets,
        recorded=recorded,
        assessor=assessor,
        chain_of=chain_of,
        groups=tuple(np.flatnonzero(chain_of == c) for c in range(chains)),
        start=start,
        unknown=np.array([s.start == UNKNOWN for s in ordered], dtype=bool),
        series_chain=np.array([s.chain for s in ordered], dtype=np.int64),
        tail=tail,
        order=order,
    )


def _exposures(ordered: Sequence[Series], offsets: Ints, covariates: int) -> tuple[Exposure, Exposure]:
    rank = np.repeat(np.arange(len(ordered)), [s.piece_step.size for s in ordered])
    none = np.zeros(0, dtype=np.int64)
    step = _joined([s.piece_step for s in ordered], none).astype(np.int64)
    years = _joined([s.piece_years for s in ordered], np.zeros(0)).astype(np.float64)
    x = _joined([s.piece_x for s in ordered], np.zeros((0, covariates))).astype(np.float64)
    length = np.array([s.recorded.size for s in ordered], dtype=np.int64)
    last = step == length[rank] if rank.size else np.zeros(0, dtype=bool)
    rows = offsets[step[~last]] + rank[~last]
    steps = Exposure(rows, years[~last], x[~last], int(offsets[-1]))
    return steps, Exposure(rank[last], years[last], x[last], len(ordered))
