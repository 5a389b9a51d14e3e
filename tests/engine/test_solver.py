"""From problem to outcome: optimal on tiny problems, and every ending told truly."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import psutil
import pytest

from tests.engine.small import FIRST_MONTH, bay, one_bay, stage, thing, treatment
from tests.problems.brute_force import best_plan
from tests.problems.generator import make_problem
from tests.problems.tiny import tiny_problem
from triage.errors import Cancelled
from triage.planning.engine import conductor
from triage.planning.outcome import Ending, Outcome, Violation
from triage.planning.problem import Pin, Plan, PlanningProblem, PlanRule
from triage.planning.solver import Limits, Progress, solve
from triage.planning.verify import verify_outcome

LONG = 60.0


Started = Callable[[], list[psutil.Process]]


@pytest.fixture
def started() -> Started:
    """Return the child processes started since the test began; those of other tests do not count."""
    others = {child.pid for child in psutil.Process().children()}

    def since() -> list[psutil.Process]:
        found: list[psutil.Process] = []
        for child in psutil.Process().children():
            if child.pid not in others:
                found.append(child)
                with contextlib.suppress(psutil.NoSuchProcess):
                    found.extend(child.children(recursive=True))
        return found

    return since


@pytest.fixture(autouse=True)
def nothing_left_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, started: Started) -> Iterator[None]:
    """After every solve no child process runs and no temporary file is left."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    threads = threading.active_count()
    yield
    assert started() == []
    assert list(tmp_path.iterdir()) == []
    assert threading.active_count() <= threads


def checked(problem: PlanningProblem, outcome: Outcome) -> Outcome:
    """The outcome, which the checker finds nothing wrong with."""
    assert verify_outcome(problem, outcome) == ()
    return outcome


