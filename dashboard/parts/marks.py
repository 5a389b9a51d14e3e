"""The marks used on every sheet: grade, caution, decision, span of time, links, tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from urllib.parse import quote

from dash import dcc, html
from dash.development.base_component import Component

from triage.records.vocabulary import GRADE_NAMES, WORST_GRADE

Child = Component | str | int | None
"""Anything a component may hold."""


WIDE = 6
"""Columns from which a table keeps its width and scrolls on a phone."""


def aria(**said: str) -> dict[str, Any]:
    """Return what is told to readers of the page's structure; empty values are left out."""
    return {f"aria-{name}": value for name, value in said.items() if value}


def object_path(object_id: str) -> str:
    """Return the address of an object's sheet."""
    return "/object/" + quote(object_id, safe="")


def object_link(object_id: str, name: str = "") -> Component:
    """Return a link to an object's sheet under its name."""
    return dcc.Link(name or object_id, href=object_path(object_id))


def grade_mark(grade: int | None, *, word: bool = False, treated: bool = False, when: str = "") -> Component:
    """Return a grade as steps, number and tone, read out as words.

    Parameters
    ----------
    grade
        1 to 4; None: looked for and could not be seen.
    word
        Whether the grade's name stands beside it.
    treated
        Whether the grade was set by a treatment (underlined twice).
    when
        Said first when the mark is read out, e.g. the month.
    """
    before = f"{when}: " if when else ""
    if grade is None:
        said = f"{before}could not be seen"
        return html.Span(
            [*(html.I() for _ in range(WORST_GRADE)), html.B("–")],
            className="grade unseen",
            role="img",
            title=said,
            **aria(label=said),
        )
    said = f"{before}grade {grade}, {GRADE_NAMES[grade]}" + (", set by a treatment" if treated else "")
    steps = [html.I(className="on" if step <= grade else "") for step in range(1, WORST_GRADE + 1)]
    name = [html.Small(GRADE_NAMES[grade])] if word else []
    return html.Span(
        [*steps, html.B(str(grade)), *name],
        className=f"grade g{grade}" + (" treated" if treated else ""),
        role="img",
        title=said,
        **aria(label=said),
    )


def grade_key() -> Component:
    """Return the key to the grade marks."""
    marks = [html.Li(grade_mark(g, word=True)) for g in GRADE_NAMES]
    unseen = html.Li([grade_mark(None), " looked for, could not be seen"])
    treated = html.Li([grade_mark(1, treated=True), " set by a treatment"])
    return html.Ul([*marks, unseen, treated], className="legend")


def caution(lines: Sequence[Child], *, about: Child = None) -> Component:
    """Return a caution: the same striped edge, sign and word wherever someone could be hurt.

    Parameters
    ----------
    lines
        What to do, one paragraph each.
    about
        What the caution is about, beside the word.
    """
    head: list[Child] = ["Caution"] if about is None else ["Caution: ", about]
    return html.Div(
        [
            html.Span(className="sign", **aria(hidden="true")),
            html.Div([html.P(head, className="word"), *(html.P(_sentence(line)) for line in lines)]),
        ],
        className="caution",
        role="note",
    )


def _sentence(line: Child) -> Child:
    """Return a line that begins as sentences do."""
    return line[:1].upper() + line[1:] if isinstance(line, str) else line


def caution_sign(said: str) -> Component:
    """Return the sign of a caution with what it is about, for a line too short to hold the caution itself."""
    return html.Span(
        [html.Span(className="sign", **aria(hidden="true")), f"Caution: {said}"], className="warned"
    )


def span_mark(left_pct: float, width_pct: float, said: str, *, open_ended: bool = False) -> Component:
    """Return a span of time as a dimension line on the plan's horizon; both in per cent of the horizon."""
    line = html.I(
        className="open" if open_ended else "",
        style={"left": f"{left_pct:.2f}%", "width": f"{width_pct:.2f}%"},
    )
    return html.Div(line, className="span", role="img", title=said, **aria(label=said))


def tag(text: str) -> Component:
    """Return a short label in a thin frame."""
    return html.Span(text, className="tag")


def facts(pairs: Sequence[tuple[str, Child | list[Child]]]) -> Component:
    """Return labelled facts, those without a value left out."""
    cells: list[Component] = []
    for label, value in pairs:
        if value is not None and value != "" and value != []:
            cells += [html.Dt(label), html.Dd(value)]
    return html.Dl(cells, className="facts")


def data_table(
    caption: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[Child]],
    *,
    numbers: Sequence[int] = (),
    titled: bool = False,
) -> Component:
    """Return a table that scrolls by itself where the sheet is narrow.

    Parameters
    ----------
    numbers
        Columns (from 0) that hold numbers, set flush right.
    titled
        Whether a heading above says what the caption says: it is then read out, not shown.
    """
    right = set(numbers)

    def cell(kind: Any, column: int, value: Child) -> Component:
        extra = {"scope": "col"} if kind is html.Th else {}
        return kind(value, className="num" if column in right else "", **extra)  # type: ignore[no-any-return]  # dash is untyped

    head = html.Tr([cell(html.Th, i, h) for i, h in enumerate(heads)])
    body = [html.Tr([cell(html.Td, i, v) for i, v in enumerate(row)]) for row in rows]
    table = html.Table(
        [html.Caption(caption, className="heard" if titled else ""), html.Thead(head), html.Tbody(body)],
        className="wide" if len(heads) >= WIDE else "",
    )
    return html.Div(table, className="scroll", tabIndex=0, role="region", **aria(label=caption))


def folded(summary: str, *children: Child) -> Component:
    """Return something kept one click below."""
    return html.Details([html.Summary(summary), *children])


def minor(title: str) -> Component:
    """Return a small heading below the sheet's own."""
    return html.H2(title, className="minor")


def words(lines: Sequence[Child]) -> Component:
    """Return sentences as a list."""
    return html.Ul([html.Li(line) for line in lines], className="words")
