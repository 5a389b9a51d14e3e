"""Objects with a doubtful safety element: they head every list, outside the points."""

from __future__ import annotations

from triage.reports.rows import Caution, SafetyRow
from triage.reports.study import Study
from triage.reports.words import hall_name, percent
from triage.risk import SafetyFlag

NOT_BY_POINTS = (
    "Do not wait for the plan: its months come from points, and points do not know danger. What the "
    "competent person decides enters the plan as a promise it must keep (a pin)."
)


def safety_rows(study: Study) -> tuple[SafetyRow, ...]:
    """Return the flagged objects, most doubtful first."""
    return tuple(_row(study, flag) for flag in study.flags)


def safety_cautions(study: Study, object_id: str) -> tuple[Caution, ...]:
    """Return what stands beside a flagged object's work, or its having none; empty without a flag."""
    flags = (flag for flag in study.flags if flag.object_id == object_id)
    return tuple(Caution("safety", f"{flag.caution} {NOT_BY_POINTS}") for flag in flags)


def _row(study: Study, flag: SafetyFlag) -> SafetyRow:
    item = study.collection.object_by_id[flag.object_id]
    return SafetyRow(
        object_id=item.object_id,
        object_name=item.called,
        hall_id=item.hall_id,
        hall_name=hall_name(study.collection, item.hall_id),
        mounting=item.mounting.value,
        element_ids=flag.element_ids,
        chance=flag.chance,
        low=flag.low,
        high=flag.high,
        worst_recorded=flag.worst_recorded,
        reason=f"{flag.reason} Flagged from a chance of {percent(flag.threshold)} on.",
        caution=Caution("safety", flag.caution),
    )
