"""First sheet: which object comes off display next and why, and what the galleries need now."""

from __future__ import annotations

from collections.abc import Mapping

from dashboard.pages.horizon import horizon
from dashboard.parts import queue as parts
from dashboard.parts.plan_words import no_plan, plan_sentence
from dashboard.parts.shell import Sheet
from triage.reports import gallery, notes, safety
from triage.reports import queue as rows
from triage.reports.study import Study

PATH = "/"


def layout(study: Study, _query: Mapping[str, str]) -> Sheet:
    """Return the sheet."""
    jobs, months = rows.queue_rows(study), horizon(study)
    first = parts.next_off_display(jobs)
    running, (now, later), alone = (
        rows.running_rows(study),
        gallery.due(study),
        gallery.untreated_rows(study),
    )
    first_id = first.object_id if first else ""
    noted = notes.note_rows(study)
    planned = study.outcome is not None and study.outcome.plan is not None
    listed = (
        parts.Part("The queue", "queue", len(jobs), parts.queue_list(jobs, months, first_id=first_id)),
        parts.Part("In the galleries now", "galleries", len(now), parts.queue_list(now, months)),
        parts.Part("In the galleries later", "later", len(later), parts.queue_list(later, months, shown=0)),
        parts.Part("Work that goes on", "running", len(running), parts.queue_list(running, months)),
        parts.Part("Left untreated", "left", len(alone), parts.left_alone(alone)),
        parts.Part("What to know about this plan", "notes", len(noted), parts.note_words(noted)),
    )
    body = [
        *parts.safety_flags(safety.safety_rows(study)),
        *(
            [parts.decision(first, plan_sentence(study.outcome), study.collection.settings.currency)]
            if planned
            else no_plan(study.outcome)
        ),
        parts.contents(listed),
        *parts.sections(listed),
    ]
    return Sheet("Next off display", body, PATH)
