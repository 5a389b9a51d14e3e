"""Sources for tests: one that records what it was asked, one that breaks."""

from __future__ import annotations

from dataclasses import dataclass, field

from dashboard.source import State


@dataclass
class RecordingSource:
    """Shows a state and remembers what it was asked to do."""

    shown: State
    name: str = "folder"
    asked: list[str] = field(default_factory=list)

    def state(self) -> State:
        """Return the state set."""
        return self.shown

    def cancel(self) -> None:
        """Remember."""
        self.asked.append("cancel")

    def again(self) -> None:
        """Remember."""
        self.asked.append("again")


@dataclass
class BreakingSource(RecordingSource):
    """Works until told to break."""

    broken: bool = False

    def state(self) -> State:
        """Return the state set, or fail as no state should."""
        if self.broken:
            raise RuntimeError("secret detail of the machine")
        return self.shown
