"""The decisions: one yes/no per admissible job, and the overtime bought.

Sets
    O objects, J jobs (object, treatment, start and class of space of every stage), J_o the jobs of o,
    R resource rows (a space class, hall, trade or rule in one month, or a budget), T_m hours rows.
Decisions
    x_j in {0, 1}           job j is done
    0 <= v_r <= most_r      hours of overtime bought in an hours row r
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pulp

from triage.planning.engine.calendar import Ints
from triage.planning.engine.columns import Column
from triage.planning.engine.instance import Instance


@dataclass(frozen=True)
class JobTable:
    """The jobs to choose from, the objects they belong to, and the (rows,) capacity that is left.

    ``objects`` also lists those without any job in the table, so that leaving them alone is counted.
    """

    inst: Instance
    columns: Sequence[Column]
    objects: Sequence[int]
    capacity: Ints


@dataclass(frozen=True)
class Entries:
    """The coefficients of the jobs by resource row: what job j uses of row r."""

    rows: Ints
    first: Ints
    jobs: Ints
    use: Ints

    @classmethod
    def of(cls, table: JobTable) -> Entries:
        """Sort every job's use by row."""
        if not table.columns:
            none = np.zeros(0, dtype=np.int64)
            return cls(none, none, none, none)
        rows = np.concatenate([c.rows for c in table.columns])
        jobs = np.repeat(np.arange(len(table.columns)), [c.rows.size for c in table.columns])
        use = np.concatenate([c.use for c in table.columns])
        order = np.argsort(rows, kind="stable")
        unique, first = np.unique(rows[order], return_index=True)
        return cls(unique, first, jobs[order], use[order])

    def row(self, k: int) -> tuple[Ints, Ints]:
        """Return jobs and use of the k-th row."""
        last = int(self.first[k + 1]) if k + 1 < self.first.size else self.jobs.size
        return self.jobs[self.first[k] : last], self.use[self.first[k] : last]


def choose_jobs(prob: pulp.LpProblem, table: JobTable) -> list[pulp.LpVariable]:
    """x_j: one yes/no per job."""
    return [prob.add_variable(f"x{j}", cat=pulp.LpBinary) for j in range(len(table.columns))]


def buy_overtime(prob: pulp.LpProblem, table: JobTable, rows: Sequence[int]) -> dict[int, pulp.LpVariable]:
    """v_r: hours of overtime in each hours row that may need some."""
    most = table.inst.resources.overtime_most
    return {r: prob.add_variable(f"v{r}", 0, int(most[r])) for r in rows if most[r] > 0}
