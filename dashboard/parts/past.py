"""The graded past of an object: a row of marks for each element, a column for each year."""

from __future__ import annotations

from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts.forecast import element_name
from dashboard.parts.marks import aria, data_table, folded, grade_mark
from triage.records.vocabulary import GRADE_NAMES
from triage.reports.rows import ElementPage, GradePoint
from triage.units import month_of, month_words


def past_table(elements: Sequence[ElementPage]) -> Component:
    """Return the marks of all elements by year; a year in which nobody looked is blank."""
    years = sorted({p.date.year for e in elements for p in e.past})
    if not years:
        return html.P("Nobody has graded this object yet. Its forecast comes from its materials alone.")
    head = html.Tr([html.Th("Element", scope="col"), *(html.Th(str(y), scope="col") for y in years)])
    body = [html.Tr([_name(e), *(_year(e, y) for y in years)]) for e in elements]
    table = html.Table(
        [html.Caption("Grades given, by year"), html.Thead(head), html.Tbody(body)], className="past"
    )
    return html.Div(
        table, className="scroll", tabIndex=0, role="region", **aria(label="Grades given, by year")
    )


def _name(element: ElementPage) -> Component:
    safety = (
        [html.Br(), html.Span("can hurt someone if it fails", className="unit")] if element.safety else []
    )
    material = [html.Br(), html.Span(element.material, className="unit")] if element.material else []
    return html.Th([element_name(element), *material, *safety], scope="row")


def _year(element: ElementPage, year: int) -> Component:
    points = [p for p in element.past if p.date.year == year]
    return html.Td([html.Div(grade_mark(p.grade, treated=p.treated, when=_said(p))) for p in points])


def _said(point: GradePoint) -> str:
    who = f", {point.assessor}" if point.assessor else ""
    return month_words(month_of(point.date)) + who


def past_words(elements: Sequence[ElementPage]) -> Component:
    """Return every grade with its date, assessor, note and what it looks like, one click below."""
    rows = [
        [
            point.date.isoformat(),
            element_name(element),
            "could not be seen" if point.grade is None else f"{point.grade} {GRADE_NAMES[point.grade]}",
            "treated" if point.treated else point.assessor,
            point.words,
            point.note,
        ]
        for element in elements
        for point in element.past
    ]
    heads = ["Date", "Element", "Grade", "By", "What that looks like", "Note"]
    return folded("every grade with its date, assessor and note", data_table("Every grade", heads, rows))
