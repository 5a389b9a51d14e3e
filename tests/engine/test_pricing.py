"""Pricing is exact: it finds what plain enumeration finds."""

from __future__ import annotations

import numpy as np
import pytest

from tests.engine.small import every_key
from tests.problems.generator import make_problem
from tests.problems.tiny import tiny_problem
from triage.planning.engine.columns import Column, column_of
from triage.planning.engine.exact import best_columns, list_columns
from triage.planning.engine.instance import Instance, build_instance
from triage.planning.engine.pricing import INFEASIBLE, Pricer
from triage.planning.problem import PlanningProblem


def random_prices(inst: Instance, seed: int) -> np.ndarray:
    """Prices of which a third are 0."""
    rng = np.random.default_rng(seed)
    prices = rng.uniform(0, 3, inst.resources.size) * (rng.random(inst.resources.size) < 0.67)
    budget = inst.resources.block("budget")
    prices[budget] *= 0.1
    return prices


def fits_alone(inst: Instance, column: Column) -> bool:
    """Whether a job breaks no limit by itself; hall floor, which others can free, is not looked at."""
    res = inst.resources
    over = column.use > (res.capacity + res.overtime_most)[column.rows]
    for block in ("floor", "lowering"):
        span = res.block(block)
        over &= (column.rows < span.start) | (column.rows >= span.stop)
    area = res.block("area")
    for g, one in enumerate(inst.classes):
        first = area.start + g * inst.months
        mine = (column.rows >= first) & (column.rows < first + inst.months)
        over[mine] |= column.use[mine] > one.area[column.rows[mine] - first]
    return not bool(over.any())


def cost_at(column: Column, prices: np.ndarray) -> float:
    """Points of a job and the price of what it uses."""
    return float(column.points + column.use @ prices[column.rows])


def check_pricing(problem: PlanningProblem, seed: int) -> int:
    """Compare the least cost of every treatment and start with enumeration; return how many were compared."""
    inst = build_instance(problem)
    prices = random_prices(inst, seed)
    least: dict[tuple[int, int], float] = {}
    floor_free: dict[tuple[int, int], float] = {}
    for key in every_key(inst):
        column = column_of(inst, key)
        if fits_alone(inst, column):
            where = (key[0], key[1][0])
            cost = cost_at(column, prices)
            floor_free[where] = min(cost, floor_free.get(where, np.inf))
            if not any(stage.floor for stage in inst.treatments[key[0]].stages):
                least[where] = floor_free[where]
    pricer = Pricer(inst, range(len(inst.objects)))
    values = pricer.price(prices)
    for row, t in enumerate(pricer.treatments):
        uses_floor = any(stage.floor for stage in inst.treatments[t].stages)
        for p in range(inst.calendar.positions):
            expected = floor_free.get((t, p), np.inf)
            if values[row, p] >= INFEASIBLE:
                assert uses_floor or expected == np.inf
            else:
                assert values[row, p] >= expected - 1e-9
                if not uses_floor:
                    assert values[row, p] == pytest.approx(expected, abs=1e-9)
                job = column_of(inst, (t, *pricer.job(row, p)))
                assert cost_at(job, prices) == pytest.approx(values[row, p], abs=1e-6)
    return len(least)


def test_pricing_equals_enumeration_on_tiny_problems() -> None:
    """The recursion finds the cheapest job of every treatment from every start, and names it."""
    compared = sum(check_pricing(tiny_problem(seed), seed) for seed in range(90))
    assert compared > 300


def test_pricing_equals_enumeration_with_closed_months_and_promises() -> None:
    """Closed months, differing hours, pins and a frozen former plan are priced exactly too."""
    compared = 0
    for seed in range(3):
        problem = make_problem(seed, 8, 20, pins=1, baseline=True)
        short = tuple(t for t in problem.treatments if len(t.stages) <= 5)
        compared += check_pricing(problem.model_copy(update={"treatments": short, "baseline": None}), seed)
    assert compared > 20


@pytest.mark.parametrize("seed", range(12))
def test_listing_within_a_slack_is_complete(seed: int) -> None:
    """Every job whose reduced cost is within the slack is listed once, and no other."""
    inst = build_instance(tiny_problem(seed))
    prices = random_prices(inst, seed)
    none = np.array([o.none_points for o in inst.objects], dtype=np.float64)
    pricer = Pricer(inst, range(len(inst.objects)))
    pricer.price(prices)
    cost, _, _ = pricer.cheapest()
    base = np.minimum(cost, none)
    values = pricer.values
    expected = set()
    for key in every_key(inst):
        column = column_of(inst, key)
        row = pricer.treatments.index(key[0])
        fits = values[row, key[1][0]] < INFEASIBLE and fits_alone(inst, column) and floor_fits(inst, column)
        if fits and cost_at(column, prices) - base[column.object_index] <= 30.0:
            expected.add(key)
    listing = list_columns(pricer, prices, none, 30.0, 100_000)
    assert listing.complete
    assert {c.key for c in listing.columns} == expected
    assert len(listing.columns) == len(expected)


def floor_fits(inst: Instance, column: Column) -> bool:
    """Whether a job's hall floor is there if the others that may be away free the most they can."""
    res = inst.resources
    o = inst.objects[column.object_index]
    if o.hall < 0:
        return True
    sizes = sorted((x.display for x in inst.objects if x.hall == o.hall and not x.hung), reverse=True)
    away = res.table("away", res.capacity)[o.hall]
    clear = res.table("floor", res.capacity)[o.hall]
    absent = {
        row - res.first["away"] - o.hall * inst.months for row in column.rows[_block(inst, column, "away")]
    }
    for row, use in zip(column.rows, column.use, strict=True):
        name, _, month = res.describe(int(row))
        if name == "floor" and use > clear[month] + sum(
            sizes[: max(0, int(away[month]) - (month in absent))]
        ):
            return False
    return True


def _block(inst: Instance, column: Column, name: str) -> np.ndarray:
    span = inst.resources.block(name)
    return np.asarray((column.rows >= span.start) & (column.rows < span.stop))


def test_a_cut_listing_says_so_and_keeps_the_best() -> None:
    """Where there are too many jobs the listing is not called complete and holds those of least cost."""
    inst = build_instance(make_problem(1, 10, 24))
    prices = np.zeros(inst.resources.size)
    none = np.array([o.none_points for o in inst.objects], dtype=np.float64)
    pricer = Pricer(inst, range(len(inst.objects)))
    assert not list_columns(pricer, prices, none, 1e6, 50).complete
    cut = best_columns(pricer, prices, none, 1e6, 50)
    assert not cut.complete
    assert 0 < len(cut.columns) <= 50


def test_what_cannot_fit_alone_is_not_priced() -> None:
    """Within a smaller capacity the jobs that no longer fit have no cost."""
    inst = build_instance(make_problem(2, 10, 24))
    everything = Pricer(inst, range(10))
    nothing = Pricer(inst, range(10), np.zeros_like(inst.resources.capacity) - inst.resources.overtime_most)
    free = np.zeros(inst.resources.size)
    assert (everything.price(free) < INFEASIBLE).any()
    used = [t for t in nothing.treatments if inst.treatments[t].cost > 0]
    rows = [nothing.treatments.index(t) for t in used]
    assert (nothing.price(free)[rows] >= INFEASIBLE).all()
