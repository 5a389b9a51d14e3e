"""Why a job does not start sooner, or why an object has none: every start tried against the rest of the plan.

The other jobs stay where they are. For each earlier month the best way to fit the object's job is
searched exactly (:mod:`triage.planning.fitting`); where there is none, what is short is named.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from triage.planning.fitting import Beside, Fitting, Lack
from triage.planning.outcome import Violation
from triage.planning.points import timelines_of
from triage.planning.problem import Job, Plan, PlanningProblem, PlanTreatment, Seam, Whole
from triage.planning.timeline import Timeline, calendar_of
from triage.planning.words import counted, listed, month_text, months_text, shortfall_text

TOLD = 3
"""Earlier months told in sentences; all of them are in ``Blocking.tries``."""


SHORT_NAMES = {
    1: "time",
    3: "room",
    4: "clear floor",
    5: "hours",
    6: "objects that may be away",
    7: "display promises",
    8: "money",
    9: "promised work",
}
"""What is short, by the rule that says so."""
NAMED = (3, 4, 5, 6)
"""Rules whose first id is the space, hall or trade that is short."""


class Try(Seam):
    """One start tried for an object, the other jobs staying as they are."""

    treatment_id: str
    start: Whole
    fits: bool
    change: Whole | None
    """How the plan's total would change, in points, if the job started then; None if it does not fit."""
    lacks: tuple[Violation, ...]
    """What keeps it from starting then; empty if it fits."""


class Blocking(Seam):
    """What keeps an object's job from starting sooner, or from being in the plan at all."""

    object_id: str
    treatment_id: str | None
    """The treatment planned; None if there is none."""
    start: Whole | None
    tries: tuple[Try, ...]
    """A job planned: every earlier open month, the nearest first. Else every treatment and open month."""
    sentences: tuple[str, ...]


def what_blocks(problem: PlanningProblem, plan: Plan, object_id: str) -> Blocking:
    """Return which rule or resource keeps an object's job from starting sooner, or from being planned.

    Raises
    ------
    ValueError
        If the object is not in the problem or a job of the plan has no timeline.
    """
    if object_id not in problem.object_by_id:
        raise ValueError(f"there is no object {object_id} in the problem")
    calendar = calendar_of(problem)
    jobs = [job for job in plan.jobs if job.object_id != object_id]
    beside = Beside(problem, timelines_of(problem, calendar, jobs))
    own = next((job for job in plan.jobs if job.object_id == object_id), None)
    if own is None:
        return _unplanned(problem, beside, object_id)
    return _planned(problem, beside, own, timelines_of(problem, calendar, [own])[0])


def _planned(problem: PlanningProblem, beside: Beside, job: Job, timeline: Timeline) -> Blocking:
    treatment, start = timeline.treatment, timeline.start
    fitting = Fitting(beside, treatment)
    now = _own_points(problem, beside, timeline) + _move_points(problem, treatment, start)
    months = [m for m in reversed(beside.calendar.open_months) if m < start]
    tries = tuple(_try(problem, fitting, month, now) for month in months)
    return Blocking(
        object_id=job.object_id,
        treatment_id=job.treatment_id,
        start=start,
        tries=tries,
        sentences=tuple(_planned_sentences(problem, job, start, tries)),
    )


def _unplanned(problem: PlanningProblem, beside: Beside, object_id: str) -> Blocking:
    now = problem.object_by_id[object_id].loss_if_never + _drop_points(problem, object_id)
    sentences: list[str] = []
    tries: list[Try] = []
    for treatment in (t for t in problem.treatments if t.object_id == object_id):
        fitting = Fitting(beside, treatment)
        mine = [_try(problem, fitting, month, now) for month in beside.calendar.open_months]
        tries.extend(mine)
        sentences.append(_unplanned_sentence(problem, fitting, mine))
    if not sentences:
        sentences.append(f"There is no treatment for {object_id} to plan.")
    return Blocking(
        object_id=object_id, treatment_id=None, start=None, tries=tuple(tries), sentences=tuple(sentences)
    )


def _try(problem: PlanningProblem, fitting: Fitting, start: int, now: int) -> Try:
    treatment = fitting.treatment
    promise = _promise(problem, treatment, start)
    lack = None if promise else fitting.lack_from(start)
    found = None if promise or lack else fitting.best_from(start)
    if found is not None:
        change = found[0] + _move_points(problem, treatment, start) - now
        return Try(treatment_id=treatment.treatment_id, start=start, fits=True, change=change, lacks=())
    lacks = (promise,) if promise else tuple(_told(problem, fitting, lack, start)) if lack else ()
    return Try(treatment_id=treatment.treatment_id, start=start, fits=False, change=None, lacks=lacks)


