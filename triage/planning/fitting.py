"""Where one object's job would fit beside the rest of a plan, and what is short where it does not.

Within one job only one stage is in hand in a month, so what a stage lacks depends on its own months and
space alone: the best way to fit a job is found exactly, stage by stage from the last to the first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from triage.planning.ledger import Kind, Ledger, Room, Shortfall
from triage.planning.problem import Job, PlacedStage, PlanningProblem, PlanStage, PlanTreatment
from triage.planning.timeline import Calendar, Timeline, calendar_of

Placed = tuple[int, tuple[PlacedStage, ...]]
"""Points of a job's stages from one on, and where they are put."""


@dataclass(frozen=True, slots=True)
class Lack:
    """What keeps a job from starting in a month: the stage that finds no room, and what it lacks."""

    stage: int
    """1..n; 0 where it is the job as a whole (its window, its money, its end)."""
    shorts: tuple[Shortfall, ...]
    reason: str = ""
    """``early``, ``late``, ``horizon``, ``no door``, ``spot`` (others rely on its free spot), or empty."""


class Beside:
    """The rest of a plan, with room for one object's job.

    Parameters
    ----------
    problem
        The planning problem.
    others
        The timelines of the other objects' jobs.
    """

    def __init__(self, problem: PlanningProblem, others: list[Timeline]) -> None:
        self.problem = problem
        self.calendar: Calendar = calendar_of(problem)
        self.ledger = Ledger(Room(problem))
        for timeline in others:
            self.ledger.put(timeline)

    def holding(
        self, object_id: str, stage: PlanStage, space_id: str | None, month: int
    ) -> Iterator[Shortfall]:
        """Yield what is short if the stage holds its place in this month."""
        ledger, room = self.ledger, self.ledger.room
        item = self.problem.object_by_id[object_id]
        if space_id is not None:
            row = room.space_row[space_id]
            yield from _short(
                "area", space_id, month, ledger.area[row, month] + stage.area_m2, room.area[row, month]
            )
            yield from _short("slots", space_id, month, ledger.slots[row, month] + 1, room.slots[row, month])
        if item.hall_id is not None:
            hall = room.hall_row[item.hall_id]
            need, free = ledger.floor[hall, month], room.clear[hall, month] + ledger.freed[hall, month]
            if stage.place == "hall":
                need = need + (stage.area_m2 if item.hung else max(0, stage.area_m2 - item.display_m2))
            elif stage.away and not item.hung:
                free = free + item.display_m2
            yield from _short("floor", item.hall_id, month, need, free)
            if stage.away:
                away = ledger.away[hall, month] + 1
                yield from _short("most_away", item.hall_id, month, away, room.most_away[hall, month])
        if stage.away:
            yield from self._display(object_id, month)

    def _display(self, object_id: str, month: int) -> Iterator[Shortfall]:
        room = self.ledger.room
        mine = room.object_row[object_id]
        for rule, (rows, most, months) in zip(self.problem.rules, room.rules, strict=True):
            if mine in rows and months.start <= month < months.stop:
                away = int((self.ledger.gone[rows, month] > 0).sum()) + 1
                yield from _short("display", rule.rule_id, month, away, most)

    def working(self, stage: PlanStage, start: int) -> Iterator[Shortfall]:
        """Yield the trades short of hours if the stage works from ``start``."""
        ledger, room = self.ledger, self.ledger.room
        months = self.calendar.working_months(start, stage.months)
        for trade_id, hours in stage.hours.items():
            row = room.trade_row[trade_id]
            for month, amount in zip(months, hours, strict=False):
                if amount:
                    need = ledger.hours[row, month] + amount
                    yield from _short("hours", trade_id, month, need, room.most_hours[row, month])

    def overtime(self, stage: PlanStage, start: int) -> int:
        """Return the points of the overtime the stage adds if it works from ``start``."""
        total = 0
        months = self.calendar.working_months(start, stage.months)
        for trade_id, hours in stage.hours.items():
            row = self.ledger.room.trade_row[trade_id]
            for month, amount in zip(months, hours, strict=False):
                spare = int(self.ledger.room.hours[row, month] - self.ledger.hours[row, month])
                extra = max(0, amount - spare) - max(0, -spare)
                total += extra * self.problem.trade_by_id[trade_id].overtime_points
        return total

    def money(self, treatment: PlanTreatment, start: int) -> Iterator[Shortfall]:
        """Yield the budgets that could not pay the job if it starts in this month."""
        for budget, spent in zip(self.problem.budgets, self.ledger.spent, strict=True):
            if budget.from_month <= start <= budget.to_month and spent + treatment.cost > budget.amount:
                last = min(budget.to_month, self.problem.months - 1)
                first, need = budget.from_month, spent + treatment.cost
                yield Shortfall("budget", "", first, last, first, need, budget.amount)

    def spot_needed(self, object_id: str) -> set[int]:
        """Return the months in which other work in the hall relies on this object's spot being free."""
        hall_id = self.problem.object_by_id[object_id].hall_id
        if hall_id is None:
            return set()
        row = self.ledger.room.hall_row[hall_id]
        short = self.ledger.floor[row] > self.ledger.room.clear[row] + self.ledger.freed[row]
        return {int(m) for m in short.nonzero()[0]}


