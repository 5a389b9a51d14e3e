"""The checker bites: valid plans pass, and every harmful change of them is caught.

Each kind of change below breaks a rule by its nature, whatever the plan; kinds that do not apply to a
plan return None and are passed over, and a test makes sure that each kind was met often.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

import pytest

from tests.problems.generator import Shortage, make_problem
from tests.problems.plans import random_plan
from triage.planning.problem import Job, PlacedStage, Plan, PlanningProblem
from triage.planning.verify import verify

SEEDS = range(12)
SHORTAGES: tuple[Shortage, ...] = ("mixed", "budget", "hours", "space", "hall")
Found = tuple[PlanningProblem, Plan] | None
Mutation = Callable[[PlanningProblem, Plan, random.Random], Found]


def valid(seed: int) -> tuple[PlanningProblem, Plan]:
    """Return a problem and a valid plan of it."""
    problem = make_problem(seed, 14 + seed, 36, shortage=SHORTAGES[seed % 5])
    return problem, random_plan(problem, random.Random(seed))


def _jobs(plan: Plan, *jobs: Job) -> Plan:
    return plan.model_copy(update={"jobs": jobs})


def _swap(plan: Plan, old: Job, **fields: Any) -> Plan:
    new = old.model_copy(update=fields)
    return _jobs(plan, *(new if job is old else job for job in plan.jobs))


def _pick(plan: Plan, rng: random.Random, fits: Callable[[Job], bool] = lambda _: True) -> Job | None:
    jobs = [job for job in plan.jobs if fits(job)]
    return rng.choice(jobs) if jobs else None


def _moved(job: Job, number: int, **fields: Any) -> tuple[PlacedStage, ...]:
    return tuple(s.model_copy(update=fields) if i == number else s for i, s in enumerate(job.stages))


def drop_a_job(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    kept = (j for j in plan.jobs if j is not job)
    return (problem, _jobs(plan, *kept)) if job else None


def double_a_job(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    return (problem, _jobs(plan, *plan.jobs, job)) if job else None


def unknown_object(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    return (problem, _swap(plan, job, object_id="OB-none")) if job else None


def unknown_treatment(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    return (problem, _swap(plan, job, treatment_id="none")) if job else None


def anothers_treatment(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    if job is None:
        return None
    others = [t.treatment_id for t in problem.treatments if t.object_id != job.object_id]
    return problem, _swap(plan, job, treatment_id=rng.choice(others))


def lose_a_stage(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    return (problem, _swap(plan, job, stages=job.stages[:-1])) if job else None


def before_its_window(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    windows = {t.treatment_id: t.earliest for t in problem.treatments}
    job = _pick(plan, rng, lambda j: windows[j.treatment_id] > 0)
    if job is None:
        return None
    start = rng.randrange(windows[job.treatment_id])
    return problem, _swap(plan, job, stages=_moved(job, 0, start=start))


def outside_the_horizon(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    if job is None:
        return None
    start = rng.choice((-1, problem.months, problem.months + 7))
    return problem, _swap(plan, job, stages=_moved(job, len(job.stages) - 1, start=start))


def into_a_closed_month(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    if job is None:
        return None
    number = rng.randrange(len(job.stages))
    return problem, _swap(plan, job, stages=_moved(job, number, start=rng.choice(problem.closed)))


def close_a_start(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng)
    if job is None:
        return None
    closed = (*problem.closed, rng.choice(job.stages).start)
    changed = problem.model_copy(update={"closed": closed})
    return changed, plan.model_copy(update={"problem_digest": changed.digest()})


def next_stage_too_soon(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng, lambda j: len(j.stages) > 1)
    if job is None:
        return None
    number = rng.randrange(1, len(job.stages))
    start = job.stages[number - 1].start
    return problem, _swap(plan, job, stages=_moved(job, number, start=start))


def unknown_space(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng, lambda j: any(s.space_id for s in j.stages))
    if job is None:
        return None
    number = next(i for i, s in enumerate(job.stages) if s.space_id)
    return problem, _swap(plan, job, stages=_moved(job, number, space_id="nowhere"))


def no_space(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng, lambda j: any(s.space_id for s in j.stages))
    if job is None:
        return None
    number = next(i for i, s in enumerate(job.stages) if s.space_id)
    return problem, _swap(plan, job, stages=_moved(job, number, space_id=None))


def wrong_kind_of_space(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    job = _pick(plan, rng, lambda j: any(s.space_id for s in j.stages))
    if job is None:
        return None
    number, old = next((i, s) for i, s in enumerate(job.stages) if s.space_id)
    kind = problem.space_by_id[str(old.space_id)].kind
    other = rng.choice([s.space_id for s in problem.spaces if s.kind != kind])
    return problem, _swap(plan, job, stages=_moved(job, number, space_id=other))


def _changed(problem: PlanningProblem, plan: Plan, **fields: Any) -> Found:
    changed = problem.model_copy(update=fields)
    return changed, plan.model_copy(update={"problem_digest": changed.digest()})


def shut_a_space_in_use(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    used = {s.space_id for job in plan.jobs for s in job.stages if s.space_id}
    if not used:
        return None
    shut = rng.choice(sorted(used))
    nothing = (0,) * problem.months
    spaces = [s.model_copy(update={"slots": nothing}) if s.space_id == shut else s for s in problem.spaces]
    return _changed(problem, plan, spaces=tuple(spaces))


def narrow_a_door(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    used = {s.space_id for job in plan.jobs for s in job.stages if s.space_id}
    if not used:
        return None
    small = rng.choice(sorted(used))
    spaces = [s.model_copy(update={"door_width_cm": 1}) if s.space_id == small else s for s in problem.spaces]
    return _changed(problem, plan, spaces=tuple(spaces))


def dismiss_a_trade_at_work(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    stages = [s for job in plan.jobs for s in problem.treatment_by_id[job.treatment_id].stages]
    used = sorted({trade for stage in stages for trade, hours in stage.hours.items() if sum(hours)})
    if not used:
        return None
    gone, nothing = rng.choice(used), (0,) * problem.months
    trades = [
        t.model_copy(update={"hours": nothing, "overtime_most": nothing}) if t.trade_id == gone else t
        for t in problem.trades
    ]
    return _changed(problem, plan, trades=tuple(trades))


def keep_all_on_show(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    if not plan.points.away:
        return None
    nothing = (0,) * problem.months
    return _changed(
        problem, plan, halls=tuple(h.model_copy(update={"most_away": nothing}) for h in problem.halls)
    )


def cut_the_budgets(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    if not any(problem.treatment_by_id[job.treatment_id].cost for job in plan.jobs):
        return None
    return _changed(problem, plan, budgets=tuple(b.model_copy(update={"amount": 0}) for b in problem.budgets))


def wrong_total(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    points = plan.points.model_copy(update={"total": plan.points.total + rng.choice((-1, 1))})
    return problem, plan.model_copy(update={"points": points})


def points_shuffled(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    changed = {"loss": plan.points.loss - 1, "moves": plan.points.moves + 1}
    return problem, plan.model_copy(update={"points": plan.points.model_copy(update=changed)})


def wrong_digest(problem: PlanningProblem, plan: Plan, rng: random.Random) -> Found:
    return problem, plan.model_copy(update={"problem_digest": "0" * 64})


MUTATIONS: tuple[Mutation, ...] = (
    drop_a_job,
    double_a_job,
    unknown_object,
    unknown_treatment,
    anothers_treatment,
    lose_a_stage,
    before_its_window,
    outside_the_horizon,
    into_a_closed_month,
    close_a_start,
    next_stage_too_soon,
    unknown_space,
    no_space,
    wrong_kind_of_space,
    shut_a_space_in_use,
    narrow_a_door,
    dismiss_a_trade_at_work,
    keep_all_on_show,
    cut_the_budgets,
    wrong_total,
    points_shuffled,
    wrong_digest,
)
PLANS = [valid(seed) for seed in SEEDS]


def test_valid_plans_raise_no_alarm() -> None:
    """Plans put together by chance within the ledgers break no rule, and they do treat objects."""
    for problem, plan in PLANS:
        assert verify(problem, plan) == ()
        assert len(plan.jobs) >= 5


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: m.__name__)
def test_every_harmful_change_is_caught(mutation: Mutation) -> None:
    """Each kind of change is met in most plans and caught in all."""
    met = 0
    for seed, (problem, plan) in enumerate(PLANS):
        for turn in range(3):
            found = mutation(problem, plan, random.Random(seed * 10 + turn))
            if found is not None:
                met += 1
                assert verify(*found) != ()
    assert met >= len(PLANS)
