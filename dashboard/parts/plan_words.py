"""How good the plan is and how that is known, in words."""

from __future__ import annotations

from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts.marks import Child, facts, words
from triage.planning.outcome import Ending, Outcome, Violation
from triage.records import Settings
from triage.reports.standing import points_in_words, standing
from triage.reports.words import at_most_percent
from triage.units import month_words

ENDINGS = {
    Ending.PROVEN_BEST: "proven best",
    Ending.BEST_IN_TIME: "best found in the time given",
    Ending.NO_PLAN_IN_TIME: "no plan found in the time given",
    Ending.IMPOSSIBLE: "impossible: promises clash",
    Ending.SOLVER_MISSING: "no solver on this machine",
    Ending.SOLVER_FAILED: "the solver failed",
    Ending.CANCELLED: "cancelled",
    Ending.REJECTED: "refused by the checker",
}
MADE_BY = {
    "integer_program": "an integer program",
    "greedy": "a rule of thumb (no solver answered)",
    None: "",
}


def ending_words(outcome: Outcome | None) -> str:
    """Return how the search ended in a few words."""
    return "not searched yet" if outcome is None else ENDINGS[outcome.ending]


def gap_words(outcome: Outcome | None) -> str:
    """Return how much of the avoidable loss is still open, or that it is not known."""
    if outcome is None or outcome.plan is None:
        return ""
    if outcome.gap is None:
        return "not known"
    return f"at most {at_most_percent(outcome.gap)} of the avoidable loss"


def block_facts(settings: Settings, outcome: Outcome | None) -> list[tuple[str, Child]]:
    """Return what the title block says of the plan."""
    last = month_words(settings.end_month - 1)
    return [
        ("Months", f"{month_words(settings.first_month)} - {last}"),
        ("Plan", ending_words(outcome)),
        ("Left to gain", gap_words(outcome)),
        ("Loss judged at", f"{settings.value_years:g} years from now"),
        ("Floor", "areas checked, shapes not"),
    ]


def search_facts(outcome: Outcome | None) -> list[Component]:
    """Return everything known about the search for the plan, points last."""
    if outcome is None:
        return [html.P("Nobody has searched for a plan yet.")]
    return [
        html.P(standing(outcome), className="lead"),
        facts(
            [
                ("Ended", ENDINGS[outcome.ending]),
                ("Made by", MADE_BY[outcome.made_by]),
                ("Solver", outcome.solver),
                ("Took", f"{outcome.seconds:.1f} s"),
                ("Left to gain", gap_words(outcome)),
                ("Checked against", f"problem {outcome.problem_digest[:12]}"),
            ]
        ),
        html.P(outcome.message),
        html.P(points_in_words(outcome)),
    ]


def plan_sentence(outcome: Outcome | None) -> list[Component]:
    """Return how good the plan is, in one sentence."""
    return [] if outcome is None else [html.P(standing(outcome))]


def no_plan(outcome: Outcome | None) -> list[Component]:
    """Return the head of the first sheet where there is no plan to show: why, and what clashes."""
    if outcome is None:
        return [html.H1("No plan has been made yet")]
    return [
        html.H1(standing(outcome)),
        html.P(outcome.message, className="lead"),
        *conflicts(outcome.conflicts),
        html.P("The grades, forecasts and safety flags on the other sheets stand as they are."),
    ]


def conflicts(rows: Sequence[Violation]) -> list[Component]:
    """Return which promises and limits clash; nothing where none do."""
    return [html.H2("What clashes"), words([r.text for r in rows])] if rows else []
