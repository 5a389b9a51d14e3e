"""Figures in words: shares, points, months and lists as people say them."""

from __future__ import annotations

import math
import re

from triage.planning.words import counted, listed
from triage.records import Collection
from triage.units import month_words

__all__ = [
    "about",
    "at_most_percent",
    "counted",
    "hall_name",
    "held",
    "listed",
    "object_name",
    "percent",
    "share_of_object",
    "stands",
    "value_month",
]

POINTS_OF_A_WHOLE = 100
"""Points of the whole of an object of significance 1."""
IN_STORE = "in store"
NO_BREAK = "\N{NO-BREAK SPACE}"
UNIT = re.compile(r"(?<=\d) (?=(?:%|m²|m|kg|h|s|hours?|months?|points?)(?![\w²]))")
"""The blank between a number and its unit."""


def held(text: str) -> str:
    """Return a text in which no line ends between a number and its unit."""
    return UNIT.sub(NO_BREAK, text)


def object_name(collection: Collection, object_id: str) -> str:
    """Return the name people use for an object."""
    return collection.object_by_id[object_id].called


def hall_name(collection: Collection, hall_id: str | None) -> str:
    """Return the name people use for a hall; ``in store`` for none."""
    if hall_id is None:
        return IN_STORE
    hall = collection.hall_by_id.get(hall_id)
    return hall_id if hall is None else hall.called


def stands(hall: str, mounting: str) -> str:
    """Return where an object is and how it is mounted, the store said once."""
    return hall if hall == IN_STORE else f"{hall}, {mounting}"


def share_of_object(collection: Collection, object_id: str, points: float) -> float:
    """Return points as a share of the whole object (0 to 1); 0 for an object of no significance."""
    whole = POINTS_OF_A_WHOLE * collection.object_by_id[object_id].significance
    return points / whole if whole else 0.0


def percent(share: float) -> str:
    """Return a share as people say it: ``34 %``, ``1.2 %`` below ten, ``less than 0.1 %`` near nothing."""
    value = 100 * share
    if value == 0:
        return "0 %"
    if abs(value) < 0.1:
        return "less than 0.1 %"
    return f"{value:.0f} %" if abs(value) >= 9.95 else f"{value:.1f} %"


def about(share: float) -> str:
    """Return a share as an estimate: ``about 34 %``, or ``less than 0.1 %``."""
    text = percent(share)
    return text if text.startswith("less") else f"about {text}"


def at_most_percent(share: float) -> str:
    """Return an upper limit as a percentage, rounded up so that it stays one."""
    return f"{math.ceil(round(share * 1000, 9)) / 10:.1f} %"


def value_month(collection: Collection, value_years: float) -> str:
    """Return the month at which lost substance is judged."""
    return month_words(collection.settings.first_month + round(12 * value_years))
