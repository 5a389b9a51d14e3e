"""Proof: every job whose reduced cost fits in the gap, as one integer program.

A plan better than the one in hand can use only jobs whose reduced cost at the bound's prices is below the
gap (reduced-cost fixing). If those are few enough to list, the program over them decides the problem.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, Key, make_column
from triage.planning.engine.pricing import INFEASIBLE, Pricer

ROUNDING = 1e-6
"""Slack against binary fractions, so that no job that fits is left out."""


@dataclass(frozen=True)
class Listing:
    """Every job with a reduced cost up to ``slack``; ``complete`` is False if there were too many."""

    columns: tuple[Column, ...]
    complete: bool


@dataclass
class _Partial:
    """Jobs begun: treatment row, next start, slack left, and the starts and classes so far (one row each)."""

    row: Ints
    start: Ints
    left: Floats
    starts: Ints
    classes: Ints


def list_columns(pricer: Pricer, prices: Floats, none: Floats, slack: float, most: int) -> Listing:
    """List the jobs whose cost at the prices exceeds their object's least by at most ``slack``.

    ``none`` (objects,) are the points of no job, infinite for promised objects.
    """
    pricer.price(prices)
    jobs = _jobs_within(pricer, none, slack, most)
    if jobs is None:
        return Listing((), False)
    return Listing(tuple(make_column(pricer.inst, *job) for job in jobs), True)


def best_columns(pricer: Pricer, prices: Floats, none: Floats, slack: float, most: int) -> Listing:
    """List jobs up to ``slack``, or up to the largest part of it that keeps them few enough."""
    pricer.price(prices)
    jobs = _jobs_within(pricer, none, slack, most)
    if jobs is not None:
        return Listing(tuple(make_column(pricer.inst, *job) for job in jobs), True)
    low, high = 0.0, min(slack, float(np.abs(none[np.isfinite(none)]).sum()) + 1.0)
    for _ in range(12):
        middle = (low + high) / 2
        tried = _jobs_within(pricer, none, middle, most)
        if tried is None:
            high = middle
        else:
            low, jobs = middle, tried
            if len(tried) > 0.8 * most:
                break
    return Listing(tuple(make_column(pricer.inst, *job) for job in jobs or ()), False)


def _jobs_within(pricer: Pricer, none: Floats, slack: float, most: int) -> list[Key] | None:
    """Return the jobs within ``slack`` at the prices last used, or None if there are more than ``most``."""
    if not pricer.treatments:
        return []
    cost, _, _ = pricer.cheapest()
    extra = pricer.values - np.minimum(cost, none)[pricer.owner][:, None]
    extra[pricer.values >= INFEASIBLE] = np.inf
    rows, starts = np.nonzero(extra <= slack)
    if rows.size > most:
        return None
    left = slack - extra[rows, starts] + ROUNDING
    stages = np.array([len(pricer.inst.treatments[t].stages) for t in pricer.treatments])
    done: list[Key] = []
    for count in np.unique(stages[rows]):
        mine = stages[rows] == count
        nothing = np.zeros((int(mine.sum()), 0), dtype=np.int64)
        partial = _Partial(rows[mine], starts[mine], left[mine], nothing, nothing)
        for depth in range(int(count) - 1, -1, -1):
            longer = _extended(pricer, partial, depth, most - len(done))
            if longer is None:
                return None
            partial = longer
        done.extend(_keys(pricer, partial))
    return done


def _extended(pricer: Pricer, jobs: _Partial, depth: int, most: int) -> _Partial | None:
    """Choose class and wait of one more stage in every way that stays within the slack."""
    after = pricer.levels[depth - 1].best if depth else None
    ways = pricer.levels[depth].ways(jobs.row, jobs.start, after)
    kept = ways.cost <= jobs.left[ways.origin]
    origin = ways.origin[kept]
    if origin.size > most:
        return None
    return _Partial(
        row=jobs.row[origin],
        start=ways.start[kept],
        left=jobs.left[origin] - np.maximum(0.0, ways.cost[kept]),
        starts=np.column_stack([jobs.starts[origin], jobs.start[origin]]),
        classes=np.column_stack([jobs.classes[origin], ways.space_class[kept]]),
    )


def _keys(pricer: Pricer, jobs: _Partial) -> list[Key]:
    made = zip(jobs.row.tolist(), jobs.starts.tolist(), jobs.classes.tolist(), strict=True)
    return [(pricer.treatments[row], tuple(starts), tuple(classes)) for row, starts, classes in made]
