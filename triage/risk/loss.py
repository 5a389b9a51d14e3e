"""From forecast to loss: what of an object's significance is gone by the value date, in points.

Object loss = 100 x significance x sum over elements of share x lost fraction: 100 points are the whole of an
object of significance 1. The value date is ``value_years`` after now, and at least 10 years past the horizon.

When waiting costs. ``if_done[t][e]`` is the expectation as defined and is not forced to rise with e. It never
falls where a treatment leaves grades as they are and does not speed later wear (ending a cause, draining,
shading, supporting): a later end only means more wear at the old speed. Where a treatment renews an element,
two things work against each other: the element may get worse before the job ends, which is lost for good, and
the renewed element wears from its job's end to the value date, a shorter time if the job ends later. With
wear that speeds up towards grade 4, as in the tables, the first outweighs the second for worn elements; for
an element hardly worn, renewing it later can lose less than renewing it now, and the figure says so. (The
plan is not made to wait for that: the planning problem levels such a fall.)
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from triage.records import MuseumObject, Treatment
from triage.records.vocabulary import TreatmentKind
from triage.risk.fit import FittedModel
from triage.risk.forecast import RANGE
from triage.risk.markov import expected_ahead
from triage.risk.results import ObjectLoss
from triage.risk.tables import known, plain
from triage.risk.treating import Row, lost_if_done, rows_of
from triage.risk.values import kind_known, values_of

Array = NDArray[np.float64]

POINTS = 100.0
DIGITS = 9
"""Digits of a point kept: what is level in theory reads level."""
ROUNDING = 10.0**-DIGITS


def value_years(fitted: FittedModel) -> float:
    """Return how many years after now the value date lies."""
    settings = fitted.collection.settings
    return max(settings.value_years, settings.least_value_years)


def object_losses(fitted: FittedModel) -> dict[str, ObjectLoss]:
    """Return the loss of every object, untreated and under each of its treatments, in the record's order."""
    until = value_years(fitted)
    lost = lost_untreated(fitted, fitted.histories.x_now, until)
    rows = rows_of(fitted)
    done = lost_if_done(fitted, rows, until)
    worth = _worth(fitted)
    causes = _by_cause(fitted, lost, worth, until)
    places = fitted.histories.places_of
    rows_by_treatment: dict[str, list[int]] = {}
    for k, row in enumerate(rows):
        rows_by_treatment.setdefault(row.treatment_id, []).append(k)
    points = worth[[r.element for r in rows], None] * done if rows else done
    out = {}
    for obj in fitted.collection.objects:
        mine = places.get(obj.object_id, [])
        treatments = fitted.collection.treatments_of.get(obj.object_id, ())
        if_done = {
            t.treatment_id: _curve(points[rows_by_treatment.get(t.treatment_id, [])]) for t in treatments
        }
        own_rows = [rows[k] for t in treatments for k in rows_by_treatment.get(t.treatment_id, [])]
        waited, wait = _waiting(fitted, treatments, if_done)
        drawn = (lost[:, mine] * worth[mine]).sum(axis=1)
        never = float(drawn.mean())
        low, high = np.percentile(drawn, RANGE)
        out[obj.object_id] = ObjectLoss(
            object_id=obj.object_id,
            never=never,
            low=min(float(low), never),
            high=max(float(high), never),
            value_years=until,
            wait_year=wait,
            wait_treatment=waited,
            by_element=_by_element(fitted, mine, lost, worth),
            by_cause=_largest_first(causes.get(obj.object_id, {})),
            if_done=if_done,
            assumed=_assumed(fitted, obj, mine, own_rows, causes.get(obj.object_id, {})),
        )
    return out


def lost_untreated(fitted: FittedModel, x: Array, years: float, places: Sequence[int] | None = None) -> Array:
    """Return the expected lost fraction after some years without treatment.

    Parameters
    ----------
    x
        Covariates from now on, shape (elements chosen, covariates).
    years
        From now.
    places
        The elements chosen; None: all.

    Returns
    -------
    Array
        Shape (draws, elements chosen).
    """
    record = fitted.histories
    chosen = np.arange(len(record.elements)) if places is None else np.asarray(places, dtype=np.int64)
    rates = fitted.rates[:, record.chain[chosen]] * (fitted.speed(x) * years)[:, :, None]
    lost = np.array([values_of(record.elements[k].kind).lost for k in chosen]).reshape(-1, 4)
    ahead = expected_ahead(rates.reshape(-1, 3).T, np.tile(lost.T, fitted.draws))
    state = fitted.state[:, chosen].reshape(-1, 4).T
    return np.asarray((state * ahead).sum(axis=0).reshape(fitted.draws, chosen.size))


