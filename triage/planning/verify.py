"""The independent checker: every broken rule of a plan, found without any solver.

Whole numbers only, so no tolerance. It reads the problem and the plan and nothing else; it shares no
code with the integer program or the searches. Rules are those of the planning problem, 1 to 10.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from triage.planning.ledger import Ledger, Room, Shortfall
from triage.planning.outcome import Ending, Outcome, Violation, gap_of
from triage.planning.points import never, points_of, score
from triage.planning.problem import Job, Plan, PlanningProblem, PlanTreatment
from triage.planning.timeline import Calendar, StageSpan, Timeline, calendar_of, timeline_of
from triage.planning.words import counted, month_text, months_text, shortfall_text
from triage.units import month_no

__all__ = ["never", "score", "verify", "verify_outcome"]

GAP_SLACK = 1e-6
"""A gap is a quotient written as a decimal number; it may differ this much from the exact one."""
WITH_PLAN = {Ending.PROVEN_BEST, Ending.BEST_IN_TIME}
MAY_HAVE_PLAN = {*WITH_PLAN, Ending.SOLVER_MISSING, Ending.SOLVER_FAILED, Ending.CANCELLED}


def verify(problem: PlanningProblem, plan: Plan) -> tuple[Violation, ...]:
    """Return every rule the plan breaks, in rule order; ``()`` if it is sound.

    Jobs that name something unknown or have no place in the horizon are reported and left out of the
    sums; points are then compared only with each other, not with the jobs.
    """
    calendar = calendar_of(problem)
    found = list(_identity(problem, plan))
    timelines: list[Timeline] = []
    whole = True
    for job in plan.jobs:
        treatment, faults = _known(problem, job)
        found.extend(faults)
        timeline = None if treatment is None else timeline_of(calendar, treatment, job)
        if treatment is not None:
            found.extend(_job_faults(problem, calendar, treatment, job, timeline))
        if timeline is None:
            whole = False
        else:
            timelines.append(timeline)
    repeats = list(_repeats(plan))
    found.extend(repeats)
    found.extend(_room_faults(problem, timelines))
    found.extend(_pin_faults(problem, plan))
    found.extend(_frozen_faults(problem, plan))
    found.extend(_points_faults(problem, plan, timelines if whole and not repeats else None))
    return tuple(sorted(found, key=lambda v: (v.rule, v.from_month, v.ids)))


def verify_outcome(problem: PlanningProblem, outcome: Outcome) -> tuple[Violation, ...]:
    """Return every rule the outcome breaks: its plan's, and its own digest, never, bound, gap and ending."""
    found = [] if outcome.plan is None else list(verify(problem, outcome.plan))
    if outcome.problem_digest != problem.digest():
        found.append(_ten("The outcome was made for another problem: its problem_digest is not this file's."))
    true_never = never(problem)
    if outcome.never != true_never:
        found.append(_ten(f"The outcome gives never as {outcome.never}; it is {true_never}."))
    found.extend(_ending_faults(outcome))
    found.extend(_gap_faults(outcome, true_never))
    return tuple(sorted(found, key=lambda v: (v.rule, v.from_month, v.ids)))


def _ten(text: str, ids: tuple[str, ...] = ()) -> Violation:
    return Violation(rule=10, ids=ids, text=text)


def _identity(problem: PlanningProblem, plan: Plan) -> Iterator[Violation]:
    if plan.problem_digest != problem.digest():
        yield _ten("The plan was made for another problem: its problem_digest is not this file's.")
    if plan.first_month and not _same_month(plan.first_month, problem.first_month):
        yield _ten(
            f"The plan counts its months from {plan.first_month}, the problem from {problem.first_month}."
        )


def _same_month(one: str, other: str) -> bool:
    try:
        return month_no(one) == month_no(other)
    except ValueError:
        return one == other


