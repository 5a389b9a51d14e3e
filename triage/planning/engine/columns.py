"""A column: one object's treatment with the start of every stage and its class of space."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from triage.planning.engine.calendar import Ints
from triage.planning.engine.instance import Instance, ObjectNumbers, Piece, StageNumbers

Key = tuple[int, tuple[int, ...], tuple[int, ...]]


@dataclass(frozen=True)
class Column:
    """A job over classes: its points and what it uses of each resource row.

    ``starts`` are positions; ``classes`` holds -1 for a stage that needs no space. ``rows`` are unique;
    ``use`` is negative where the job frees hall floor.
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
    pieces: list[Piece] = []
    months_away = 0
    spans = stage_spans(inst, treatment, starts)
    for k, (p, g, (begin, end)) in enumerate(zip(starts, classes, spans, strict=True)):
        months_away += end - begin if t.stages[k].away else 0
        where = (treatment, k, p, end, g)
        piece = inst.pieces.get(where)
        if piece is None:
            piece = inst.pieces[where] = _piece(inst, o, t.stages[k], p, g, np.arange(begin, end))
        pieces.append(piece)
    pieces.append(_budget_piece(inst, t.cost, spans[0][0]))
    points = int(t.loss[spans[-1][1]]) + int(t.start_points[starts[0]]) + months_away * o.away_points
    return Column(
        treatment=treatment,
        object_index=t.object_index,
        starts=tuple(starts),
        classes=tuple(classes),
        points=points,
        rows=np.concatenate([rows for rows, _ in pieces]),
        use=np.concatenate([use for _, use in pieces]),
    )


def _piece(inst: Instance, o: ObjectNumbers, stage: StageNumbers, p: int, g: int, span: Ints) -> Piece:
    """Use of one stage: place and display in every month of ``span``, hours in its working months.

    The stages of a job share no month, so their pieces share no row.
    """
    first, months = inst.resources.first, inst.months
    amounts: list[tuple[str, int, int]] = []
    if g >= 0:
        amounts += [("area", g, stage.area), ("slots", g, 1)]
    if o.hall >= 0:
        amounts += [("floor", o.hall, stage.floor - stage.frees), ("away", o.hall, int(stage.away))]
    if stage.away:
        amounts += [("rules", rule, 1) for rule in o.rules]
    rows: list[Ints] = [first[block] + member * months + span for block, member, amount in amounts if amount]
    use = [np.full(span.size, amount, dtype=np.int64) for _, _, amount in amounts if amount]
    if o.hall >= 0 and (stage.floor or stage.frees):
        lowering = inst.lowering(o.hall, stage)[span]
        rows.append((first["lowering"] + o.hall * months + span)[lowering != 0])
        use.append(lowering[lowering != 0])
    working = inst.calendar.opened[p : p + stage.months]
    for trade, hours in stage.hours:
        rows.append((first["hours"] + trade * months + working)[hours > 0])
        use.append(hours[hours > 0])
    nothing = np.zeros(0, dtype=np.int64)
    return np.concatenate([nothing, *rows]), np.concatenate([nothing, *use])


def _budget_piece(inst: Instance, cost: int, start: int) -> Piece:
    """Use of every budget whose months hold the first start."""
    res = inst.resources
    held = np.flatnonzero((res.budget_from <= start) & (start <= res.budget_to) & (cost != 0))
    return res.first["budget"] + held, np.full(held.size, cost, dtype=np.int64)


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


def selection_of(columns: Iterable[Column]) -> Selection:
    """Make a plan of columns, one an object."""
    return Selection({column.object_index: column for column in columns})


def overtime_needed(inst: Instance, used: Ints) -> Ints:
    """Return the (rows,) hours above regular ones, 0 outside the block "hours"."""
    over = np.zeros(inst.resources.size, dtype=np.int64)
    block = inst.resources.block("hours")
    over[block] = np.maximum(0, used[block] - inst.resources.capacity[block])
    return over
