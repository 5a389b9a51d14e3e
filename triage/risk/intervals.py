"""The record as histories: one series an element and treatment, with everything that speeds its wear.

On one day grades come before treatments. A treatment sets its element (blank: every element of the object)
to its ``grade_after``; of two on one day the one that names the element counts, then the later row.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from triage.records import Collection, Element, Move, MuseumObject, Treated
from triage.risk import environment
from triage.risk.causes import Span, cause_names, spans_of
from triage.risk.materials import MaterialPrior, material_name, priors_of
from triage.risk.panel import UNKNOWN, Panel, Series, lay_out
from triage.risk.places import NOWHERE, Climates, Stay, climates_of, present_place, stay_of
from triage.units import DAYS_A_YEAR

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
HUNG = "hung"
ASSESSOR_UNKNOWN = ""


@dataclass(frozen=True)
class Covariates:
    """The columns of ``x``: causes first, then the hall's climate, then hanging."""

    causes: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Every column's name."""
        return (*self.causes, *environment.NAMES, HUNG)

    @property
    def climate(self) -> slice:
        """The climate columns."""
        return slice(len(self.causes), len(self.causes) + len(environment.NAMES))


@dataclass(frozen=True)
class Histories:
    """Every element's history, and what wears it from now on."""

    covariates: Covariates
    materials: tuple[str, ...]
    priors: tuple[MaterialPrior, ...]
    assessors: tuple[str, ...]
    panel: Panel
    elements: tuple[Element, ...]
    chain: Ints
    """Material of each element."""
    current: Ints
    """The panel's series each element is in now."""
    x_now: Array
    """Shape (elements, covariates): what wears each element from now on."""
    beyond: tuple[environment.Validity, ...]
    """Relations whose range some reading goes beyond."""

    @cached_property
    def places_of(self) -> dict[str, list[int]]:
        """object_id -> where its elements are in ``elements``."""
        found: dict[str, list[int]] = {}
        for place, element in enumerate(self.elements):
            found.setdefault(element.object_id, []).append(place)
        return found


@dataclass(frozen=True)
class _Context:
    collection: Collection
    covariates: Covariates
    climates: Climates
    priors: dict[str, MaterialPrior]
    wear: dict[str, Array]
    """Material -> log factors by place and year, shape (places, years, 4)."""
    assessors: dict[str, int]
    moves: dict[str, list[Move]]
    now: dt.date


@dataclass(frozen=True)
class _Cut:
    """One series in days: from ``first`` to ``last``, with its observations."""

    start: int
    first: int
    last: int
    days: Ints
    grades: Ints
    assessor: Ints


def histories(collection: Collection) -> Histories:
    """Return every element's history up to now, laid out for the likelihood."""
    context = _context(collection)
    series: list[Series] = []
    current, x_now = [], []
    for obj in collection.objects:
        stay = stay_of(obj, context.moves[obj.object_id], context.climates, context.now)
        for element in collection.elements_of.get(obj.object_id, ()):
            made, here = _history(element, obj, stay, context)
            series.extend(made)
            current.append(len(series) - 1)
            x_now.append(here)
    elements = tuple(e for o in collection.objects for e in collection.elements_of.get(o.object_id, ()))
    materials = tuple(context.priors)
    panel = lay_out(series, len(materials), len(context.covariates.names))
    place = np.empty(len(series), dtype=np.int64)
    place[panel.order] = np.arange(len(series))
    return Histories(
        covariates=context.covariates,
        materials=materials,
        priors=tuple(context.priors.values()),
        assessors=tuple(context.assessors),
        panel=panel,
        elements=elements,
        chain=np.array([materials.index(material_name(e.material)) for e in elements], dtype=np.int64),
        current=place[np.array(current, dtype=np.int64)],
        x_now=np.array(x_now).reshape(len(elements), len(context.covariates.names)),
        beyond=environment.beyond_validity(context.climates.readings),
    )


def _context(collection: Collection) -> _Context:
    now = collection.settings.now
    days = [r.date for r in collection.rounds] + [t.date for t in collection.treated]
    climates = climates_of(collection, min([d.year for d in days if d < now], default=now.year))
    priors = priors_of(collection)
    moves: defaultdict[str, list[Move]] = defaultdict(list)
    for move in collection.moves:
        moves[move.object_id].append(move)
    names = sorted({r.assessor or ASSESSOR_UNKNOWN for r in collection.rounds} | {ASSESSOR_UNKNOWN})
    return _Context(
        collection=collection,
        covariates=Covariates(cause_names(collection)),
        climates=climates,
        priors=priors,
        wear={m: environment.log_factors(climates.readings, p.responses) for m, p in priors.items()},
        assessors={name: k for k, name in enumerate(names)},
        moves=moves,
        now=now,
    )


