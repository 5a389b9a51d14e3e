"""When a cause was at work on an element, and how badly.

A cause counts from ``began_on``, else its round's date, to ``ended_on``; not ended by now, it goes on. A
finding on the whole object counts on each of its elements. The same cause on the same element counts once:
from its own first day on a later finding takes the place of the earlier ones, its severity with it, and the
latest says whether the cause has ended.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from triage.records import Collection, ConditionFinding, Round
from triage.risk.tables import plain

GOES_ON = dt.date.max.toordinal()


@dataclass(frozen=True)
class Span:
    """Days (ordinals, the last excluded) on which a cause was at work at one severity."""

    cause: str
    first: int
    last: int
    severity: int


def spans_of(
    element_id: str, findings: tuple[ConditionFinding, ...], rounds: Mapping[str, Round], now: int
) -> tuple[Span, ...]:
    """Return the spans of every cause on one element, no two of one cause overlapping.

    Parameters
    ----------
    findings
        All findings of the element's object.
    now
        The day (ordinal) from which causes not ended go on.
    """
    mine = [f for f in findings if plain(f.cause) and f.element_id in (None, element_id)]
    mine.sort(key=lambda f: rounds[f.round_id].date)
    painted: dict[str, list[Span]] = {}
    for finding in mine:
        cause = plain(finding.cause)
        span = _span(finding, cause, rounds[finding.round_id].date, now)
        cut = min(span.first, span.last)
        kept = [
            Span(cause, s.first, min(s.last, cut), s.severity)
            for s in painted.get(cause, [])
            if s.first < cut
        ]
        painted[cause] = [*kept, span] if span.first < span.last else kept
    return tuple(span for spans in painted.values() for span in spans)


def _span(finding: ConditionFinding, cause: str, seen: dt.date, now: int) -> Span:
    first = min((finding.began_on or seen).toordinal(), now)
    ended = finding.ended_on
    last = GOES_ON if ended is None or ended.toordinal() > now else ended.toordinal()
    return Span(cause, first, last, finding.severity)


def cause_names(collection: Collection) -> tuple[str, ...]:
    """Return every cause the findings name, as compared, sorted."""
    return tuple(sorted({plain(f.cause) for f in collection.findings} - {""}))
