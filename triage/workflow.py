"""What a user can do, one function each; the command line and the dashboard call nothing else.

Every function returns plain frozen results and prints nothing. Long ones report each step through ``say``,
a function that takes one sentence; if it raises, the work stops there and what it raised comes through.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from triage import risk
from triage.errors import Cancelled, UnusableInput
from triage.files import read_text
from triage.planning.assemble import assemble
from triage.planning.outcome import Ending, Outcome, Violation
from triage.planning.problem import Plan, PlanningProblem
from triage.planning.reading import read_plan_or_outcome, read_problem
from triage.planning.solver import Limits, Progress, solve
from triage.planning.verify import never, score, verify, verify_outcome
from triage.records import Collection
from triage.reports.forecast_table import ForecastTable, forecast_rows
from triage.reports.object_page import object_page
from triage.reports.rows import ObjectPage
from triage.reports.study import Study
from triage.survey import Intake, read_collection

__all__ = [
    "SECONDS",
    "Study",
    "Verdict",
    "check",
    "explain",
    "forecast_table",
    "prepare",
    "search",
    "solve_file",
    "study",
    "verify_file",
    "with_plan",
]

SECONDS = 60.0
PHASES = {
    "starting": "starting the search",
    "promises": "looking whether every promise can be kept",
    "conflicts": "looking which promises clash",
    "bound": "proving what no plan can beat",
    "first plan": "making a first plan",
    "search": "looking for better plans",
    "integer program": "solving the integer program",
    "proof": "proving the plan best",
}
"""What the solver's own words for its steps mean to people."""
Say = Callable[[str], None]
Cancelling = Callable[[], bool]


def _silent(_: str) -> None:
    """Say nothing."""


def _going_on() -> bool:
    """Return that nobody wants the work to end."""
    return False


@dataclass(frozen=True)
class Verdict:
    """What the checker found; ``has_plan`` is False for an outcome without a plan."""

    broken: tuple[Violation, ...]
    has_plan: bool


def check(path: Path) -> Intake:
    """Read a collection folder or workbook and return everything that is wrong with it.

    Raises
    ------
    UnusableInput
        If there is no such folder or workbook, or it cannot be opened.
    """
    return read_collection(path)


def usable(path: Path, strict: bool = False) -> tuple[Intake, Collection]:
    """Return a collection that can be worked with.

    Raises
    ------
    UnusableInput
        If the needed tables cannot be used; with ``strict`` also if a faulty row would loosen a promise.
    """
    intake = read_collection(path)
    if intake.collection is None:
        raise UnusableInput(f"{path} cannot be used as a collection.", intake.faults)
    if strict and intake.loosening:
        raise UnusableInput(
            "No plan is made: faulty rows would loosen a promise, a limit or running work. Mend them first.",
            intake.loosening,
        )
    return intake, intake.collection


def forecast_table(path: Path, say: Say = _silent) -> ForecastTable:
    """Return the forecast of every element, ready to be written.

    Raises
    ------
    UnusableInput
        If the collection cannot be used.
    """
    intake, collection = usable(path)
    say("Fitting the deterioration model to the grades.")
    forecast = risk.forecast(risk.fit(collection))
    return ForecastTable(intake=intake, forecast=forecast, rows=forecast_rows(forecast))


def prepare(path: Path, say: Say = _silent) -> Study:
    """Return everything up to the planning problem, without a plan.

    Raises
    ------
    UnusableInput
        If the collection cannot be used, or a faulty row would loosen a promise, a limit or running work.
    """
    say("Reading the collection.")
    intake, collection = usable(path, strict=True)
    say("Fitting the deterioration model to the grades.")
    fitted = risk.fit(collection)
    say("Working out what each object stands to lose.")
    losses = risk.object_losses(fitted)
    return Study(
        intake=intake,
        collection=collection,
        fitted=fitted,
        forecast=risk.forecast(fitted),
        losses=losses,
        flags=risk.safety_flags(fitted),
        assembled=assemble(collection, losses),
    )


def study(
    path: Path, seconds: float = SECONDS, say: Say = _silent, cancelled: Cancelling = _going_on
) -> Study:
    """Do the main job: from a collection to a checked plan.

    Raises
    ------
    UnusableInput
        As :func:`prepare`.
    """
    prepared = prepare(path, say)
    return replace(prepared, outcome=search(prepared.assembled.problem, seconds, say, cancelled))


def search(
    problem: PlanningProblem,
    seconds: float = SECONDS,
    say: Say = _silent,
    cancelled: Cancelling = _going_on,
) -> Outcome:
    """Search for a plan and have it checked before anybody sees it.

    ``cancelled`` is asked a few times a second; once it says yes the search ends with its best plan so far.
    """
    say(f"Searching for the best plan, at most {seconds:g} s.")
    return checked(problem, solve(problem, Limits(seconds=seconds), Narrator(say, cancelled)))


