"""The stages that are followed by the same number of stages, as arrays: one step of the pricing recursion."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from triage.planning.engine.calendar import Floats, Ints
from triage.planning.engine.instance import Instance, StageNumbers


@dataclass
class Level:
    """Stages with ``depth`` stages after them. An *option* is a stage in one class of space.

    Options of a stage lie side by side; ``option_first`` (stages,) is where each stage's begin. A stage
    that no class admits keeps one option that is blocked throughout.
    """

    depth: int
    stages: list[StageNumbers]
    treatment_rows: Ints
    """(stages,) row of each stage's treatment in the pricer."""
    stage_at: Ints
    """(treatments,) index of the treatment's stage in this level, -1 if it has none."""
    after_at: Ints
    """(stages,) index of the following stage in the level below; empty at depth 0."""
    owner: Ints
    """(stages,) row of the object in the pricer."""
    hall: Ints
    months: Ints
    wait: Ints
    """(stages,) most wait before the following stage."""
    away: Floats
    floor: Floats
    """(stages,) clear floor used, negative where freed."""
    lowering: Floats
    """(stages, months) floor needed beyond the clear floor, negative where freed."""
    option_stage: Ints
    option_first: Ints
    option_class: Ints
    option_area: Floats
    first_of: Ints
    """Treatment rows whose first stage is here, and their stages."""
    first_rows: Ints
    hour_stage: Ints
    hour_trade: Ints
    hour_table: Floats
    """(stage-trade pairs, longest stage): hours of each working month."""
    loss: Floats | None = None
    """(stages, months + 1), depth 0 only."""
    most_shift: Ints = field(default_factory=lambda: np.zeros((0, 0), dtype=np.int64))
    """(options, positions): most open months of wait from each start; -1 where it cannot start."""
    work_allowed: Floats = field(default_factory=lambda: np.zeros((0, 0)))
    """(stages, positions): 0 where the hours fit alone, else infinite."""
    best: Floats = field(default_factory=lambda: np.zeros((0, 0)))
    _work_cost: Floats = field(default_factory=lambda: np.zeros((0, 0)))
    _stay: Floats = field(default_factory=lambda: np.zeros((0, 0)))
    _at: Ints = field(default_factory=lambda: np.zeros((0, 0), dtype=np.int64))
    _opened: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))

    def recurse(self, inst: Instance, prices: Floats, away: Floats, after: Floats | None) -> Floats:
        """Work out ``best`` (stages, positions), the least cost from each start to the end of the job."""
        stay = self._stays(inst, prices, away)
        opened = inst.calendar.opened
        positions = opened.size
        begin = stay[:, opened]
        self._stay = stay
        longest = int(self.months.max()) + int(self.wait.max())
        padded = np.full((self.option_stage.size, positions + longest + 1), np.inf)
        if after is None:
            assert self.loss is not None
            padded[:, 1 : positions + 1] = stay[:, opened + 1]
            padded[:, 1 : positions + 1] += self.loss[self.option_stage][:, opened + 1]
        else:
            padded[:, :positions] = begin
            padded[:, :positions] += after[self.after_at[self.option_stage]]
        value = self._over_waits(padded, positions)
        value -= begin
        best = np.minimum.reduceat(value, self.option_first, axis=0)
        self._work_cost = self._work(inst, prices)
        self._work_cost += self.work_allowed
        best += self._work_cost
        self.best = best
        return best

    def _over_waits(self, padded: Floats, positions: int) -> Floats:
        """Least of ``padded`` at start + months + wait over the waits allowed, (options, positions)."""
        width = padded.shape[1]
        if self._at.size == 0:
            rows = np.arange(padded.shape[0]) * width + self.months[self.option_stage]
            self._at = rows[:, None] + np.arange(positions)
        at, flat = self._at, padded.ravel()
        value = np.where(self.most_shift >= 0, flat[at], np.inf)
        longest = int(self.most_shift.max()) if self.most_shift.size else 0
        for w in range(1, longest + 1):
            rows = np.flatnonzero(self.wait[self.option_stage] >= w)
            if rows.size == 0:
                break
            later = np.where(self.most_shift[rows] >= w, flat[at[rows] + w], np.inf)
            value[rows] = np.minimum(value[rows], later)
        return value

    def _stays(self, inst: Instance, prices: Floats, away: Floats) -> Floats:
        """(options, months + 1): prefix sums over months of the cost of standing there."""
        res, months = inst.resources, inst.months
        none = np.zeros((1, months))
        floor = np.vstack([res.table("floor", prices), none])
        stage = self.away[:, None] * away[self.owner] + self.floor[:, None] * floor[self.hall]
        if (lowering := res.table("lowering", prices)).any():
            stage += self.lowering * np.vstack([lowering, none])[self.hall]
        area = np.vstack([res.table("area", prices), none])
        slots = np.vstack([res.table("slots", prices), none])
        stay = np.zeros((self.option_stage.size, months + 1))
        monthly = stage[self.option_stage]
        monthly += self.option_area[:, None] * area[self.option_class]
        monthly += slots[self.option_class]
        np.cumsum(monthly, axis=1, out=stay[:, 1:])
        return stay

    def _work(self, inst: Instance, prices: Floats) -> Floats:
        """(stages, positions): hours at their prices from each start, 0 beyond the horizon."""
        positions = inst.calendar.positions
        work = np.zeros((len(self.stages), positions))
        if self.hour_stage.size == 0:
            return work
        trades = inst.resources.table("hours", prices)[:, inst.calendar.opened]
        if not trades.any():
            return work
        pairs = np.zeros((self.hour_stage.size, positions))
        for i in range(min(self.hour_table.shape[1], positions)):
            rows = np.flatnonzero(self.hour_table[:, i])
            pairs[rows, : positions - i] += self.hour_table[rows, i, None] * trades[self.hour_trade[rows], i:]
        stages, first = np.unique(self.hour_stage, return_index=True)
        work[stages] = np.add.reduceat(pairs, first, axis=0)
        return work

    def choice(self, treatment_row: int, p: int, after: Floats | None) -> tuple[int, int]:
        """Return the class and the start of the next stage (-1: none) that reach ``best`` from a start."""
        ways = self.ways(np.array([treatment_row]), np.array([p]), after)
        k = int(np.lexsort((ways.start, ways.space_class, ways.cost))[0])
        return int(ways.space_class[k]), int(ways.start[k])

    def ways(self, treatment_rows: Ints, p: Ints, after: Floats | None) -> Ways:
        """Return every way on from some starts: each class of space and each wait."""
        s = self.stage_at[treatment_rows]
        options = np.append(self.option_first, self.option_stage.size)
        counts = options[s + 1] - options[s]
        origin = np.repeat(np.arange(s.size), counts)
        option = np.arange(origin.size) - np.repeat(np.cumsum(counts) - counts, counts) + options[s][origin]
        shifts = self.most_shift[option, p[origin]] + 1
        again = np.repeat(np.arange(origin.size), shifts)
        wait = np.arange(again.size) - np.repeat(np.cumsum(shifts) - shifts, shifts)
        origin, option = origin[again], option[again]
        stage, start = s[origin], p[origin]
        q = start + self.months[stage] + wait
        stay, opened = self._stay, self._opened
        if after is None:
            assert self.loss is not None
            end = opened[q - 1] + 1
            cost = stay[option, end] + self.loss[stage, end]
            q = np.full(q.size, -1)
        else:
            cost = stay[option, opened[q]] + after[self.after_at[stage], q]
        cost = cost - stay[option, opened[start]] + self._work_cost[stage, start]
        return Ways(origin, self.option_class[option], q, cost - self.best[stage, start])


