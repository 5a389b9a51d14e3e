"""A CP-SAT model of all ten rules (OR-Tools; tests only): a second opinion on plans and on best totals.

Time is counted in open months: a stage's work is contiguous there, and a wait is a plain difference.
Each stage has a start (``count`` = the job is not done) and step literals "has started by open month
i". All limits but those of workshop spaces are linear in the steps; spaces hold optional intervals in
cumulative constraints over two places per open month: the month, and the closed months behind it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from ortools.sat.python import cp_model

from tests.problems.plans import plan_of
from triage.planning.problem import Job, PlacedStage, Plan, PlanningProblem, PlanStage, PlanTreatment

Linear = Any
"""A CP-SAT linear expression, literal or number."""


@dataclass
class _Stage:
    stage: PlanStage
    start: cp_model.IntVar
    steps: list[Linear]
    spaces: dict[str, cp_model.IntVar] = field(default_factory=dict)

    def by(self, index: int) -> Linear:
        """Literal: has started by open month ``index``."""
        return self.steps[index] if index >= 0 else 0


@dataclass
class _Job:
    treatment: PlanTreatment
    done: cp_model.IntVar
    stages: list[_Stage]


def solve_cpsat(problem: PlanningProblem, seconds: float, workers: int = 2) -> tuple[Plan | None, int | None]:
    """Return the best plan found and a whole number no plan can go below.

    ``(None, None)`` means proven impossible; ``(None, bound)`` that no plan was found in the time. The
    plan is the best one if its total equals the bound.
    """
    model = _Model(problem)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.solve(model.cp)
    if status == cp_model.INFEASIBLE:
        return None, None
    bound = math.ceil(solver.best_objective_bound - 1e-6)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, bound
    return plan_of(problem, model.jobs_in(solver)), bound


class _Model:
    def __init__(self, problem: PlanningProblem) -> None:
        self.problem = problem
        self.cp = cp_model.CpModel()
        self.open = problem.open_months
        self.count = len(self.open)
        self.points: list[Linear] = []
        self.jobs: dict[str, _Job] = {t.treatment_id: self._job(t) for t in problem.treatments}
        self.of_object: dict[str, list[_Job]] = defaultdict(list)
        for job in self.jobs.values():
            self.of_object[job.treatment.object_id].append(job)
        for thing in problem.objects:
            done = sum(job.done for job in self.of_object[thing.object_id])
            self.cp.add(done <= 1)
            self.points.append(thing.loss_if_never * (1 - done))
        self._spaces()
        self._hours()
        self._halls_and_rules()
        self._budgets()
        self._pins()
        self._baseline()
        self.cp.minimize(sum(self.points))

    def _job(self, treatment: PlanTreatment) -> _Job:
        cp, count = self.cp, self.count
        done = cp.new_bool_var("")
        stages = []
        behind = sum(s.months for s in treatment.stages)
        ahead = 0
        for number, stage in enumerate(treatment.stages):
            inside = [i for i in range(ahead, count - behind + 1) if number or self._may_start(treatment, i)]
            ahead, behind = ahead + stage.months, behind - stage.months
            start = cp.new_int_var_from_domain(cp_model.Domain.from_values([*inside, count]), "")
            cp.add(start == count).only_enforce_if(~done)
            cp.add(start <= count - 1).only_enforce_if(done)
            steps = [cp.new_bool_var("") for _ in range(count)]
            for index, step in enumerate(steps):
                cp.add(start <= index).only_enforce_if(step)
                cp.add(start > index).only_enforce_if(~step)
            stages.append(_Stage(stage, start, steps))
        for before, after in pairwise(stages):
            end = before.start + before.stage.months
            cp.add(after.start >= end).only_enforce_if(done)
            cp.add(after.start <= end + after.stage.most_wait).only_enforce_if(done)
            for index, step in enumerate(after.steps):
                cp.add(step <= before.by(index - before.stage.months))
        self._end_points(treatment, stages[-1])
        return _Job(treatment, done, stages)

    def _may_start(self, treatment: PlanTreatment, index: int) -> bool:
        return treatment.earliest <= self.open[index] <= treatment.latest

    def _end_points(self, treatment: PlanTreatment, last: _Stage) -> None:
        for index in range(self.count - last.stage.months + 1):
            end = self.open[index + last.stage.months - 1] + 1
            self.points.append(treatment.loss_if_done[end] * (last.by(index) - last.by(index - 1)))

    def _in_open(self, job: _Job, number: int, index: int) -> Linear:
        """1 if the stage holds its place in open month ``index``, else 0."""
        here = job.stages[number]
        if number + 1 < len(job.stages):
            return here.by(index) - job.stages[number + 1].by(index)
        return here.by(index) - here.by(index - here.stage.months)

    def _in_closed(self, job: _Job, number: int, index: int) -> Linear:
        """1 if the stage holds its place in the closed months right after open month ``index``, else 0."""
        here = job.stages[number]
        if number + 1 < len(job.stages):
            return here.by(index) - job.stages[number + 1].by(index)
        return here.by(index) - here.by(index - here.stage.months + 1)

    def _held(self, job: _Job, number: int, month: int) -> Linear:
        """1 if the stage holds its place in a month, open or closed."""
        index = sum(m <= month for m in self.open) - 1
        if index < 0:
            return 0
        return (self._in_open if self.open[index] == month else self._in_closed)(job, number, index)

    def _spaces(self) -> None:
        inside: dict[str, list[tuple[cp_model.IntervalVar, int]]] = defaultdict(list)
        for job in self.jobs.values():
            for number, here in enumerate(job.stages):
                if here.stage.place in (None, "hall"):
                    continue
                last = number + 1 == len(job.stages)
                end = 2 * (here.start + here.stage.months) - 1 if last else 2 * job.stages[number + 1].start
                for space in self.problem.spaces:
                    if (
                        space.kind == here.stage.place
                        and space.door_width_cm >= here.stage.width_cm
                        and space.door_height_cm >= here.stage.height_cm
                    ):
                        chosen = self.cp.new_bool_var("")
                        here.spaces[space.space_id] = chosen
                        size = self.cp.new_int_var(0, 2 * self.count + 1, "")
                        interval = self.cp.new_optional_interval_var(2 * here.start, size, end, chosen, "")
                        inside[space.space_id].append((interval, here.stage.area_m2))
                self.cp.add(sum(here.spaces.values()) == job.done)
        for space in self.problem.spaces:
            held = inside[space.space_id]
            self._cumulative([(i, area) for i, area in held], space.area_m2)
            self._cumulative([(i, 1) for i, _ in held], space.slots)

    def _cumulative(self, held: list[tuple[cp_model.IntervalVar, int]], room: tuple[int, ...]) -> None:
        """Keep within the room of each place: 2 i is open month i, 2 i + 1 the closed ones behind it."""
        if not held:
            return
        most = max(room)
        intervals, demands = [i for i, _ in held], [d for _, d in held]
        edges = [*self.open, self.problem.months]
        for index, month in enumerate(self.open):
            for place, amount in (
                (2 * index, room[month]),
                (2 * index + 1, min(room[month + 1 : edges[index + 1]], default=most)),
            ):
                if amount < most:
                    intervals.append(self.cp.new_fixed_size_interval_var(place, 1, ""))
                    demands.append(most - amount)
        self.cp.add_cumulative(intervals, demands, most)

    def _hours(self) -> None:
        used: dict[tuple[str, int], list[Linear]] = defaultdict(list)
        for job in self.jobs.values():
            for here in job.stages:
                for name, hours in here.stage.hours.items():
                    for offset, amount in enumerate(hours):
                        for index in range(offset, self.count) if amount else ():
                            begins = here.by(index - offset) - here.by(index - offset - 1)
                            used[name, index].append(amount * begins)
        for (trade_id, index), terms in used.items():
            trade, month = self.problem.trade_by_id[trade_id], self.open[index]
            extra = self.cp.new_int_var(0, trade.overtime_most[month], "")
            self.cp.add(sum(terms) <= trade.hours[month] + extra)
            self.points.append(trade.overtime_points * extra)

    def _halls_and_rules(self) -> None:
        problem = self.problem
        for month in range(problem.months):
            gone: dict[str, Linear] = {}
            floor: dict[str, list[Linear]] = defaultdict(list)
            for thing in problem.objects:
                away: list[Linear] = []
                for job in self.of_object[thing.object_id]:
                    for number, here in enumerate(job.stages):
                        held = self._held(job, number, month)
                        stage = here.stage
                        if stage.away:
                            away.append(held)
                        if thing.hall_id is None:
                            continue
                        if stage.place == "hall":
                            need = stage.area_m2 - (0 if thing.hung else thing.display_m2)
                            floor[thing.hall_id].append(max(0, need) * held)
                        elif stage.away and not thing.hung:
                            floor[thing.hall_id].append(-thing.display_m2 * held)
                gone[thing.object_id] = sum(away)
                self.points.append(thing.away_points * gone[thing.object_id])
            for hall in problem.halls:
                here_away = sum(gone[o.object_id] for o in problem.objects if o.hall_id == hall.hall_id)
                self._at_most(here_away, hall.most_away[month])
                self._at_most(sum(floor[hall.hall_id]), hall.clear_m2[month])
            for rule in problem.rules:
                if rule.from_month <= month <= rule.to_month:
                    ids = set(rule.object_ids)
                    most = {
                        "on_show": 0,
                        "at_least": len(ids) - (rule.number or 0),
                        "not_together": 1 if rule.number is None else rule.number,
                    }[rule.kind]
                    self._at_most(sum(gone[i] for i in ids), most)

    def _at_most(self, need: Linear, room: int) -> None:
        if isinstance(need, int):
            if need > room:
                self.cp.add_bool_or([])
        else:
            self.cp.add(need <= room)

    def _budgets(self) -> None:
        for budget in self.problem.budgets:
            spent = 0
            inside = [i for i, m in enumerate(self.open) if budget.from_month <= m <= budget.to_month]
            if inside:
                for job in self.jobs.values():
                    first = job.stages[0]
                    spent += job.treatment.cost * (first.by(inside[-1]) - first.by(inside[0] - 1))
            self._at_most(spent, budget.amount)

    def _starts_in(self, job: _Job, month: int) -> None:
        if month in self.open:
            self.cp.add(job.stages[0].start == self.open.index(month))
        else:
            self.cp.add_bool_or([])

    def _pins(self) -> None:
        for pin in self.problem.pins:
            job = self.jobs[pin.treatment_id]
            self._starts_in(job, pin.start)
            for here, space in zip(job.stages, pin.space_ids or (), strict=False):
                if space is not None:
                    self.cp.add_bool_or([here.spaces[space]] if space in here.spaces else [])

    def _baseline(self) -> None:
        baseline = self.problem.baseline
        for old in baseline.plan.jobs if baseline else ():
            assert baseline is not None
            job, start = self.jobs[old.treatment_id], old.stages[0].start
            if start < baseline.frozen_until:
                self._starts_in(job, start)
            self.points.append(baseline.drop_points * (1 - job.done))
            first = job.stages[0]
            for index, month in enumerate(self.open):
                moved = baseline.move_points * abs(month - start)
                self.points.append(moved * (first.by(index) - first.by(index - 1)))

    def jobs_in(self, solver: cp_model.CpSolver) -> list[Job]:
        """Return the jobs of the solution found."""
        found = []
        for job in self.jobs.values():
            if not solver.value(job.done):
                continue
            placed = [
                PlacedStage(
                    start=self.open[solver.value(here.start)],
                    space_id=next((s for s, chosen in here.spaces.items() if solver.value(chosen)), None),
                )
                for here in job.stages
            ]
            found.append(
                Job(
                    object_id=job.treatment.object_id,
                    treatment_id=job.treatment.treatment_id,
                    stages=tuple(placed),
                )
            )
        return found
