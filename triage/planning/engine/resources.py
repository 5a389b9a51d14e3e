"""Everything that can run out, as one long vector.

Each kind of resource is a block of rows: space area and slots (rule 3), clear hall floor (rule 4), trade
hours (rule 5), objects away per hall (rule 6), display rules (rule 7), each per calendar month; then one
row per budget (rule 8). ``capacity`` is the right-hand side of "use <= capacity" in every row.

The block "lowering" follows from the floor rows and tightens their relaxation: what a hall stage needs
beyond the clear floor must be freed by others, so in each hall and month

    sum over hall stages of max(0, floor - clear)  <=  sum of the floor freed.

(For n >= 1 stages that need more than the clear floor, the left side is their floor less n times the clear
floor, at most their floor less the clear floor, which is at most what is freed.)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from triage.planning.engine.calendar import Ints
from triage.planning.engine.classes import SpaceClass
from triage.planning.problem import PlanningProblem, PlanRule

Number = TypeVar("Number", np.int64, np.float64)
NO_LIMIT = 10**12
BLOCKS = ("area", "slots", "hours", "floor", "lowering", "away", "rules")


@dataclass(frozen=True)
class Resources:
    """Row numbers and capacities. ``first`` maps each block, and "budget", to its first row."""

    months: int
    first: dict[str, int]
    capacity: Ints
    overtime_most: Ints
    """(rows,) hours that can be bought on top; 0 outside the block "hours"."""
    overtime_points: Ints
    """(rows,) points of each of those hours."""
    budget_from: Ints
    budget_to: Ints

    @property
    def size(self) -> int:
        """Number of rows."""
        return int(self.capacity.size)

    def block(self, name: str) -> slice:
        """Return the rows of a block."""
        order = [*BLOCKS, "budget"]
        after = order.index(name) + 1
        return slice(self.first[name], self.first[order[after]] if after < len(order) else self.size)

    def table(self, name: str, values: NDArray[Number]) -> NDArray[Number]:
        """Return a block of a (rows,) vector as (members, months)."""
        return values[self.block(name)].reshape(-1, self.months)

    def row(self, name: str, member: int, month: int) -> int:
        """Return the row of one member of a block in one month."""
        return self.first[name] + member * self.months + month

    def describe(self, row: int) -> tuple[str, int, int]:
        """Return block, member and month (-1 for a budget) of a row."""
        if row >= self.first["budget"]:
            return "budget", row - self.first["budget"], -1
        name = next(b for b in reversed(BLOCKS) if row >= self.first[b])
        member, month = divmod(row - self.first[name], self.months)
        return name, member, month


def rule_capacity(rule: PlanRule, months: int) -> Ints:
    """Return how many of a rule's objects may be away in each month, (months,)."""
    most = np.full(months, NO_LIMIT, dtype=np.int64)
    members = len(set(rule.object_ids))
    if rule.kind == "on_show":
        allowed = 0
    elif rule.kind == "at_least":
        allowed = members - (rule.number or 0)
    else:
        allowed = 1 if rule.number is None else rule.number
    most[max(0, rule.from_month) : rule.to_month + 1] = allowed
    return most


def resources_of(problem: PlanningProblem, classes: tuple[SpaceClass, ...]) -> Resources:
    """Lay out every resource of a problem."""
    months = problem.months

    def rows(tables: list[Ints]) -> Ints:
        return np.concatenate(tables) if tables else np.zeros(0, dtype=np.int64)

    blocks = {
        "area": rows([len(c.members) * c.area for c in classes]),
        "slots": rows([len(c.members) * c.slots for c in classes]),
        "hours": rows([np.array(t.hours, dtype=np.int64) for t in problem.trades]),
        "floor": rows([np.array(h.clear_m2, dtype=np.int64) for h in problem.halls]),
        "lowering": np.zeros(len(problem.halls) * months, dtype=np.int64),
        "away": rows([np.array(h.most_away, dtype=np.int64) for h in problem.halls]),
        "rules": rows([rule_capacity(rule, months) for rule in problem.rules]),
        "budget": np.array([b.amount for b in problem.budgets], dtype=np.int64),
    }
    first, at = {}, 0
    for name, values in blocks.items():
        first[name] = at
        at += int(values.size)
    most, points = np.zeros(at, dtype=np.int64), np.zeros(at, dtype=np.int64)
    hours = slice(first["hours"], first["floor"])
    if problem.trades:
        most[hours] = rows([np.array(t.overtime_most, dtype=np.int64) for t in problem.trades])
        points[hours] = np.repeat([t.overtime_points for t in problem.trades], months)
    return Resources(
        months=months,
        first=first,
        capacity=np.concatenate(list(blocks.values())).astype(np.int64),
        overtime_most=most,
        overtime_points=points,
        budget_from=np.array([b.from_month for b in problem.budgets], dtype=np.int64),
        budget_to=np.array([b.to_month for b in problem.budgets], dtype=np.int64),
    )