class Narrator:
    """Tells the news of a search: at most one sentence in two seconds, none without news."""

    PAUSE = 2.0

    def __init__(self, say: Say, cancelled: Cancelling) -> None:
        self._say = say
        self._cancelled = cancelled
        self._told: tuple[str, int | None, int | None] | None = None
        self._when = -self.PAUSE

    def __call__(self, step: Progress) -> None:
        """Take one report of the search.

        Raises
        ------
        Cancelled
            If somebody wants the search to end.
        """
        if self._cancelled():
            raise Cancelled("Cancelled.")
        news = (step.phase, step.incumbent, step.bound)
        if news != self._told and step.seconds >= self._when + self.PAUSE:
            self._told, self._when = news, step.seconds
            self._say(progress_words(step))


def progress_words(step: Progress) -> str:
    """Return one sentence about a search that goes on."""
    text = f"{step.seconds:.0f} s: {PHASES.get(step.phase, step.phase)}"
    if step.incumbent is not None:
        text += f", best plan so far {step.incumbent} points"
    if step.bound is not None:
        text += f", none can go below {step.bound}"
    return f"{text}."


def checked(problem: PlanningProblem, outcome: Outcome) -> Outcome:
    """Return the outcome if its plan passes the checker, else one that says what was refused and why."""
    broken = verify_outcome(problem, outcome)
    if not broken:
        return outcome
    return outcome.model_copy(
        update={
            "ending": Ending.REJECTED,
            "plan": None,
            "made_by": None,
            "never": never(problem),
            "bound": None,
            "gap": None,
            "message": "What the search returned broke a rule, so it is not shown.",
            "conflicts": broken,
        }
    )


def solve_file(path: Path, seconds: float = SECONDS, say: Say = _silent) -> Outcome:
    """Plan a problem file.

    Raises
    ------
    UnusableInput
        If the file cannot be read or breaks its schema, with every fault.
    """
    return search(read_problem(read_text(path)), seconds, say)


def verify_file(problem_path: Path, plan_path: Path) -> Verdict:
    """Check a plan or outcome file against a problem file.

    Raises
    ------
    UnusableInput
        If either file cannot be read or breaks its schema, with every fault.
    """
    problem = read_problem(read_text(problem_path))
    read = read_plan_or_outcome(read_text(plan_path))
    if isinstance(read, Plan):
        return Verdict(verify(problem, read), has_plan=True)
    return Verdict(verify_outcome(problem, read), has_plan=read.plan is not None)


def with_plan(prepared: Study, plan_path: Path) -> Study:
    """Return a prepared study with the plan or outcome of a file.

    A plan made while the folder said something else is counted anew: if it still keeps every rule it is
    shown, and how good it is counts as not known.

    Raises
    ------
    UnusableInput
        If the file cannot be read, or its plan breaks a rule of the problem as the folder now stands.
    """
    read, problem = read_plan_or_outcome(read_text(plan_path)), prepared.assembled.problem
    plan = read if isinstance(read, Plan) else read.plan
    if isinstance(read, Outcome) and (plan is None or read.problem_digest == problem.digest()):
        outcome, broken = read, verify_outcome(problem, read)
    else:
        assert plan is not None
        here = _counted_anew(problem, plan)
        outcome, broken = _plan_alone(problem, here), verify(problem, here)
    if broken:
        reasons = " ".join(v.text for v in broken[:3])
        raise UnusableInput(
            f"{plan_path} does not hold for this folder as it now stands; make a new one with 'triage plan'. "
            f"{reasons}"
        )
    return replace(prepared, outcome=outcome)


def _counted_anew(problem: PlanningProblem, plan: Plan) -> Plan:
    """Return a plan with the points it has now, where it was made for another state of the problem."""
    if plan.problem_digest == problem.digest():
        return plan
    here = plan.model_copy(update={"problem_digest": problem.digest()})
    try:
        return here.model_copy(update={"points": score(problem, plan.jobs)})
    except ValueError:
        return here


def _plan_alone(problem: PlanningProblem, plan: Plan) -> Outcome:
    """Return a plan as an outcome of which nothing more is known."""
    return Outcome(
        problem_digest=plan.problem_digest,
        ending=Ending.BEST_IN_TIME,
        plan=plan,
        made_by=None,
        never=never(problem),
        bound=None,
        gap=None,
        seconds=0.0,
        solver="",
        message="Read from a file; how good it is against the folder as it now stands is not known.",
    )


def explain(made: Study, object_id: str) -> ObjectPage:
    """Return everything that explains an object's place in the plan.

    Raises
    ------
    UnusableInput
        If the collection has no such object; ids that look alike are named.
    """
    known = made.collection.object_by_id
    if object_id not in known:
        raise UnusableInput(f"There is no object {object_id!r}.{_close_to(object_id, list(known))}")
    return object_page(made, object_id)


def _close_to(object_id: str, known: list[str]) -> str:
    folded = {other.casefold(): other for other in known}
    close = [folded[key] for key in difflib.get_close_matches(object_id.casefold(), folded, n=3, cutoff=0.5)]
    return f" Did you mean {' or '.join(close)}?" if close else ""
