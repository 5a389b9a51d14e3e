"""The seams survive being written and read, whatever is in them (Hypothesis)."""

from __future__ import annotations

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.problems.generator import make_problem
from tests.problems.tiny import tiny_problem
from triage.errors import UnusableInput
from triage.planning.outcome import Ending, Outcome, Violation
from triage.planning.problem import Job, PlacedStage, Plan, PlanningProblem, PlanObject, Points
from triage.planning.reading import outcome_json, plan_json, problem_json, read_plan_or_outcome, read_problem

WHOLE = st.integers(-(2**53) + 1, 2**53 - 1)
NEED = st.integers(0, 2**53 - 1)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
STAGES = st.lists(st.builds(PlacedStage, start=WHOLE, space_id=st.none() | TEXTS), max_size=4).map(tuple)
JOBS = st.lists(st.builds(Job, object_id=TEXTS, treatment_id=TEXTS, stages=STAGES), max_size=4).map(tuple)
POINTS = st.builds(Points, loss=WHOLE, away=WHOLE, overtime=WHOLE, moves=WHOLE, total=WHOLE)
PLANS = st.builds(
    Plan, schema_version=WHOLE | TEXTS, problem_digest=TEXTS, first_month=TEXTS, jobs=JOBS, points=POINTS
)
VIOLATIONS = st.builds(
    Violation,
    rule=NEED,
    ids=st.lists(TEXTS, max_size=3).map(tuple),
    from_month=WHOLE,
    to_month=WHOLE,
    text=TEXTS,
)
NUMBERS = st.floats(-(2.0**53) + 1, 2.0**53 - 1, allow_nan=False)
OUTCOMES = st.builds(
    Outcome,
    schema_version=WHOLE | TEXTS,
    problem_digest=TEXTS,
    ending=st.sampled_from(Ending),
    plan=st.none() | PLANS,
    made_by=st.sampled_from([None, "integer_program", "greedy"]),
    never=WHOLE,
    bound=st.none() | WHOLE,
    gap=st.none() | NUMBERS,
    seconds=NUMBERS,
    solver=TEXTS,
    message=TEXTS,
    conflicts=st.lists(VIOLATIONS, max_size=2).map(tuple),
)
OBJECTS = st.lists(
    st.builds(
        PlanObject,
        object_id=TEXTS,
        hall_id=st.none(),
        display_m2=NEED,
        hung=st.booleans(),
        loss_if_never=WHOLE,
        away_points=NEED,
    ),
    max_size=5,
    unique_by=lambda o: o.object_id,
).map(tuple)


@given(PLANS)
def test_a_plan_survives(plan: Plan) -> None:
    """Written and read, a plan is the same."""
    assert read_plan_or_outcome(plan_json(plan)) == plan


@given(OUTCOMES)
def test_an_outcome_survives(outcome: Outcome) -> None:
    """Written and read, an outcome is the same, its decimal numbers to the last digit."""
    assert read_plan_or_outcome(outcome_json(outcome)) == outcome


@given(OBJECTS, st.integers(1, 6000), TEXTS)
def test_a_problem_of_any_objects_survives(objects: tuple[PlanObject, ...], months: int, scale: str) -> None:
    """Written and read, a problem and its digest are the same, odd ids included."""
    problem = PlanningProblem(first_month="2030-01", months=months, scale=scale, objects=objects)
    again = read_problem(problem_json(problem))
    assert again.model_dump() == problem.model_dump()
    assert again.digest() == problem.digest()


@settings(max_examples=60)
@given(st.integers(0, 10**6))
def test_a_tiny_problem_survives(seed: int) -> None:
    """The same for problems with every part in them."""
    problem = tiny_problem(seed)
    again = read_problem(problem_json(problem))
    assert again.model_dump() == problem.model_dump()
    assert again.digest() == problem.digest()


def test_a_large_problem_with_pins_and_a_former_plan_survives() -> None:
    """60 objects over 60 months, pins and former plan included."""
    problem = make_problem(4, 60, 60, pins=4, baseline=True)
    again = read_problem(problem_json(problem))
    assert again.model_dump() == problem.model_dump()
    assert again.digest() == problem.digest()


JSON = st.recursive(
    st.none() | st.booleans() | WHOLE | st.floats() | TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=8,
)
FIELDS = st.sampled_from(sorted(PlanningProblem.model_fields))


@settings(max_examples=200)
@given(st.integers(0, 50), st.dictionaries(FIELDS, JSON, min_size=1, max_size=3))
def test_no_value_crashes_the_reader(seed: int, changes: dict[str, object]) -> None:
    """Any JSON put into any field is read or refused with a fault, never anything else."""
    value = {**json.loads(problem_json(tiny_problem(seed))), **changes}
    faults: tuple[object, ...] = ("read",)
    try:
        read_problem(json.dumps(value))
    except UnusableInput as refused:
        faults = refused.faults
    assert faults
