"""The dashboard as a program of its own: ``python -m tests.browser.serving STATE PORT FOLDER``.

States: ``tiny`` (a study with a plan made by hand), ``no_plan`` (its promises clash), ``planning`` (work that
goes on until it is cancelled), ``broken`` (a source that fails), ``folder`` (FOLDER, planned for 4 seconds).
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

from dashboard.app import serve
from dashboard.source import FixedSource, Planning, Ready, Source, State, Stopped
from tests.studies import study
from triage.planning.outcome import Ending
from triage.reports.study import Study
from triage.wiring import FolderSource


class SlowWork:
    """Planning that goes on until it is cancelled, and then shows the best plan it had."""

    name = "tiny"

    def __init__(self, made: Study) -> None:
        self._made = made
        self._began = time.monotonic()
        self._cancelled = False

    def state(self) -> State:
        """Return the progress, or the study once cancelled."""
        if self._cancelled:
            return Ready(self._made)
        seconds = time.monotonic() - self._began
        return Planning(("Reading the collection.", f"{seconds:.0f} s: looking."), seconds, 600.0)

    def cancel(self) -> None:
        """Stop at once."""
        self._cancelled = True

    def again(self) -> None:
        """Begin anew."""
        self._cancelled = False


class Broken(FixedSource):
    """A source that fails, as no source should."""

    def state(self) -> State:
        """Return a state no sheet can draw."""
        return Ready(None)  # type: ignore[arg-type]  # on purpose: the failure must be met by the sheets


def source(state: str, folder: Path) -> Source:
    """Return the source a test asked for."""
    if state == "tiny":
        return FixedSource(Ready(study()), "tiny")
    if state == "no_plan":
        made = study()
        assert made.outcome is not None
        none = {"ending": Ending.IMPOSSIBLE, "plan": None, "made_by": None, "bound": None, "gap": None}
        return FixedSource(Ready(replace(made, outcome=made.outcome.model_copy(update=none))), "tiny")
    if state == "planning":
        return SlowWork(study())
    if state == "broken":
        return Broken(Stopped(""), "tiny")
    return FolderSource(folder, None, 4.0)


if __name__ == "__main__":
    serve(source(sys.argv[1], Path(sys.argv[3])), int(sys.argv[2]))