def _curve(points: Array) -> tuple[float, ...]:
    """Return the sum over elements, rounding noise removed so that what is level reads level."""
    return tuple(np.round(points.sum(axis=0), DIGITS).tolist())


def _worth(fitted: FittedModel) -> Array:
    """Return what the whole of each element is worth, in points."""
    collection = fitted.collection
    significance = {o.object_id: o.significance for o in collection.objects}
    return np.array(
        [POINTS * significance[e.object_id] * collection.shares[e.key] for e in fitted.histories.elements]
    )


def _by_element(
    fitted: FittedModel, mine: list[int], lost: Array, worth: Array
) -> tuple[tuple[str, float], ...]:
    mean = lost[:, mine].mean(axis=0) * worth[mine]
    ids = [fitted.histories.elements[k].element_id for k in mine]
    return _largest_first(dict(zip(ids, mean.tolist(), strict=True)))


def _largest_first(points: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    return tuple(sorted(points.items(), key=lambda item: (-item[1], item[0])))


def _by_cause(fitted: FittedModel, lost: Array, worth: Array, until: float) -> dict[str, dict[str, float]]:
    """Return object_id -> cause -> points saved if that cause ended now on the whole object."""
    record = fitted.histories
    saved: dict[str, dict[str, float]] = {}
    for column, cause in enumerate(record.covariates.causes):
        touched = np.flatnonzero(record.x_now[:, column])
        if not touched.size:
            continue
        x = record.x_now[touched].copy()
        x[:, column] = 0.0
        without = lost_untreated(fitted, x, until, touched.tolist())
        gain = (lost[:, touched] - without).mean(axis=0) * worth[touched]
        for k, points in zip(touched.tolist(), gain.tolist(), strict=True):
            mine = saved.setdefault(record.elements[k].object_id, {})
            mine[cause] = mine.get(cause, 0.0) + points
    return saved


def _waiting(
    fitted: FittedModel, treatments: Sequence[Treatment], if_done: Mapping[str, tuple[float, ...]]
) -> tuple[str | None, float]:
    """Return the treatment that saves most (workshop ones first) and what a year's later end of it costs."""
    workshop = [t for t in treatments if t.kind is TreatmentKind.WORKSHOP]
    best: tuple[float, str, float] | None = None
    for treatment in workshop or treatments:
        curve = if_done[treatment.treatment_id]
        months = sum(s.months for s in fitted.collection.stages_of.get(treatment.treatment_id, ()))
        first = min(months, max(len(curve) - 13, 0))
        last = min(first + 12, len(curve) - 1)
        found = (curve[first], treatment.treatment_id, curve[last] - curve[first])
        best = found if best is None else min(best, found)
    return (None, 0.0) if best is None else (best[1], best[2])


def _assumed(
    fitted: FittedModel, obj: MuseumObject, mine: list[int], rows: Sequence[Row], causes: Mapping[str, float]
) -> tuple[str, ...]:
    said = []
    named = {plain(m.material) for m in fitted.collection.materials}
    if not mine:
        said.append(f"{obj.called} has no elements on record, so no loss can be reckoned.")
    for k in mine:
        element = fitted.histories.elements[k]
        if not kind_known(element.kind):
            kind = repr(element.kind) if element.kind else "not recorded"
            said.append(f"{element.element_id}: kind {kind}; the table's 'other' is used.")
        if plain(element.material) not in named and not known("materials.csv", "material", element.material):
            material = repr(element.material) if element.material else "not recorded"
            said.append(f"{element.element_id}: material {material}; the table's 'other' is used.")
    for row in rows:
        if row.kept_assumed:
            element = fitted.histories.elements[row.element]
            kept = f"{row.kept * 100:g} %"
            said.append(f"{row.treatment_id}: {kept} of {element.element_id}'s original is assumed kept.")
    said += [
        f"{cause}: by the material table it slows wear here more than it speeds it; ending it saves nothing."
        for cause, points in sorted(causes.items())
        if points < -ROUNDING
    ]
    return tuple(said)
