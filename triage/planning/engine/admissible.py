"""What cannot fit even alone: stages blocked in a month, hours that do not fit, starts not allowed.

Dropping these before anything is priced is exact and tightens the bound more than any cut.
"""

from __future__ import annotations

import numpy as np

from triage.planning.engine.calendar import Bools, Floats, Ints
from triage.planning.engine.instance import Instance
from triage.planning.engine.levels import Level


def blocked_months(inst: Instance, objects: Ints, level: Level, room: Ints) -> None:
    """Fill ``most_shift`` and ``work_allowed`` of a level for the room (rows,) that is left."""
    opened, positions = inst.calendar.opened, inst.calendar.positions
    blocked = _blocked_stages(inst, objects, level, room)[level.option_stage]
    blocked |= _blocked_places(inst, level, room)
    months = np.arange(inst.months)
    first_blocked = np.where(blocked, months, inst.months)
    first_blocked = np.minimum.accumulate(first_blocked[:, ::-1], axis=1)[:, ::-1]
    limit = np.append(first_blocked, np.full((blocked.shape[0], 1), inst.months), axis=1)[:, opened]
    stage = level.option_stage
    work_end = np.arange(positions)[None, :] + level.months[stage][:, None]
    if level.depth == 0:
        ends = np.append(opened + 1, np.full(int(level.months.max()) + 1, inst.months + 1))
        level.most_shift = np.where(ends[work_end - 1] <= limit, 0, -1)
    else:
        # the last position whose month is <= limit: the next stage may start there at the latest
        latest = np.append(inst.calendar.positions_to, positions)[limit + 1] - 1
        latest = np.minimum(latest, positions - 1)
        shift = np.minimum(latest - work_end, level.wait[stage][:, None])
        level.most_shift = np.maximum(shift, -1)
    level.work_allowed = _hours_fit(inst, level, room)


def _blocked_places(inst: Instance, level: Level, room: Ints) -> Bools:
    """(options, months): no class, or no area or slot for this stage alone."""
    res, months = inst.resources, inst.months
    area = np.zeros((len(inst.classes) + 1, months), dtype=np.int64)
    slots = np.zeros_like(area)
    for g, one in enumerate(inst.classes):
        area[g] = np.minimum(one.area, res.table("area", room)[g])
        slots[g] = np.minimum(one.slots, res.table("slots", room)[g])
    where = level.option_class
    blocked: Bools = (level.option_area[:, None] > area[where]) | (slots[where] < 1)
    needs_none = np.array([stage.classes == (-1,) for stage in level.stages])[level.option_stage]
    blocked[needs_none] = False
    return blocked


def _blocked_stages(inst: Instance, objects: Ints, level: Level, room: Ints) -> Bools:
    """(stages, months): the display promises or the hall floor forbid it even alone."""
    res, months = inst.resources, inst.months
    away_room = np.vstack([res.table("away", room), np.full((1, months), 1)])
    rules = res.table("rules", room)
    forbidden = np.zeros((objects.size, months), dtype=bool)
    for k, o in enumerate(objects):
        forbidden[k] = away_room[inst.objects[o].hall] < 1
        for rule in inst.objects[o].rules:
            forbidden[k] |= rules[rule] < 1
    is_away = level.away > 0
    blocked = np.zeros((len(level.stages), months), dtype=bool)
    blocked[is_away] = forbidden[level.owner[is_away]]
    uses = np.flatnonzero(level.floor > 0)
    if uses.size:
        floor = res.table("floor", room)
        spare = _most_freed(inst, objects, away_room)
        for s in uses:
            h = int(level.hall[s])
            blocked[s] |= level.floor[s] > floor[h] + spare[h][int(is_away[s])]
    return blocked


def _most_freed(inst: Instance, objects: Ints, away_room: Ints) -> list[tuple[Ints, Ints]]:
    """Per hall the most floor (months,) others can free, if the user of it is not / is away itself."""
    freed: list[tuple[Ints, Ints]] = []
    for h in range(len(inst.problem.halls)):
        shown = [inst.objects[o] for o in objects]
        sizes = sorted((o.display for o in shown if o.hall == h and not o.hung), reverse=True)
        sums = np.concatenate([[0], np.cumsum(np.array(sizes, dtype=np.int64))]).astype(np.int64)
        others = [np.clip(away_room[h] - taken, 0, len(sizes)) for taken in (0, 1)]
        freed.append((sums[others[0]], sums[others[1]]))
    return freed


def _hours_fit(inst: Instance, level: Level, room: Ints) -> Floats:
    """(stages, positions): 0 where each working month's hours fit alone, else infinite."""
    positions = inst.calendar.positions
    allowed = np.zeros((len(level.stages), positions))
    beyond = np.arange(positions)[None, :] + level.months[:, None] > positions
    allowed[beyond] = np.inf
    if level.hour_stage.size == 0:
        return allowed
    trades = inst.resources.table("hours", room)[:, inst.calendar.opened]
    bad = np.zeros((level.hour_stage.size, positions), dtype=bool)
    for i in range(min(level.hour_table.shape[1], positions)):
        rows = np.flatnonzero(level.hour_table[:, i])
        bad[rows, : positions - i] |= level.hour_table[rows, i, None] > trades[level.hour_trade[rows], i:]
    pair, p = np.nonzero(bad)
    allowed[level.hour_stage[pair], p] = np.inf
    return allowed


def admissible_starts(inst: Instance, treatments: list[int], room: Ints) -> tuple[Bools, Ints]:
    """(treatments, positions): first starts allowed by window, promise and budget, and their points."""
    res, opened = inst.resources, inst.calendar.opened
    least = np.full(inst.months, np.iinfo(np.int64).max, dtype=np.int64)
    for k, amount in enumerate(room[res.block("budget")]):
        span = slice(max(0, int(res.budget_from[k])), int(res.budget_to[k]) + 1)
        least[span] = np.minimum(least[span], amount)
    if not treatments:
        return np.zeros((0, opened.size), dtype=bool), np.zeros((0, opened.size), dtype=np.int64)
    chosen = [inst.treatments[t] for t in treatments]
    allowed = np.array([t.start_allowed & ((t.cost <= least[opened]) | (t.cost == 0)) for t in chosen])
    return allowed, np.array([t.start_points for t in chosen])
