"""Sixth sheet: what was read from the folder and what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping

from dash import html

from dashboard.parts.faults import counts_table, extra_columns, faults_by_level, intake_sentence
from dashboard.parts.shell import Sheet
from triage.reports.study import Study

PATH = "/intake"


def layout(study: Study, _query: Mapping[str, str]) -> Sheet:
    """Return the sheet."""
    intake = study.intake
    body = [
        html.H1("What was read"),
        html.P(intake_sentence(intake), className="lead"),
        *faults_by_level(intake.faults),
        *extra_columns(intake),
        html.H2("If the folder has changed"),
        html.P("This sheet shows the folder as it was read. Read it again to plan with what it says now."),
        html.Button("Read the folder again and plan anew", id="again", type="button", className="handle"),
        html.H2("Rows by table"),
        counts_table(intake),
    ]
    return Sheet("What was read", body, PATH)
