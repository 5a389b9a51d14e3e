"""Can the promises be kept at all? A planning problem of its own, with one point per promise not kept."""

from __future__ import annotations

import math
import time
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from triage.planning.engine.bound import BoundSearch
from triage.planning.engine.columns import Selection, column_of, selection_of
from triage.planning.engine.exact import list_columns
from triage.planning.engine.instance import Instance, build_instance
from triage.planning.formulation.model import JobTable, Status, build, solve
from triage.planning.formulation.solvers import SolverChoice
from triage.planning.problem import PlanningProblem

MOST_COLUMNS = 20_000


@dataclass(frozen=True)
class Kept:
    """A plan of the promised jobs (and what makes room for them), or None; ``proven`` that there is none."""

    plan: Selection | None
    proven: bool


def counting_instance(inst: Instance, promised: Iterable[int]) -> Instance:
    """Return the problem in which only promised objects without a job cost: one point each."""
    counted = set(promised)
    return replace(
        inst,
        pieces={},
        resources=replace(inst.resources, overtime_points=np.zeros_like(inst.resources.overtime_points)),
        objects=tuple(
            replace(o, none_points=int(o.index in counted), must=False, away_points=0) for o in inst.objects
        ),
        treatments=tuple(
            replace(t, loss=np.zeros_like(t.loss), start_points=np.zeros_like(t.start_points))
            for t in inst.treatments
        ),
    )


def concerned(inst: Instance, promised: list[int]) -> list[int]:
    """Return the promised objects and those that can free hall floor for one of them."""
    halls = {
        inst.objects[o].hall
        for o in promised
        for t in inst.objects[o].treatments
        for stage in inst.treatments[t].stages
        if stage.floor > 0
    }
    helpers = [
        o.index
        for o in inst.objects
        if o.hall in halls and not o.hung and o.treatments and o.index not in promised
    ]
    return sorted([*promised, *helpers])


def keep_promises(inst: Instance, promised: list[int], choice: SolverChoice, until: float) -> Kept:
    """Find a plan of the promised jobs, or prove that there is none."""
    counting = counting_instance(inst, promised)
    objects = concerned(inst, promised)
    search = BoundSearch(counting, objects, counting.resources.capacity)
    search.subgradient(1, until)
    search.generate(until)
    if search.prices.bound is not None and search.prices.bound >= 1:
        return Kept(None, True)
    value = search.prices.value if math.isfinite(search.prices.value) else 0.0
    listing = list_columns(
        search.pricer, search.prices.best, search.none, 0.5 - min(0.0, value), MOST_COLUMNS
    )
    columns = listing.columns if listing.complete else tuple(search.columns.values())
    program = build(JobTable(counting, columns, objects, counting.resources.capacity))
    result = solve(program, choice, max(0.5, until - time.monotonic()))
    plan = result.selection()
    if plan is not None and all(o in plan.columns for o in promised):
        return Kept(selection_of(column_of(inst, c.key) for c in plan.columns.values()), False)
    certain = listing.complete and (
        result.status == Status.OPTIMAL or (result.bound is not None and result.bound > 1e-6)
    )
    return Kept(None, certain)


def impossible(problem: PlanningProblem, choice: SolverChoice, until: float) -> bool:
    """Return whether it is certain that no plan keeps every rule (False: possible, or not known in time)."""
    inst = build_instance(problem, merge=False)
    if time.monotonic() > until:
        return False
    return hopeless(inst) or promised_plan(inst, choice, until).proven


def hopeless(inst: Instance) -> bool:
    """Return whether a display rule asks for more objects than it names."""
    res = inst.resources
    return bool(np.any(res.capacity[res.block("rules")] < 0))


def promised_plan(inst: Instance, choice: SolverChoice, until: float) -> Kept:
    """Find a plan of every promised job, or prove that there is none."""
    promised = [o.index for o in inst.objects if o.must]
    return keep_promises(inst, promised, choice, until) if promised else Kept(Selection({}), False)
