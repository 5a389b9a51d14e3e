"""Problems of at most 5 objects and 8 months that still meet every rule: small enough to try every plan."""

from __future__ import annotations

import random

from tests.problems.plans import random_plan
from triage.planning.problem import (
    Baseline,
    BudgetLimit,
    HallRoom,
    Job,
    Pin,
    PlacedStage,
    Plan,
    PlanningProblem,
    PlanObject,
    PlanRule,
    PlanStage,
    PlanTreatment,
    Points,
    SpaceRoom,
    TradeHours,
)

TRADES = ("metal", "cloth")


def tiny_problem(seed: int) -> PlanningProblem:
    """Return a seeded problem: 1-5 objects, 3-8 months, some with pins or a former plan, some impossible."""
    rng = random.Random(seed)
    months = rng.randint(3, 8)
    objects = tuple(_object(rng, i) for i in range(rng.randint(1, 5)))
    treatments = tuple(
        _treatment(rng, thing, number, months)
        for thing in objects
        for number in range(rng.choice((1, 1, 2, 2, 3)))
    )
    problem = PlanningProblem(
        first_month="2031-11",
        months=months,
        scale="points of no meaning",
        closed=tuple(sorted(rng.sample(range(months), rng.choice((0, 0, 1, 2))))),
        trades=tuple(_trade(rng, name, months) for name in TRADES),
        spaces=tuple(_space(rng, i, months) for i in range(rng.randint(1, 3))),
        halls=tuple(_hall(rng, name, months) for name in ("east", "west")),
        budgets=_budgets(rng, months),
        objects=objects,
        treatments=treatments,
        rules=_rules(rng, objects, months),
    )
    update: dict[str, object] = {}
    if rng.random() < 0.35:
        update["pins"] = _pins(rng, problem)
    if rng.random() < 0.35:
        update["baseline"] = _baseline(rng, problem)
    return problem.model_copy(update=update) if update else problem


def _object(rng: random.Random, number: int) -> PlanObject:
    hall = rng.choice(("east", "east", "east", "west", None))
    return PlanObject(
        object_id=f"o{number}",
        hall_id=hall,
        display_m2=rng.randint(0, 30),
        hung=rng.random() < 0.45,
        loss_if_never=rng.randint(0, 120),
        away_points=rng.randint(0, 3),
    )


def _treatment(rng: random.Random, thing: PlanObject, number: int, months: int) -> PlanTreatment:
    best = rng.randint(0, max(0, thing.loss_if_never - 20))
    step = rng.randint(0, 8)
    earliest = rng.choice((0, 0, 1))
    latest = rng.choice((months - 1, months - 1, months + 3, rng.randint(0, months - 1)))
    return PlanTreatment(
        treatment_id=f"{thing.object_id}/{number}",
        object_id=thing.object_id,
        cost=rng.randint(0, 50),
        earliest=earliest,
        latest=latest,
        loss_if_done=tuple(best + step * e for e in range(months + 1)),
        stages=tuple(_stage(rng, thing) for _ in range(rng.choice((1, 1, 2, 2, 3)))),
    )


def _stage(rng: random.Random, thing: PlanObject) -> PlanStage:
    months = rng.choice((1, 1, 2))
    place = rng.choice((None, "bay", "bay", "booth", "hall"))
    if place == "hall" and thing.hall_id is None:
        place = "bay"
    hours = {
        trade: tuple(rng.randint(0, 12) for _ in range(months)) for trade in TRADES if rng.random() < 0.7
    }
    return PlanStage(
        months=months,
        hours=hours,
        place=place,
        area_m2=rng.randint(0, 40),
        width_cm=rng.randint(0, 300),
        height_cm=rng.randint(0, 300),
        most_wait=rng.choice((0, 0, 1, 2)),
        away=rng.random() < 0.7,
    )


def _trade(rng: random.Random, name: str, months: int) -> TradeHours:
    return TradeHours(
        trade_id=name,
        hours=tuple(rng.randint(6, 22) for _ in range(months)),
        overtime_most=tuple(rng.choice((0, 3, 6)) for _ in range(months)),
        overtime_points=rng.randint(0, 3),
    )


