"""The constraints, one function per rule of the planning problem.

Rule 2 (the sequence of stages, waits, closed months) and rule 9 (pins, frozen jobs, named spaces) hold in
every job of the table, because only admissible jobs are columns; they need no row. The other rules are
rows over the jobs. a_jr below is what job j uses of resource row r; C_r what is left of it.
A row is left out where the jobs, one an object, cannot exceed it.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pulp

from triage.planning.engine.calendar import Ints
from triage.planning.formulation.variables import Entries, JobTable

Jobs = list[pulp.LpVariable]
Overtime = Mapping[int, pulp.LpVariable]
BindingRows = Mapping[int, tuple[Ints, Ints]]
"""Resource row -> the jobs that use it and how much of it."""


def one_job_each(prob: pulp.LpProblem, table: JobTable, x: Jobs) -> None:
    """Rule 1: sum over J_o of x_j <= 1 for every object o; = 1 where a pin or frozen job must be kept."""
    jobs: dict[int, dict[pulp.LpVariable, int]] = {o: {} for o in table.objects}
    for j, column in enumerate(table.columns):
        jobs[column.object_index][x[j]] = 1
    for o, terms in jobs.items():
        must = table.inst.objects[o].must
        if terms or must:
            sense = pulp.LpConstraintEQ if must else pulp.LpConstraintLE
            prob.addConstraint(pulp.LpConstraint(pulp.LpAffineExpression(terms), sense, f"one_{o}", 1))


def space_area(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 3: sum of area_jgm x_j <= area of class g in month m, closed months included."""
    _add(prob, table, rows, x, "area", {})


def space_slots(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 3: sum of x_j over the jobs standing in class g in month m <= its slots."""
    _add(prob, table, rows, x, "slots", {})


def hall_floor(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 4: sum of (floor used - own spot freed)_jhm x_j <= clear floor of hall h in month m."""
    _add(prob, table, rows, x, "floor", {})


def lowering_room(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 4, tightened: sum of max(0, floor used - clear floor)_jhm x_j <= sum of spots freed_jhm x_j.

    It follows from ``hall_floor`` for whole jobs (see :mod:`triage.planning.engine.resources`), not for
    parts of jobs: without it a third of an object is lowered onto the clear floor.
    """
    _add(prob, table, rows, x, "lowering", {})


def trade_hours(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs, v: Overtime) -> None:
    """Rule 5: sum of hours_jkm x_j - v_km <= hours of trade k in month m, 0 <= v_km <= overtime_most."""
    _add(prob, table, rows, x, "hours", v)


def most_away(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 6: sum of x_j over the jobs that keep an object of hall h off display in month m <= most_away."""
    _add(prob, table, rows, x, "away", {})


def display_rules(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 7: sum of x_j over a rule's objects away in month m <= how many of them may be."""
    _add(prob, table, rows, x, "rules", {})


def budgets(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs) -> None:
    """Rule 8: sum of cost_j x_j over the jobs that start in budget b's months <= its amount."""
    _add(prob, table, rows, x, "budget", {})


def binding_rows(table: JobTable, entries: Entries) -> BindingRows:
    """Return the rows that a choice of at most one job an object could exceed, with their entries."""
    if entries.rows.size == 0:
        return {}
    owner = np.array([c.object_index for c in table.columns])[entries.jobs]
    row = np.repeat(np.arange(entries.rows.size), np.diff(np.append(entries.first, entries.jobs.size)))
    order = np.lexsort((owner, row))
    starts = np.flatnonzero(np.diff(row[order], prepend=-1) | np.diff(owner[order], prepend=-1))
    most = np.maximum(np.maximum.reduceat(entries.use[order], starts), 0)
    need = np.bincount(row[order][starts], weights=most, minlength=entries.rows.size)
    binding = np.flatnonzero(need > table.capacity[entries.rows])
    return {int(entries.rows[k]): entries.row(int(k)) for k in binding}


def _add(prob: pulp.LpProblem, table: JobTable, rows: BindingRows, x: Jobs, block: str, v: Overtime) -> None:
    """Add sum over jobs of a_jr x_j - v_r <= C_r for every binding row of a block."""
    span = table.inst.resources.block(block)
    for r in sorted(r for r in rows if span.start <= r < span.stop):
        jobs, use = rows[r]
        terms = {x[j]: a for j, a in zip(jobs.tolist(), use.tolist(), strict=True)}
        if r in v:
            terms[v[r]] = -1
        expression = pulp.LpAffineExpression(terms)
        capacity = int(table.capacity[r])
        prob.addConstraint(pulp.LpConstraint(expression, pulp.LpConstraintLE, f"r{r}", capacity))
