"""What is lost of an element that is treated, for every month its job could end before.

With l(g) the lost fraction at true grade g, a the grade when the job ends, g the better of a and the grade
the treatment leaves, k what it keeps of what was still original, b the grade at the value date after wear
from g at the new speed: ``lost = 1 - (1 - l(a)) k (1 - l(b)) / (1 - l(g))``, in expectation over a and b.
Until its end wear goes on at the old speed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.records import Element, Treatment
from triage.risk.fit import FittedModel
from triage.risk.markov import GRADES, columns, earlier, expected_ahead, onward
from triage.risk.tables import plain
from triage.risk.values import values_of

Array = NDArray[np.float64]

CELLS = 6000
"""Rows (one element under one treatment) times months worked on at once: some tens of megabytes."""


@dataclass(frozen=True)
class Row:
    """One element under one treatment."""

    treatment_id: str
    element: int
    """Place of the element in the histories."""
    grade_after: int | None
    """None: the treatment leaves the grade as it is."""
    kept: float
    """Fraction of what was still original that is kept."""
    kept_assumed: bool
    slows_to: float
    ends: frozenset[str]


def rows_of(fitted: FittedModel) -> tuple[Row, ...]:
    """Return every element under every treatment of its object."""
    places = fitted.histories.places_of
    return tuple(
        _row(fitted, treatment, k)
        for treatment in fitted.collection.treatments
        for k in places.get(treatment.object_id, ())
    )


def _row(fitted: FittedModel, treatment: Treatment, place: int) -> Row:
    element = fitted.histories.elements[place]
    effects = fitted.collection.effects_of.get(treatment.treatment_id, ())
    effect = next((e for e in effects if e.element_id == element.element_id), None)
    given = None if effect is None else effect.original_kept_pct
    assumed = effect is not None and given is None
    return Row(
        treatment_id=treatment.treatment_id,
        element=place,
        grade_after=None if effect is None else effect.grade_after,
        kept=1.0 if effect is None else _kept(element, given),
        kept_assumed=assumed,
        slows_to=treatment.slows_to,
        ends=frozenset(plain(c) for c in treatment.ends_causes),
    )


def _kept(element: Element, given: float | None) -> float:
    return (values_of(element.kind).original_kept_pct if given is None else given) / 100.0


def lost_if_done(fitted: FittedModel, rows: Sequence[Row], value_years: float) -> Array:
    """Return the lost fraction of each row's element if its job ends before month e, shape (rows, H + 1)."""
    months = fitted.collection.settings.months
    some = max(1, CELLS // (months + 1))
    parts = [_lost(fitted, rows[k : k + some], months, value_years) for k in range(0, len(rows), some)]
    return np.concatenate(parts) if parts else np.zeros((0, months + 1))


def _lost(fitted: FittedModel, rows: Sequence[Row], months: int, value_years: float) -> Array:
    old, new = yearly(fitted, rows, ended=False), yearly(fitted, rows, ended=True)
    places = [r.element for r in rows]
    states = _states(fitted.state[:, places], old, months)
    left = 1.0 - np.array([values_of(fitted.histories.elements[k].kind).lost for k in places])
    after = np.array([[_better(a, r.grade_after) for a in range(GRADES)] for r in rows])
    kept = np.array([[r.kept] for r in rows]) * left / np.take_along_axis(left, after, axis=1)
    draws = fitted.draws
    tiled = np.tile(left.T, draws)
    ahead = expected_ahead(new * (value_years - months / 12), tiled)
    step = columns(new / 12)
    which = np.tile(after.T, draws)
    weight = np.tile(kept.T, draws)
    lost = np.empty((len(rows), months + 1))
    for e in range(months, -1, -1):
        remains = (states[e] * weight * np.take_along_axis(ahead, which, axis=0)).sum(axis=0)
        lost[:, e] = 1.0 - remains.reshape(draws, len(rows)).mean(axis=0)
        ahead = earlier(step, ahead)
    return np.clip(lost, 0.0, 1.0)


def yearly(fitted: FittedModel, rows: Sequence[Row], *, ended: bool) -> Array:
    """Return each row's rates a year, before or after its job's end, shape (3, draws x rows)."""
    record = fitted.histories
    places = np.array([r.element for r in rows], dtype=np.int64)
    x = record.x_now[places].copy()
    slows = np.ones(len(rows))
    if ended:
        for k, row in enumerate(rows):
            gone = [c for c, name in enumerate(record.covariates.causes) if name in row.ends]
            x[k, gone] = 0.0
            slows[k] = row.slows_to
    rates = fitted.rates[:, record.chain[places]] * (fitted.speed(x) * slows)[:, :, None]
    return np.ascontiguousarray(rates.reshape(-1, 3).T)


def _better(a: int, grade_after: int | None) -> int:
    return a if grade_after is None else min(a, grade_after - 1)


def _states(now: Array, rates: Array, months: int) -> Array:
    """Return the grade's distribution month by month, shape (months + 1, 4, draws x rows)."""
    step = columns(rates / 12)
    out = np.empty((months + 1, GRADES, rates.shape[1]))
    out[0] = now.reshape(-1, GRADES).T
    for e in range(months):
        out[e + 1] = onward(step, out[e])
    return out
