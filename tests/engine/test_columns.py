"""A column's points and use are what the checker counts."""

from __future__ import annotations

import random
import time

import pytest

from tests.problems.generator import Shortage, make_problem
from triage.planning.engine.assign import assign
from triage.planning.engine.calendar import Floats
from triage.planning.engine.columns import column_of
from triage.planning.engine.conductor import plan_of
from triage.planning.engine.instance import Instance, build_instance
from triage.planning.engine.plans import received_plan, sent_jobs
from triage.planning.engine.relaxation import PriceSearch
from triage.planning.engine.wire import PlanFound
from triage.planning.greedy import greedy
from triage.planning.verify import verify


def prices(inst: Instance, until: float) -> Floats:
    """Return what ten subgradient steps make of the resources' prices."""
    search = PriceSearch(inst, range(len(inst.objects)), inst.resources.capacity)
    search.subgradient(10, until)
    return search.prices.best


@pytest.mark.parametrize("shortage", ["mixed", "budget", "hours", "space", "hall"])
def test_greedy_plan_is_sound_and_its_total_exact(shortage: Shortage) -> None:
    """Without any solver a plan keeps every rule, promises included, with exactly the points claimed."""
    for seed in range(3):
        problem = make_problem(seed, 24, 36, shortage=shortage, pins=2, baseline=True)
        inst = build_instance(problem)
        soon = time.monotonic() + 30
        plan = greedy(inst, prices(inst, soon), random.Random(seed), soon)
        assert plan is not None
        assigned = assign(inst, plan)
        found = PlanFound(plan.total(inst), sent_jobs(inst, plan, assigned), "greedy")
        written = plan_of(problem, found)
        assert verify(problem, written) == ()
        assert written.points.total == plan.total(inst)
        assert len(written.jobs) > 0


def test_a_plan_survives_the_way_to_another_process() -> None:
    """Jobs written with ids and calendar months come back as the same columns."""
    problem = make_problem(1, 24, 36)
    inst = build_instance(problem)
    soon = time.monotonic() + 30
    plan = greedy(inst, prices(inst, soon), random.Random(1), soon)
    assert plan is not None
    back = received_plan(inst, sent_jobs(inst, plan, assign(inst, plan)))
    keys = {o: column.key for o, column in plan.columns.items()}
    assert {o: column.key for o, column in back.columns.items()} == keys
    for key in keys.values():
        column = column_of(inst, key)
        assert column.points == plan.columns[column.object_index].points


def test_use_has_one_entry_a_row() -> None:
    """No resource row appears twice in a column."""
    inst = build_instance(make_problem(1, 24, 36))
    soon = time.monotonic() + 30
    plan = greedy(inst, prices(inst, soon), random.Random(1), soon)
    assert plan is not None
    for column in plan.columns.values():
        assert len(set(column.rows.tolist())) == column.rows.size
        assert (column.use != 0).all()
