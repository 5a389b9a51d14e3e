"""Proof: every job whose reduced cost fits in the gap, as one integer program.

A plan better than the one in hand can use only jobs whose reduced cost at the bound's prices is below the
gap (reduced-cost fixing). If those are few enough to list, the program over them decides the problem.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, make_column
from triage.planning.engine.instance import Instance
from triage.planning.engine.pricing import INFEASIBLE, Pricer


@dataclass(frozen=True)
class Listing:
    """Every job with a reduced cost up to ``slack``; ``complete`` is False if there were too many."""

    columns: tuple[Column, ...]
    complete: bool


def list_columns(pricer: Pricer, prices: Floats, none: Floats, slack: float, most: int) -> Listing:
    """List the jobs whose cost at the prices exceeds their object's least by at most ``slack``.

    ``none`` (objects,) are the points of no job, infinite for promised objects.
    """
    pricer.price(prices)
    if not pricer.treatments:
        return Listing((), True)
    cost, _, _ = pricer.cheapest()
    extra = pricer.values - np.minimum(cost, none)[pricer.owner][:, None]
    extra[pricer.values >= INFEASIBLE] = np.inf
    rows, starts = np.nonzero(extra <= slack)
    if rows.size > most:
        return Listing((), False)
    found: list[Column] = []
    for r, p in zip(rows.tolist(), starts.tolist(), strict=True):
        jobs = pricer.slack_jobs(r, p, slack - float(extra[r, p]) + 1e-7, most - len(found))
        if len(found) + len(jobs) > most:
            return Listing((), False)
        found.extend(make_column(pricer.inst, pricer.treatments[r], *job) for job in jobs)
    return Listing(tuple(found), True)


def best_columns(pricer: Pricer, prices: Floats, none: Floats, slack: float, most: int) -> Listing:
    """List jobs up to ``slack``, or up to the largest simple fraction of it that keeps them few enough."""
    for fraction in (1.0, 0.5, 0.25, 0.12, 0.06, 0.03, 0.015):
        listing = list_columns(pricer, prices, none, slack * fraction, most)
        if listing.complete:
            return Listing(listing.columns, fraction == 1.0)
    return Listing((), False)


def all_jobs(inst: Instance, objects: Sequence[int], capacity: Ints, most: int) -> Listing:
    """List every admissible job of some objects."""
    pricer = Pricer(inst, objects, capacity)
    return list_columns(
        pricer, np.zeros(inst.resources.size), np.full(len(objects), np.inf), INFEASIBLE / 10, most
    )