def _known(problem: PlanningProblem, job: Job) -> tuple[PlanTreatment | None, list[Violation]]:
    """Return the job's treatment, or None with what is unknown about it."""
    ids = (job.object_id, job.treatment_id)
    if job.object_id not in problem.object_by_id:
        return None, [Violation(rule=1, ids=ids, text=f"The plan names an unknown object, {job.object_id}.")]
    treatment = problem.treatment_by_id.get(job.treatment_id)
    if treatment is None:
        text = f"The plan gives {job.object_id} an unknown treatment, {job.treatment_id}."
        return None, [Violation(rule=1, ids=ids, text=text)]
    if treatment.object_id != job.object_id:
        text = (
            f"The plan gives {job.object_id} the treatment {job.treatment_id}, which is for "
            f"{treatment.object_id}."
        )
        return None, [Violation(rule=1, ids=ids, text=text)]
    return treatment, []


def _repeats(plan: Plan) -> Iterator[Violation]:
    for object_id, count in Counter(job.object_id for job in plan.jobs).items():
        if count > 1:
            text = f"{object_id} has {count} jobs; an object gets at most one."
            yield Violation(rule=1, ids=(object_id,), text=text)


def _job_faults(
    problem: PlanningProblem,
    calendar: Calendar,
    treatment: PlanTreatment,
    job: Job,
    timeline: Timeline | None,
) -> Iterator[Violation]:
    """Yield what is wrong with one job taken alone: rules 1, 2 and 3."""
    if len(job.stages) != len(treatment.stages):
        text = (
            f"The job on {job.object_id} has {counted(len(job.stages), 'stage')}; "
            f"{job.treatment_id} has {len(treatment.stages)}."
        )
        yield Violation(rule=2, ids=(job.object_id, job.treatment_id), text=text)
        return
    yield from _first_start_faults(problem, treatment, job)
    yield from _start_faults(problem, calendar, job)
    yield from _place_faults(problem, treatment, job)
    if timeline is not None:
        for number, (before, after) in enumerate(pairwise(timeline.spans), start=2):
            name = f"Stage {number} of the job on {job.object_id}"
            yield from _wait_faults(problem, calendar, name, before, after, job.object_id)
    elif all(0 <= placed.start < problem.months for placed in job.stages):
        last = problem.months - 1
        text = (
            f"The job on {job.object_id} is not done by {month_text(problem, last)}, the last month planned."
        )
        yield Violation(rule=1, ids=(job.object_id,), from_month=last, to_month=last, text=text)


def _first_start_faults(problem: PlanningProblem, treatment: PlanTreatment, job: Job) -> Iterator[Violation]:
    start = job.stages[0].start
    if treatment.earliest <= start <= treatment.latest:
        return
    if treatment.earliest > treatment.latest:
        allowed = "no month at all"
    else:
        allowed = months_text(problem, treatment.earliest, treatment.latest)
    text = (
        f"{job.treatment_id} on {job.object_id} starts in {month_text(problem, start)}; "
        f"it may start {allowed}."
    )
    yield Violation(
        rule=1, ids=(job.object_id, job.treatment_id), from_month=start, to_month=start, text=text
    )


def _start_faults(problem: PlanningProblem, calendar: Calendar, job: Job) -> Iterator[Violation]:
    for number, placed in enumerate(job.stages, start=1):
        if calendar.is_open(placed.start):
            continue
        when = month_text(problem, placed.start)
        why = "a closed month" if 0 <= placed.start < problem.months else "outside the months planned"
        text = f"Stage {number} of the job on {job.object_id} starts in {when}, {why}."
        yield Violation(
            rule=2, ids=(job.object_id,), from_month=placed.start, to_month=placed.start, text=text
        )


def _wait_faults(
    problem: PlanningProblem,
    calendar: Calendar,
    name: str,
    before: StageSpan,
    after: StageSpan,
    object_id: str,
) -> Iterator[Violation]:
    ids = (object_id,)
    if after.start < before.end:
        text = (
            f"{name} starts in {month_text(problem, after.start)}, before the stage ahead of it is done "
            f"at the end of {month_text(problem, before.end - 1)}."
        )
        yield Violation(rule=2, ids=ids, from_month=after.start, to_month=before.end - 1, text=text)
        return
    wait = calendar.open_between(before.end, after.start)
    if wait > after.stage.most_wait:
        waited = counted(wait, "open month")
        text = f"{name} waits {waited} for its start; at most {after.stage.most_wait} may pass."
        yield Violation(rule=2, ids=ids, from_month=before.end, to_month=after.start, text=text)


