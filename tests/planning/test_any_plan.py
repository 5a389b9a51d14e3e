"""The checker against an independent one, on any plan of a tiny problem, sound or not."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.problems.brute_force import total_of
from tests.problems.plans import plan_of, random_plan
from tests.problems.tiny import tiny_problem
from triage.planning.problem import Job, PlacedStage, Plan, PlanningProblem, Points
from triage.planning.verify import verify


def shaken(problem: PlanningProblem, rng: random.Random) -> list[Job]:
    """Return jobs of a plan found by chance, some of them moved, put elsewhere, added or taken out."""
    free = problem.model_copy(update={"pins": (), "baseline": None})
    jobs = list(random_plan(free, rng, tries=3).jobs)
    spaces = [None, *(s.space_id for s in problem.spaces)]
    for _ in range(rng.randint(0, 2)):
        if not jobs or rng.random() < 0.3:
            treatment = rng.choice(problem.treatments)
            starts = sorted(rng.choices(range(problem.months), k=len(treatment.stages)))
            stages = [PlacedStage(start=m, space_id=rng.choice(spaces)) for m in starts]
            jobs = [job for job in jobs if job.object_id != treatment.object_id]
            jobs.append(_job(treatment.object_id, treatment.treatment_id, stages))
            continue
        job = jobs.pop(rng.randrange(len(jobs)))
        stages = list(job.stages)
        place = rng.randrange(len(stages))
        if rng.random() < 0.5:
            later = rng.choice((-1, 1, 1, 2))
            stages[place:] = [s.model_copy(update={"start": s.start + later}) for s in stages[place:]]
        else:
            stages[place] = stages[place].model_copy(update={"space_id": rng.choice(spaces)})
        if rng.random() < 0.9:
            jobs.append(_job(job.object_id, job.treatment_id, stages))
    return jobs


def _job(object_id: str, treatment_id: str, stages: list[PlacedStage]) -> Job:
    return Job(object_id=object_id, treatment_id=treatment_id, stages=tuple(stages))


@pytest.mark.parametrize("first", range(0, 240, 40))
def test_both_checkers_agree_on_shaken_plans(first: int) -> None:
    """The same plans are sound to both, and then with the same total; sound and broken ones are both met."""
    sound = broken = 0
    for seed in range(first, first + 40):
        problem = tiny_problem(seed)
        for turn in range(4):
            jobs = shaken(problem, random.Random(seed * 100 + turn))
            expected = total_of(problem, jobs)
            try:
                plan = plan_of(problem, jobs)
            except ValueError:
                assert expected is None, (seed, turn)
                continue
            found = verify(problem, plan)
            assert (found == ()) == (expected is not None), (seed, turn, found)
            if expected is None:
                broken += 1
            else:
                sound += 1
                assert plan.points.total == expected, (seed, turn)
    assert sound >= 20
    assert broken >= 20


IDS = st.sampled_from(["o0", "o1", "o2", "o0/0", "o0/1", "o1/0", "s0", "s1", "s2", "nobody", ""])
STAGES = st.lists(
    st.builds(PlacedStage, start=st.integers(-3, 12) | st.integers(), space_id=st.none() | IDS), max_size=4
)
JOBS = st.lists(st.builds(Job, object_id=IDS, treatment_id=IDS, stages=STAGES.map(tuple)), max_size=5).map(
    tuple
)
NOTHING = Points(loss=0, away=0, overtime=0, moves=0, total=0)


@settings(max_examples=300)
@given(st.integers(0, 60), JOBS)
def test_no_plan_crashes_the_checker(seed: int, jobs: tuple[Job, ...]) -> None:
    """Whatever the jobs, the checker says what is wrong with them in whole sentences."""
    problem = tiny_problem(seed)
    found = verify(problem, Plan(problem_digest=problem.digest(), jobs=jobs, points=NOTHING))
    for violation in found:
        assert 1 <= violation.rule <= 10
        assert violation.text.endswith(".")
