"""The true grade ahead: each element's chances if nothing is done from now on.

In each draw an element starts from its own filtered state and wears at its present speed: causes not ended
go on, its hall's last known climate goes on, no treatment. Chances are means over draws; ranges are the
middle 90 % of the draws.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.records import Collection, Element
from triage.risk.fit import FittedModel
from triage.risk.intervals import treatments_on
from triage.risk.markov import GRADES, columns, onward
from triage.risk.results import Basis, ElementForecast, RiskForecast

Array = NDArray[np.float64]

YEARLY = tuple(range(0, 121, 12))
RANGE = (5.0, 95.0)
"""Percentiles of the draws that bound a 90 % range."""
LOOKED_AHEAD = (*range(11), *range(12, 21, 2), *range(25, 51, 5), *range(60, 101, 10))
"""Years at which chances are taken to find when grade 3 or 4 becomes as likely as not."""
CHUNK = 256
"""Elements worked on at once: keeps memory in tens of megabytes."""
GRID = 2.0**40
"""Chances are whole multiples of 2^-40, so that p3 + p4 and 1 - p1 - p2 are exact sums."""


def forecast(fitted: FittedModel, months_ahead: Sequence[int] = YEARLY) -> RiskForecast:
    """Return the chances of every element's true grade at months ahead of now.

    Parameters
    ----------
    fitted
        From :func:`triage.risk.fit`.
    months_ahead
        Whole months from now, at least 0, in rising order.

    Raises
    ------
    ValueError
        If a month lies before now or the months do not rise.
    """
    months = tuple(int(m) for m in months_ahead)
    if any(m < 0 for m in months) or list(months) != sorted(set(months)):
        raise ValueError(f"months ahead must rise from 0 or later, not {months}")
    chances, low, high = _ahead(fitted, months)
    to_3, to_4 = _years_until(fitted)
    bases = _bases(fitted)
    elements = []
    for k, element in enumerate(fitted.histories.elements):
        elements.append(
            ElementForecast(
                object_id=element.object_id,
                element_id=element.element_id,
                months_ahead=months,
                p=tuple((row[0], row[1], row[2], row[3]) for row in chances[:, k].tolist()),
                low3=tuple(low[:, k].tolist()),
                high3=tuple(high[:, k].tolist()),
                basis=bases[k],
                years_to_3=to_3[k],
                years_to_4=to_4[k],
                **vars(last_seen(element, fitted.collection)),
            )
        )
    notes = (fitted.convergence, *fitted.notes)
    return RiskForecast(
        now=fitted.collection.settings.now, months_ahead=months, elements=tuple(elements), notes=notes
    )


@dataclass(frozen=True)
class LastSeen:
    """What was last recorded of an element; a treatment only where no grade came after it."""

    recorded: int | None = None
    recorded_on: dt.date | None = None
    treated_to: int | None = None
    treated_on: dt.date | None = None

    @property
    def stands(self) -> int | None:
        """The recorded grade, or what a later treatment made of it."""
        return self.recorded if self.treated_to is None else self.treated_to


def last_seen(element: Element, collection: Collection) -> LastSeen:
    """Return the last grade and the treatment after it, before now. Grades of one day: the later round's."""
    now = collection.settings.now
    seen = [
        (r.date, g.grade)
        for r, g in collection.grades_of.get(element.key, ())
        if g.grade is not None and r.date < now
    ]
    day, grade = seen[-1] if seen else (None, None)
    done = treatments_on(element, collection)
    if done and (day is None or done[-1].date >= day):
        return LastSeen(grade, day, done[-1].grade_after, done[-1].date)
    return LastSeen(grade, day)


