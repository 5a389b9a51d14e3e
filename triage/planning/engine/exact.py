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
WIDEST = 1e9
"""Points beyond which a slack is as good as none."""
DOUBLINGS = 7
NARROWER = 32.0
FRONTIER = 15
"""Times the jobs wanted that may be looked at to choose them."""


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


@dataclass(frozen=True)
class _Jobs:
    """Whole jobs: their keys, object rows in the pricer and reduced costs."""

    keys: list[Key]
    owner: Ints
    extra: Floats

    def columns(self, pricer: Pricer, chosen: Ints | None = None) -> tuple[Column, ...]:
        """Return the jobs, or some of them, as columns."""
        which = range(len(self.keys)) if chosen is None else chosen.tolist()
        return tuple(make_column(pricer.inst, *self.keys[k]) for k in which)


def list_columns(pricer: Pricer, prices: Floats, none: Floats, slack: float, most: int) -> Listing:
    """List the jobs whose cost at the prices exceeds their object's least by at most ``slack``.

    ``none`` (objects,) are the points of no job, infinite for promised objects.
    """
    pricer.price(prices)
    jobs = _jobs_within(pricer, none, np.full(pricer.objects.size, slack), most)
    return Listing((), False) if jobs is None else Listing(jobs.columns(pricer), True)


def best_columns(pricer: Pricer, prices: Floats, none: Floats, slack: float, most: int) -> Listing:
    """List jobs up to ``slack``; where there are more than ``most``, about as many of each object."""
    pricer.price(prices)
    objects = pricer.objects.size
    share = max(4, most // max(1, objects))
    slacks = np.full(objects, min(slack, WIDEST) / 2**DOUBLINGS)
    best: _Jobs | None = None
    for _ in range(DOUBLINGS + 1):
        jobs = _jobs_within(pricer, none, slacks, FRONTIER * most)
        if jobs is None and best is None:
            slacks /= NARROWER
            continue
        if jobs is None:
            break
        best = jobs
        short = np.bincount(jobs.owner, minlength=objects) < share
        if not short.any() or slacks.min() >= slack:
            break
        slacks[short] = np.minimum(2 * slacks[short], slack)
    if best is None:
        return Listing((), False)
    if len(best.keys) <= most:
        return Listing(best.columns(pricer), bool(slacks.min() >= slack) and jobs is not None)
    return Listing(best.columns(pricer, _fair_choice(best, share, most)), False)


def _fair_choice(jobs: _Jobs, share: int, most: int) -> Ints:
    """Return the ``share`` best jobs of each object, then the best of the others, ``most`` in all."""
    order = np.lexsort((jobs.extra, jobs.owner))
    owner = jobs.owner[order]
    first = np.searchsorted(owner, owner, side="left")
    late = np.arange(owner.size) - first >= share
    return order[np.lexsort((jobs.extra[order], late))][:most]


def _jobs_within(pricer: Pricer, none: Floats, slacks: Floats, most: int) -> _Jobs | None:
    """Return the jobs within their object's slack at the prices last used; None if more than ``most``."""
    nothing = np.zeros(0, dtype=np.int64)
    if not pricer.treatments:
        return _Jobs([], nothing, np.zeros(0))
    cost, _, _ = pricer.cheapest()
    extra = pricer.values - np.minimum(cost, none)[pricer.owner][:, None]
    extra[pricer.values >= INFEASIBLE] = np.inf
    rows, starts = np.nonzero(extra <= slacks[pricer.owner][:, None])
    if rows.size > most:
        return None
    left = slacks[pricer.owner[rows]] - extra[rows, starts] + ROUNDING
    stages = np.array([len(pricer.inst.treatments[t].stages) for t in pricer.treatments])
    keys: list[Key] = []
    done: list[_Partial] = []
    for count in np.unique(stages[rows]):
        mine = stages[rows] == count
        begun = np.zeros((int(mine.sum()), 0), dtype=np.int64)
        partial = _Partial(rows[mine], starts[mine], left[mine], begun, begun)
        for depth in range(int(count) - 1, -1, -1):
            longer = _extended(pricer, partial, depth, most - len(keys))
            if longer is None:
                return None
            partial = longer
        keys.extend(_keys(pricer, partial))
        done.append(partial)
    owner = np.concatenate([nothing, *(pricer.owner[partial.row] for partial in done)])
    unused = np.concatenate([np.zeros(0), *(partial.left for partial in done)])
    return _Jobs(keys, owner, slacks[owner] - unused)


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