@dataclass(frozen=True)
class Ways:
    """Ways on from some starts: which start each belongs to, its class of space, the next stage's start
    (-1: none) and its cost above the least from there."""

    origin: Ints
    space_class: Ints
    start: Ints
    cost: Floats


def make_levels(inst: Instance, treatments: list[int], owner: Ints) -> list[Level]:
    """Group the stages of some treatments by how many stages follow them, last stages first."""
    deepest = max((len(inst.treatments[t].stages) for t in treatments), default=0)
    levels: list[Level] = []
    for depth in range(deepest):
        rows = [r for r, t in enumerate(treatments) if len(inst.treatments[t].stages) > depth]
        below = levels[-1].stage_at if levels else None
        levels.append(_make_level(inst, treatments, owner, depth, rows, below))
    return levels


def _make_level(
    inst: Instance, treatments: list[int], owner: Ints, depth: int, rows: list[int], below: Ints | None
) -> Level:
    at = np.array(rows, dtype=np.int64)
    chosen = [inst.treatments[treatments[r]] for r in rows]
    stages = [t.stages[-1 - depth] for t in chosen]
    stage_at = np.full(len(treatments), -1, dtype=np.int64)
    stage_at[at] = np.arange(at.size)
    options = [(s, g) for s, stage in enumerate(stages) for g in stage.classes or (-1,)]
    counts = [len(stage.classes or (-1,)) for stage in stages]
    hours = [(s, trade, values) for s, stage in enumerate(stages) for trade, values in stage.hours]
    table = np.zeros((len(hours), max((len(values) for _, _, values in hours), default=0)))
    for k, (_, _, values) in enumerate(hours):
        table[k, : len(values)] = values
    is_first = np.array([len(t.stages) == depth + 1 for t in chosen])
    return Level(
        depth=depth,
        stages=stages,
        treatment_rows=at,
        stage_at=stage_at,
        after_at=below[at] if below is not None else np.zeros(0, dtype=np.int64),
        owner=owner[at],
        hall=np.array([inst.objects[t.object_index].hall for t in chosen], dtype=np.int64),
        months=np.array([stage.months for stage in stages], dtype=np.int64),
        wait=np.array([t.stages[-depth].most_wait if depth else 0 for t in chosen], dtype=np.int64),
        away=np.array([float(stage.away) for stage in stages]),
        floor=np.array([float(stage.floor - stage.frees) for stage in stages]),
        lowering=np.array([_lowering(inst, t.object_index, t.stages[-1 - depth]) for t in chosen]),
        option_stage=np.array([s for s, _ in options], dtype=np.int64),
        option_first=np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(np.int64),
        option_class=np.array([g for _, g in options], dtype=np.int64),
        option_area=np.array([float(stages[s].area) for s, _ in options]),
        first_of=at[is_first],
        first_rows=np.flatnonzero(is_first),
        hour_stage=np.array([s for s, _, _ in hours], dtype=np.int64),
        hour_trade=np.array([trade for _, trade, _ in hours], dtype=np.int64),
        hour_table=table,
        loss=np.array([t.loss for t in chosen], dtype=np.float64) if depth == 0 else None,
        _opened=inst.calendar.opened,
    )


def _lowering(inst: Instance, o: int, stage: StageNumbers) -> Floats:
    """(months,) what a stage of an object needs beyond its hall's clear floor, negative what it frees."""
    hall = inst.objects[o].hall
    if hall < 0 or not (stage.floor or stage.frees):
        return np.zeros(inst.months)
    return inst.lowering(hall, stage).astype(np.float64)