def moving(fitted: FittedModel, years: Sequence[float]) -> Iterator[tuple[slice, int, Array]]:
    """Yield (elements, place in ``years``, chances (4, draws, elements)), some elements at a time.

    Parameters
    ----------
    years
        From now, rising.
    """
    record = fitted.histories
    gaps = np.diff([0.0, *years]).round(12).tolist()
    speed = fitted.speed(record.x_now)
    for first in range(0, len(record.elements), CHUNK):
        some = slice(first, first + CHUNK)
        rates = fitted.rates[:, record.chain[some]] * speed[:, some, None]
        worn = np.ascontiguousarray(rates.reshape(-1, 3).T)
        steps = {gap: columns(worn * gap) for gap in set(gaps) if gap > 0}
        state = np.ascontiguousarray(fitted.state[:, some].reshape(-1, GRADES).T)
        for place, gap in enumerate(gaps):
            if gap > 0:
                state = onward(steps[gap], state)
            yield some, place, state.reshape(GRADES, fitted.draws, -1)


def _ahead(fitted: FittedModel, months: tuple[int, ...]) -> tuple[Array, Array, Array]:
    """Return chances (months, elements, 4) and the range of the chance of grade 3 or worse."""
    elements = len(fitted.histories.elements)
    mean = np.zeros((len(months), elements, GRADES))
    low, high = np.zeros((2, len(months), elements))
    for some, place, chances in moving(fitted, [m / 12 for m in months]):
        mean[place, some] = chances.mean(axis=1).T
        low[place, some], high[place, some] = np.percentile(chances[2] + chances[3], RANGE, axis=0)
    p = proper(mean)
    three = p[:, :, 2] + p[:, :, 3]
    return p, np.clip(low, 0.0, three), np.clip(high, three, 1.0)


def proper(p: Array) -> Array:
    """Return chances over time that sum to 1 and whose p3 + p4 never falls, exactly.

    Parameters
    ----------
    p
        Shape (times, elements, 4), right up to rounding error.
    """
    worse = np.maximum.accumulate(_on_grid(p[..., 2] + p[..., 3]), axis=0)
    p4 = np.minimum(np.maximum.accumulate(_on_grid(p[..., 3]), axis=0), worse)
    p2 = np.minimum(_on_grid(p[..., 1]), 1.0 - worse)
    return np.stack([1.0 - worse - p2, p2, worse - p4, p4], axis=-1)


def _on_grid(p: Array) -> Array:
    return np.asarray(np.clip(np.round(p * GRID) / GRID, 0.0, 1.0))


def _years_until(fitted: FittedModel) -> tuple[list[float | None], list[float | None]]:
    """Return the years until grade 3 or worse, and 4, are as likely as not; None beyond the look ahead."""
    mean = np.zeros((len(LOOKED_AHEAD), len(fitted.histories.elements), GRADES))
    for some, place, chances in moving(fitted, LOOKED_AHEAD):
        mean[place, some] = chances.mean(axis=1).T
    mean = proper(mean)
    return _halfway(mean[:, :, 2] + mean[:, :, 3]), _halfway(mean[:, :, 3])


def _halfway(chance: Array) -> list[float | None]:
    """Return when each column first reaches one half, straight between looks on the log of what is left."""
    years = np.array(LOOKED_AHEAD, dtype=float)
    found: list[float | None] = []
    for column in chance.T:
        if column[-1] < 0.5:
            found.append(None)
            continue
        after = int(np.argmax(column >= 0.5))
        if after == 0:
            found.append(0.0)
            continue
        left = np.log(np.maximum(1.0 - column[after - 1 : after + 1], 1e-300))
        part = (left[0] - np.log(0.5)) / (left[0] - left[1])
        found.append(float(years[after - 1] + part * (years[after] - years[after - 1])))
    return found


def _bases(fitted: FittedModel) -> list[Basis]:
    record = fitted.histories
    own = [last_seen(e, fitted.collection) for e in record.elements]
    touched = [s.recorded is not None or s.treated_on is not None for s in own]
    graded = Counter(int(m) for m, s in zip(record.chain, own, strict=True) if s.recorded is not None)
    return [
        "own history" if mine else "material" if graded[int(m)] else "prior only"
        for m, mine in zip(record.chain, touched, strict=True)
    ]
