"""The months a study plans for."""

from __future__ import annotations

from triage.reports.rows import Span
from triage.reports.study import Study


def horizon(study: Study) -> Span:
    """Return the plan's months."""
    settings = study.collection.settings
    return Span(settings.first_month, settings.end_month - 1)
