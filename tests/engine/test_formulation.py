"""The integer program in PuLP: over all jobs it decides a problem, with either solver."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pulp
import pytest

from tests.engine.small import every_key
from tests.problems.brute_force import best_plan
from tests.problems.tiny import tiny_problem
from triage.planning.engine.columns import column_of
from triage.planning.engine.instance import build_instance
from triage.planning.formulation.constraints import binding_rows
from triage.planning.formulation.model import JobTable, Status, build, solve
from triage.planning.formulation.solvers import SolverChoice, SolverFailed, SolverMissing, installed
from triage.planning.formulation.variables import Entries
from triage.planning.problem import PlanningProblem


def full_table(problem: PlanningProblem) -> JobTable:
    """Every admissible job of a problem, each space a class of its own."""
    inst = build_instance(problem, merge=False)
    columns = [column_of(inst, key) for key in every_key(inst)]
    return JobTable(inst, columns, range(len(inst.objects)), inst.resources.capacity)


def possible(problem: PlanningProblem) -> bool:
    """Whether no display rule asks for more objects than it names (the empty plan would break it)."""
    inst = build_instance(problem)
    return bool((inst.resources.capacity[inst.resources.block("rules")] >= 0).all())


@pytest.mark.parametrize("seed", range(40))
def test_full_program_equals_brute_force(seed: int, tmp_path: Path) -> None:
    """HiGHS over all jobs finds the optimum, and proves it, or finds that there is no plan."""
    problem = tiny_problem(seed)
    if not possible(problem):
        return
    best = best_plan(problem)
    result = solve(build(full_table(problem)), SolverChoice(("highs",), tmp_path), 20)
    plan = result.selection()
    if best is None:
        assert result.status == Status.INFEASIBLE
        assert plan is None
    else:
        assert plan is not None
        assert result.bound is not None
        assert plan.total(full_table(problem).inst) == best[0]
        assert best[0] - 1 < result.bound <= best[0] + 1e-6


@pytest.mark.parametrize("seed", range(0, 40, 5))
def test_cbc_agrees(seed: int, tmp_path: Path) -> None:
    """CBC finds the same optimum and leaves no file behind."""
    problem = tiny_problem(seed)
    if not possible(problem):
        return
    best = best_plan(problem)
    result = solve(build(full_table(problem)), SolverChoice(("cbc",), tmp_path), 20)
    plan = result.selection()
    assert (plan is None) == (best is None)
    if best is not None and plan is not None:
        assert plan.total(full_table(problem).inst) == best[0]
        assert result.bound is not None
        assert result.bound <= best[0] + 1e-6
    assert list(tmp_path.iterdir()) == []


def test_a_row_that_cannot_bind_is_left_out() -> None:
    """Rows that one job an object cannot exceed are not written."""
    table = full_table(tiny_problem(3))
    entries = Entries.of(table)
    rows = binding_rows(table, entries)
    owner = np.array([c.object_index for c in table.columns])
    for k, r in enumerate(entries.rows):
        jobs, use = entries.row(k)
        most = sum(max(0, use[owner[jobs] == o].max()) for o in set(owner[jobs]))
        assert (int(r) in rows) == (most > table.capacity[r])


def test_a_start_is_never_made_worse(tmp_path: Path) -> None:
    """Started from the best plan, the program returns one as good."""
    problem = tiny_problem(8)
    table = full_table(problem)
    choice = SolverChoice(("highs",), tmp_path)
    first = solve(build(table), choice, 20)
    assert first.columns is not None
    again = solve(build(table), choice, 20, first.columns).selection()
    assert again is not None
    best = first.selection()
    assert best is not None
    assert again.total(table.inst) == best.total(table.inst)


def test_no_jobs_need_no_solver(tmp_path: Path) -> None:
    """Without any job the program is answered without a solver."""
    table = full_table(tiny_problem(8))
    empty = JobTable(table.inst, [], table.objects, table.capacity)
    result = solve(build(empty), SolverChoice((), tmp_path), 1)
    assert result.columns == ()
    assert result.bound == sum(o.none_points for o in table.inst.objects)


def test_a_missing_solver_is_said(tmp_path: Path) -> None:
    """Where no solver may be used, that is the error."""
    with pytest.raises(SolverMissing):
        solve(build(full_table(tiny_problem(3))), SolverChoice((), tmp_path), 1)


def test_a_broken_solver_is_replaced_by_the_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If HiGHS breaks down CBC answers; if both do, that is the error."""
    problem = tiny_problem(3)
    best = best_plan(problem)
    assert best is not None

    def broken(self: pulp.HiGHS, lp: pulp.LpProblem) -> int:
        raise pulp.PulpSolverError("broken on purpose")

    monkeypatch.setattr(pulp.HiGHS, "actualSolve", broken)
    table = full_table(problem)
    plan = solve(build(table), SolverChoice(("highs", "cbc"), tmp_path), 20).selection()
    assert plan is not None
    assert plan.total(table.inst) == best[0]
    monkeypatch.setattr(pulp.COIN_CMD, "actualSolve", broken)
    with pytest.raises(SolverFailed, match="broken on purpose"):
        solve(build(table), SolverChoice(("highs", "cbc"), tmp_path), 20)


def test_both_solvers_are_installed_here() -> None:
    """The project's own dependencies bring HiGHS and CBC."""
    assert installed(("highs", "cbc")) == ("highs", "cbc")
