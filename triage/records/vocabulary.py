"""The closed lists of words in the record, each with where the word comes from."""

from __future__ import annotations

from enum import StrEnum


class Mounting(StrEnum):
    """How an object is shown (common practice, no source)."""

    HUNG = "hung"
    FLOOR = "floor"
    PLINTH = "plinth"
    STORE = "store"


class HazardState(StrEnum):
    """How far a hazard is known. Only a licensed or competent person clears one, in writing."""

    SUSPECTED = "suspected"
    CONFIRMED = "confirmed"
    CLEARED = "cleared"


class TreatmentKind(StrEnum):
    """Where a treatment is carried out."""

    IN_GALLERY = "in_gallery"
    WORKSHOP = "workshop"


class RuleKind(StrEnum):
    """The promises a gallery makes about what is on show."""

    AT_LEAST = "at_least"
    ON_SHOW = "on_show"
    NOT_TOGETHER = "not_together"


class Limited(StrEnum):
    """What a row of ``availability.csv`` changes."""

    TRADE = "trade"
    SPACE = "space"
    SLOTS = "slots"
    HALL = "hall"
    CLOSED = "closed"


HALL_PLACE = "hall"
"""The place of a stage that works on the clear floor of the object's own hall."""

WORST_GRADE = 4
GRADE_NAMES = {1: "good", 2: "fair", 3: "poor", 4: "unacceptable"}
"""Four-grade audit scale: S. Keene, Managing Conservation in Museums (names seen in public use of it)."""