def _place_faults(problem: PlanningProblem, treatment: PlanTreatment, job: Job) -> Iterator[Violation]:
    """Yield what is wrong with the kinds, doors and names of the spaces (rule 3)."""
    for number, (stage, placed) in enumerate(zip(treatment.stages, job.stages, strict=True), start=1):
        name = f"Stage {number} of the job on {job.object_id}"
        text = ""
        space = None if placed.space_id is None else problem.space_by_id.get(placed.space_id)
        if stage.place is None or stage.place == "hall":
            if placed.space_id is not None:
                text = f"{name} needs no workshop space, but is put into {placed.space_id}."
        elif placed.space_id is None:
            text = f"{name} needs a space of kind {stage.place}, but has none."
        elif space is None:
            text = f"{name} is put into an unknown space, {placed.space_id}."
        elif space.kind != stage.place:
            text = f"{name} needs a space of kind {stage.place}; {space.space_id} is of kind {space.kind}."
        elif stage.width_cm > space.door_width_cm or stage.height_cm > space.door_height_cm:
            text = (
                f"{name} does not pass the door of {space.space_id}: {stage.width_cm} x {stage.height_cm} cm "
                f"through {space.door_width_cm} x {space.door_height_cm} cm (width x height)."
            )
        if text:
            ids = (job.object_id,) if placed.space_id is None else (job.object_id, placed.space_id)
            yield Violation(rule=3, ids=ids, from_month=placed.start, to_month=placed.start, text=text)


def _room_faults(problem: PlanningProblem, timelines: Sequence[Timeline]) -> Iterator[Violation]:
    """Yield where the jobs together ask more than there is: rules 3 to 8."""
    ledger = Ledger(Room(problem))
    for timeline in timelines:
        ledger.put(timeline)
    for short in ledger.shortfalls():
        yield Violation(
            rule=short.rule,
            ids=tuple(
                dict.fromkeys((*filter(None, (short.resource_id,)), *_users(problem, timelines, short)))
            ),
            from_month=short.from_month,
            to_month=short.to_month,
            text=shortfall_text(problem, short),
        )


def _users(problem: PlanningProblem, timelines: Sequence[Timeline], short: Shortfall) -> list[str]:
    """Return the objects whose jobs use what is short, in its months."""
    return sorted({t.object_id for t in timelines if _uses(problem, t, short)})


def _uses(problem: PlanningProblem, timeline: Timeline, short: Shortfall) -> bool:
    if short.kind == "budget":
        return short.from_month <= timeline.start <= short.to_month and timeline.treatment.cost > 0
    if short.kind == "display":
        rule = next(r for r in problem.rules if r.rule_id == short.resource_id)
        if timeline.object_id not in rule.object_ids:
            return False
    hall_id = problem.object_by_id[timeline.object_id].hall_id
    if short.kind in ("floor", "most_away") and hall_id != short.resource_id:
        return False
    for span in timeline.spans:
        if span.start > short.to_month or span.until <= short.from_month:
            continue
        if short.kind == "hours":
            hours = span.stage.hours.get(short.resource_id, ())
            months = zip(span.working, hours, strict=False)
            if any(amount and short.from_month <= m <= short.to_month for m, amount in months):
                return True
        elif short.kind in ("area", "slots"):
            if span.space_id == short.resource_id:
                return True
        elif span.stage.place == "hall" if short.kind == "floor" else span.stage.away:
            return True
    return False


def _pin_faults(problem: PlanningProblem, plan: Plan) -> Iterator[Violation]:
    jobs = {job.object_id: job for job in plan.jobs}
    for pin in problem.pins:
        job = jobs.get(pin.object_id)
        when = month_text(problem, pin.start)
        if job is None or job.treatment_id != pin.treatment_id or not job.stages:
            has = "no job" if job is None else job.treatment_id
            text = f"{pin.object_id} is promised {pin.treatment_id} from {when}, but the plan gives it {has}."
        elif job.stages[0].start != pin.start:
            text = (
                f"{pin.treatment_id} on {pin.object_id} is promised from {when}, but the plan starts it in "
                f"{month_text(problem, job.stages[0].start)}."
            )
        else:
            spaces = zip(pin.space_ids or (), job.stages, strict=False)
            wrong = [
                (want, placed.space_id) for want, placed in spaces if want not in (None, placed.space_id)
            ]
            if not wrong:
                continue
            want, got = wrong[0]
            text = f"{pin.object_id} is promised the space {want}, but the plan puts it into {got}."
        yield Violation(
            rule=9, ids=(pin.object_id, pin.treatment_id), from_month=pin.start, to_month=pin.start, text=text
        )