def treatments_on(element: Element, collection: Collection) -> tuple[Treated, ...]:
    """Return the treatments an element had before now, one a day, by date."""
    by_day: dict[dt.date, Treated] = {}
    for row in collection.treated_of.get(element.object_id, ()):
        if row.element_id not in (None, element.element_id) or row.date >= collection.settings.now:
            continue
        held = by_day.get(row.date)
        if held is None or held.element_id is None or row.element_id is not None:
            by_day[row.date] = row
    return tuple(by_day[day] for day in sorted(by_day))


def _history(
    element: Element, obj: MuseumObject, stay: Stay, context: _Context
) -> tuple[list[Series], Array]:
    rounds = context.collection.round_by_id
    findings = context.collection.findings_of.get(obj.object_id, ())
    spans = spans_of(element.element_id, findings, rounds, context.now.toordinal())
    material = material_name(element.material)
    chain = list(context.priors).index(material)
    made = [_series(cut, chain, material, spans, stay, obj, context) for cut in _cuts(element, context)]
    today = np.array([context.now.toordinal()])
    place = np.array([present_place(obj, context.climates)])
    latest = np.array([context.climates.readings.shape[1] - 1])
    return made, _wearing(today, place, latest, material, spans, obj, context)[0]


def _cuts(element: Element, context: _Context) -> list[_Cut]:
    """Return an element's series in days: between treatments, the last one to now."""
    now = context.now.toordinal()
    seen = [
        (r.date.toordinal(), g.grade, context.assessors[r.assessor or ASSESSOR_UNKNOWN])
        for r, g in context.collection.grades_of.get(element.key, ())
        if g.grade is not None and r.date.toordinal() < now
    ]
    table = np.array(seen, dtype=np.int64).reshape(-1, 3)
    done = treatments_on(element, context.collection)
    edges = [-1, *(t.date.toordinal() for t in done), now]
    starts = [UNKNOWN, *(t.grade_after for t in done)]
    cuts = []
    for start, (after, until) in zip(starts, pairwise(edges), strict=True):
        mine = table[(table[:, 0] > after) & (table[:, 0] <= until)]
        final = until == now
        if not final and not mine.size:
            continue
        first = after if start != UNKNOWN else int(mine[0, 0]) if mine.size else now
        last = now if final else int(mine[-1, 0])
        cuts.append(_Cut(start, first, last, mine[:, 0], mine[:, 1], mine[:, 2]))
    return cuts


def _series(
    cut: _Cut,
    chain: int,
    material: str,
    spans: tuple[Span, ...],
    stay: Stay,
    obj: MuseumObject,
    context: _Context,
) -> Series:
    turns = [
        stay.days,
        cut.days,
        np.array([s.first for s in spans] + [s.last for s in spans], dtype=np.int64),
    ]
    every = np.concatenate(turns)
    inside = every[(every > cut.first) & (every < cut.last)]
    edges = np.unique(np.concatenate([[cut.first, cut.last], inside]))
    begins = edges[:-1]
    at = np.maximum(np.searchsorted(stay.days, begins, side="right") - 1, 0)
    x = _wearing(begins, stay.place[at], stay.year[at], material, spans, obj, context)
    step = np.searchsorted(cut.days, begins, side="right")
    return Series(chain, cut.start, cut.grades, cut.assessor, step, np.diff(edges) / DAYS_A_YEAR, x)


def _wearing(
    days: Ints,
    place: Ints,
    year: Ints,
    material: str,
    spans: tuple[Span, ...],
    obj: MuseumObject,
    context: _Context,
) -> Array:
    """Return the covariates on given days, shape (days, covariates)."""
    covariates = context.covariates
    x = np.zeros((days.size, len(covariates.names)))
    x[:, covariates.climate] = context.wear[material][place, year]
    x[:, -1] = np.where(place != NOWHERE, float(obj.hung), 0.0)
    for span in spans:
        at_work = (days >= span.first) & (days < span.last)
        column = covariates.causes.index(span.cause)
        x[at_work, column] = context.priors[material].log_factor(span.cause, span.severity)
    return x