def hide(folder: Path, names: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """Make packages look as if they were not installed, in child processes too."""
    folder.mkdir()
    for name in names:
        (folder / f"{name}.py").write_text(f"raise ImportError('{name} is hidden')\n")
    monkeypatch.setenv("PYTHONPATH", str(folder))


def hard() -> PlanningProblem:
    """A problem that is not proven in a few seconds."""
    return make_problem(1, 60, 60, shortage="hall")


@pytest.mark.parametrize("seed", range(200, 216))
def test_tiny_problems_are_proven_best(seed: int) -> None:
    """The total is that of brute force, or the problem is called impossible where it is."""
    problem = tiny_problem(seed)
    best = best_plan(problem)
    outcome = checked(problem, solve(problem, Limits(LONG)))
    if best is None:
        assert outcome.ending == Ending.IMPOSSIBLE
        assert outcome.conflicts
    else:
        assert outcome.ending == Ending.PROVEN_BEST
        assert outcome.plan is not None
        assert outcome.plan.points.total == best[0] == outcome.bound


@pytest.mark.parametrize(
    "problem",
    [
        PlanningProblem(first_month=FIRST_MONTH, months=1, objects=()),
        PlanningProblem(first_month=FIRST_MONTH, months=1, objects=(thing("a"),)),
        one_bay(closed=(0, 1, 2, 3, 4, 5)),
        one_bay(1),
        one_bay(6, 1),
        one_bay(pins=tuple(Pin(object_id=f"o{k}", treatment_id=f"o{k} work", start=2 * k) for k in range(3))),
        one_bay(treatments=(treatment("o1", 6, stage(2), losses=(500,) * 7),)),
    ],
    ids=[
        "empty",
        "no treatments",
        "all closed",
        "too short",
        "no clash",
        "all pinned",
        "nothing worth doing",
    ],
)
def test_simple_problems_are_proven_at_once(problem: PlanningProblem) -> None:
    """Where nothing competes the answer needs no search."""
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.PROVEN_BEST
    assert outcome.plan is not None


def test_three_jobs_in_one_bay_follow_each_other() -> None:
    """The only bay is used without a gap: ends after months 2, 4 and 6."""
    problem = one_bay()
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.PROVEN_BEST
    assert outcome.plan is not None
    assert outcome.plan.points.total == 2 + 4 + 6
    assert sorted(job.stages[0].start for job in outcome.plan.jobs) == [0, 2, 4]


def test_identical_spaces_are_not_taken_for_one_large_space() -> None:
    """Three jobs of 6 m2 fit two bays of 10 m2 only two at a time."""
    months = 4
    names = ("a", "b", "c")
    problem = PlanningProblem(
        first_month=FIRST_MONTH,
        months=months,
        spaces=(bay("b1", months, slots=3), bay("b2", months, slots=3)),
        objects=tuple(thing(n) for n in names),
        treatments=tuple(treatment(n, months, stage(2, area_m2=6)) for n in names),
    )
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.PROVEN_BEST
    assert outcome.plan is not None
    assert outcome.plan.points.total == 2 + 2 + 4


@pytest.mark.parametrize("workers", [1, 2])
def test_the_same_total_for_every_seed_where_it_is_proven(workers: int) -> None:
    """Seed and number of processes do not change a proven total."""
    problem = make_problem(3, 10, 24)
    totals = set()
    for seed in range(2):
        outcome = checked(problem, solve(problem, Limits(LONG, seed=seed, workers=workers)))
        assert outcome.ending == Ending.PROVEN_BEST
        assert outcome.plan is not None
        totals.add(outcome.plan.points.total)
    assert len(totals) == 1


def test_best_in_time_has_plan_bound_and_gap() -> None:
    """Cut by the time, the outcome carries a checked plan, a bound below it and the gap between them."""
    problem = hard()
    outcome = checked(problem, solve(problem, Limits(8.0)))
    assert outcome.ending == Ending.BEST_IN_TIME
    assert outcome.plan is not None
    assert outcome.bound is not None
    assert outcome.gap is not None
    assert outcome.bound < outcome.plan.points.total < outcome.never
    assert outcome.seconds < 10


def test_too_short_a_time_gives_no_plan() -> None:
    """Where the time ends before the first plan, that is said and nothing is made up."""
    problem = hard()
    outcome = checked(problem, solve(problem, Limits(0.01)))
    assert outcome.ending == Ending.NO_PLAN_IN_TIME
    assert outcome.plan is None
    assert outcome.bound is None


def test_clashing_pins_are_named() -> None:
    """Two objects promised the only bay at the same time: impossible, with both promises and no third."""
    pins = tuple(
        Pin(object_id=f"o{k}", treatment_id=f"o{k} work", start=s) for k, s in ((0, 0), (1, 1), (2, 4))
    )
    problem = one_bay(pins=pins)
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.IMPOSSIBLE
    assert outcome.plan is None
    assert {v.ids[0] for v in outcome.conflicts} == {"o0", "o1"}


def test_a_pin_against_a_display_rule_is_named() -> None:
    """A promised job while the object must be on show: both are named."""
    rule = PlanRule(rule_id="fair", kind="on_show", object_ids=("o0",), from_month=1, to_month=1)
    problem = one_bay(pins=(Pin(object_id="o0", treatment_id="o0 work", start=0),), rules=(rule,))
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.IMPOSSIBLE
    assert {v.rule for v in outcome.conflicts} == {7, 9}


def test_a_rule_nobody_can_keep_is_named() -> None:
    """More objects to be shown than the rule names: no plan at all."""
    rule = PlanRule(rule_id="many", kind="at_least", object_ids=("o0",), number=2, from_month=0, to_month=5)
    problem = one_bay(rules=(rule,))
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.IMPOSSIBLE
    assert outcome.conflicts[0].ids[0] == "many"


def test_without_any_solver_the_greedy_plan_is_returned(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """HiGHS and CBC hidden: the ending says so, the plan is greedy and the bound still holds."""
    hide(tmp_path_factory.mktemp("hidden") / "p", ("highspy", "cbcbox"), monkeypatch)
    monkeypatch.setenv("PATH", "/nowhere")
    problem = make_problem(3, 12, 24)
    outcome = checked(problem, solve(problem, Limits(20.0)))
    assert outcome.ending == Ending.SOLVER_MISSING
    assert outcome.made_by == "greedy"
    assert outcome.bound is not None


def test_cbc_takes_over_where_highs_is_missing(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """HiGHS hidden: CBC proves the best plan."""
    hide(tmp_path_factory.mktemp("hidden") / "p", ("highspy",), monkeypatch)
    problem = one_bay(9, 4)
    outcome = checked(problem, solve(problem, Limits(LONG)))
    assert outcome.ending == Ending.PROVEN_BEST
    assert outcome.plan is not None
    assert outcome.plan.points.total == 2 + 4 + 6 + 8
    assert outcome.solver == "cbc"


@pytest.mark.parametrize("seed", [201, 204, 207, 210])
def test_cbc_alone_proves_tiny_problems(seed: int) -> None:
    """Told to use CBC, tiny problems are proven best or impossible too."""
    problem = tiny_problem(seed)
    best = best_plan(problem)
    outcome = checked(problem, solve(problem, Limits(LONG, solver="cbc")))
    if best is None:
        assert outcome.plan is None
    else:
        assert outcome.ending == Ending.PROVEN_BEST
        assert outcome.bound == best[0]


def test_told_to_use_no_solver() -> None:
    """The solver "none" gives the greedy plan and says that no solver was there."""
    problem = make_problem(3, 12, 24)
    outcome = checked(problem, solve(problem, Limits(20.0, solver="none")))
    assert outcome.ending == Ending.SOLVER_MISSING
    assert outcome.made_by == "greedy"


def test_children_killed_by_others_leave_a_greedy_plan(started: Started) -> None:
    """If every child dies before there is a plan, a last one makes it without a solver."""
    problem = hard()
    killed: list[int] = []

    def kill(progress: Progress) -> None:
        if len(killed) < 2 and progress.incumbent is None:
            for child in started():
                killed.append(child.pid)
                child.kill()

    outcome = checked(problem, solve(problem, Limits(30.0), kill))
    assert len(killed) >= 2
    assert outcome.ending == Ending.SOLVER_FAILED
    assert outcome.made_by == "greedy"


@pytest.mark.parametrize("error", [Cancelled, KeyboardInterrupt])
def test_cancelled_returns_the_best_plan_so_far(error: type[BaseException]) -> None:
    """Stopped by the user, the best checked plan is kept."""
    problem = hard()

    def stop(progress: Progress) -> None:
        if progress.incumbent is not None:
            raise error

    outcome = checked(problem, solve(problem, Limits(LONG), stop))
    assert outcome.ending == Ending.CANCELLED
    assert outcome.plan is not None
    assert outcome.seconds < LONG - 5


def test_cancelled_before_any_plan() -> None:
    """Stopped at once, there is no plan and none is claimed."""

    def stop(progress: Progress) -> None:
        raise Cancelled

    problem = hard()
    outcome = checked(problem, solve(problem, Limits(LONG), stop))
    assert outcome.ending == Ending.CANCELLED
    assert outcome.plan is None


def test_plans_the_checker_refuses_are_never_returned(monkeypatch: pytest.MonkeyPatch) -> None:
    """If the checker refuses every plan, the ending is rejected, with what it refused."""

    def refuse(problem: PlanningProblem, plan: Plan) -> tuple[Violation, ...]:
        return (Violation(rule=5, text="refused on purpose"),)

    monkeypatch.setattr(conductor, "verify", refuse)
    outcome = solve(hard(), Limits(6.0))
    assert outcome.ending == Ending.REJECTED
    assert outcome.plan is None
    assert outcome.conflicts[0].text == "refused on purpose"


def test_progress_tells_time_plan_and_bound() -> None:
    """Progress is told in order of time, with totals that only fall and bounds that only rise."""
    told: list[Progress] = []
    problem = hard()
    solve(problem, Limits(6.0), told.append)
    assert [p.seconds for p in told] == sorted(p.seconds for p in told)
    totals = [p.incumbent for p in told if p.incumbent is not None]
    bounds = [p.bound for p in told if p.bound is not None]
    assert totals == sorted(totals, reverse=True)
    assert bounds == sorted(bounds)
    assert totals
    assert bounds


def test_solve_works_in_a_thread() -> None:
    """A server's thread may solve: children are fresh interpreters, not forks."""
    problem = one_bay()
    outcomes: list[Outcome] = []
    thread = threading.Thread(target=lambda: outcomes.append(solve(problem, Limits(LONG))))
    thread.start()
    thread.join()
    assert outcomes[0].ending == Ending.PROVEN_BEST


def waited(condition: Callable[[], bool], seconds: float = 20.0) -> bool:
    """Whether a condition comes true in time."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if condition():
            return True
        time.sleep(0.05)
    return condition()


def test_children_end_when_their_parent_is_killed(tmp_path_factory: pytest.TempPathFactory) -> None:
    """A parent killed without warning leaves neither children nor files."""
    folder = tmp_path_factory.mktemp("orphans")
    script = (
        "from tests.problems.generator import make_problem\n"
        "from triage.planning.solver import Limits, solve\n"
        "solve(make_problem(1, 60, 60, shortage='hall'), Limits(120.0))\n"
    )
    environment = {**os.environ, "TMPDIR": str(folder), "PYTHONPATH": os.getcwd()}
    parent = psutil.Popen([sys.executable, "-c", script], env=environment)
    assert waited(lambda: len(parent.children(recursive=True)) >= 2)
    children = parent.children(recursive=True)
    parent.kill()
    parent.wait()
    assert waited(lambda: not any(child.is_running() for child in children))
    assert waited(lambda: list(folder.iterdir()) == [])