def _space(rng: random.Random, number: int, months: int) -> SpaceRoom:
    area, slots = rng.randint(20, 60), rng.choice((1, 1, 2))
    shut = rng.choice((None, None, rng.randrange(months)))
    return SpaceRoom(
        space_id=f"s{number}",
        kind="bay" if number < 2 else "booth",
        area_m2=(area,) * months,
        slots=tuple(0 if m == shut else slots for m in range(months)),
        door_width_cm=rng.choice((250, 400)),
        door_height_cm=rng.choice((250, 400)),
    )


def _hall(rng: random.Random, name: str, months: int) -> HallRoom:
    return HallRoom(
        hall_id=name,
        clear_m2=tuple(rng.choice((0, 10, 25)) for _ in range(months)),
        most_away=tuple(rng.choice((1, 2, 2, 3)) for _ in range(months)),
    )


def _budgets(rng: random.Random, months: int) -> tuple[BudgetLimit, ...]:
    made = []
    for _ in range(rng.choice((0, 1, 2))):
        first = rng.randrange(months)
        made.append(
            BudgetLimit(
                from_month=first, to_month=rng.randint(first, months + 2), amount=rng.randint(20, 110)
            )
        )
    return tuple(made)


def _rules(rng: random.Random, objects: tuple[PlanObject, ...], months: int) -> tuple[PlanRule, ...]:
    made = []
    for number in range(rng.choice((0, 1, 2))):
        kind = rng.choice(("at_least", "on_show", "not_together"))
        ids = tuple(o.object_id for o in rng.sample(objects, rng.randint(1, len(objects))))
        first = rng.randrange(months)
        number_of = {"at_least": len(ids) - 1, "on_show": None, "not_together": rng.choice((None, 0, 1))}[
            kind
        ]
        made.append(
            PlanRule(
                rule_id=f"r{number}",
                kind=kind,  # type: ignore[arg-type]  # one of the three names above
                object_ids=ids,
                number=number_of,
                from_month=first,
                to_month=rng.randint(first, months + 1) if kind != "on_show" else min(first + 1, months),
            )
        )
    return tuple(made)


def _pins(rng: random.Random, problem: PlanningProblem) -> tuple[Pin, ...]:
    """Return one promise: most often one that can be kept, else any."""
    if rng.random() < 0.8 and (jobs := random_plan(problem, rng).jobs):
        job = rng.choice(jobs)
        spaces = rng.choice((None, tuple(placed.space_id for placed in job.stages)))
        return (
            Pin(
                object_id=job.object_id,
                treatment_id=job.treatment_id,
                start=job.stages[0].start,
                space_ids=spaces,
            ),
        )
    treatment = rng.choice(problem.treatments)
    start = rng.choice(problem.open_months or (0,))
    named = tuple(
        None
        if stage.place in (None, "hall") or rng.random() < 0.5
        else rng.choice([s.space_id for s in problem.spaces if s.kind == stage.place] or [None])
        for stage in treatment.stages
    )
    return (
        Pin(
            object_id=treatment.object_id,
            treatment_id=treatment.treatment_id,
            start=start,
            space_ids=rng.choice((None, named)),
        ),
    )


def _baseline(rng: random.Random, problem: PlanningProblem) -> Baseline:
    """Return a former plan; only its first starts matter, so the rest of it is not made to fit."""
    jobs: dict[str, Job] = {}
    for treatment in rng.sample(problem.treatments, rng.randint(1, min(3, len(problem.treatments)))):
        stages = tuple(
            PlacedStage(start=rng.randrange(problem.months), space_id=None) for _ in treatment.stages
        )
        jobs[treatment.object_id] = Job(
            object_id=treatment.object_id, treatment_id=treatment.treatment_id, stages=stages
        )
    nothing = Points(loss=0, away=0, overtime=0, moves=0, total=0)
    return Baseline(
        plan=Plan(problem_digest="", jobs=tuple(jobs.values()), points=nothing),
        frozen_until=rng.choice((0, 0, 0, 0, 1, 2)),
        move_points=rng.randint(0, 6),
        drop_points=rng.randint(0, 20),
    )
