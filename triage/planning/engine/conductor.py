"""The parent's side: start the children, check what they find, pass it on, stop them in time."""

from __future__ import annotations

import queue
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from triage.planning.engine.process import Child
from triage.planning.engine.wire import (
    BoundFound,
    Clash,
    Finished,
    Message,
    Phase,
    PlanFound,
    PricesFound,
    Task,
    Trouble,
)
from triage.planning.outcome import Violation
from triage.planning.points import score
from triage.planning.problem import Job, PlacedStage, Plan, PlanningProblem
from triage.planning.verify import verify

TICK = 0.2
"""Seconds between two looks at the clock, and two calls of ``progress``, at most."""


@dataclass(frozen=True)
class Progress:
    """How far a search is: seconds gone, best total, best bound, what is being done."""

    seconds: float
    incumbent: int | None
    bound: int | None
    phase: str


@dataclass
class Findings:
    """What the children found so far; plans have passed the checker."""

    plan: Plan | None = None
    made_by: str | None = None
    greedy_plan: Plan | None = None
    """The best plan made without a solver."""
    bound: int | None = None
    solver: str = ""
    phase: str = "starting"
    clash: tuple[Violation, ...] | None = None
    missing: str = ""
    failed: list[str] = field(default_factory=list)
    rejected: tuple[Violation, ...] = ()
    timed_out: bool = False

    def total(self) -> int | None:
        """Total of the best plan."""
        return None if self.plan is None else self.plan.points.total

    def settled(self) -> bool:
        """Return whether the best plan is proven best."""
        return self.plan is not None and self.bound == self.plan.points.total


def plan_of(problem: PlanningProblem, found: PlanFound) -> Plan:
    """Write a plan down, with the points the checker's own rules give it."""
    jobs = tuple(
        Job(
            object_id=object_id,
            treatment_id=treatment_id,
            stages=tuple(PlacedStage(start=s, space_id=i) for s, i in zip(starts, spaces, strict=True)),
        )
        for object_id, treatment_id, starts, spaces in sorted(found.jobs)
    )
    return Plan(
        problem_digest=problem.digest(),
        first_month=problem.first_month,
        jobs=jobs,
        points=score(problem, jobs),
    )


class Conductor:
    """Runs the children of one search.

    Parameters
    ----------
    problem
        The problem.
    began
        Monotonic time at which the search began.
    seconds
        Time limit.
    progress
        Called after every finding and at least every ``TICK`` seconds; what it raises ends the search.
    """

    def __init__(
        self,
        problem: PlanningProblem,
        began: float,
        seconds: float,
        progress: Callable[[Progress], None] | None,
    ) -> None:
        self.problem, self.began, self.until = problem, began, began + seconds
        self.findings = Findings()
        self._progress = progress
        self._inbox: queue.Queue[tuple[int, Message | None]] = queue.Queue()
        self._children: dict[int, Child] = {}
        self._done: set[int] = set()
        self._told = 0.0

    def run(self, roles: tuple[str, ...], seed: int, solvers: tuple[str, ...]) -> None:
        """Run one child a role until the best plan is proven, all have ended, or the time is over."""
        with tempfile.TemporaryDirectory(prefix="triage-", ignore_cleanup_errors=True) as folder:
            try:
                for number, role in enumerate(roles):
                    left = max(0.0, self.until - time.monotonic())
                    task = Task(self.problem, role, len(roles) == 1, left, seed, solvers, folder)
                    self._children[number] = Child(number, task, self._inbox)
                self._attend()
            finally:
                for child in self._children.values():
                    child.kill()
                self._children.clear()
                self._done.clear()

    def settle_with(self, found: PlanFound | None) -> bool:
        """Take a plan that no other can beat; False if there is none or the checker refuses it."""
        if found is None:
            return False
        self._take_plan(-1, found)
        if self.findings.plan is None:
            return False
        self.findings.bound, self.findings.solver = found.total, "relaxation"
        return True

    def _attend(self) -> None:
        """Take in messages until there is a reason to stop."""
        while len(self._done) < len(self._children):
            left = self.until - time.monotonic()
            if left <= 0:
                self.findings.timed_out = True
                return
            try:
                number, message = self._inbox.get(timeout=min(TICK, left))
            except queue.Empty:
                self._tell()
                continue
            self._take(number, message)
            if self.findings.settled():
                return
            self._tell(message)

    def _tell(self, message: Message | None = None) -> None:
        """Report how far the search is."""
        now = time.monotonic()
        news = isinstance(message, (PlanFound, BoundFound, Phase))
        if self._progress is not None and (news or now - self._told >= TICK):
            self._told = now
            found = self.findings
            self._progress(Progress(now - self.began, found.total(), found.bound, found.phase))

    def _take(self, number: int, message: Message | None) -> None:
        """Take in one message."""
        found = self.findings
        if message is None:
            if number not in self._done:
                found.failed.append("a child process ended early")
            self._done.add(number)
        elif isinstance(message, PlanFound):
            self._take_plan(number, message)
        elif isinstance(message, BoundFound):
            if found.bound is None or message.bound > found.bound:
                found.bound = message.bound
                self._relay(number, message)
        elif isinstance(message, PricesFound):
            self._relay(number, message)
        elif isinstance(message, Phase):
            found.phase = message.text
            found.solver = message.solver or found.solver
        elif isinstance(message, Clash):
            found.clash = message.conflicts
        elif isinstance(message, Trouble):
            if message.missing:
                found.missing = message.text
            else:
                found.failed.append(message.text)
        elif isinstance(message, Finished):
            self._finish(number)

    def _finish(self, number: int) -> None:
        """A child has done its work; the leading one's end ends the search."""
        self._done.add(number)
        if number == 0 and not self.findings.failed:
            self._done.update(self._children)

    def _relay(self, sender: int, message: Message) -> None:
        for number, child in self._children.items():
            if number != sender and number not in self._done:
                child.tell(message)

    def _take_plan(self, number: int, message: PlanFound) -> None:
        """Check a plan; keep and pass on only what is sound and better."""
        found = self.findings
        best = found.total()
        greedy = found.greedy_plan
        better_greedy = message.made_by == "greedy" and (
            greedy is None or message.total < greedy.points.total
        )
        if best is not None and message.total >= best and not better_greedy:
            return
        plan = plan_of(self.problem, message)
        broken = verify(self.problem, plan)
        if broken or plan.points.total != message.total:
            found.rejected = found.rejected or broken
            return
        if better_greedy:
            found.greedy_plan = plan
        if best is None or plan.points.total < best:
            found.plan, found.made_by = plan, message.made_by
            self._relay(number, message)
