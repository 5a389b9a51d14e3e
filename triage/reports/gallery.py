"""What should happen in the galleries, and what the plan leaves alone."""

from __future__ import annotations

from triage.reports.queue import gallery_rows
from triage.reports.rows import JobRow, UntreatedRow
from triage.reports.safety import safety_cautions
from triage.reports.study import Study
from triage.reports.view import PlanView
from triage.reports.why import left_alone, wait_sentence
from triage.reports.words import hall_name, share_of_object

__all__ = ["due", "gallery_rows", "untreated_rows"]

SOON = 3
"""Months within which a gallery action is due now."""


def due(study: Study) -> tuple[tuple[JobRow, ...], tuple[JobRow, ...]]:
    """Return gallery actions as those due now (in the first three months) and those for later."""
    rows, until = gallery_rows(study), study.collection.settings.first_month + SOON
    return (
        tuple(row for row in rows if row.span.from_month < until),
        tuple(row for row in rows if row.span.from_month >= until),
    )


def untreated_rows(study: Study) -> tuple[UntreatedRow, ...]:
    """Return the objects without a job, dearest wait first, then largest loss."""
    treated = PlanView(study).by_object
    rows = [_row(study, o.object_id) for o in study.collection.objects if o.object_id not in treated]
    return tuple(sorted(rows, key=lambda r: (-r.wait_points, -r.loss_points, r.object_id)))


def _row(study: Study, object_id: str) -> UntreatedRow:
    item, loss = study.collection.object_by_id[object_id], study.losses[object_id]
    could = [t for t in study.assembled.problem.treatments if t.object_id == object_id]
    if could:
        extra = wait_sentence(study, object_id)
    elif object_id in study.collection.treatments_of:
        extra = "Nothing proposed for it could be planned: see the notes."
    else:
        extra = "Nobody has proposed a treatment."
    return UntreatedRow(
        object_id=object_id,
        object_name=item.called,
        hall_name=hall_name(study.collection, item.hall_id),
        has_treatment=bool(could),
        loss_points=study.assembled.problem.object_by_id[object_id].loss_if_never,
        loss_share=share_of_object(study.collection, object_id, loss.never),
        wait_points=loss.wait_year if could else 0.0,
        sentence=f"{left_alone(study, object_id)} {extra}".strip(),
        cautions=safety_cautions(study, object_id),
    )
