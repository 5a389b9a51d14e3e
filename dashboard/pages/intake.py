"""Sixth sheet: what was read from the folder and what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping

from dash import html

from dashboard.parts.faults import counts_table, faults_by_level, intake_sentence
from dashboard.parts.shell import Sheet
from triage.reports.study import Study

PATH = "/intake"


def layout(study: Study, _query: Mapping[str, str]) -> Sheet:
    """Return the sheet."""
    intake = study.intake
    body = [
        html.H1("What was read"),
        html.P(intake_sentence(intake), className="lead"),
        counts_table(intake),
        *faults_by_level(intake.faults),
    ]
    return Sheet("What was read", body, PATH)
