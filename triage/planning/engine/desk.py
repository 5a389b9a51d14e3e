"""What a child knows and shares: its instance, the best plan and bound so far, the prices."""

from __future__ import annotations

import random
import time
from pathlib import Path

from triage.planning.engine.assign import assign
from triage.planning.engine.calendar import Floats
from triage.planning.engine.columns import Selection
from triage.planning.engine.instance import Instance, build_instance
from triage.planning.engine.link import Link
from triage.planning.engine.plans import received_plan, sent_jobs
from triage.planning.engine.wire import BoundFound, Phase, PlanFound, PricesFound, SentJob, Task
from triage.planning.formulation.solvers import SolverChoice


class Desk:
    """What a child knows: its instance, the best plan and bound, the prices; it shares what it finds."""

    def __init__(self, task: Task, link: Link, *, merge: bool = True) -> None:
        self.task, self.link = task, link
        self.until = time.monotonic() + task.seconds
        self.inst: Instance = build_instance(task.problem, merge=merge)
        self.merged = merge
        self.rng = random.Random(f"{task.seed} {task.role}")
        self.plan: Selection | None = None
        self.total = 10**18
        self.bound: int | None = None
        self.prices: Floats | None = None
        self.jobs: tuple[SentJob, ...] = ()
        self.rival: Selection | None = None
        """The plan given up for the other child's better one, while it may still be worth a merger."""
        self.misfit = False
        """True if some plan was refused because single spaces could not be chosen for it."""

    @property
    def choice(self) -> SolverChoice:
        """Solvers for integer programs."""
        return SolverChoice(self.task.solvers, Path(self.task.folder))

    def left(self) -> float:
        """Seconds left."""
        return self.until - time.monotonic()

    def settled(self) -> bool:
        """True if the plan in hand is proven best."""
        return self.plan is not None and self.bound is not None and self.bound >= self.total

    def offer(self, plan: Selection | None, made_by: str = "integer_program") -> bool:
        """Take over and send a better plan; False if it is not better or fits in no single spaces."""
        if plan is None or not plan.fits(self.inst):
            return False
        total = plan.total(self.inst)
        if total >= self.total:
            return False
        assigned = assign(self.inst, plan)
        if assigned.misfit is not None:
            self.misfit = True
            return False
        self._take(PlanFound(total, sent_jobs(self.inst, plan, assigned), made_by), plan)
        self.link.say(PlanFound(total, self.jobs, made_by))
        return True

    def _take(self, found: PlanFound, plan: Selection) -> None:
        self.plan, self.total, self.jobs = plan, found.total, found.jobs

    def split_classes(self) -> None:
        """Go on with every space a class of its own, so that what fits its class fits a space."""
        self.inst = build_instance(self.task.problem, merge=False)
        self.merged, self.misfit, self.prices = False, False, None
        if self.plan is not None:
            self.plan = received_plan(self.inst, self.jobs)

    def prove(self, bound: int | None) -> None:
        """Take over and send a better bound."""
        if bound is not None and (self.bound is None or bound > self.bound):
            self.bound = bound
            self.link.say(BoundFound(bound))

    def phase(self, text: str, solver: str = "") -> None:
        """Say what is being done."""
        self.link.say(Phase(text, solver))

    def listen(self) -> bool:
        """Take over what the other child found; True if new prices came."""
        fresh = False
        for message in self.link.heard():
            if isinstance(message, PlanFound) and message.total < self.total:
                self.rival = self.plan
                self._take(message, received_plan(self.inst, message.jobs))
            elif isinstance(message, BoundFound):
                self.bound = max(message.bound, self.bound or message.bound)
            elif isinstance(message, PricesFound) and message.prices.size == self.inst.resources.size:
                self.prices, fresh = message.prices, True
        return fresh
