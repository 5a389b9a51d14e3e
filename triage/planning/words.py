"""Months and shortfalls of a planning problem in the museum's words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from triage.planning.ledger import Shortfall
from triage.planning.problem import PlanningProblem
from triage.units import month_no, month_words


@dataclass(frozen=True)
class Names:
    """What the museum calls what a problem knows by ids; an id without a name stands for itself."""

    objects: Mapping[str, str] = field(default_factory=dict)
    treatments: Mapping[str, str] = field(default_factory=dict)
    halls: Mapping[str, str] = field(default_factory=dict)
    spaces: Mapping[str, str] = field(default_factory=dict)
    rules: Mapping[str, str] = field(default_factory=dict)

    def of_object(self, object_id: str) -> str:
        """Return an object's name."""
        return self.objects.get(object_id, object_id)

    def of_treatment(self, treatment_id: str) -> str:
        """Return a treatment's title."""
        return self.treatments.get(treatment_id, treatment_id)

    def of_resource(self, rule: int, resource_id: str) -> str:
        """Return the name of the space, hall, trade or display rule that is short, by the rule broken."""
        named = {3: self.spaces, 4: self.halls, 6: self.halls, 7: self.rules}.get(rule, {})
        return named.get(resource_id, resource_id)


IDS = Names()
"""Everything called by its id."""


def month_text(problem: PlanningProblem, month: int) -> str:
    """Return a month of the problem as people write it, ``Mar 2027``."""
    return month_words(month_no(problem.first_month) + month)


def months_text(problem: PlanningProblem, first: int, last: int) -> str:
    """Return months, both included: ``in Mar 2027`` or ``from Mar 2027 to May 2027``."""
    if last <= first:
        return f"in {month_text(problem, first)}"
    return f"from {month_text(problem, first)} to {month_text(problem, last)}"


def listed(ids: Sequence[str]) -> str:
    """Return ids as a list in a sentence: ``A``, ``A and B``, ``A, B and C``."""
    if len(ids) < 2:
        return "".join(ids)
    return f"{', '.join(ids[:-1])} and {ids[-1]}"


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun: ``1 object``, ``2 objects``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def shortfall_text(problem: PlanningProblem, short: Shortfall, names: Names = IDS) -> str:
    """Return one sentence that says what is short, by how much and when."""
    when = months_text(problem, short.from_month, short.to_month)
    worst = "" if short.from_month == short.to_month else f" (most in {month_text(problem, short.worst)})"
    need, room = short.need, short.room
    name = names.of_resource(short.rule, short.resource_id)
    if short.kind == "hours":
        return (
            f"The work {when} asks {need} h of {name} a month; there are {room} h, overtime included{worst}."
        )
    if short.kind == "area":
        return f"{name} would hold {need} m² {when}; it has {room} m²{worst}."
    if short.kind == "slots":
        return f"{name} would hold {counted(need, 'job')} {when}; it takes {room} at once{worst}."
    if short.kind == "floor":
        return (
            f"{name} would need {need} m² of clear floor {when}; with the spots that are free it has "
            f"{room} m²{worst}. This is area, not shape."
        )
    if short.kind == "most_away":
        away = counted(need, "object")
        return f"{away} of {name} would be off display {when}; at most {room} may be{worst}."
    if short.kind == "display":
        return _display_text(problem, short, when, names)
    return (
        f"The jobs that start {when} would cost {need:,} together; the budget for those months is {room:,}."
    )


def _display_text(problem: PlanningProblem, short: Shortfall, when: str, names: Names) -> str:
    rule = next(r for r in problem.rules if r.rule_id == short.resource_id)
    objects = listed([names.of_object(i) for i in sorted(set(rule.object_ids))])
    called = f"Display rule {names.of_resource(7, rule.rule_id)}"
    if rule.kind == "on_show":
        return f"{called} keeps {objects} on show, but {short.need} would be away {when}."
    if rule.kind == "at_least":
        return (
            f"{called} keeps at least {rule.number} of {objects} on show, but {when} only "
            f"{len(set(rule.object_ids)) - short.need} would be."
        )
    return (
        f"{called} lets at most {short.room} of {objects} be away at once, but {when} {short.need} would be."
    )
