"""Fourth sheet: all objects, and a sheet for each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts import object_list, object_sheet
from dashboard.parts.cautions import safety_caution
from dashboard.parts.forecast import fan
from dashboard.parts.marks import grade_key
from dashboard.parts.past import past_table, past_words
from dashboard.parts.queue import safety_flags
from dashboard.parts.shell import Sheet
from triage.reports.object_page import object_page
from triage.reports.queue import gallery_rows, queue_rows, running_rows
from triage.reports.rows import ElementPage
from triage.reports.safety import safety_rows
from triage.reports.study import Study

PATH = "/objects"
JOBS = (queue_rows, gallery_rows, running_rows)


def layout(study: Study, _query: Mapping[str, str]) -> Sheet:
    """Return the list of all objects, hall by hall."""
    planned = {j.object_id: j.span for rows in JOBS for j in rows(study)}
    halls = object_list.by_hall(study.collection)
    flags = safety_flags(safety_rows(study))
    body = [
        html.H1("Objects"),
        html.P(object_list.objects_sentence(study.collection), className="lead"),
        *flags,
        grade_key(),
        *object_list.hall_sections(study.collection, halls, planned),
    ]
    return Sheet("Objects", body, PATH)


def object_layout(study: Study, object_id: str) -> Sheet:
    """Return one object's sheet; the caller knows that the object exists."""
    page = object_page(study, object_id)
    flags = [safety_caution(page.safety, "look at this first")] if page.safety else []
    body = [
        html.H1(page.object_name or page.object_id),
        *flags,
        html.Div([html.Div(object_sheet.waiting(page)), object_sheet.identity(page)], className="two"),
        html.H2("Its place in the plan"),
        *object_sheet.place_in_plan(page.job, page.blocked, page.neighbours, page.cautions),
        html.H2("Hazards"),
        *object_sheet.hazards(page),
        html.H2("What was seen"),
        *_past(page.elements),
        html.H2("What lies ahead if nothing is done"),
        object_sheet.ahead_words(),
        html.Div([fan(e) for e in page.elements], className="minis"),
        html.H2("Findings and causes"),
        object_sheet.findings(page.findings),
        html.H2("Treatments proposed"),
        object_sheet.treatments(page.treatments, study.collection.settings.currency),
    ]
    return Sheet(page.object_name or page.object_id, body)


def _past(elements: Sequence[ElementPage]) -> list[Component]:
    """Return the graded past; where there is none, only that."""
    if not any(element.past for element in elements):
        return [past_table(elements)]
    return [grade_key(), past_table(elements), past_words(elements)]
