"""A long piece of work that can be watched and cancelled while somebody looks on: one thread, one study.

The search itself runs in child processes of the solver; this thread only waits for it. Cancelling ends the
work at its next step; a search that is cancelled keeps its best checked plan.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from triage.errors import Cancelled, UnusableInput
from triage.reports.study import Study

Say = Callable[[str], None]
Work = Callable[[Say, Callable[[], bool]], Study]
"""Work that tells its steps to the first and asks the second now and then whether to end."""


@dataclass(frozen=True)
class JobState:
    """Where a job stands; one of ``study``, ``refused`` and ``stopped`` is set once it has ended."""

    said: tuple[str, ...]
    seconds: float
    cancelling: bool
    study: Study | None = None
    refused: UnusableInput | None = None
    stopped: str = ""

    @property
    def ended(self) -> bool:
        """Whether nothing more will come."""
        return self.study is not None or self.refused is not None or bool(self.stopped)


class PlanJob:
    """Work that makes a study, in a thread of its own. Start it once."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._lock = threading.Lock()
        self._state = JobState(said=(), seconds=0.0, cancelling=False)
        self._cancel = threading.Event()
        self._began = time.monotonic()
        self._thread = threading.Thread(target=self._run, name="plan", daemon=True)

    def start(self) -> PlanJob:
        """Begin, and return at once."""
        self._began = time.monotonic()
        self._thread.start()
        return self

    def poll(self) -> JobState:
        """Return where the work stands, without waiting."""
        with self._lock:
            state = self._state
        if state.ended:
            return state
        return replace(state, seconds=self._seconds(), cancelling=self._cancel.is_set())

    def cancel(self) -> None:
        """Ask the work to stop at its next step; a plan found so far is kept."""
        self._cancel.set()

    def wait(self, seconds: float | None = None) -> JobState:
        """Wait for the end, at most so many seconds, and return where the work stands."""
        self._thread.join(seconds)
        return self.poll()

    def _seconds(self) -> float:
        return time.monotonic() - self._began

    def _say(self, sentence: str) -> None:
        with self._lock:
            self._state = replace(self._state, said=(*self._state.said, sentence))
        if self._cancel.is_set():
            raise Cancelled("Cancelled.")

    def _end(
        self, *, study: Study | None = None, refused: UnusableInput | None = None, stopped: str = ""
    ) -> None:
        with self._lock:
            self._state = replace(
                self._state, seconds=self._seconds(), study=study, refused=refused, stopped=stopped
            )

    def _run(self) -> None:
        try:
            self._end(study=self._work(self._say, self._cancel.is_set))
        except UnusableInput as error:
            self._end(refused=error)
        except Cancelled:
            self._end(stopped="Cancelled before a plan was found.")
        finally:
            if not self._state.ended:
                self._end(stopped="The work failed; the terminal that serves this page says why.")
