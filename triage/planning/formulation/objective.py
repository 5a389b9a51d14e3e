"""What is minimised: the plan's points (rule 10)."""

from __future__ import annotations

from collections.abc import Mapping

import pulp

from triage.planning.formulation.variables import JobTable


def constant_points(table: JobTable) -> int:
    """Return the points of leaving every object alone, promised ones not counted."""
    return sum(table.inst.objects[o].none_points for o in table.objects if not table.inst.objects[o].must)


def total_points(
    prob: pulp.LpProblem, table: JobTable, x: list[pulp.LpVariable], v: Mapping[int, pulp.LpVariable]
) -> None:
    """Minimise  sum_o none_o + sum_j (points_j - none_o(j)) x_j + sum_r overtime_points_r v_r.

    points_j holds the loss at the job's end, its months away and its moves; none_o the loss if nothing is
    done and the drop if the former plan had a job. Promised objects have no "nothing", so none_o is 0.
    """
    res = table.inst.resources
    terms: dict[pulp.LpVariable, int] = {}
    for j, column in enumerate(table.columns):
        o = table.inst.objects[column.object_index]
        terms[x[j]] = column.points - (0 if o.must else o.none_points)
    for r, variable in v.items():
        terms[variable] = int(res.overtime_points[r])
    prob.setObjective(pulp.LpAffineExpression(terms, constant=constant_points(table)))
