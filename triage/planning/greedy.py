"""A plan without any solver: promised jobs first, then the job worth most, one object after the other.

Each object gets the cheapest job at the resources' prices that fits in what the jobs before it have left,
found by the exact pricing recursion. The prices come from a few subgradient steps.
"""

from __future__ import annotations

import random
import time

import numpy as np

from triage.planning.engine.assign import assign
from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, Selection, make_column
from triage.planning.engine.instance import Instance
from triage.planning.engine.pricing import INFEASIBLE, Pricer

PROMISE_TRIES = 30


def greedy(inst: Instance, prices: Floats, rng: random.Random, until: float) -> Selection | None:
    """Return a plan that keeps every rule, or None if the promised jobs were not placed.

    Parameters
    ----------
    inst
        The problem.
    prices
        (rows,) points per unit of each resource, >= 0; they decide what is worth its room.
    rng
        Order of the promised jobs after a failed try.
    until
        Monotonic time to stop adding jobs.
    """
    plan = place_promises(inst, prices, rng, until)
    if plan is None:
        return None
    return fill(inst, plan, prices, until)


def place_promises(inst: Instance, prices: Floats, rng: random.Random, until: float) -> Selection | None:
    """Place every promised job, in several orders if need be."""
    musts = [o.index for o in inst.objects if o.must]
    order = sorted(musts, key=lambda o: (-_least_stages(inst, o), o))
    for _ in range(PROMISE_TRIES):
        plan: dict[int, Column] = {}
        used = np.zeros(inst.resources.size, dtype=np.int64)
        stuck = None
        for o in order:
            column = cheapest_fitting(inst, o, used, prices)
            if column is None or assign(inst, Selection({**plan, o: column})).misfit is not None:
                stuck = o
                break
            plan[o] = column
            used[column.rows] += column.use
        if stuck is None:
            return Selection(plan)
        if time.monotonic() > until:
            return None
        order = [stuck, *(o for o in rng.sample(order, len(order)) if o != stuck)]
    return None


def _least_stages(inst: Instance, o: int) -> int:
    return max((len(inst.treatments[t].stages) for t in inst.objects[o].treatments), default=0)


def fill(inst: Instance, plan: Selection, prices: Floats, until: float) -> Selection:
    """Add jobs to a plan, most worth first, at the prices and then at none, while they lower its total."""
    columns = dict(plan.columns)
    used = plan.used(inst)
    for weight in (1.0, 0.3, 0.0):
        for o in _by_worth(inst, used, prices * weight, columns):
            if time.monotonic() > until:
                return Selection(columns)
            column = cheapest_fitting(inst, o, used, prices * weight)
            if column is None or added_points(inst, used, column) >= 0:
                continue
            if assign(inst, Selection({**columns, o: column})).misfit is None:
                columns[o] = column
                used[column.rows] += column.use
    return Selection(columns)


def _by_worth(inst: Instance, used: Ints, prices: Floats, columns: dict[int, Column]) -> list[int]:
    """Objects without a job that a job may help, most points gained at the prices first."""
    objects = [o.index for o in inst.objects if o.index not in columns and o.treatments]
    if not objects:
        return []
    pricer = Pricer(inst, objects, inst.resources.capacity - used)
    pricer.price(_with_overtime(inst, used, prices))
    cost, _, _ = pricer.cheapest()
    gain = np.array([inst.objects[o].none_points for o in objects]) - cost
    return [objects[k] for k in np.argsort(-gain, kind="stable") if gain[k] > 0]


def _with_overtime(inst: Instance, used: Ints, prices: Floats) -> Floats:
    """Prices, where regular hours are used up at least those of overtime."""
    res = inst.resources
    spent = (used >= res.capacity) & (res.overtime_most > 0)
    return np.where(spent, np.maximum(prices, res.overtime_points), prices)


def cheapest_fitting(inst: Instance, o: int, used: Ints, prices: Floats) -> Column | None:
    """Return an object's cheapest job at the prices that fits beside what is used, or None."""
    res = inst.resources
    pricer = Pricer(inst, [o], res.capacity - used)
    pricer.price(_with_overtime(inst, used, prices))
    cost, row, start = pricer.cheapest()
    if cost[0] >= INFEASIBLE:
        return None
    treatment = pricer.treatments[int(row[0])]
    column = make_column(inst, treatment, *pricer.job(int(row[0]), int(start[0])))
    fits = used[column.rows] + column.use <= (res.capacity + res.overtime_most)[column.rows]
    return column if bool(np.all(fits)) else None


def added_points(inst: Instance, used: Ints, column: Column) -> int:
    """Points a job adds to a plan that uses ``used``, overtime included (negative: it helps)."""
    res = inst.resources
    after = used[column.rows] + column.use
    hours = res.overtime_most[column.rows] > 0
    before = np.maximum(0, used[column.rows] - res.capacity[column.rows])[hours]
    more = np.maximum(0, after - res.capacity[column.rows])[hours] - before
    extra = int(more @ res.overtime_points[column.rows][hours])
    return column.points - inst.objects[column.object_index].none_points + extra
