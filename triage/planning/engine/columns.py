"""A column: one object's treatment with the start of every stage and its class of space."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from triage.planning.engine.calendar import Ints
from triage.planning.engine.instance import Instance, StageNumbers

Key = tuple[int, tuple[int, ...], tuple[int, ...]]


@dataclass(frozen=True)
class Column:
    """A job over classes: its points and what it uses of each resource row.

    ``starts`` are positions; ``classes`` holds -1 for a stage that needs no space. ``rows`` are sorted and
    unique; ``use`` is negative where the job frees hall floor.
    """

    treatment: int
    object_index: int
    starts: tuple[int, ...]
    classes: tuple[int, ...]
    points: int = field(compare=False)
    rows: Ints = field(compare=False, repr=False)
    use: Ints = field(compare=False, repr=False)

    @property
    def key(self) -> Key:
        """What tells columns apart and can be sent to another process."""
        return self.treatment, self.starts, self.classes


def stage_spans(inst: Instance, treatment: int, starts: Sequence[int]) -> list[tuple[int, int]]:
    """Return the first month and the month after the last in which each stage keeps its place (rule 2)."""
    calendar, stages = inst.calendar, inst.treatments[treatment].stages
    ends = [calendar.month(p) for p in starts[1:]] + [calendar.end(starts[-1], stages[-1].months)]
    return [(calendar.month(p), end) for p, end in zip(starts, ends, strict=True)]


def make_column(inst: Instance, treatment: int, starts: Sequence[int], classes: Sequence[int]) -> Column:
    """Work out points and use of a job; the caller vouches that its starts are admissible."""
    t = inst.treatments[treatment]
    o = inst.objects[t.object_index]
    rows: list[Ints] = []
    use: list[Ints] = []
    months_away = 0
    spans = stage_spans(inst, treatment, starts)
    for stage, p, g, (begin, end) in zip(t.stages, starts, classes, spans, strict=True):
        span = np.arange(begin, end)
        months_away += len(span) if stage.away else 0
        _add_span(inst, o.hall, o.rules, stage, g, span, rows, use)
        _add_hours(inst, stage, p, rows, use)
    _add_budgets(inst, t.cost, spans[0][0], rows, use)
    points = int(t.loss[spans[-1][1]]) + int(t.start_points[starts[0]]) + months_away * o.away_points
    unique, used = _summed(rows, use)
    return Column(treatment, t.object_index, tuple(starts), tuple(classes), points, unique, used)


def _add_span(
    inst: Instance,
    hall: int,
    rules: tuple[int, ...],
    stage: StageNumbers,
    g: int,
    span: Ints,
    rows: list[Ints],
    use: list[Ints],
) -> None:
    """Use of place and display in every month from a stage's start to the next one's."""

    def add(block: str, member: int, amount: int) -> None:
        if amount:
            rows.append(inst.resources.first[block] + member * inst.months + span)
            use.append(np.full(span.size, amount, dtype=np.int64))

    if g >= 0:
        add("area", g, stage.area)
        add("slots", g, 1)
    if hall >= 0:
        add("floor", hall, stage.floor - stage.frees)
        add("away", hall, int(stage.away))
    if stage.away:
        for rule in rules:
            add("rules", rule, 1)


def _add_hours(inst: Instance, stage: StageNumbers, p: int, rows: list[Ints], use: list[Ints]) -> None:
    working = inst.calendar.opened[p : p + stage.months]
    for trade, hours in stage.hours:
        rows.append(inst.resources.first["hours"] + trade * inst.months + working)
        use.append(hours)


def _add_budgets(inst: Instance, cost: int, start: int, rows: list[Ints], use: list[Ints]) -> None:
    res = inst.resources
    if cost:
        held = np.flatnonzero((res.budget_from <= start) & (start <= res.budget_to))
        rows.append(res.first["budget"] + held)
        use.append(np.full(held.size, cost, dtype=np.int64))


def _summed(rows: list[Ints], use: list[Ints]) -> tuple[Ints, Ints]:
    """Merge entries of the same row and drop zeros."""
    if not rows:
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    unique, where = np.unique(np.concatenate(rows), return_inverse=True)
    total = np.zeros(unique.size, dtype=np.int64)
    np.add.at(total, where, np.concatenate(use))
    kept = total != 0
    return unique[kept], total[kept]


def column_of(inst: Instance, key: Key) -> Column:
    """Rebuild a column from its key."""
    return make_column(inst, *key)


def usage(inst: Instance, columns: Iterable[Column]) -> Ints:
    """Return the (rows,) sum of what some columns use."""
    total = np.zeros(inst.resources.size, dtype=np.int64)
    for column in columns:
        total[column.rows] += column.use
    return total


@dataclass(frozen=True)
class Selection:
    """A plan over classes: at most one column an object."""

    columns: dict[int, Column]
    """object index -> its column."""

    def used(self, inst: Instance) -> Ints:
        """Return the (rows,) use of the whole plan."""
        return usage(inst, self.columns.values())

    def overtime(self, inst: Instance) -> Ints:
        """Return the (rows,) overtime hours the plan needs."""
        return overtime_needed(inst, self.used(inst))

    def total(self, inst: Instance) -> int:
        """Return the plan's points (rule 10)."""
        alone = sum(o.none_points for o in inst.objects if o.index not in self.columns)
        jobs = sum(column.points for column in self.columns.values())
        return alone + jobs + int(self.overtime(inst) @ inst.resources.overtime_points)

    def fits(self, inst: Instance) -> bool:
        """Return whether every resource row holds and every promised object has a job."""
        res = inst.resources
        kept = all(o.index in self.columns for o in inst.objects if o.must)
        return kept and bool(np.all(self.used(inst) <= res.capacity + res.overtime_most))

    def keys(self) -> tuple[Key, ...]:
        """Return the plan as plain numbers."""
        return tuple(self.columns[o].key for o in sorted(self.columns))


def selection_of(columns: Iterable[Column]) -> Selection:
    """Make a plan of columns, one an object."""
    return Selection({column.object_index: column for column in columns})


def overtime_needed(inst: Instance, used: Ints) -> Ints:
    """Return the (rows,) hours above regular ones, 0 outside the block "hours"."""
    over = np.zeros(inst.resources.size, dtype=np.int64)
    block = inst.resources.block("hours")
    over[block] = np.maximum(0, used[block] - inst.resources.capacity[block])
    return over
