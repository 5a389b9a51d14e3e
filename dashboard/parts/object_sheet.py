"""The pieces of an object's sheet."""

from __future__ import annotations

from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from dashboard.parts.cautions import one_caution
from dashboard.parts.marks import Child, caution, data_table, facts, folded, minor, tag, words
from triage.reports.rows import Caution, DriverRow, FindingRow, JobRow, ObjectPage, StageRow, TreatmentChoice
from triage.reports.words import percent, stands

SHOWN_DRIVERS = 4
"""Parts of a loss shown before the rest is folded."""
SEVERITY = {1: "slight", 2: "marked", 3: "severe"}
NOT_SURVEYED = "Nobody has recorded a hazard survey of this object. That is not the same as no hazard."
NOT_SURVEYED_ACT = (
    "Treat it as unknown: have it surveyed by a competent person before anything is opened, moved or lifted, "
    "under the local codes."
)


def identity(page: ObjectPage) -> Component:
    """Return what and where the object is."""
    return facts(
        [
            ("Kind", page.category),
            ("Place", stands(page.hall_name, page.mounting)),
            ("Size", page.size_words),
            ("Significance", f"{page.significance:g} of 100, the museum's own judgement"),
        ]
    )


def waiting(page: ObjectPage) -> list[Component]:
    """Return what waiting costs, in words first, then shares and drivers, points last."""
    points = (
        f"In points: {page.loss_points:,} if nothing is done; {page.wait_points:,.1f} more for each year "
        "that treatment comes later. 100 points are the whole of an object of significance 1."
    )
    return [
        html.P(page.wait_sentence, className="lead"),
        *_drivers(page.drivers),
        folded("in points", html.P(points)),
    ]


def _drivers(rows: Sequence[DriverRow]) -> list[Component]:
    out: list[Component] = []
    for what, title in (
        ("element", "Where the loss lies"),
        ("cause", "What drives it, if the association is causal"),
    ):
        some = [r for r in rows if r.what == what and r.share > 0]
        if some:
            lines = [f"{r.name}: {percent(r.share)} of the loss" for r in some]
            out += [minor(title), words(lines[:SHOWN_DRIVERS])]
            rest = lines[SHOWN_DRIVERS:]
            out += [folded(f"and {len(rest)} more", words(rest))] if rest else []
    return out


def ahead_words() -> Component:
    """Return how to read the forecasts."""
    return html.P(
        "Each line is the chance that the element is poor or worse; the band is its 90 % range, over what "
        "is not "
        "known about the rate of wear. The dashed line is an even chance."
    )


def findings(rows: Sequence[FindingRow]) -> Component:
    """Return what was noted, newest first."""
    if not rows:
        return html.P("No finding and no cause has been noted on this object.")
    lines: list[list[Child]] = [
        [
            row.date.isoformat(),
            row.element_id or "whole object",
            row.cause,
            SEVERITY[row.severity],
            f"ended {row.ended_on.isoformat()}" if row.ended_on else "goes on",
            row.note,
        ]
        for row in sorted(rows, key=lambda r: r.date, reverse=True)
    ]
    heads = ["Date", "Element", "Cause", "How bad", "State", "Note"]
    return data_table("Findings and causes", heads, lines, titled=True)


def hazards(page: ObjectPage) -> list[Component]:
    """Return the hazards nobody has cleared as cautions, the cleared ones as words."""
    if not page.surveyed:
        return [caution([NOT_SURVEYED, NOT_SURVEYED_ACT], about="hazards not surveyed")]
    out: list[Component] = []
    for row in page.hazards:
        by = ", ".join(x for x in (row.by, row.date.isoformat() if row.date else "") if x)
        told = " ".join(x for x in (row.note, f"({by})" if by else "") if x)
        if row.caution:
            out.append(
                caution([line for line in (told, row.caution) if line], about=f"{row.hazard}, {row.state}")
            )
        else:
            out.append(html.P(f"{row.hazard}: {row.state}. {told}"))
    return out


