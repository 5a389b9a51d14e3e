"""Plugs what a user can do into the dashboard: the only place that knows both."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from dashboard.source import Planning, Ready, State, Stopped, Unusable
from triage import workflow
from triage.jobs import PlanJob, Say
from triage.reports.study import Study

GRACE = 10.0
"""Seconds a search is given to end when the dashboard is closed."""


class FolderSource:
    """The study of a folder, made while the dashboard is open already.

    Parameters
    ----------
    folder
        A collection folder or workbook.
    plan
        A plan or outcome file to show instead of searching for one; None: search.
    seconds
        How long the search may take.
    """

    def __init__(self, folder: Path, plan: Path | None, seconds: float) -> None:
        self._folder = folder
        self._plan = plan
        self._seconds = seconds
        self._job = PlanJob(self._make).start()

    @property
    def name(self) -> str:
        """The folder as the user gave it."""
        return str(self._folder)

    def state(self) -> State:
        """Return what can be shown now; never waits."""
        now = self._job.poll()
        if now.study is not None:
            return Ready(now.study)
        if now.refused is not None:
            return Unusable(str(now.refused), now.refused.faults)
        if now.stopped:
            return Stopped(now.stopped)
        return Planning(now.said, now.seconds, self._seconds, now.cancelling)

    def cancel(self) -> None:
        """Stop making the study; a plan found so far is kept."""
        self._job.cancel()

    def close(self) -> None:
        """Stop the work and wait until its processes have ended."""
        self._job.cancel()
        self._job.wait(GRACE)

    def again(self) -> None:
        """Read the folder and plan anew, unless that is being done."""
        if self._job.poll().ended:
            self._plan = None
            self._job = PlanJob(self._make).start()

    def _make(self, say: Say, cancelled: Callable[[], bool]) -> Study:
        if self._plan is not None:
            return workflow.with_plan(workflow.prepare(self._folder, say), self._plan)
        return workflow.study(self._folder, self._seconds, say, cancelled)
