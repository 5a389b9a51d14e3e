"""The integer program put together, solved, and read back as a plan over classes of space."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import pulp

from triage.planning.engine.columns import Column, Selection, selection_of
from triage.planning.formulation import constraints
from triage.planning.formulation.objective import constant_points, total_points
from triage.planning.formulation.solvers import ABSOLUTE_GAP, SolverChoice, Status, Watch, run
from triage.planning.formulation.variables import Entries, JobTable, buy_overtime, choose_jobs

__all__ = ["JobTable", "Program", "Result", "Status", "build", "solve"]


@dataclass(frozen=True)
class Program:
    """An integer program over a table of jobs."""

    prob: pulp.LpProblem
    table: JobTable
    x: list[pulp.LpVariable]


@dataclass(frozen=True)
class Result:
    """How a program ended: the jobs chosen (None: none found) and a proven lower bound of its total."""

    status: Status
    columns: tuple[Column, ...] | None
    bound: float | None

    def selection(self) -> Selection | None:
        """Return the jobs chosen as a plan."""
        return None if self.columns is None else selection_of(self.columns)


def build(table: JobTable) -> Program:
    """Write the integer program of a table of jobs."""
    prob = pulp.LpProblem("plan", pulp.LpMinimize)
    rows = constraints.binding_rows(table, Entries.of(table))
    x = choose_jobs(prob, table)
    hours = table.inst.resources.block("hours")
    v = buy_overtime(prob, table, sorted(r for r in rows if hours.start <= r < hours.stop))
    total_points(prob, table, x, v)
    constraints.one_job_each(prob, table, x)
    constraints.space_area(prob, table, rows, x)
    constraints.space_slots(prob, table, rows, x)
    constraints.hall_floor(prob, table, rows, x)
    constraints.lowering_room(prob, table, rows, x)
    constraints.trade_hours(prob, table, rows, x, v)
    constraints.most_away(prob, table, rows, x)
    constraints.display_rules(prob, table, rows, x)
    constraints.budgets(prob, table, rows, x)
    return Program(prob, table, x)


def solve(
    program: Program,
    choice: SolverChoice,
    seconds: float,
    start: Sequence[Column] | None = None,
    watch: Watch | None = None,
    gap: float = ABSOLUTE_GAP,
) -> Result:
    """Solve a program within a time, from a known plan if one is given, to within ``gap`` points.

    Raises
    ------
    SolverMissing, SolverFailed
        If no solver answers.
    """
    table = program.table
    if not table.columns:
        return _nothing_to_choose(table)
    hints = None
    if start is not None:
        known = {column.key for column in start}
        hints = [1.0 if column.key in known else 0.0 for column in table.columns]
    answer = run(program.prob, program.x, choice, seconds, hints, watch, gap)
    if answer.values is None:
        return Result(answer.status, None, answer.bound)
    chosen = tuple(c for c, value in zip(table.columns, answer.values, strict=True) if value > 0.5)
    return Result(answer.status, chosen, answer.bound)


def _nothing_to_choose(table: JobTable) -> Result:
    if any(table.inst.objects[o].must for o in table.objects):
        return Result(Status.INFEASIBLE, None, None)
    return Result(Status.OPTIMAL, (), float(constant_points(table)))
