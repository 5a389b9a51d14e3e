"""Made-up planning problems that look like a museum's, seeded, of any size.

How a problem is made
---------------------
1. Objects hang, stand on the floor or are in store; 2-3 % to 60 % of their significance is lost by the
   value date if nothing is done (``loss_if_never``), in points with 100 = all of significance 1.
2. Some objects get a gallery action (cheap, one month, saves a little), most a partial treatment of 2-5
   stages, most a full chain of 6-10 stages. Later ends save less, down to nothing.
3. Capacity is then measured: what a third of the objects would use of hours, floor, clear hall floor
   and money, taken over the whole horizon. What ``shortage`` names gets about half of that, the
   rest twice that; ``mixed`` gives a little less than that of everything. Most single stages fit alone.
4. One month a year is closed, trades lose hours in some months, a space is shut for a while; display
   rules keep a centrepiece on show, some of a group on show and rivals from being away together.
5. Pins and the former plan are taken from valid plans found by chance, so the problem is possible.
"""

from __future__ import annotations

import random
from collections import defaultdict
from itertools import pairwise
from typing import Literal

from tests.problems.plans import random_plan
from triage.planning.problem import (
    Baseline,
    BudgetLimit,
    HallRoom,
    Pin,
    PlanningProblem,
    PlanObject,
    PlanRule,
    PlanStage,
    PlanTreatment,
    SpaceRoom,
    TradeHours,
)
from triage.units import month_no, spread_evenly

Shortage = Literal["mixed", "budget", "hours", "space", "hall"]
FIRST_MONTH = "2027-04"
TRADES = ("conservation", "metalwork", "woodwork", "fabric", "rigging", "paint")
KINDS = ("bay", "bench", "booth")
STEPS: tuple[tuple[str, str | None, bool, float], ...] = (
    # main trade, place, away, share of the object's area it needs
    ("conservation", None, False, 0.0),
    ("rigging", "hall", True, 1.4),
    ("conservation", "bay", True, 0.8),
    ("metalwork", "bay", True, 1.0),
    ("woodwork", "bench", True, 0.4),
    ("metalwork", "bench", True, 0.4),
    ("fabric", "bay", True, 0.7),
    ("paint", "booth", True, 0.6),
    ("woodwork", "bay", True, 1.0),
    ("rigging", "hall", True, 1.2),
)
PARTIAL = ((1, 2, 9), (2, 4, 8), (1, 2, 3, 7, 9), (0, 5), (1, 5, 9), (3, 7))
Use = dict[str, float]


