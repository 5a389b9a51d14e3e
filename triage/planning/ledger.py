"""Who uses what in which month, and where more is asked than there is: rules 3 to 8, added up.

A :class:`Ledger` holds whole numbers only. Jobs are put in; :meth:`Ledger.shortfalls` lists every month
in which a limit or a display promise is broken. The checker reads it once for a whole plan; the explainer
puts in all jobs but one and looks where that one would fit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from triage.planning.problem import PlanningProblem, PlanRule
from triage.planning.timeline import StageSpan, Timeline

Grid = npt.NDArray[np.int64]
Kind = Literal["hours", "area", "slots", "floor", "most_away", "display", "budget"]
RULE_OF: dict[Kind, int] = {
    "area": 3,
    "slots": 3,
    "floor": 4,
    "hours": 5,
    "most_away": 6,
    "display": 7,
    "budget": 8,
}


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A run of months in which more is asked than there is.

    ``need`` and ``room`` are those of ``worst``, the month with the largest excess. For a display
    promise ``need`` is the number of objects away and ``room`` the number that may be.
    """

    kind: Kind
    resource_id: str
    from_month: int
    to_month: int
    worst: int
    need: int
    room: int

    @property
    def rule(self) -> int:
        """The rule of the planning problem this breaks."""
        return RULE_OF[self.kind]


def _grid(rows: Iterable[tuple[int, ...]], months: int) -> Grid:
    return np.array(list(rows), dtype=np.int64).reshape(-1, months)


class Room:
    """The limits of a problem as arrays, rows in the problem's order, columns the months."""

    def __init__(self, problem: PlanningProblem) -> None:
        months = problem.months
        self.problem = problem
        self.trade_row = {t.trade_id: i for i, t in enumerate(problem.trades)}
        self.space_row = {s.space_id: i for i, s in enumerate(problem.spaces)}
        self.hall_row = {h.hall_id: i for i, h in enumerate(problem.halls)}
        self.object_row = {o.object_id: i for i, o in enumerate(problem.objects)}
        self.hours = _grid((t.hours for t in problem.trades), months)
        self.most_hours = self.hours + _grid((t.overtime_most for t in problem.trades), months)
        self.area = _grid((s.area_m2 for s in problem.spaces), months)
        self.slots = _grid((s.slots for s in problem.spaces), months)
        self.clear = _grid((h.clear_m2 for h in problem.halls), months)
        self.most_away = _grid((h.most_away for h in problem.halls), months)
        self.rules = tuple(self._rule_rows(rule) for rule in problem.rules)

    def _rule_rows(self, rule: PlanRule) -> tuple[list[int], int, slice]:
        """Return the rows of a rule's objects, how many may be away, and its months."""
        rows = sorted({self.object_row[i] for i in rule.object_ids})
        if rule.kind == "on_show":
            most = 0
        elif rule.kind == "at_least":
            most = len(rows) - (rule.number or 0)
        else:
            most = 1 if rule.number is None else rule.number
        return rows, most, slice(max(0, rule.from_month), rule.to_month + 1)


class Ledger:
    """What a set of jobs uses of each limit in each month."""

    def __init__(self, room: Room) -> None:
        self.room = room
        self.hours = np.zeros_like(room.hours)
        self.area = np.zeros_like(room.area)
        self.slots = np.zeros_like(room.slots)
        self.floor = np.zeros_like(room.clear)
        self.freed = np.zeros_like(room.clear)
        self.away = np.zeros_like(room.most_away)
        self.gone: Grid = np.zeros((len(room.problem.objects), room.problem.months), dtype=np.int64)
        self.spent = [0] * len(room.problem.budgets)

    def put(self, timeline: Timeline) -> None:
        """Enter a job."""
        for span in timeline.spans:
            self._put_hours(span)
            self._put_space(span)
            self._put_hall(timeline.object_id, span)
        for row, budget in enumerate(self.room.problem.budgets):
            if budget.from_month <= timeline.start <= budget.to_month:
                self.spent[row] += timeline.treatment.cost

    def _put_hours(self, span: StageSpan) -> None:
        for trade_id, hours in span.stage.hours.items():
            row = self.hours[self.room.trade_row[trade_id]]
            for month, amount in zip(span.working, hours, strict=True):
                row[month] += amount

    def _put_space(self, span: StageSpan) -> None:
        row = None if span.space_id is None else self.room.space_row.get(span.space_id)
        if row is not None:
            self.area[row, span.start : span.until] += span.stage.area_m2
            self.slots[row, span.start : span.until] += 1

    def _put_hall(self, object_id: str, span: StageSpan) -> None:
        item, stage, months = (
            self.room.problem.object_by_id[object_id],
            span.stage,
            slice(span.start, span.until),
        )
        if stage.away:
            self.gone[self.room.object_row[object_id], months] += 1
        if item.hall_id is None:
            return
        hall = self.room.hall_row[item.hall_id]
        if stage.away:
            self.away[hall, months] += 1
        if stage.place == "hall":
            used = stage.area_m2 if item.hung else max(0, stage.area_m2 - item.display_m2)
            self.floor[hall, months] += used
        elif stage.away and not item.hung:
            self.freed[hall, months] += item.display_m2

    def shortfalls(self) -> list[Shortfall]:
        """Return every run of months in which a limit or a display promise is broken."""
        problem, room = self.room.problem, self.room
        found = [
            *_over("hours", [t.trade_id for t in problem.trades], self.hours, room.most_hours),
            *_over("area", list(room.space_row), self.area, room.area),
            *_over("slots", list(room.space_row), self.slots, room.slots),
            *_over("floor", list(room.hall_row), self.floor, room.clear + self.freed),
            *_over("most_away", list(room.hall_row), self.away, room.most_away),
        ]
        found.extend(self._display_shortfalls())
        for budget, spent in zip(problem.budgets, self.spent, strict=True):
            if spent > budget.amount:
                last = min(budget.to_month, problem.months - 1)
                found.append(
                    Shortfall("budget", "", budget.from_month, last, budget.from_month, spent, budget.amount)
                )
        return found

    def _display_shortfalls(self) -> Iterator[Shortfall]:
        for rule, (rows, most, months) in zip(self.room.problem.rules, self.room.rules, strict=True):
            away = np.minimum(self.gone[rows, months], 1).sum(axis=0, keepdims=True)
            yield from _over("display", [rule.rule_id], away, np.full_like(away, most), months.start)


def _over(kind: Kind, ids: list[str], need: Grid, room: Grid, first: int = 0) -> Iterator[Shortfall]:
    """Yield the runs of months in which need > room; column 0 is month ``first``."""
    excess = need - room
    if not (excess > 0).any():
        return
    for row in np.flatnonzero((excess > 0).any(axis=1)):
        months = np.flatnonzero(excess[row] > 0)
        for run in np.split(months, np.flatnonzero(np.diff(months) > 1) + 1):
            worst = int(run[np.argmax(excess[row, run])])
            yield Shortfall(
                kind,
                ids[row],
                int(run[0]) + first,
                int(run[-1]) + first,
                worst + first,
                int(need[row, worst]),
                int(room[row, worst]),
            )
