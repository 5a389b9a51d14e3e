"""Work in a thread that can be watched and cancelled."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from dashboard.source import Planning, Ready, State, Unusable
from tests.folder import write_folder
from tests.studies import study
from triage.errors import Cancelled, UnusableInput
from triage.jobs import PlanJob, Say
from triage.reports.study import Study
from triage.wiring import FolderSource

WAIT = 60.0
Asked = Callable[[], bool]


def test_a_job_tells_its_steps_and_ends_with_its_study() -> None:
    """Poll never waits; the end has the study and what was said."""
    made, gate = study(), threading.Event()

    def work(say: Say, _cancelled: Asked) -> Study:
        say("First.")
        gate.wait(WAIT)
        say("Second.")
        return made

    job = PlanJob(work).start()
    assert not job.poll().ended
    gate.set()
    state = job.wait(WAIT)

    assert state.ended
    assert state.study is made
    assert state.said == ("First.", "Second.")


def test_unusable_input_is_the_end_and_keeps_its_faults() -> None:
    """The page shows why."""
    error = UnusableInput("No.")

    def work(_say: Say, _cancelled: Asked) -> Study:
        raise error

    assert PlanJob(work).start().wait(WAIT).refused is error


def test_cancelling_ends_the_work_at_its_next_step() -> None:
    """Before any plan there is nothing to keep."""
    gate = threading.Event()

    def work(say: Say, _cancelled: Asked) -> Study:
        gate.wait(WAIT)
        say("Next step.")
        return study()

    job = PlanJob(work).start()
    job.cancel()
    assert job.poll().cancelling
    gate.set()
    state = job.wait(WAIT)

    assert state.study is None
    assert state.stopped == "Cancelled before a plan was found."


def test_work_that_keeps_its_best_plan_when_asked_to_end_ends_with_it() -> None:
    """A search asks whether to end, and its study is shown."""
    made, asked = study(), threading.Event()

    def work(_say: Say, cancelled: Asked) -> Study:
        asked.set()
        while not cancelled():
            pass
        return made

    job = PlanJob(work).start()
    asked.wait(WAIT)
    job.cancel()

    assert job.wait(WAIT).study is made


def test_a_solver_that_raises_cancelled_is_not_a_failure() -> None:
    """It is said as cancelled."""

    def work(_say: Say, _cancelled: Asked) -> Study:
        raise Cancelled("Cancelled.")

    assert PlanJob(work).start().wait(WAIT).stopped.startswith("Cancelled")


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_work_that_fails_says_so_and_never_hangs() -> None:
    """A fault of ours ends the wait with a sentence; the terminal has the rest."""

    def work(_say: Say, _cancelled: Asked) -> Study:
        raise RuntimeError("a fault of ours")

    state = PlanJob(work).start().wait(WAIT)

    assert state.ended
    assert "failed" in state.stopped


def settled(source: FolderSource) -> State:
    """Return what a source shows once it plans no more."""
    until = time.monotonic() + WAIT
    while isinstance(source.state(), Planning) and time.monotonic() < until:
        time.sleep(0.05)
    return source.state()


def test_a_folder_becomes_a_source_of_screens(tmp_path: Path) -> None:
    """Planning first, then ready with a plan; asked again it plans anew."""
    source = FolderSource(write_folder(tmp_path / "museum"), None, 20.0)
    assert isinstance(source.state(), Planning)
    ready = settled(source)
    assert isinstance(ready, Ready)
    assert ready.study.outcome is not None
    assert ready.study.outcome.plan is not None
    source.again()
    assert isinstance(source.state(), Planning)
    source.close()


def test_a_folder_that_cannot_be_used_is_shown_as_such(tmp_path: Path) -> None:
    """With its faults."""
    source = FolderSource(write_folder(tmp_path / "museum", elements=None), None, 20.0)
    state = settled(source)

    assert isinstance(state, Unusable)
    assert state.faults
