"""Which promises clash when no plan keeps them all: a smallest set, found by leaving promises out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from triage.planning.outcome import Violation
from triage.planning.problem import Job, Pin, PlanningProblem, PlanRule
from triage.planning.timeline import calendar_of, end_without_waits
from triage.planning.words import listed, month_text, months_text


@dataclass(frozen=True)
class _Promise:
    pin: Pin | None = None
    frozen: Job | None = None
    rule: PlanRule | None = None


def conflicts(problem: PlanningProblem, feasible: Callable[[PlanningProblem], bool]) -> tuple[Violation, ...]:
    """Return a set of promises that cannot all be kept, none of which can be spared from it.

    Promises are pins, starts frozen by the former plan and display rules. Without any of them the empty plan
    keeps every rule, so an impossible problem always has such a set.

    Parameters
    ----------
    problem
        A problem known to be impossible.
    feasible
        Says whether a problem has any plan. "Not known" must be told as True; the set may then hold
        promises that could be spared.
    """
    kept = _promises(problem)
    size = max(1, len(kept) // 2)
    while True:
        place = 0
        while place < len(kept):
            fewer = kept[:place] + kept[place + size :]
            if len(fewer) < len(kept) and not feasible(_with_only(problem, fewer)):
                kept = fewer
            else:
                place += size
        if size == 1:
            break
        size //= 2
    return tuple(_told(problem, promise) for promise in kept)


def _promises(problem: PlanningProblem) -> list[_Promise]:
    """Return the promises, those most likely to be spared first."""
    baseline = problem.baseline
    found = [_Promise(rule=rule) for rule in problem.rules]
    if baseline is not None:
        jobs = baseline.plan.jobs
        found += [_Promise(frozen=job) for job in jobs if job.stages[0].start < baseline.frozen_until]
    return found + [_Promise(pin=pin) for pin in problem.pins]


def _with_only(problem: PlanningProblem, promises: Sequence[_Promise]) -> PlanningProblem:
    """Return the problem with only these promises; what the former plan costs is left out with it."""
    baseline = problem.baseline
    if baseline is not None:
        jobs = tuple(p.frozen for p in promises if p.frozen is not None)
        plan = baseline.plan.model_copy(update={"jobs": jobs})
        baseline = baseline.model_copy(update={"plan": plan}) if jobs else None
    return problem.model_copy(
        update={
            "pins": tuple(p.pin for p in promises if p.pin is not None),
            "rules": tuple(p.rule for p in promises if p.rule is not None),
            "baseline": baseline,
        }
    )


def _told(problem: PlanningProblem, promise: _Promise) -> Violation:
    if promise.rule is not None:
        return _told_rule(problem, promise.rule)
    if promise.pin is not None:
        object_id, treatment_id, start = promise.pin.object_id, promise.pin.treatment_id, promise.pin.start
        why = "is promised"
    else:
        assert promise.frozen is not None  # a promise is one of the three
        object_id, treatment_id = promise.frozen.object_id, promise.frozen.treatment_id
        start, why = promise.frozen.stages[0].start, "keeps, as the former plan is frozen,"
    end = end_without_waits(calendar_of(problem), problem.treatment_by_id[treatment_id].stages, start)
    last = problem.months - 1 if end is None else end - 1
    text = f"{object_id} {why} {treatment_id} from {month_text(problem, start)}."
    ids, until = (object_id, treatment_id), max(start, last)
    return Violation(rule=9, ids=ids, from_month=start, to_month=until, text=text)


def _told_rule(problem: PlanningProblem, rule: PlanRule) -> Violation:
    last = min(rule.to_month, problem.months - 1)
    objects = listed(rule.object_ids)
    when = months_text(problem, rule.from_month, last)
    if rule.kind == "on_show":
        text = f"Display rule {rule.rule_id} keeps {objects} on show {when}."
    elif rule.kind == "at_least":
        text = f"Display rule {rule.rule_id} keeps at least {rule.number} of {objects} on show {when}."
    else:
        most = 1 if rule.number is None else rule.number
        text = f"Display rule {rule.rule_id} lets at most {most} of {objects} be away at once {when}."
    ids = (rule.rule_id, *rule.object_ids)
    return Violation(rule=7, ids=ids, from_month=rule.from_month, to_month=last, text=text)
