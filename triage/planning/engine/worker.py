"""What a child does with its task."""

from __future__ import annotations

from triage.planning.engine.desk import Desk
from triage.planning.engine.link import Link
from triage.planning.engine.plain import greedy_plan, price_bound, without_linear_programs
from triage.planning.engine.wire import Task, Trouble
from triage.planning.formulation.solvers import SolverFailed, SolverMissing, installed


def work(task: Task, link: Link) -> None:
    """Do a task to its end, or until its time is over."""
    desk = Desk(task, link)
    if task.role == "greedy":
        without_solver(desk)
        return
    names = installed(task.solvers)
    if not names:
        if task.role == "lead":
            link.say(Trouble(missing=True, text="Neither HiGHS nor CBC is installed."))
        without_solver(desk)
        return
    try:
        _with_solver(desk, names)
    except (SolverFailed, SolverMissing) as fault:
        link.say(Trouble(missing=False, text=str(fault)))


def _with_solver(desk: Desk, names: tuple[str, ...]) -> None:
    """Lead or search by HiGHS; where it is missing or breaks down, by CBC."""
    if "highs" in names:
        from triage.planning.engine.lead import lead
        from triage.planning.engine.master import SolverStopped
        from triage.planning.engine.rounds import search_only

        try:
            if desk.task.role == "lead":
                lead(desk)
            else:
                search_only(desk)
        except (SolverStopped, SolverFailed) as fault:
            if "cbc" not in names:
                raise SolverFailed(str(fault)) from fault
        else:
            return
    if desk.task.role == "lead":
        without_linear_programs(desk)


def without_solver(desk: Desk) -> None:
    """The greedy plan, and the bound that prices alone prove."""
    greedy_plan(desk)
    if desk.task.role != "search":
        price_bound(desk)
        greedy_plan(desk)
