"""Fifth sheet: how the figures are made, with every value judgement and assumption."""

from __future__ import annotations

from collections.abc import Mapping

from dash import html

from dashboard.parts import figure_notes as parts
from dashboard.parts.marks import folded, words
from dashboard.parts.plan_words import search_facts
from dashboard.parts.shell import Sheet
from triage.reports.study import Study
from triage.risk.values import risk_values

PATH = "/figures"


def layout(study: Study, _query: Mapping[str, str]) -> Sheet:
    """Return the sheet."""
    collection, values = study.collection, risk_values(study.collection)
    body = [
        html.H1("How the figures are made"),
        *parts.steps(),
        *parts.limits(),
        html.H2("Value judgements"),
        html.P("Not one of these is a measurement. Change them where the museum judges otherwise."),
        parts.judgements(collection.settings),
        html.H3("What a grade has cost"),
        parts.kinds_table(values.kinds),
        folded("significance of each object", parts.significances(collection)),
        html.H2("How fast things wear"),
        html.P("Where the estimate starts from. The museum's own grades then move it."),
        folded(
            "years in each grade, by material, and what speeds wear", parts.materials_table(values.materials)
        ),
        *(
            [html.H2("Assumed for want of a record"), words(study.forecast.notes)]
            if study.forecast.notes
            else []
        ),
        html.H2("This plan"),
        *search_facts(study.outcome),
    ]
    return Sheet("How figures are made", body, PATH)
