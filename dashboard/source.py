"""What is being shown: a study, one that is being made, or the reason why there is none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from triage.errors import Fault, JsonFault
from triage.reports.study import Study


@dataclass(frozen=True)
class Ready:
    """A study that can be shown, with or without a plan."""

    study: Study


@dataclass(frozen=True)
class Planning:
    """A study being made; ``said`` are the steps so far, the newest last."""

    said: tuple[str, ...]
    seconds: float
    """Since it was asked for."""
    allowed: float
    """Seconds the search for a plan may take."""
    cancelling: bool = False


@dataclass(frozen=True)
class Unusable:
    """A folder that cannot be used, with every fault found."""

    message: str
    faults: tuple[Fault | JsonFault, ...] = ()


@dataclass(frozen=True)
class Stopped:
    """Work that ended without a study: cancelled, or failed."""

    message: str


State = Ready | Planning | Unusable | Stopped


class Source(Protocol):
    """Where the screens get their study from."""

    @property
    def name(self) -> str:
        """The folder or file shown, as the user gave it."""

    def state(self) -> State:
        """Return the present state; quick, never blocks."""

    def cancel(self) -> None:
        """Stop making the study, if one is being made; a plan found so far is kept."""

    def again(self) -> None:
        """Read the folder and plan anew."""


@dataclass(frozen=True)
class FixedSource:
    """A state that never changes: a study made before."""

    fixed: State
    name: str = ""

    def state(self) -> State:
        """Return the state given."""
        return self.fixed

    def cancel(self) -> None:
        """Do nothing: nothing is being made."""

    def again(self) -> None:
        """Do nothing: the study was made elsewhere."""
