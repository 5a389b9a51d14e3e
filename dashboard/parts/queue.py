"""The queue: what comes off display next, what the galleries need now, what is left as it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dash import html
from dash.development.base_component import Component

from dashboard.parts.cautions import about, one_caution, safety_caution
from dashboard.parts.marks import (
    Child,
    aria,
    caution_sign,
    data_table,
    facts,
    folded,
    minor,
    object_link,
    span_mark,
    tag,
    words,
)
from triage.reports.rows import JobRow, NoteRow, SafetyRow, Span, UntreatedRow
from triage.reports.words import counted, percent

SHOWN_JOBS = 4
"""Jobs of a list told in full; of the rest a line each, with its caution, opens to the same."""
SHOWN_NEEDS = 2
"""Needs of a job shown in the queue before the rest is folded; its own sheet shows all."""


def safety_flags(rows: Sequence[SafetyRow]) -> list[Component]:
    """Return the safety flags, most doubtful first; nothing where there are none."""
    if not rows:
        return []
    title = "Look at this first" if len(rows) == 1 else f"Look at these {len(rows)} first"
    flags = [
        safety_caution(row, object_link(row.object_id, f"{row.object_name}, {row.hall_name}")) for row in rows
    ]
    return [
        html.Section(
            [html.H2(title, id="safety"), html.Div(flags, className="flags")], **aria(labelledby="safety")
        )
    ]


def next_words(job: JobRow) -> str:
    """Return the answer in one sentence: which object, and from when."""
    return f"{job.object_name} comes off display next, in {_from(job)}"


def _from(job: JobRow) -> str:
    return Span(job.off_display[0].from_month, job.off_display[0].from_month).words


def next_off_display(jobs: Sequence[JobRow]) -> JobRow | None:
    """Return the first planned job, not yet running, that takes an object off display."""
    waiting = [j for j in jobs if j.off_display and not j.running]
    return min(waiting, key=lambda j: (j.off_display[0].from_month, j.position), default=None)


def decision(job: JobRow | None, standing: Sequence[Component], currency: str = "") -> Component:
    """Return the head of the sheet: what is to be decided here, and how good the plan behind it is."""
    if job is None:
        title = html.H1("Nothing needs to come off display")
        none = html.P(
            "No planned job takes an object from its gallery within the plan's months.", className="lead"
        )
        return html.Div([title, none, *standing])
    free = [minor("What must be free first"), words(job.free_first)] if job.free_first else []
    decide = [
        html.P("Decide here", className="flag"),
        html.H1(next_words(job)),
        html.P([object_link(job.object_id, job.treatment_title), "."], className="lead"),
        _facts(job, currency),
        html.P(job.why),
    ]
    right = [*free, *one_caution(job.cautions), minor("How good this plan is"), *standing]
    return html.Div([html.Div(decide, className="decide"), html.Div(right)], className="two")


def _facts(job: JobRow, currency: str) -> Component:
    return facts(
        [
            ("Off display", _away_words(job)),
            ("Goes to", ", then ".join(job.bays)),
            ("Work", f"{job.span.words} ({counted(job.span.months, 'month')})"),
            ("Cost", f"{job.cost:,} {currency}".strip() if job.cost else ""),
        ]
    )


def _away_words(job: JobRow) -> str:
    if not job.off_display:
        return "no, it stays on display" if job.hall_id else "no, it is in store"
    return "; ".join(f"{s.words} ({counted(s.months, 'month')})" for s in job.off_display)


def queue_list(
    jobs: Sequence[JobRow], horizon: Span, *, first_id: str = "", shown: int = SHOWN_JOBS
) -> Component:
    """Return jobs as a numbered list: object, treatment, when and where; why, and what must be free.

    The jobs after the first ``shown`` are a line each that opens to the same.
    """
    items = [
        _queue_item(job, horizon, first=job.object_id == first_id) if n < shown else _line(job, horizon)
        for n, job in enumerate(jobs)
    ]
    return html.Ol(items, className="queue")


def _queue_item(job: JobRow, horizon: Span, *, first: bool) -> Component:
    head = [
        html.P(object_link(job.object_id, job.object_name), className="name"),
        html.P([job.treatment_title, html.Span(f" · {job.hall_name}", className="unit")]),
        span_mark(*_place(job.span, horizon), f"{job.span.words}, drawn on the plan's months"),
        *_whens(job),
        html.P([", then ".join(job.bays)] if job.bays else "No bay needed"),
    ]
    told = (
        [html.Div(html.P("Described at the head of this sheet."))]
        if first
        else [html.Div(_reasons(job)), html.Div(one_caution(job.cautions))]
    )
    return html.Li(
        [html.Span(str(job.position), className="rank"), html.Div(head), *told],
        className="first" if first else "",
    )


def _line(job: JobRow, horizon: Span) -> Component:
    """Return a job as a line with its caution in short, which opens to all that is said of it."""
    warned = [caution_sign(about(job.cautions))] if job.cautions else []
    line = [
        html.Strong(job.object_name),
        html.Span(f"{_when_words(job)} · {', then '.join(job.bays) or job.treatment_title}"),
        *warned,
    ]
    more = [
        html.P([object_link(job.object_id, job.treatment_title), html.Span(f" · {job.hall_name}")]),
        span_mark(*_place(job.span, horizon), f"{job.span.words}, drawn on the plan's months"),
        *_whens(job),
        *_reasons(job),
        *one_caution(job.cautions),
    ]
    return html.Li(
        [html.Span(str(job.position), className="rank"), html.Details([html.Summary(line), *more])],
        className="line",
    )


def _when_words(job: JobRow) -> str:
    """Return what the list is ordered by: the months off display, else those of the work."""
    if job.off_display:
        return f"off display {'; '.join(s.words for s in job.off_display)}"
    return f"{job.span.words}, {'stays on display' if job.hall_id else 'in store'}"


def _whens(job: JobRow) -> list[Component]:
    """Return when an object is off display, or that it is not, then the months of the work."""
    running = [tag("goes on already")] if job.running else []
    if not job.off_display:
        stays = tag("stays on display" if job.hall_id else "in store")
        return [html.P(html.Strong(_spanned(job.span)), className="when"), html.P([*running, stays])]
    away: list[Component] = [html.Strong(["Off display ", *_spanned(span)]) for span in job.off_display]
    lines = [html.P(away, className="when")]
    if job.off_display != (job.span,):
        lines.append(html.P(["Work ", *_spanned(job.span)], className="unit"))
    return [*lines, *([html.P(running)] if running else [])]


def _spanned(span: Span) -> list[Component | str]:
    """Return months that stay on one line, and how many they are."""
    return [html.Span(span.words, className="nobreak"), f" ({counted(span.months, 'month')}) "]


def _reasons(job: JobRow) -> list[Component]:
    out: list[Component] = [html.P(job.why)] if job.why else []
    if job.free_first:
        out += [html.P("Must be free first:", className="label"), *_some_words(job.free_first)]
    return out


def _some_words(lines: Sequence[str]) -> list[Component]:
    """Return sentences as a list, a long one folded after its first."""
    if len(lines) <= SHOWN_NEEDS + 1:
        return [words(lines)]
    return [
        words(lines[:SHOWN_NEEDS]),
        folded(f"and {len(lines) - SHOWN_NEEDS} more", words(lines[SHOWN_NEEDS:])),
    ]


def _place(span: Span, horizon: Span) -> tuple[float, float]:
    left = 100 * (span.from_month - horizon.from_month) / horizon.months
    return max(0.0, left), min(100.0 - max(0.0, left), 100 * span.months / horizon.months)


@dataclass(frozen=True)
class Part:
    """A titled part of the sheet with its number of rows; parts without rows are left out."""

    title: str
    anchor: str
    count: int
    body: Component


def contents(parts: Sequence[Part]) -> Component:
    """Return where on the sheet each part is, with how much there is of it."""
    links = [html.Li(html.A(f"{p.title} ({p.count})", href=f"#{p.anchor}")) for p in parts if p.count]
    return html.Nav(html.Ul(links, className="choices"), **aria(label="On this sheet"))


def sections(parts: Sequence[Part]) -> list[Component]:
    """Return the parts that have rows, one after the other."""
    return [piece for p in parts if p.count for piece in (html.H2(p.title, id=p.anchor), p.body)]


def left_alone(rows: Sequence[UntreatedRow]) -> Component:
    """Return the objects the plan leaves as they are, and what that costs."""
    if not rows:
        return html.P("The plan treats every object it could.")
    lines: list[list[Child]] = [
        [
            object_link(r.object_id, r.object_name),
            r.hall_name,
            html.Div([html.P(r.sentence), *one_caution(r.cautions)]),
            percent(r.loss_share),
            f"{r.loss_points:,}",
        ]
        for r in rows
    ]
    heads = ["Object", "Where", "What it means", "Of it lost", "Points"]
    table = data_table("What each loses if nothing is done", heads, lines, numbers=[3, 4])
    return html.Div(table, className="spare")


def note_words(rows: Sequence[NoteRow]) -> Component:
    """Return what to know about a plan; the values assumed for want of a record are folded."""
    said = [row.text for row in rows if row.kind != "assumed"]
    assumed = [row.text for row in rows if row.kind == "assumed"]
    more = [folded(f"{counted(len(assumed), 'value')} assumed for want of a record", words(assumed))]
    return html.Div([words(said), *(more if assumed else [])])
