"""The use cases."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.folder import TABLES, write_folder
from tests.studies import outcome_of, study
from triage import workflow
from triage.errors import Cancelled, UnusableInput
from triage.planning.outcome import Ending, Outcome
from triage.planning.problem import PlanningProblem
from triage.planning.solver import Limits, Progress

Tell = Callable[[Progress], None] | None


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return the tiny museum's folder."""
    return write_folder(tmp_path / "museum")


def test_study_goes_from_folder_to_checked_plan(folder: Path) -> None:
    """Every piece is there, the plan belongs to the problem, and each step was told in order."""
    said: list[str] = []
    made = workflow.study(folder, 20, said.append)

    assert made.outcome is not None
    assert made.outcome.plan is not None
    assert made.outcome.problem_digest == made.assembled.problem.digest()
    assert set(made.losses) == {"GLIDER", "BIPLANE"}
    assert [text.split()[0] for text in said[:4]] == ["Reading", "Fitting", "Working", "Searching"]


def test_the_same_folder_gives_the_same_problem(folder: Path) -> None:
    """Nothing depends on chance or the clock."""
    digests = {workflow.prepare(folder).assembled.problem.digest() for _ in range(2)}

    assert len(digests) == 1


def test_an_unusable_collection_raises_with_its_faults(tmp_path: Path) -> None:
    """Nothing can be forecast without elements."""
    with pytest.raises(UnusableInput) as refused:
        workflow.forecast_table(write_folder(tmp_path / "m", elements=None))

    assert any(getattr(fault, "file", "") == "elements.csv" for fault in refused.value.faults)


def test_only_loosening_faults_stop_a_plan(tmp_path: Path) -> None:
    """A bad grade goes aside; a bad limit stops, and only such faults are listed."""
    grades = TABLES["grades"].replace("GLIDER,covering,3", "GLIDER,covering,7")
    workflow.prepare(write_folder(tmp_path / "a", grades=grades))

    trades = TABLES["trades"].replace("80", "eighty")
    with pytest.raises(UnusableInput, match="loosen") as refused:
        workflow.prepare(write_folder(tmp_path / "b", grades=grades, trades=trades))
    assert [getattr(fault, "file", "") for fault in refused.value.faults] == ["trades.csv"]


def test_a_plan_that_fails_the_checker_is_never_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever a search returns is checked; a lie becomes the ending "rejected", with what was broken."""
    assembled = study().assembled
    sound = outcome_of(assembled)
    assert sound.plan is not None
    better = sound.plan.points.model_copy(update={"loss": 0, "total": 0})
    lying = sound.model_copy(update={"plan": sound.plan.model_copy(update={"points": better})})

    def solve(_problem: PlanningProblem, _limits: Limits, _progress: Tell) -> Outcome:
        return lying

    monkeypatch.setattr(workflow, "solve", solve)
    outcome = workflow.search(assembled.problem)

    assert (outcome.ending, outcome.plan, outcome.made_by) == (Ending.REJECTED, None, None)
    assert outcome.conflicts
    assert workflow.checked(assembled.problem, sound) == sound


def test_the_limit_reaches_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """--seconds is what the solver is told."""
    assembled, limits = study().assembled, []

    def solve(_problem: PlanningProblem, given: Limits, _progress: Tell) -> Outcome:
        limits.append(given.seconds)
        return outcome_of(assembled)

    monkeypatch.setattr(workflow, "solve", solve)
    workflow.search(assembled.problem, 7.5)

    assert limits == [7.5]


def test_news_is_told_at_most_once_in_two_seconds() -> None:
    """Quick reports are silent, old news too, and each sentence says plan and bound."""
    said: list[str] = []
    tell = workflow.Narrator(said.append, lambda: False)
    for seconds, best in ((0.0, None), (0.5, 90), (2.0, 90), (2.1, 80), (4.5, 90), (6.6, 70)):
        tell(Progress(seconds=seconds, incumbent=best, bound=None if best is None else 60, phase="search"))

    assert said == [
        "0 s: looking for better plans.",
        "2 s: looking for better plans, best plan so far 90 points, none can go below 60.",
        "7 s: looking for better plans, best plan so far 70 points, none can go below 60.",
    ]


def test_a_cancelled_search_ends_at_its_next_report() -> None:
    """The solver hears of it by the exception it documents."""
    tell = workflow.Narrator(lambda _: None, lambda: True)

    with pytest.raises(Cancelled):
        tell(Progress(seconds=1.0, incumbent=None, bound=None, phase="search"))


def test_explain_suggests_ids_that_look_alike() -> None:
    """Case does not matter; nothing alike, nothing suggested."""
    with pytest.raises(UnusableInput, match=r"Did you mean GLIDER\?"):
        workflow.explain(study(), "glidr")
    with pytest.raises(UnusableInput, match=r"There is no object 'zzz'\.$"):
        workflow.explain(study(), "zzz")
