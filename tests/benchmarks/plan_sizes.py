"""Measures the search on seeded problems of several sizes, beside CP-SAT on the same problems if asked.

Run by hand, on an otherwise idle machine::

    python -m tests.benchmarks.plan_sizes --seconds 60 --sizes 40x48 60x60 100x60 150x120 --cpsat

Gap is (total - bound) / (never - bound), the share of the avoidable loss that is not proven. Memory is the
most that this process and its children held at once (shared pages count in each).
"""

from __future__ import annotations

import argparse
import threading
import time

import psutil

from tests.problems.generator import Shortage, make_problem
from triage.planning.outcome import Outcome, gap_of
from triage.planning.problem import PlanningProblem
from triage.planning.solver import Limits, Progress, solve
from triage.planning.verify import verify_outcome

SHORTAGES = ("mixed", "budget", "hours", "space", "hall")


class Memory:
    """Watches this process and its children; ``peak`` in MB."""

    def __init__(self) -> None:
        self.peak = 0.0
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._watch)

    def __enter__(self) -> Memory:
        self._thread.start()
        return self

    def __exit__(self, *error: object) -> None:
        self._over.set()
        self._thread.join()

    def _watch(self) -> None:
        me = psutil.Process()
        while not self._over.wait(0.2):
            total = 0
            for process in (me, *me.children(recursive=True)):
                try:
                    total += process.memory_info().rss
                except psutil.NoSuchProcess:
                    continue
            self.peak = max(self.peak, total / 2**20)


def measured(problem: PlanningProblem, seconds: float, seed: int) -> tuple[Outcome, float, float, float]:
    """Return the outcome, seconds to the first bound, wall seconds and peak memory in MB."""
    first_bound: list[float] = []

    def watch(progress: Progress) -> None:
        if progress.bound is not None and not first_bound:
            first_bound.append(progress.seconds)

    began = time.monotonic()
    with Memory() as memory:
        outcome = solve(problem, Limits(seconds, seed=seed), watch)
    return outcome, (first_bound or [float("nan")])[0], time.monotonic() - began, memory.peak


def line(cells: list[object]) -> str:
    """One row of the table."""
    return " | ".join(str(cell).rjust(width) for cell, width in zip(cells, WIDTHS, strict=True))


WIDTHS = (8, 7, 5, 13, 9, 9, 7, 6, 6, 7, 7, 9, 8)
HEAD = [
    "size",
    "short",
    "seed",
    "ending",
    "total",
    "bound",
    "gap %",
    "jobs",
    "1st s",
    "wall s",
    "MB",
    "CP-SAT",
    "gap %",
]


def row(size: str, shortage: Shortage, seed: int, seconds: float, cpsat: bool) -> str:
    """Measure one problem."""
    objects, months = (int(part) for part in size.split("x"))
    problem = make_problem(seed, objects, months, shortage=shortage)
    outcome, first, wall, memory = measured(problem, seconds, seed)
    broken = verify_outcome(problem, outcome)
    total = outcome.plan.points.total if outcome.plan else None
    other: int | None = None
    if cpsat:
        from tests.problems.cpsat import solve_cpsat

        plan, _ = solve_cpsat(problem, seconds)
        other = None if plan is None else plan.points.total
    gap = None if other is None else gap_of(other, outcome.bound, outcome.never)
    return line(
        [
            size,
            shortage,
            seed,
            "BROKEN" if broken else outcome.ending.value,
            total,
            outcome.bound,
            "-" if outcome.gap is None else f"{100 * outcome.gap:.2f}",
            len(outcome.plan.jobs) if outcome.plan else 0,
            f"{first:.1f}",
            f"{wall:.1f}",
            f"{memory:.0f}",
            other if cpsat else "-",
            "-" if gap is None else f"{100 * gap:.2f}",
        ]
    )


def main() -> None:
    """Measure what the command line asks for."""
    parser = argparse.ArgumentParser(description="Measure the planner.")
    parser.add_argument("--sizes", nargs="+", default=["40x48", "60x60", "100x60", "150x120"])
    parser.add_argument("--shortages", nargs="+", default=["mixed"], choices=SHORTAGES)
    parser.add_argument("--seeds", nargs="+", type=int, default=[1])
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--cpsat", action="store_true", help="solve with CP-SAT too, for as long")
    asked = parser.parse_args()
    print(line(list(HEAD)))
    for size in asked.sizes:
        for shortage in asked.shortages:
            for seed in asked.seeds:
                print(row(size, shortage, seed, asked.seconds, asked.cpsat), flush=True)


if __name__ == "__main__":
    main()