def _own_points(problem: PlanningProblem, beside: Beside, timeline: Timeline) -> int:
    points = timeline.treatment.loss_if_done[timeline.end]
    points += timeline.away_months * problem.object_by_id[timeline.object_id].away_points
    return points + sum(beside.overtime(span.stage, span.start) for span in timeline.spans)


def _former(problem: PlanningProblem, object_id: str) -> Job | None:
    jobs = problem.baseline.plan.jobs if problem.baseline else ()
    return next((job for job in jobs if job.object_id == object_id), None)


def _drop_points(problem: PlanningProblem, object_id: str) -> int:
    former = _former(problem, object_id)
    return problem.baseline.drop_points if former and problem.baseline else 0


def _move_points(problem: PlanningProblem, treatment: PlanTreatment, start: int) -> int:
    former = _former(problem, treatment.object_id)
    if former is None or problem.baseline is None:
        return 0
    if former.treatment_id != treatment.treatment_id:
        return problem.baseline.drop_points
    return problem.baseline.move_points * abs(start - former.stages[0].start)


def _is_frozen(problem: PlanningProblem, former: Job) -> bool:
    return problem.baseline is not None and former.stages[0].start < problem.baseline.frozen_until


def _promise(problem: PlanningProblem, treatment: PlanTreatment, start: int) -> Violation | None:
    """Return the pin or frozen start that a job of this treatment and start would break."""
    mine = treatment.object_id
    pin, former = problem.pin_of.get(mine), _former(problem, mine)
    kept: tuple[str, int, str] | None = None
    if pin is not None:
        kept = (pin.treatment_id, pin.start, "It is promised")
    elif former is not None and _is_frozen(problem, former):
        kept = (former.treatment_id, former.stages[0].start, "As the former plan is frozen there, it keeps")
    if kept is None or kept[:2] == (treatment.treatment_id, start):
        return None
    text = f"{kept[2]} {kept[0]} from {month_text(problem, kept[1])}."
    return Violation(rule=9, ids=(mine, kept[0]), from_month=kept[1], to_month=kept[1], text=text)


def _told(problem: PlanningProblem, fitting: Fitting, lack: Lack, start: int) -> Iterator[Violation]:
    """Yield a lack as broken rules in words."""
    mine, stages = fitting.treatment, len(fitting.treatment.stages)
    stage = f"Stage {lack.stage} of {stages}: " if lack.stage and stages > 1 else ""
    for short in lack.shorts:
        yield Violation(
            rule=short.rule,
            ids=tuple(filter(None, (short.resource_id, mine.object_id))),
            from_month=short.from_month,
            to_month=short.to_month,
            text=stage + shortfall_text(problem, short),
        )
    if lack.reason:
        rule, text = _reason(problem, fitting, lack)
        ids = (mine.object_id, mine.treatment_id)
        yield Violation(rule=rule, ids=ids, from_month=start, to_month=start, text=stage + text)


def _reason(problem: PlanningProblem, fitting: Fitting, lack: Lack) -> tuple[int, str]:
    mine = fitting.treatment
    if lack.reason == "early":
        return 1, f"{mine.treatment_id} may not start before {month_text(problem, mine.earliest)}."
    if lack.reason == "late":
        return 1, f"{mine.treatment_id} may not start after {month_text(problem, mine.latest)}."
    if lack.reason == "horizon":
        return (
            1,
            f"It would not be done by {month_text(problem, problem.months - 1)}, the last month planned.",
        )
    if lack.reason == "no door":
        stage = mine.stages[lack.stage - 1]
        size = f"{stage.width_cm} x {stage.height_cm} cm (width x height)"
        return 3, f"No space of kind {stage.place} has a door that lets {size} through."
    months = sorted(fitting.spot_needed)
    when = months_text(problem, months[0], months[-1])
    return 4, f"Other work in the hall relies on the spot of {mine.object_id} being free {when}."


