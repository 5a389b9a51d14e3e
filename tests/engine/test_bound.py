"""Bounds hold: no plan goes below them, whatever the prices."""

from __future__ import annotations

import random
import time

import numpy as np
import pytest

from tests.engine.test_pricing import random_prices
from tests.problems.brute_force import best_plan
from tests.problems.generator import make_problem
from tests.problems.tiny import tiny_problem
from triage.planning.engine.bound import BoundSearch
from triage.planning.engine.columns import usage
from triage.planning.engine.instance import build_instance
from triage.planning.engine.pricing import Pricer
from triage.planning.engine.relaxation import PriceSearch, relax
from triage.planning.greedy import greedy


@pytest.mark.parametrize("seed", range(40))
def test_every_bound_is_at_most_the_optimum(seed: int) -> None:
    """At random prices, after subgradient steps and after column generation, the optimum is not undercut."""
    problem = tiny_problem(seed)
    best = best_plan(problem)
    inst = build_instance(problem)
    everyone = range(len(inst.objects))
    search = BoundSearch(inst, everyone, inst.resources.capacity)
    soon = time.monotonic() + 20
    search.subgradient(10, soon)
    after_steps = search.prices.bound
    search.generate(soon)
    at_random = relax(Pricer(inst, everyone), random_prices(inst, seed), inst.resources.capacity).bound
    if best is not None:
        for bound in (at_random, after_steps, search.prices.bound):
            assert bound is not None
            assert bound <= best[0]


def test_column_generation_closes_on_the_linear_program() -> None:
    """The proven value meets the linear program's own, and prices no column below it."""
    inst = build_instance(make_problem(3, 20, 30))
    search = BoundSearch(inst, range(20), inst.resources.capacity)
    soon = time.monotonic() + 60
    assert search.subgradient(20, soon)
    assert search.generate(soon)
    assert search.solution is not None
    never = sum(o.none_points for o in inst.objects)
    assert search.prices.value <= search.solution.value + 1e-6
    assert search.solution.value - search.prices.value <= 1e-3 * (never - search.prices.value)


def test_bound_is_below_plans_of_larger_problems() -> None:
    """Bounds by prices alone stay below the greedy plan for every kind of shortage."""
    for shortage in ("mixed", "budget", "hours", "space", "hall"):
        inst = build_instance(make_problem(5, 20, 30, shortage=shortage))
        search = PriceSearch(inst, range(20), inst.resources.capacity)
        search.subgradient(25, time.monotonic() + 30)
        plan = greedy(inst, search.prices.best, random.Random(1), time.monotonic() + 30)
        assert plan is not None
        assert search.prices.bound is not None
        assert search.prices.bound <= plan.total(inst)


def test_residual_bound_judges_a_part_of_a_plan() -> None:
    """With some jobs fixed, the bound of the rest plus the fixed points is at most the plan's total."""
    inst = build_instance(make_problem(7, 16, 30))
    search = PriceSearch(inst, range(16), inst.resources.capacity)
    search.subgradient(15, time.monotonic() + 30)
    plan = greedy(inst, search.prices.best, random.Random(1), time.monotonic() + 30)
    assert plan is not None
    assert len(plan.columns) > 3
    freed = sorted(plan.columns)[::2]
    fixed = {o: c for o, c in plan.columns.items() if o not in freed}
    left = inst.resources.capacity - usage(inst, fixed.values())
    part = BoundSearch(inst, freed, left)
    part.columns.update((plan.columns[o].key, plan.columns[o]) for o in freed)
    part.subgradient(1, time.monotonic() + 30)
    part.generate(time.monotonic() + 30)
    others = sum(o.none_points for o in inst.objects if o.index not in plan.columns)
    assert part.prices.bound is not None
    assert part.prices.bound + sum(c.points for c in fixed.values()) + others <= plan.total(inst)


def test_no_price_is_negative() -> None:
    """Prices read from the linear program are never below 0, so they prove something."""
    inst = build_instance(make_problem(4, 20, 30))
    search = BoundSearch(inst, range(20), inst.resources.capacity)
    search.generate(time.monotonic() + 60)
    assert search.solution is not None
    assert np.all(search.solution.prices >= 0)
    assert search.solution.prices.max() > 0