def treatments(rows: Sequence[TreatmentChoice], currency: str) -> Component:
    """Return the treatments somebody proposed, the planned one marked."""
    if not rows:
        return html.P("Nobody has proposed a treatment for this object yet.")
    lines: list[list[Child]] = [
        [
            row.title,
            "in the gallery" if row.kind == "in_gallery" else "workshop",
            f"{row.months}",
            f"{row.cost:,} {currency}".strip(),
            tag("in this plan") if row.planned else row.left_out or "not in this plan",
            "" if row.loss_first is None else f"{row.loss_first:,}",
        ]
        for row in rows
    ]
    heads = ["Treatment", "Where", "Months", "Cost", "In the plan", "Points lost if done as soon as may be"]
    untreated = f"Treatments proposed (points lost if none is done: {rows[0].loss_untreated:,})"
    return data_table(untreated, heads, lines, numbers=[2, 3, 5])


def place_in_plan(
    job: JobRow | None, blocked: Sequence[str], neighbours: Sequence[str], cautions: Sequence[Caution] = ()
) -> list[Component]:
    """Return when and where the object is treated, stage by stage, and what keeps it from coming sooner.

    ``cautions`` are told where there is no job, hazards apart, which follow; a job carries its own.
    """
    if job is None:
        return [
            html.P("The plan leaves it untreated.", className="lead"),
            *one_caution([c for c in cautions if c.kind != "hazard"]),
            *_listed("What keeps it out of the plan", blocked),
        ]
    head = f"{job.treatment_title}, {job.span.words}" + (", goes on already." if job.running else ".")
    told_by_stages = {c.text for stage in job.stages for c in stage.cautions}
    left = [
        html.P(head, className="lead"),
        html.P([_seen(job), " ", job.why]),
        *one_caution([c for c in job.cautions if c.text not in told_by_stages]),
        *_listed("What must be free first", job.free_first),
        *_listed("What keeps it from starting sooner", blocked),
        *_listed("Its neighbours meanwhile", neighbours),
    ]
    right = [html.H3("Stage by stage"), _stages(job.stages, shown=job.hall_id is not None)]
    return [html.Div([html.Div(left), html.Div(right)], className="two")]


def _seen(job: JobRow) -> str:
    if job.off_display:
        return f"Off display {'; '.join(s.words for s in job.off_display)}."
    return "It is in store: nothing comes off display." if job.hall_id is None else "It stays on display."


def _stages(rows: Sequence[StageRow], *, shown: bool) -> Component:
    """Return the stages in order, each after its cautions.

    Lifting is cautioned in full by every lowering and hoisting; a hazard in full where first met, and by
    its name before later stages.
    """
    met: set[str] = set()
    items: list[Component] = []
    for row in rows:
        known = [c for c in row.cautions if c.kind == "hazard" and c.text in met]
        again = [Caution("hazard", _again(known))] if known else []
        items.append(_stage(row, [*(c for c in row.cautions if c not in known), *again], shown=shown))
        met.update(c.text for c in row.cautions)
    return html.Ol(items, className="stages plain")


def _again(rows: Sequence[Caution]) -> str:
    return f"As before an earlier stage: {'; '.join(c.text.split(':', 1)[0] for c in rows)}."


def _listed(title: str, lines: Sequence[str]) -> list[Component]:
    return [html.H3(title), words(lines)] if lines else []


def _stage(stage: StageRow, cautions: Sequence[Caution], *, shown: bool) -> Component:
    """Return a stage; its cautions stand before it, where they are met."""
    told = [stage.place or "no floor needed"]
    if stage.area_m2:
        told.append(f"{stage.area_m2} m²")
    if stage.hours:
        told.append(f"{stage.hours:,} hours" + (" (estimate)" if stage.estimated else ""))
    if shown:
        told.append("off display" if stage.away else "on display")
    waits = [html.P(f"then stands waiting {stage.waits.words}", className="unit")] if stage.waits else []
    return html.Li(
        [
            *one_caution(cautions),
            html.P([html.Strong(stage.work.words), html.Br(), f"{stage.number}. {stage.title}"]),
            html.P(" · ".join(told), className="unit"),
            *waits,
        ]
    )