def _planned_sentences(problem: PlanningProblem, job: Job, start: int, tries: Sequence[Try]) -> Iterator[str]:
    when = month_text(problem, start)
    if not tries:
        yield f"{job.object_id} starts in {when}, the first month work is open; it cannot start sooner."
        return
    fits = [t for t in tries if t.fits]
    if not fits:
        yield f"{job.object_id} starts in {when}; while the other jobs stay, it fits in no earlier month."
    else:
        months = listed([month_text(problem, t.start) for t in reversed(fits[-TOLD:])])
        more = f" and {len(fits) - TOLD} more" if len(fits) > TOLD else ""
        least = min(fits, key=lambda t: t.change or 0)
        yield (
            f"{job.object_id} starts in {when}. It would also fit from {months}{more}; from "
            f"{month_text(problem, least.start)} the plan's total would {_changed(least.change or 0)}."
        )
    yield from _grouped(problem, tries)


def _grouped(problem: PlanningProblem, tries: Sequence[Try]) -> Iterator[str]:
    """Yield what is short for the nearest months without room, neighbours that lack the same told once."""
    groups: list[tuple[list[int], str]] = []
    for texts, months in groupby(tries, key=lambda t: " ".join(lack.text for lack in t.lacks)):
        if texts:
            groups.append(([t.start for t in months], texts))
    for starts, texts in groups[:TOLD]:
        when = month_text(problem, starts[0])
        if len(starts) > 1:
            when = f"any open month from {month_text(problem, starts[-1])} to {when}"
        yield f"To start in {when}: {texts}"
    rest = sum(len(starts) for starts, _ in groups[TOLD:])
    if rest:
        yield f"There is no room in {counted(rest, 'earlier month')} either."


def _unplanned_sentence(problem: PlanningProblem, fitting: Fitting, tries: Sequence[Try]) -> str:
    treatment = fitting.treatment
    name = f"{treatment.treatment_id} on {treatment.object_id}"
    fits = [t for t in tries if t.change is not None]
    if fits:
        best = min(fits, key=lambda t: t.change or 0)
        when, change = month_text(problem, best.start), best.change or 0
        if change >= 0:
            return (
                f"{name} would fit, but is not worth it: at its best, from {when}, the plan's total would "
                f"{_changed(change)}, since {_balance(problem, fitting, best.start)}."
            )
        return (
            f"{name} would fit beside the other jobs from {when}, and the plan's total would "
            f"{_changed(change)}; the search did not come to it."
        )
    inside = [t for t in tries if treatment.earliest <= t.start <= treatment.latest]
    if not inside:
        return f"{name} may start in no open month planned."
    alone = Fitting(Beside(problem, []), treatment)
    if all(alone.lack_from(one.start) for one in inside):
        lack = alone.lack_from(inside[0].start)
        texts = " ".join(told.text for told in _told(problem, alone, lack, inside[0].start)) if lack else ""
        return (
            f"{name} would fit in no month even if nothing else were planned. "
            f"From {month_text(problem, inside[0].start)}: {texts}"
        )
    texts = " ".join(lack.text for lack in inside[0].lacks)
    return (
        f"{name} fits in none of the {counted(len(inside), 'month')} it may start in while the other jobs "
        f"stay. Short are {_tally(inside)}. From {month_text(problem, inside[0].start)}: {texts}"
    )


def _tally(tries: Sequence[Try]) -> str:
    """Return what is short in how many of the months tried, the most frequent first."""
    counts = Counter(name for one in tries for name in {_short_name(lack) for lack in one.lacks})
    return listed([f"{name} in {counted(count, 'month')}" for name, count in counts.most_common(TOLD)])


def _short_name(lack: Violation) -> str:
    kind = SHORT_NAMES[lack.rule]
    return f"{kind} of {lack.ids[0]}" if lack.rule in NAMED else kind


def _balance(problem: PlanningProblem, fitting: Fitting, start: int) -> str:
    """Return what a job saves and what it costs, in points."""
    found = fitting.best_from(start)
    assert found is not None  # asked only of starts that fit
    points, job = found
    item, timeline = fitting.item, timelines_of(problem, fitting.calendar, [job])[0]
    saved = item.loss_if_never - fitting.treatment.loss_if_done[timeline.end]
    away = timeline.away_months * item.away_points
    overtime = points - fitting.treatment.loss_if_done[timeline.end] - away
    costs = [f"{away} for {counted(timeline.away_months, 'month')} off display"] if away else []
    costs += [f"{overtime} for overtime"] if overtime else []
    moves = _move_points(problem, fitting.treatment, start) - _drop_points(problem, item.object_id)
    costs += [f"{moves} for departing from the former plan"] if moves > 0 else []
    return f"it saves {saved} points of loss" + (f" and costs {listed(costs)}" if costs else "")


def _changed(change: int) -> str:
    if change == 0:
        return "stay the same"
    return f"{'rise' if change > 0 else 'fall'} by {counted(abs(change), 'point')}"
