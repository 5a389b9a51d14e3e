"""The master linear program on HiGHS: one convexity row an object, columns as they are generated, resource
rows only once they are violated.

A row left out has price 0, so every price vector read from here is valid for the Lagrangian bound. Simplex
is used throughout: dual after rows were added, primal after columns were (the other way round costs
several times as much).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.columns import Column, Key
from triage.planning.engine.instance import Instance

FEASIBLE = 1e-6
DUAL_SIMPLEX, PRIMAL_SIMPLEX = 1, 4


@dataclass(frozen=True)
class LinearSolution:
    """Value, column weights (columns,), row prices (rows,) >= 0 and worth of a job (objects,)."""

    value: float
    weights: Floats
    prices: Floats
    worth: Floats
    missing: float
    """Sum of the artificial jobs of promised objects: above 0 the promises are not yet met."""


class SolverStopped(RuntimeError):  # noqa: N818 - reads as a sentence where it is raised
    """HiGHS ended a linear program in a way that gives no solution."""


class Master:
    """Linear program over the columns of some objects within a capacity.

    Parameters
    ----------
    inst
        The problem.
    objects
        Indices of the objects that may get a job; the others are left out altogether.
    capacity
        (rows,) what is left for them, overtime not included.
    penalty
        Points of leaving a promised object without a job, large enough to be avoided.
    """

    def __init__(
        self, inst: Instance, objects: Sequence[int], capacity: Ints, penalty: float | None = None
    ) -> None:
        self.inst = inst
        self.capacity = capacity
        self.columns: list[Column] = []
        self.keys: set[Key] = set()
        self._convexity = {o: k for k, o in enumerate(objects)}
        self._musts = [k for k, o in enumerate(objects) if inst.objects[o].must]
        self._row_of = np.full(inst.resources.size, -1, dtype=np.int64)
        self._rows: list[int] = []
        self._lp_column: list[int] = []
        self._entries: list[tuple[Ints, Ints, Ints]] = []
        self._columns_in_lp = 0
        self._rows_in_lp = 0
        if penalty is None:
            penalty = 10.0 * (1 + sum(inst.objects[o].none_points for o in objects))
        none = np.array([penalty if inst.objects[o].must else inst.objects[o].none_points for o in objects])
        self._highs: Any = highspy.Highs()  # type: ignore[no-untyped-call]  # the library is not typed
        for option, value in (
            ("output_flag", False),
            ("threads", 1),
            ("presolve", "off"),
            ("solver", "simplex"),
        ):
            self._highs.setOptionValue(option, value)
        self._start(none.astype(np.float64))

    def _start(self, none: Floats) -> None:
        """One row an object: its jobs and "no job" sum to one."""
        count = none.size
        ones, zeros = np.ones(count), np.zeros(count)
        nothing = np.zeros(0, dtype=np.int32)
        self._highs.addRows(count, ones, ones, 0, np.zeros(count, dtype=np.int32), nothing, np.zeros(0))
        at = np.arange(count, dtype=np.int32)
        self._highs.addCols(count, none, zeros, np.full(count, np.inf), count, at, at, ones)
        self._columns_in_lp = count
        self._rows_in_lp = count

    def place(self, object_index: int) -> int:
        """Return where an object stands among this program's objects."""
        return self._convexity[object_index]

    def add(self, columns: Sequence[Column]) -> int:
        """Add columns that are not there yet; return how many were new."""
        fresh: list[Column] = []
        for column in columns:
            if column.key not in self.keys:
                self.keys.add(column.key)
                fresh.append(column)
        if not fresh:
            return 0
        index: list[Ints] = []
        value: list[Ints] = []
        for column in fresh:
            rows = self._row_of[column.rows]
            known = rows >= 0
            index.append(np.append(self._convexity[column.object_index], rows[known]))
            value.append(np.append(1, column.use[known]))
            at = np.full(column.rows.size, len(self.columns), dtype=np.int64)
            self._entries.append((column.rows, at, column.use))
            self._lp_column.append(self._columns_in_lp)
            self._columns_in_lp += 1
            self.columns.append(column)
        points = np.array([float(column.points) for column in fresh])
        self._add_cols(points, np.full(len(fresh), np.inf), index, value)
        self._highs.setOptionValue("simplex_strategy", PRIMAL_SIMPLEX)
        return len(fresh)

    def _add_cols(self, cost: Floats, upper: Floats, index: list[Ints], value: list[Ints]) -> None:
        sizes = np.array([len(i) for i in index])
        starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.int32)
        self._highs.addCols(
            len(cost), cost, np.zeros(len(cost)), upper, int(sizes.sum()), starts,
            np.concatenate(index).astype(np.int32), np.concatenate(value).astype(np.float64),
        )  # fmt: skip

    def solve(self) -> LinearSolution:
        """Solve, adding violated resource rows until none is."""
        while True:
            self._highs.run()
            if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
                self._recover()
            solution = self._highs.getSolution()
            values = np.asarray(solution.col_value)
            weights = values[np.array(self._lp_column, dtype=np.int64)] if self.columns else np.zeros(0)
            violated = self._violated(weights)
            if violated.size == 0:
                return self._read(values, np.asarray(solution.row_dual), weights)
            self.add_rows(violated)

    def _recover(self) -> None:
        """Solve once more from scratch after a numerical stop."""
        self._highs.clearSolver()
        self._highs.setOptionValue("simplex_strategy", DUAL_SIMPLEX)
        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise SolverStopped(str(self._highs.getModelStatus()))

    def _read(self, values: Floats, duals: Floats, weights: Floats) -> LinearSolution:
        prices = np.zeros(self.inst.resources.size)
        count = len(self._convexity)
        if self._rows:
            prices[np.array(self._rows)] = np.maximum(0.0, -duals[count : count + len(self._rows)])
        missing = float(values[self._musts].sum()) if self._musts else 0.0
        value = float(self._highs.getInfo().objective_function_value)
        return LinearSolution(value, weights, prices, duals[:count], missing)

    def _violated(self, weights: Floats) -> Ints:
        """Rows, not yet in the program, whose use exceeds what is left without overtime."""
        used = np.zeros(self.inst.resources.size)
        for j in np.flatnonzero(weights > 1e-9):
            column = self.columns[j]
            used[column.rows] += weights[j] * column.use
        return np.flatnonzero((used > self.capacity + FEASIBLE) & (self._row_of < 0))

    def add_rows(self, rows: Ints) -> None:
        """Add resource rows, each with its overtime, over every column there is."""
        self._row_of[rows] = self._rows_in_lp + np.arange(rows.size)
        index, column, use = self._matrix()
        mine = np.flatnonzero(self._row_of[index] >= self._rows_in_lp) if index.size else index
        order = mine[np.argsort(self._row_of[index[mine]], kind="stable")]
        counts = np.bincount(self._row_of[index[order]] - self._rows_in_lp, minlength=rows.size)
        starts = np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(np.int32)
        lp_column = np.array(self._lp_column, dtype=np.int64)
        self._highs.addRows(
            rows.size, np.full(rows.size, -np.inf), self.capacity[rows].astype(np.float64),
            order.size, starts,
            lp_column[column[order]].astype(np.int32), use[order].astype(np.float64),
        )  # fmt: skip
        self._rows_in_lp += rows.size
        self._rows.extend(int(r) for r in rows)
        self._add_overtime(rows)
        self._highs.setOptionValue("simplex_strategy", DUAL_SIMPLEX)

    def _add_overtime(self, rows: Ints) -> None:
        res = self.inst.resources
        extra = rows[res.overtime_most[rows] > 0]
        if extra.size:
            index = [np.array([self._row_of[r]]) for r in extra]
            value = [np.array([-1]) for _ in extra]
            points = res.overtime_points[extra].astype(np.float64)
            self._add_cols(points, res.overtime_most[extra].astype(np.float64), index, value)
            self._columns_in_lp += extra.size

    def _matrix(self) -> tuple[Ints, Ints, Ints]:
        """Every column's entries as (row, column, use)."""
        if len(self._entries) > 1:
            merged = tuple(np.concatenate([e[k] for e in self._entries]) for k in range(3))
            self._entries = [(merged[0], merged[1], merged[2])]
        if not self._entries:
            none = np.zeros(0, dtype=np.int64)
            return none, none, none
        return self._entries[0]
