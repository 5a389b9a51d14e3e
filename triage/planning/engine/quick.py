"""The answer at once where nothing competes: every object's cheapest job (or none) fits beside the others."""

from __future__ import annotations

import numpy as np

from triage.planning.engine.assign import assign
from triage.planning.engine.columns import Selection, make_column
from triage.planning.engine.instance import Instance
from triage.planning.engine.plans import sent_jobs
from triage.planning.engine.pricing import INFEASIBLE, Pricer
from triage.planning.engine.wire import PlanFound

SMALL = 60_000
"""Treatments times open months up to which this is tried before any process is started."""


def quick_answer(inst: Instance) -> PlanFound | None:
    """Return the plan of everyone's cheapest job if it keeps every rule: no plan can total less."""
    if len(inst.treatments) * inst.calendar.positions > SMALL:
        return None
    pricer = Pricer(inst, range(len(inst.objects)))
    pricer.price(np.zeros(inst.resources.size))
    cost, row, start = pricer.cheapest()
    columns = {}
    for o in inst.objects:
        if cost[o.index] < INFEASIBLE and (o.must or cost[o.index] < o.none_points):
            treatment = pricer.treatments[int(row[o.index])]
            job = pricer.job(int(row[o.index]), int(start[o.index]))
            columns[o.index] = make_column(inst, treatment, *job)
    plan = Selection(columns)
    if not plan.fits(inst) or plan.overtime(inst).any():
        return None
    assigned = assign(inst, plan)
    if assigned.misfit is not None:
        return None
    return PlanFound(plan.total(inst), sent_jobs(inst, plan, assigned), "greedy")