def _short(kind: Kind, resource_id: str, month: int, need: int, room: int) -> Iterator[Shortfall]:
    if need > room:
        yield Shortfall(kind, resource_id, month, month, month, int(need), int(room))


class Fitting:
    """Every way to fit one treatment beside the rest of a plan."""

    def __init__(self, beside: Beside, treatment: PlanTreatment) -> None:
        self.beside, self.treatment = beside, treatment
        self.calendar = beside.calendar
        self.item = beside.problem.object_by_id[treatment.object_id]
        self.spaces = [self._doors(stage) for stage in treatment.stages]
        self._memo: dict[tuple[int, int], Placed | None] = {}

    def _doors(self, stage: PlanStage) -> list[str | None]:
        if stage.place is None or stage.place == "hall":
            return [None]
        return [
            s.space_id
            for s in self.beside.problem.spaces
            if s.kind == stage.place
            and stage.width_cm <= s.door_width_cm
            and stage.height_cm <= s.door_height_cm
        ]

    @cached_property
    def spot_needed(self) -> set[int]:
        """Months in which others rely on the object's spot."""
        return self.beside.spot_needed(self.treatment.object_id)

    @cached_property
    def _held(self) -> dict[tuple[int, str | None], list[bool]]:
        """(stage, space) -> for each month whether it can be held there."""
        months, mine = range(self.calendar.months), self.treatment.object_id
        return {
            (k, space): [not any(self.beside.holding(mine, stage, space, m)) for m in months]
            for k, stage in enumerate(self.treatment.stages)
            for space in self.spaces[k]
        }

    def best_from(self, start: int) -> tuple[int, Job] | None:
        """Return the fewest points (loss, away, overtime) of a job that starts then, and the job, or None."""
        if not self.calendar.is_open(start) or not self.treatment.earliest <= start <= self.treatment.latest:
            return None
        if any(m < start for m in self.spot_needed) or any(self.beside.money(self.treatment, start)):
            return None
        found = self._rest(0, self.calendar.before[start])
        if found is None:
            return None
        points, placed = found
        mine = self.treatment
        return points, Job(object_id=mine.object_id, treatment_id=mine.treatment_id, stages=placed)

    def _rest(self, k: int, index: int) -> Placed | None:
        """Return the fewest points of stages k.. if stage k starts in open month ``index``."""
        key = (k, index)
        if key not in self._memo:
            self._memo[key] = self._search(k, index)
        return self._memo[key]

    def _search(self, k: int, index: int) -> Placed | None:
        stage, opened = self.treatment.stages[k], self.calendar.open_months
        start, done = opened[index], index + stage.months
        if done > len(opened) or any(self.beside.working(stage, start)):
            return None
        spent = self.beside.overtime(stage, start)
        away = self.item.away_points if stage.away else 0
        best: Placed | None = None
        for until, later in self._followers(k, done):
            rest = (self._loss(until), ()) if later is None else self._rest(k + 1, later)
            points = None if rest is None else spent + away * (until - start) + rest[0]
            if rest is None or points is None or (best is not None and points >= best[0]):
                continue
            space = self._space(k, start, until)
            if space:
                best = (points, (PlacedStage(start=start, space_id=space[0]), *rest[1]))
        return best

    def _followers(self, k: int, done: int) -> Iterator[tuple[int, int | None]]:
        """Yield the month a stage holds its place until, and the open month the next starts in."""
        opened = self.calendar.open_months
        if k + 1 == len(self.treatment.stages):
            end = opened[done - 1] + 1
            if not any(m >= end for m in self.spot_needed):
                yield end, None
            return
        for later in range(done, min(len(opened), done + self.treatment.stages[k + 1].most_wait + 1)):
            yield opened[later], later

    def _loss(self, end: int) -> int:
        return self.treatment.loss_if_done[end]

    def _space(self, k: int, start: int, until: int) -> tuple[str | None, ...]:
        """Return one space (None: none needed) that holds the stage in these months, or nothing."""
        for space in self.spaces[k]:
            if all(self._held[k, space][start:until]):
                return (space,)
        return ()

    def lack_from(self, start: int) -> Lack | None:
        """Return what keeps the job from starting in this open month, or None if nothing does."""
        mine = self.treatment
        if start < mine.earliest:
            return Lack(0, (), "early")
        if start > mine.latest:
            return Lack(0, (), "late")
        money = tuple(self.beside.money(mine, start))
        if any(m < start for m in self.spot_needed):
            return Lack(0, money, "spot")
        index = self.calendar.before[start]
        if self._rest(0, index) is not None:
            return Lack(0, money) if money else None
        found = self._first_lack(index)
        return Lack(found.stage, (*money, *found.shorts), found.reason)

    def _first_lack(self, first: int) -> Lack:
        """Return the lack of the first stage that finds room at none of the starts open to it."""
        reached = [first]
        opened = self.calendar.open_months
        for k, stage in enumerate(self.treatment.stages):
            onward: set[int] = set()
            for index in reached:
                done = index + stage.months
                if done > len(opened) or any(self.beside.working(stage, opened[index])):
                    continue
                for until, later in self._followers(k, done):
                    if self._space(k, opened[index], until):
                        onward.add(len(opened) if later is None else later)
            if not onward:
                return self._lack_of(k, reached)
            reached = sorted(onward)
        return Lack(0, (), "spot")

    def _lack_of(self, k: int, reached: list[int]) -> Lack:
        stage, opened = self.treatment.stages[k], self.calendar.open_months
        if not self.spaces[k]:
            return Lack(k + 1, (), "no door")
        if reached[0] + stage.months > len(opened):
            return Lack(k + 1, (), "horizon")
        start = opened[reached[0]]
        hours = tuple(self.beside.working(stage, start))
        done = reached[0] + stage.months
        if k + 1 < len(self.treatment.stages):
            if done >= len(opened):
                return Lack(k + 2, (), "horizon")
            until = opened[done]
        else:
            until = opened[done - 1] + 1
        fewest: tuple[Shortfall, ...] | None = None
        for space in self.spaces[k]:
            shorts = tuple(
                s
                for m in range(start, until)
                for s in self.beside.holding(self.item.object_id, stage, space, m)
            )
            if fewest is None or len(shorts) < len(fewest):
                fewest = shorts
        found = merged((*hours, *(fewest or ())))
        return Lack(k + 1, found, "" if found else "spot")


def merged(shorts: tuple[Shortfall, ...]) -> tuple[Shortfall, ...]:
    """Return shortfalls with those of one resource in consecutive months made one."""
    found: list[Shortfall] = []
    for short in sorted(shorts, key=lambda s: (s.kind, s.resource_id, s.from_month)):
        last = found[-1] if found else None
        if (
            last is not None
            and (last.kind, last.resource_id) == (short.kind, short.resource_id)
            and short.from_month <= last.to_month + 1
        ):
            worse = max(last, short, key=lambda s: s.need - s.room)
            found[-1] = Shortfall(
                last.kind,
                last.resource_id,
                last.from_month,
                short.to_month,
                worse.worst,
                worse.need,
                worse.room,
            )
        else:
            found.append(short)
    return tuple(found)