def make_problem(
    seed: int,
    objects: int,
    months: int,
    *,
    shortage: Shortage = "mixed",
    closed: tuple[int, ...] | None = None,
    pins: int = 0,
    baseline: bool = False,
) -> PlanningProblem:
    """Return a seeded problem.

    Parameters
    ----------
    seed, objects, months
        The same three always make the same problem.
    shortage
        What there is too little of.
    closed
        Closed months; None closes every August.
    pins
        How many jobs are promised (fewer if chance finds fewer).
    baseline
        True: a former plan found by chance, its first three months frozen.
    """
    rng = random.Random(f"{seed} {objects} {months} {shortage}")
    halls = max(2, objects // 20)
    things = [_object(rng, i, halls) for i in range(objects)]
    treatments = [t for thing in things for t in _treatments(rng, thing, months)]
    august = (7 - month_no(FIRST_MONTH)) % 12
    closed = tuple(range(august, months, 12)) if closed is None else closed
    plenty = {name: _plenty(name, shortage) for name in ("hours", "space", "hall", "budget")}
    use = _third(treatments, objects)
    problem = PlanningProblem(
        first_month=FIRST_MONTH,
        months=months,
        scale="100 points are the whole of an object of significance 1",
        closed=closed,
        trades=_trades(rng, use, treatments, months, plenty["hours"]),
        spaces=_spaces(rng, use, treatments, months, plenty["space"]),
        halls=_halls(rng, things, treatments, halls, months, plenty["hall"]),
        budgets=_budgets(use, months, plenty["budget"]),
        objects=tuple(things),
        treatments=tuple(treatments),
        rules=_rules(rng, things, months),
    )
    return _with_promises(rng, problem, pins, baseline)


def _plenty(name: str, shortage: Shortage) -> float:
    if shortage == "mixed":
        return 0.9
    return 0.5 if name == shortage else 2.0


def _object(rng: random.Random, number: int, halls: int) -> PlanObject:
    where = rng.random()
    significance = rng.randint(10, 100)
    area = rng.randint(15, 160)
    in_store = where > 0.9
    return PlanObject(
        object_id=f"OB-{number:03d}",
        hall_id=None if in_store else f"hall {number % halls + 1}",
        display_m2=0 if in_store else area,
        hung=where < 0.4,
        loss_if_never=round(significance * 100 * rng.uniform(0.05, 0.6)),
        away_points=0 if in_store else -(-significance // 20),
    )


def _treatments(rng: random.Random, thing: PlanObject, months: int) -> list[PlanTreatment]:
    area = thing.display_m2 or rng.randint(15, 120)
    size = area / 60
    made = []
    if rng.random() < 0.4:
        made.append(_treatment(rng, thing, "in place", (0,), area, months, (0.1, 0.35), 0.1 * size))
    if rng.random() < 0.8:
        made.append(_treatment(rng, thing, "part", rng.choice(PARTIAL), area, months, (0.35, 0.7), size))
    if rng.random() < 0.7 and months >= 24:
        left_out = rng.sample(range(2, 9), rng.randint(0, 4))
        steps = tuple(i for i in range(len(STEPS)) if i not in left_out)
        made.append(_treatment(rng, thing, "full", steps, area, months, (0.7, 0.95), size))
    return made


def _treatment(
    rng: random.Random,
    thing: PlanObject,
    name: str,
    steps: tuple[int, ...],
    area: int,
    months: int,
    saves: tuple[float, float],
    size: float,
) -> PlanTreatment:
    stages = tuple(_stage(rng, thing, STEPS[i], area, size, name == "in place") for i in steps)
    best = thing.loss_if_never * (1 - rng.uniform(*saves))
    bend = rng.uniform(0.7, 1.6)
    fade = months * rng.uniform(1.0, 2.0)
    loss = [best + (thing.loss_if_never - best) * min(1.0, (e / fade)) ** bend for e in range(months + 1)]
    earliest = rng.choice((0, 0, 0, rng.randint(0, months // 3)))
    return PlanTreatment(
        treatment_id=f"{thing.object_id} {name}",
        object_id=thing.object_id,
        cost=round(rng.uniform(20, 60) * sum(sum(map(sum, s.hours.values())) for s in stages)),
        earliest=earliest,
        latest=rng.choice((months - 1, months - 1, rng.randint(earliest, months - 1))),
        loss_if_done=tuple(round(x) for x in loss),
        stages=stages,
    )


def _stage(
    rng: random.Random,
    thing: PlanObject,
    step: tuple[str, str | None, bool, float],
    area: int,
    size: float,
    short: bool,
) -> PlanStage:
    trade, place, away, share = step
    months = 1 if short or place == "hall" else rng.randint(1, 4)
    if place == "hall" and thing.hall_id is None:
        place = None
    hours = {trade: spread_evenly(max(2, round(rng.uniform(20, 60) * size * months)), months)}
    if rng.random() < 0.5:
        second = rng.choice(TRADES)
        hours[second] = tuple(rng.randint(0, max(1, round(25 * size))) for _ in range(months))
    return PlanStage(
        months=months,
        hours=hours,
        place=place,
        area_m2=0 if place is None else max(4, round(area * share)),
        width_cm=0 if place is None else rng.randint(150, 500),
        height_cm=0 if place is None else rng.randint(150, 420),
        most_wait=rng.choice((0, 1, 3, 6)),
        away=away,
    )


def _third(treatments: list[PlanTreatment], objects: int) -> Use:
    """Return what a third of the objects would use in all, each by its mean treatment."""
    use: Use = defaultdict(float)
    for treatment in treatments:
        use["cost"] += treatment.cost
        for stage in treatment.stages:
            for trade, hours in stage.hours.items():
                use[trade] += sum(hours)
            if stage.place in KINDS:
                use[stage.place] += stage.area_m2 * stage.months * 1.3
    share = objects / 3 / max(1, len(treatments))
    return {name: amount * share for name, amount in use.items()}


def _trades(
    rng: random.Random, use: Use, treatments: list[PlanTreatment], months: int, plenty: float
) -> tuple[TradeHours, ...]:
    made = []
    for trade in TRADES:
        peaks = sorted(max(s.hours[trade]) for t in treatments for s in t.stages if trade in s.hours) or [20]
        least = peaks[round((len(peaks) - 1) * (0.8 if plenty > 0.5 else 0.6))]
        usual = max(least, round(use.get(trade, 0) / months * plenty))
        hours = [usual if rng.random() > 0.15 else round(usual * 0.6) for _ in range(months)]
        overtime = round(usual * rng.choice((0, 0.1, 0.25)))
        made.append(
            TradeHours(
                trade_id=trade, hours=tuple(hours), overtime_most=(overtime,) * months, overtime_points=2
            )
        )
    return tuple(made)


def _spaces(
    rng: random.Random, use: Use, treatments: list[PlanTreatment], months: int, plenty: float
) -> tuple[SpaceRoom, ...]:
    """Return spaces: of each kind two alike and the rest different, one of them shut for a while."""
    made = []
    for kind in KINDS:
        needs = sorted(s.area_m2 for t in treatments for s in t.stages if s.place == kind) or [20]
        total = max(needs[-1] * 1.2, use.get(kind, 0) / months * plenty)
        twin = max(1, round(min(total / 3, needs[len(needs) // 2] * 2.2)))
        areas = [twin, twin]
        while sum(areas) < total:
            areas.append(round(rng.uniform(0.7, 1.3) * needs[-1]))
        door = (rng.randint(350, 480), rng.randint(300, 400))
        for number, area in enumerate(areas):
            shut = number == 2 and months > 12
            doors = door if number < 2 else (rng.randint(420, 520), rng.randint(380, 430))
            months_of = [0 if shut and 6 <= m < 9 else area for m in range(months)]
            slots = (max(1, area // 60) if number else 1) if number < 2 else max(1, area // 50)
            made.append(
                SpaceRoom(
                    space_id=f"{kind} {number + 1}",
                    kind=kind,
                    area_m2=tuple(months_of),
                    slots=(slots,) * months,
                    door_width_cm=doors[0],
                    door_height_cm=doors[1],
                )
            )
        made[-len(areas)] = made[-len(areas)].model_copy(update={"slots": made[1 - len(areas)].slots})
    return tuple(made)


def _halls(
    rng: random.Random,
    things: list[PlanObject],
    treatments: list[PlanTreatment],
    halls: int,
    months: int,
    plenty: float,
) -> tuple[HallRoom, ...]:
    stages: dict[str, list[PlanStage]] = defaultdict(list)
    for treatment in treatments:
        stages[treatment.object_id] += [s for s in treatment.stages if s.place == "hall"]
    made = []
    for number in range(1, halls + 1):
        shown = [t for t in things if t.hall_id == f"hall {number}"]
        needs = sorted(s.area_m2 for t in shown if t.hung for s in stages[t.object_id]) or [60]
        clear = round(needs[len(needs) // 2] * rng.uniform(0.8, 1.2) * min(1.5, plenty))
        away = max(1, round(len(shown) * 0.25 * plenty))
        made.append(
            HallRoom(hall_id=f"hall {number}", clear_m2=(clear,) * months, most_away=(away,) * months)
        )
    return tuple(made)


def _budgets(use: Use, months: int, plenty: float) -> tuple[BudgetLimit, ...]:
    first = 12 - month_no(FIRST_MONTH) % 12
    edges = [0, *range(first, months, 12), months]
    return tuple(
        BudgetLimit(from_month=a, to_month=b - 1, amount=round(use["cost"] * plenty * (b - a) / months))
        for a, b in pairwise(edges)
        if b > a
    )


def _rules(rng: random.Random, things: list[PlanObject], months: int) -> tuple[PlanRule, ...]:
    shown = [t.object_id for t in things if t.hall_id is not None]
    made = []
    for number in range(max(1, len(things) // 15)):
        first = rng.randint(0, months - 1)
        last = min(months + 2, first + rng.randint(3, 18))
        centre = rng.choice(shown)
        group = tuple(rng.sample(shown, min(len(shown), 5)))
        pair = tuple(rng.sample(shown, min(len(shown), 2)))
        made += [
            PlanRule(
                rule_id=f"show {number}",
                kind="on_show",
                object_ids=(centre,),
                from_month=first,
                to_month=last,
            ),
            PlanRule(
                rule_id=f"group {number}",
                kind="at_least",
                object_ids=group,
                number=len(group) - 2,
                from_month=0,
                to_month=months - 1,
            ),
            PlanRule(
                rule_id=f"pair {number}", kind="not_together", object_ids=pair, from_month=0, to_month=months
            ),
        ]
    return tuple(made)


def _with_promises(
    rng: random.Random, problem: PlanningProblem, pins: int, baseline: bool
) -> PlanningProblem:
    if not pins and not baseline:
        return problem
    plan = random_plan(problem, rng)
    update: dict[str, object] = {}
    if pins:
        kept = rng.sample(plan.jobs, min(pins, len(plan.jobs)))
        update["pins"] = tuple(
            Pin(
                object_id=job.object_id,
                treatment_id=job.treatment_id,
                start=job.stages[0].start,
                space_ids=rng.choice((None, tuple(s.space_id for s in job.stages))),
            )
            for job in kept
        )
    if baseline:
        update["baseline"] = Baseline(plan=plan, frozen_until=3, move_points=3, drop_points=40)
    return problem.model_copy(update=update)
