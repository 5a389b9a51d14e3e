"""How the figures are made: the value judgements and assumptions, as tables one can argue with."""

from __future__ import annotations

from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts.marks import Child, data_table, grade_key, words
from triage.records import Collection, Settings
from triage.reports.words import percent
from triage.risk.results import KindValues, MaterialRow

STEPS = (
    "Grades from the walks say how each element has fared. From them, and from what is known of its "
    "material, the "
    "tool estimates how fast it wears; findings and the hall's climate speed that up.",
    "From the wear comes the chance of each grade in later years. The range beside a chance is what is not "
    "known "
    "about the rate of wear. It is not a promise about one object.",
    "A worse grade means original substance lost for good. How much, is a value judgement for each kind of "
    "element: "
    "see the table. Treatment does not bring it back, and replacing what could be kept loses it too.",
    "An object's loss is its significance, times the share of it that is lost by the value date. The plan "
    "chooses "
    "treatments, months and bays so that the museum as a whole loses least.",
    "The plan is then checked by a second program that knows nothing of the first. A plan that fails is "
    "never shown.",
    "Safety is not weighed in points. An object whose supports are doubtful heads every list, whatever its "
    "significance.",
)
LIMITS = (
    "Areas are checked, shapes are not: whether two objects really fit on a floor is for somebody with a "
    "tape measure.",
    "Where a door or an object has no size on record, the way out was not checked, and the plan says so.",
    "Hours of stages made from a built-in chain are estimates.",
    "Causes are associated with wear; that ending one slows the wear is an assumption.",
    "Nothing here is permission to lift, lower, open or enter anything. That is for licensed and competent "
    "people "
    "under the local codes.",
)


def steps() -> list[Component]:
    """Return how a grade becomes a place in the queue."""
    return [html.Ol([html.Li(s) for s in STEPS], className="words"), html.H2("The grades"), grade_key()]


def limits() -> list[Component]:
    """Return what the figures cannot say."""
    return [html.H2("What the figures cannot say"), words(LIMITS)]


def judgements(settings: Settings) -> Component:
    """Return the museum's value judgements as set."""
    rows: list[list[Child]] = [
        ["Loss is judged at", f"{settings.value_years:g} years from now", "value_years"],
        ["One hour of overtime costs", f"{settings.overtime_points} points", "overtime_points"],
        ["Moving a planned start by a month costs", f"{settings.move_points} points", "move_points"],
        ["Dropping a planned job costs", f"{settings.drop_points} points", "drop_points"],
        ["A point", "1/100 of an object of significance 1", ""],
    ]
    return data_table("Value judgements, set in settings.csv", ["What", "How much", "Name in the file"], rows)


def significances(collection: Collection) -> Component:
    """Return the museum's own judgement of each object, highest first."""
    rows: list[list[Child]] = [
        [o.called, f"{o.significance:g}"]
        for o in sorted(collection.objects, key=lambda o: (-o.significance, o.called))
    ]
    return data_table("Significance of each object, 0 to 100", ["Object", "Significance"], rows, numbers=[1])


def kinds_table(kinds: Sequence[KindValues]) -> Component:
    """Return what each grade has cost of an element's substance."""
    rows: list[list[Child]] = [
        [k.kind, *(percent(x) for x in k.lost), f"{k.original_kept_pct:g} %", k.source] for k in kinds
    ]
    heads = [
        "Kind of element",
        "Good",
        "Fair",
        "Poor",
        "Unacceptable",
        "Kept by treatment, if not said",
        "Source",
    ]
    return data_table(
        "Original substance lost by the time a grade is reached", heads, rows, numbers=[1, 2, 3, 4, 5]
    )


def materials_table(materials: Sequence[MaterialRow]) -> Component:
    """Return how long a grade lasts on each material, before the museum's own grades are taken in."""
    rows: list[list[Child]] = [
        [
            m.material,
            *(f"{y:g}" for y in m.years),
            f"÷ or × {m.spread:g}",
            ", ".join(f"{cause} ×{factor:.2g}" for cause, factor in m.factors.items()),
            m.source,
        ]
        for m in materials
    ]
    heads = ["Material", "Good lasts", "Fair lasts", "Poor lasts", "Range", "What speeds it up", "Source"]
    return data_table("Median years in ordinary display", heads, rows, numbers=[1, 2, 3])
