"""The solver edge: HiGHS in this process, CBC as the fallback, and what each really says.

A status "Optimal" is believed only with the solution status "optimal", and no relative gap is ever
allowed, so that it means what it says. Every CBC run has a temporary folder of its own.
"""

from __future__ import annotations

import math
import re
import shutil
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

import numpy as np
import pulp

ABSOLUTE_GAP = 0.99
"""Totals are whole numbers: a plan within less than one point of the bound is the best."""
FEASIBLE_POINT = 2
"""HiGHS's kSolutionStatusFeasible."""
TELL_EVERY = 0.2
_BOUND = re.compile(r"^Lower bound:\s+(-?[\d.e+]+)", re.MULTILINE)


class Status(StrEnum):
    """How a solver ended."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    NOTHING = "nothing"


class SolverMissing(RuntimeError):  # noqa: N818 - reads as a sentence where it is raised
    """No solver is installed."""


class SolverFailed(RuntimeError):  # noqa: N818 - as SolverMissing
    """Every installed solver broke down."""


@dataclass(frozen=True)
class SolverChoice:
    """Which solvers may be used, in order, and where their files go."""

    names: tuple[str, ...]
    folder: Path


@dataclass(frozen=True)
class Watch:
    """Told while HiGHS works: each better bound (True returned: stop now) and the variables at one."""

    better_bound: Callable[[float], bool]
    better_plan: Callable[[list[int]], None]


@dataclass(frozen=True)
class Answer:
    """Status, value of each asked variable (None: no solution) and a lower bound if known."""

    status: Status
    values: list[float] | None
    bound: float | None


def installed(names: Sequence[str]) -> tuple[str, ...]:
    """Return those of the named solvers ("highs", "cbc") that are installed."""
    found = []
    if "highs" in names and pulp.HiGHS(msg=False).available():
        found.append("highs")
    if "cbc" in names and cbc_path() is not None:
        found.append("cbc")
    return tuple(found)


def cbc_path() -> str | None:
    """Return the CBC executable: the packaged one, else one on the PATH, else None."""
    try:
        import cbcbox
    except ImportError:
        return shutil.which("cbc")
    path = str(cbcbox.cbc_bin_path())
    return path if Path(path).exists() else shutil.which("cbc")


class _Highs(pulp.HiGHS):  # type: ignore[misc]  # the library is not typed
    """HiGHS through PuLP, started from a known choice of jobs (PuLP 3 does not pass one on)."""

    start: dict[pulp.LpVariable, float] | None = None

    def callSolver(self, lp: Any) -> None:  # noqa: N802 - PuLP's name
        """Hand over the known choice, which HiGHS completes with overtime, then solve."""
        if self.start:
            index = np.array([variable.index for variable in self.start], dtype=np.int32)
            value = np.array(list(self.start.values()), dtype=np.float64)
            lp.solverModel.setSolution(index.size, index, value)
        lp.solverModel.run()


def run(
    prob: pulp.LpProblem,
    variables: Sequence[pulp.LpVariable],
    choice: SolverChoice,
    seconds: float,
    hints: list[float] | None = None,
    watch: Watch | None = None,
    gap: float = ABSOLUTE_GAP,
) -> Answer:
    """Solve with the first solver that answers, until plan and bound are within ``gap`` points.

    Raises
    ------
    SolverMissing
        If none of the chosen solvers is installed.
    SolverFailed
        If each of them broke down.
    """
    available = installed(choice.names)
    if not available:
        raise SolverMissing("neither HiGHS nor CBC is installed")
    faults = []
    for name in available:
        try:
            if name == "highs":
                return _run_highs(prob, variables, seconds, hints, watch, gap)
            return _run_cbc(prob, variables, seconds, choice.folder)
        except (pulp.PulpSolverError, OSError, SolverFailed) as fault:
            faults.append(f"{name}: {fault}")
    raise SolverFailed("; ".join(faults))


def _run_highs(
    prob: pulp.LpProblem,
    variables: Sequence[pulp.LpVariable],
    seconds: float,
    hints: list[float] | None,
    watch: Watch | None,
    gap: float,
) -> Answer:
    solver = _Highs(msg=False, threads=1, timeLimit=max(0.05, seconds), gapRel=0.0, gapAbs=gap)
    if hints is not None:
        solver.start = dict(zip(variables, hints, strict=True))
    if watch is not None:
        events = pulp.HiGHS.hscb.HighsCallbackType
        solver.callbackTuple = (_listener(prob, variables, watch), None)
        solver.callbacksToActivate = [events.kCallbackMipInterrupt, events.kCallbackMipImprovingSolution]
    status = prob.solve(solver)
    model, constant = prob.solverModel, float(prob.objective.constant)
    info = model.getInfo()
    bound = float(info.mip_dual_bound) + constant
    proven = bound if math.isfinite(bound) else None
    if status == pulp.LpStatusInfeasible:
        return Answer(Status.INFEASIBLE, None, None)
    if status != pulp.LpStatusOptimal:
        raise SolverFailed(f"HiGHS ended with {model.modelStatusToString(model.getModelStatus())}")
    if info.primal_solution_status != FEASIBLE_POINT:
        return Answer(Status.NOTHING, None, proven)
    values = [float(v.varValue) for v in variables]
    best = prob.sol_status == pulp.LpSolutionOptimal
    return Answer(Status.OPTIMAL if best else Status.FEASIBLE, values, proven)


def _listener(
    prob: pulp.LpProblem, variables: Sequence[pulp.LpVariable], watch: Watch
) -> Callable[..., None]:
    """Return HiGHS's callback that passes on bounds and plans."""
    plan_event = pulp.HiGHS.hscb.HighsCallbackType.kCallbackMipImprovingSolution
    constant = float(prob.objective.constant)
    told = [0.0]

    def listen(event: Any, message: str, out: Any, back: Any, data: Any) -> None:
        if event == plan_event:
            values = out.mip_solution
            watch.better_plan([j for j, v in enumerate(variables) if values[v.index] > 0.5])
        elif time.monotonic() - told[0] > TELL_EVERY:
            told[0] = time.monotonic()
            bound = float(out.mip_dual_bound)
            if math.isfinite(bound) and watch.better_bound(bound + constant):
                back.user_interrupt = True

    return listen


def _run_cbc(
    prob: pulp.LpProblem, variables: Sequence[pulp.LpVariable], seconds: float, parent: Path
) -> Answer:
    with tempfile.TemporaryDirectory(dir=parent) as folder:
        log = Path(folder) / "cbc.log"
        solver = pulp.COIN_CMD(
            path=cbc_path(), msg=False, timeLimit=max(1.0, seconds), threads=1,
            gapAbs=ABSOLUTE_GAP, logPath=str(log),
        )  # fmt: skip
        solver.tmpDir = folder
        status = prob.solve(solver)
        text = log.read_text(errors="replace") if log.exists() else ""
    if status == pulp.LpStatusInfeasible:
        return Answer(Status.INFEASIBLE, None, None)
    if status == pulp.LpStatusUnbounded:
        raise SolverFailed("CBC called a bounded program unbounded")
    found = _BOUND.search(text)
    bound = float(found[1]) + prob.objective.constant if found else None
    if status != pulp.LpStatusOptimal:
        return Answer(Status.NOTHING, None, bound)
    values = [float(v.varValue or 0.0) for v in variables]
    if prob.sol_status == pulp.LpSolutionOptimal:
        total = float(pulp.value(prob.objective))
        return Answer(Status.OPTIMAL, values, total - ABSOLUTE_GAP)
    return Answer(Status.FEASIBLE, values, bound)
