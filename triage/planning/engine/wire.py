"""What parent and child processes say to each other: pickled messages with their length in front.

Only numbers, texts and arrays cross, and only between processes this package started.
"""

from __future__ import annotations

import pickle
import struct
from dataclasses import dataclass
from typing import BinaryIO

from triage.planning.engine.calendar import Floats
from triage.planning.outcome import Violation
from triage.planning.problem import PlanningProblem

_LENGTH = struct.Struct("<Q")


@dataclass(frozen=True)
class Task:
    """What a child is to do."""

    problem: PlanningProblem
    role: str
    """ "lead" (bound, proof, search), "search" (plans only) or "greedy" (no solver)."""
    alone: bool
    """True if there is no second child."""
    seconds: float
    seed: int
    solvers: tuple[str, ...]
    folder: str


SentJob = tuple[str, str, tuple[int, ...], tuple[str | None, ...]]
"""object_id, treatment_id, start month and space_id of every stage."""


@dataclass(frozen=True)
class PlanFound:
    """A plan with its total, and how it was made ("integer_program" or "greedy")."""

    total: int
    jobs: tuple[SentJob, ...]
    made_by: str


@dataclass(frozen=True)
class BoundFound:
    """No valid plan totals less than ``bound``."""

    bound: int


@dataclass(frozen=True)
class PricesFound:
    """Prices (rows,) of the resources, with classes merged."""

    prices: Floats


@dataclass(frozen=True)
class Phase:
    """What is being done now, in words, and by which solver."""

    text: str
    solver: str = ""


@dataclass(frozen=True)
class Clash:
    """No plan keeps every rule; the promises that clash, once they are known."""

    conflicts: tuple[Violation, ...]


@dataclass(frozen=True)
class Trouble:
    """A solver is missing or broke down."""

    missing: bool
    text: str


@dataclass(frozen=True)
class Finished:
    """The child has nothing left to do."""


Message = PlanFound | BoundFound | PricesFound | Phase | Clash | Trouble | Finished


def write(stream: BinaryIO, message: object) -> None:
    """Write one message.

    Raises
    ------
    OSError, ValueError
        If the other side is gone or the stream is closed.
    """
    body = pickle.dumps(message, protocol=pickle.HIGHEST_PROTOCOL)
    stream.write(_LENGTH.pack(len(body)) + body)
    stream.flush()


def read(stream: BinaryIO) -> object | None:
    """Read one message; None at the end of the stream."""
    head = stream.read(_LENGTH.size)
    if len(head) < _LENGTH.size:
        return None
    size = _LENGTH.unpack(head)[0]
    body = stream.read(size)
    return pickle.loads(body) if len(body) == size else None
