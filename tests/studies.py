"""A study of the tiny museum with a plan made by hand, to be reported on without any search.

The plan, in months of the problem (0 is January 2027), checked on paper:

* the biplane is restored in the north bay, months 0-8, which frees its 70 m2 in Harbour Hall;
* the glider is lowered onto that floor in month 1, re-covered in the south bay in months 2-5, waits there in
  month 6, and is hoisted in month 7;
* the engine's oil is caught in month 0, in the gallery; the crated hull is left alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from tests.museum import losses, museum
from triage import risk
from triage.planning.assemble import Assembled, assemble
from triage.planning.outcome import Ending, Outcome, gap_of
from triage.planning.problem import Job, PlacedStage, Plan
from triage.planning.verify import never, score, verify_outcome
from triage.records import Collection
from triage.reports.study import Study
from triage.risk import ElementForecast, FittedModel, RiskForecast, SafetyFlag
from triage.survey import Intake

JOBS: Mapping[str, tuple[str, Sequence[tuple[int, str | None]]]] = {
    "BIPLANE": ("T-BIPLANE", ((0, "BAY1"),)),
    "GLIDER": ("T-GLIDER", ((1, None), (2, "BAY2"), (7, None))),
    "ENGINE": ("T-ENGINE", ((0, None),)),
}
YEARS_TO_POOR: Mapping[str, float | None] = {"GLIDER": 0.0, "BIPLANE": 2.5, "ENGINE": None, "CRATE": 8.0}


def job(object_id: str, treatment_id: str, stages: Sequence[tuple[int, str | None]]) -> Job:
    """Return a job from (start, space) of each stage."""
    return Job(
        object_id=object_id,
        treatment_id=treatment_id,
        stages=tuple(PlacedStage(start=start, space_id=space) for start, space in stages),
    )


def outcome_of(
    assembled: Assembled, jobs: Mapping[str, tuple[str, Sequence[tuple[int, str | None]]]] = JOBS
) -> Outcome:
    """Return a sound outcome with these jobs, its bound such that the gap is about a quarter."""
    problem = assembled.problem
    made = tuple(job(object_id, *rest) for object_id, rest in sorted(jobs.items()))
    points, nothing = score(problem, made), never(problem)
    plan = Plan(problem_digest=problem.digest(), first_month=problem.first_month, jobs=made, points=points)
    bound = nothing - (nothing - points.total) * 4 // 3
    outcome = Outcome(
        problem_digest=problem.digest(),
        ending=Ending.BEST_IN_TIME,
        plan=plan,
        made_by="integer_program",
        never=nothing,
        bound=bound,
        gap=gap_of(points.total, bound, nothing),
        seconds=12.4,
        solver="by hand",
        message="",
    )
    assert verify_outcome(problem, outcome) == ()
    return outcome


def forecast_of(collection: Collection) -> RiskForecast:
    """Return a forecast made by a plain rule: poor or worse with chance 0.2, 0.3, 0.4 in years 0, 1, 2."""
    months = (0, 12, 24)
    elements = tuple(
        ElementForecast(
            object_id=e.object_id,
            element_id=e.element_id,
            months_ahead=months,
            p=((0.5, 0.3, 0.1, 0.1), (0.4, 0.3, 0.2, 0.1), (0.3, 0.3, 0.2, 0.2)),
            low3=(0.1, 0.2, 0.3),
            high3=(0.3, 0.4, 0.5),
            basis="own history" if collection.grades_of.get(e.key) else "material",
            years_to_3=YEARS_TO_POOR[e.object_id],
        )
        for e in collection.elements
    )
    return RiskForecast(
        now=collection.settings.now, months_ahead=months, elements=elements, notes=("Made by hand.",)
    )


FLAG = SafetyFlag(
    object_id="GLIDER",
    chance=0.4,
    low=0.2,
    high=0.6,
    element_ids=("hangers",),
    worst_recorded=2,
    threshold=0.1,
    hung=True,
    reason="Hangers: the chance that they are poor or worse now is 40%.",
    caution="Keep people from beneath it and have it inspected by a competent person now.",
)


@cache
def _fitted() -> FittedModel:
    """Return a real fit of the tiny museum: reports carry it along and read nothing from it."""
    return risk.fit(museum(), draws=2)


def study(
    collection: Collection | None = None,
    jobs: Mapping[str, tuple[str, Sequence[tuple[int, str | None]]]] | None = JOBS,
    *,
    flags: tuple[SafetyFlag, ...] = (FLAG,),
) -> Study:
    """Return a study of the tiny museum (or a change of it) with these jobs; None: before any search."""
    collection = museum() if collection is None else collection
    lost = losses(collection)
    assembled = assemble(collection, lost)
    return Study(
        intake=Intake(collection=collection, faults=()),
        collection=collection,
        fitted=_fitted(),
        forecast=forecast_of(collection),
        losses=lost,
        flags=flags,
        assembled=assembled,
        outcome=None if jobs is None else outcome_of(assembled, jobs),
    )
