"""Work that needs no linear program: greedy plans, bounds from prices, one integer program for any solver."""

from __future__ import annotations

import math
import time

import numpy as np

from triage.planning.engine.desk import Desk
from triage.planning.engine.exact import best_columns
from triage.planning.engine.relaxation import PriceSearch
from triage.planning.formulation.model import JobTable, Result, Status, build, solve
from triage.planning.greedy import greedy

FIRST_STEPS = 15
"""Subgradient steps before the first plan."""
MANY_STEPS = 300
MOST_COLUMNS = 3000
SOLVER_SLACK = 1e-4
"""Points a solver's bound may be too high by, through its tolerances."""


def greedy_plan(desk: Desk) -> None:
    """Offer a greedy plan at the prices in hand, or at those of a few subgradient steps."""
    desk.phase("first plan")
    if desk.prices is None:
        search = PriceSearch(desk.inst, range(len(desk.inst.objects)), desk.inst.resources.capacity)
        search.subgradient(FIRST_STEPS, min(desk.until, time.monotonic() + 0.2 * desk.left()))
        desk.prices = search.prices.best
    desk.offer(greedy(desk.inst, desk.prices, desk.rng, desk.until), "greedy")


def price_bound(desk: Desk) -> PriceSearch:
    """Prove a bound by subgradient steps alone."""
    desk.phase("bound")
    inst = desk.inst
    search = PriceSearch(
        inst, range(len(inst.objects)), inst.resources.capacity, lambda prices: desk.prove(prices.bound)
    )
    search.subgradient(MANY_STEPS, time.monotonic() + 0.4 * desk.left())
    desk.prices = search.prices.best
    return search


def without_linear_programs(desk: Desk) -> None:
    """Greedy, a bound from prices, and one integer program over the most promising jobs."""
    greedy_plan(desk)
    search = price_bound(desk)
    greedy_plan(desk)
    while desk.left() > 0 and not desk.settled():
        ceiling = desk.total - 1 if desk.plan is not None else desk.total
        slack = ceiling - search.prices.value if math.isfinite(search.prices.value) else np.inf
        listing = best_columns(search.pricer, search.prices.best, search.none, slack, MOST_COLUMNS)
        desk.phase("integer program", "cbc")
        objects = [int(o) for o in search.pricer.objects]
        table = JobTable(desk.inst, listing.columns, objects, desk.inst.resources.capacity)
        result = solve(build(table), desk.choice, desk.left())
        desk.offer(result.selection())
        if listing.complete:
            conclude(desk, result, ceiling + 1)
        if desk.settled() or not desk.merged or not desk.misfit:
            return
        desk.split_classes()
        search = price_bound(desk)


def conclude(desk: Desk, result: Result, ceiling: int) -> None:
    """Take over what a program over every job that could total less than ``ceiling`` proves."""
    if result.status == Status.INFEASIBLE:
        desk.prove(ceiling if desk.plan is not None else None)
    elif result.bound is not None:
        desk.prove(whole_bound(result.bound, ceiling))


def whole_bound(bound: float, ceiling: int) -> int:
    """Return the whole number no plan can go below, from a solver's bound and the plan known before."""
    return min(ceiling, math.ceil(bound - SOLVER_SLACK))