def _frozen_faults(problem: PlanningProblem, plan: Plan) -> Iterator[Violation]:
    if problem.baseline is None:
        return
    jobs = {job.object_id: job for job in plan.jobs}
    for old in problem.baseline.plan.jobs:
        start = old.stages[0].start
        if start >= problem.baseline.frozen_until:
            continue
        job = jobs.get(old.object_id)
        if job and job.treatment_id == old.treatment_id and job.stages and job.stages[0].start == start:
            continue
        text = (
            f"{old.treatment_id} on {old.object_id} is to start in {month_text(problem, start)} as in the "
            "former plan, which is frozen there; the plan departs from it."
        )
        yield Violation(
            rule=9, ids=(old.object_id, old.treatment_id), from_month=start, to_month=start, text=text
        )


def _points_faults(
    problem: PlanningProblem, plan: Plan, timelines: Sequence[Timeline] | None
) -> Iterator[Violation]:
    """Yield where the points written differ from their sum and from the jobs (rule 10)."""
    points = plan.points
    parts = points.loss + points.away + points.overtime + points.moves
    if points.total != parts:
        yield _ten(f"The plan's total is given as {points.total}; its four parts sum to {parts}.")
    if timelines is None:
        return
    true = points_of(problem, timelines)
    for name in ("loss", "away", "overtime", "moves", "total"):
        given, counted_up = getattr(points, name), getattr(true, name)
        if given != counted_up:
            yield _ten(f"The plan's points for {name} are given as {given}; they are {counted_up}.")


def _ending_faults(outcome: Outcome) -> Iterator[Violation]:
    ending, has_plan = outcome.ending, outcome.plan is not None
    if has_plan and ending not in MAY_HAVE_PLAN:
        yield _ten(f"The ending {ending.value} goes with no plan, but there is one.")
    if not has_plan and ending in WITH_PLAN:
        yield _ten(f"The ending {ending.value} goes with a plan, but there is none.")
    if has_plan != (outcome.made_by is not None):
        yield _ten(f"made_by is {outcome.made_by or 'null'}, but there is {'a' if has_plan else 'no'} plan.")
    if has_plan and ending in (Ending.SOLVER_MISSING, Ending.SOLVER_FAILED) and outcome.made_by != "greedy":
        yield _ten(f"The ending {ending.value} goes with a greedy plan only.")
    if (
        outcome.plan is not None
        and ending is Ending.PROVEN_BEST
        and outcome.bound != outcome.plan.points.total
    ):
        yield _ten(
            f"The plan is called proven best, but the bound {outcome.bound} is not its total "
            f"{outcome.plan.points.total}."
        )
    if not outcome.seconds >= 0:
        yield _ten(f"The search is said to have taken {outcome.seconds} seconds.")


def _gap_faults(outcome: Outcome, true_never: int) -> Iterator[Violation]:
    plan, bound = outcome.plan, outcome.bound
    if plan is not None and bound is not None and bound > plan.points.total:
        yield _ten(f"The bound {bound} is above the plan's total {plan.points.total}: it is no bound.")
    expected = None if plan is None else gap_of(plan.points.total, bound, true_never)
    if expected is None or outcome.gap is None:
        right = expected is outcome.gap
    else:
        right = abs(outcome.gap - expected) <= GAP_SLACK
    if not right:
        given, right_one = _shown(outcome.gap), _shown(expected)
        yield _ten(f"The gap is given as {given}; from total, bound and never it is {right_one}.")


def _shown(gap: float | None) -> str:
    return "null" if gap is None else f"{gap:.6f}"
