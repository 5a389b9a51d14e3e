"""All objects, hall by hall, with the worst grade anybody last gave each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts.marks import Child, data_table, grade_mark, object_link
from triage.records import Collection, MuseumObject
from triage.reports.rows import Span

IN_STORE = "In store"


def by_hall(collection: Collection) -> dict[str, tuple[MuseumObject, ...]]:
    """Return the objects by the name of the hall they stand in, the store last."""
    out: dict[str, tuple[MuseumObject, ...]] = {}
    for hall_id, title in [*((h.hall_id, h.name or h.hall_id) for h in collection.halls), (None, IN_STORE)]:
        some = tuple(o for o in collection.objects if o.hall_id == hall_id)
        if some:
            out[title] = some
    return out


def objects_sentence(collection: Collection) -> str:
    """Return how many objects, elements and rounds there are."""
    rounds = [r.date.year for r in collection.rounds]
    since = (
        f", graded in {len(rounds)} rounds from {min(rounds)} to {max(rounds)}"
        if rounds
        else ", not graded yet"
    )
    return f"{len(collection.objects)} objects with {len(collection.elements)} elements{since}."


def worst_last_grade(collection: Collection, object_id: str) -> int | None:
    """Return the worst of the last grades given to an object's elements; None where none could be seen."""
    last: list[int] = []
    for element in collection.elements_of.get(object_id, ()):
        seen = [g.grade for _, g in collection.grades_of.get(element.key, ()) if g.grade is not None]
        last += seen[-1:]
    return max(last, default=None)


def hall_sections(
    collection: Collection, halls: Mapping[str, Sequence[MuseumObject]], planned: Mapping[str, Span]
) -> list[Component]:
    """Return a table for each hall; ``planned`` holds the months of each object's job."""
    out: list[Component] = []
    for title, objects in halls.items():
        rows: list[list[Child]] = [
            [
                object_link(o.object_id, o.called),
                o.category,
                o.mounting.value,
                _worst(collection, o.object_id),
                f"{o.significance:g}",
                _when(planned.get(o.object_id)),
                "" if collection.surveyed(o.object_id) else "not surveyed",
            ]
            for o in objects
        ]
        heads = ["Object", "Kind", "Mounted", "Worst part", "Significance", "In the plan", "Hazards"]
        out += [
            html.H2(f"{title} ({len(objects)})"),
            html.Div(data_table(title, heads, rows, numbers=[4], titled=True), className="even"),
        ]
    return out


def _worst(collection: Collection, object_id: str) -> Component:
    """Return the mark of the worst last grade, or in words that nobody ever looked."""
    looked = any(collection.grades_of.get(e.key) for e in collection.elements_of.get(object_id, ()))
    if not looked:
        return html.Span("never graded", className="unit")
    return grade_mark(worst_last_grade(collection, object_id))


def _when(span: Span | None) -> Component:
    """Return the months of an object's job, each on one line, or that it has none."""
    if span is None:
        return html.Span("left untreated", className="unit")
    return html.Span(span.words, className="nobreak")
