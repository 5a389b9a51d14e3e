"""Bays over time: one band per piece of floor, one line per object that stands on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import plotly.graph_objects as go
from dash import dcc, html
from dash.development.base_component import Component

from dashboard.parts import charts
from dashboard.parts.marks import Child, aria, data_table, object_link
from triage.reports.rows import BayBar, BayLane, Span
from triage.reports.words import counted
from triage.units import month_words

ROW_PX = 26
LETTERS = 120
"""Letters that fit across the whole chart on a desk."""
RULER_PX = 44
"""Height of the ruler of months; the same in the style sheet."""
SHORTER = (12, 24, 36)
"""Months one can look at instead of the whole plan."""
SHADES = ("#ffffff", "#eceff1", "#d9dee2", "#c2c9cf", "#a9b2ba")
"""How full a floor is, empty to full: light to dark, with the figures written in."""
PALE = "#d3e9f7"
"""Ground of work that goes on already, beside its thick outline."""


@dataclass(frozen=True)
class Line:
    """One line of the chart: a piece of floor (no object), or an object on it."""

    key: str
    lane: BayLane
    bars: tuple[BayBar, ...] = ()


def lines(lanes: Iterable[BayLane]) -> tuple[Line, ...]:
    """Return the chart's lines from the top: each floor, then its objects by when they come."""
    out: list[Line] = []
    for lane in lanes:
        out.append(Line(lane.lane_id, lane))
        firsts: dict[str, list[BayBar]] = {}
        for bar in sorted(lane.bars, key=lambda b: (b.work.from_month, b.object_name)):
            firsts.setdefault(bar.object_id, []).append(bar)
        out += [Line(f"{lane.lane_id}|{i}", lane, tuple(b)) for i, b in firsts.items()]
    return tuple(out)


def in_sight(lanes: Iterable[BayLane], shown: Span) -> tuple[BayLane, ...]:
    """Return the floors with the bars that touch the months shown."""
    return tuple(
        replace(
            lane,
            bars=tuple(
                b
                for b in lane.bars
                if b.work.from_month <= shown.to_month and (b.waits or b.work).to_month >= shown.from_month
            ),
        )
        for lane in lanes
    )


def bays_sentence(lanes: Sequence[BayLane]) -> str:
    """Return in words how many objects stand on how many floors."""
    used = [lane for lane in lanes if lane.bars]
    objects = {bar.object_id for lane in lanes for bar in lane.bars}
    idle = [lane.name for lane in lanes if not lane.bars and lane.what == "space"]
    if not used:
        return "No object is worked on in any bay or on any hall's floor in this plan."
    said = f"{counted(len(objects), 'object')} on {counted(len(used), 'piece')} of floor."
    return said + (f" Nothing planned in {', '.join(idle)}." if idle else "")


def first_months(horizon: Span, count: str) -> Span:
    """Return the first months of the plan; all of them unless ``count`` is one of the choices."""
    if count not in [str(n) for n in SHORTER]:
        return horizon
    return Span(horizon.from_month, min(horizon.to_month, horizon.from_month + int(count) - 1))


def bays_figure(lanes: Sequence[BayLane], closed: Iterable[Span], shown: Span, horizon: Span) -> go.Figure:
    """Return the chart of all floors over the months shown; every bar carries its object's id."""
    rows = lines(lanes)
    figure = charts.sheet_figure(figure_height(lanes), "bays")
    _add_fullness(figure, rows, horizon)
    _add_bars(figure, rows, shown, running=False)
    _add_bars(figure, rows, shown, running=True)
    _add_waits(figure, rows)
    charts.shade_closed(figure, closed)
    charts.month_axis(figure, shown, named=False)
    figure.update_layout(
        barmode="overlay",
        bargap=0.2,
        uniformtext={"minsize": 10, "mode": "hide"},
        margin={"l": 0, "r": 0, "t": 0, "b": 0, "autoexpand": False},
    )
    figure.update_yaxes(
        type="category",
        categoryorder="array",
        categoryarray=[r.key for r in rows],
        range=[len(rows) - 0.5, -0.5],
        showticklabels=False,
        showgrid=False,
        automargin=False,
    )
    figure.update_xaxes(automargin=False)
    return figure


def bays_names(lanes: Iterable[BayLane]) -> Component:
    """Return the names beside the chart's lines: floors in bold, objects as links to their sheets."""
    names = [
        html.Li(object_link(row.bars[0].object_id, row.bars[0].object_name), title=row.bars[0].object_name)
        if row.bars
        else html.Li(html.Strong(row.lane.name), title=f"{row.lane.name}, {row.lane.kind}")
        for row in lines(lanes)
    ]
    return html.Ul(
        names, className="names", style={"paddingTop": f"{RULER_PX}px", "lineHeight": f"{ROW_PX}px"}
    )


def figure_height(lanes: Sequence[BayLane]) -> int:
    """Return the chart's height in pixels: every line can be read."""
    return ROW_PX * max(1, len(lines(lanes)))


def bays_key() -> Component:
    """Return the key to the chart."""

    def swatch(background: str) -> Component:
        return html.I(className="swatch", style={"background": background})

    hatch = f"repeating-linear-gradient(135deg, {charts.INK} 0 1px, #fff 1px 5px)"
    thick = html.I(className="swatch", style={"background": PALE, "borderWidth": "2.5px"})
    return html.Ul(
        [
            html.Li([swatch(charts.SKY), "planned work, its stage named where there is room"]),
            html.Li([thick, "work that goes on already"]),
            html.Li([swatch(hatch), "stands waiting, holds its floor"]),
            html.Li([swatch(SHADES[-1]), "floor taken, m² of m²: darker is fuller"]),
            html.Li([swatch("#dfe1e2"), "workshop closed"]),
        ],
        className="legend",
    )


def bays_table(lanes: Iterable[BayLane]) -> Component:
    """Return every bar in words, for those who do not read the chart."""
    rows: list[list[Child]] = [
        [
            lane.name,
            object_link(bar.object_id, bar.object_name),
            f"{bar.stage_number}. {bar.stage_title}",
            bar.work.words,
            bar.waits.words if bar.waits else "",
            bar.area_m2,
        ]
        for lane in lanes
        for bar in sorted(lane.bars, key=lambda b: b.work.from_month)
    ]
    return data_table(
        "Stages on each piece of floor",
        ["Floor", "Object", "Stage", "Work", "Then waits", "m²"],
        rows,
        numbers=[5],
    )


def _hover(bar: BayBar, lane: BayLane) -> str:
    said = [
        f"<b>{bar.object_name}</b>",
        f"{bar.stage_number}. {bar.stage_title} ({bar.treatment_title})",
        f"{lane.name}: {bar.work.words}, {bar.area_m2} m²",
    ]
    if bar.waits:
        said.append(f"then waits on this floor {bar.waits.words}")
    if bar.running:
        said.append("goes on already")
    if bar.cautions:
        said.append("Caution: read the object's sheet before this stage")
    return "<br>".join(said)


def fitting(title: str, letters: int) -> str:
    """Return as many whole words of a title as there is room for, with dots for the rest; none: empty."""
    if len(title) <= letters:
        return title
    head, cut, _ = title[:letters].rpartition(" ")
    return f"{head.rstrip(',;')}…" if cut else ""


def _add_bars(figure: go.Figure, rows: Sequence[Line], shown: Span, *, running: bool) -> None:
    placed = [(row, bar) for row in rows for bar in row.bars if bar.running is running]
    figure.add_bar(
        orientation="h",
        y=[row.key for row, _ in placed],
        base=[charts.day(bar.work.from_month) for _, bar in placed],
        x=[charts.length_ms(bar.work) for _, bar in placed],
        text=[fitting(bar.stage_title, LETTERS * bar.work.months // shown.months) for _, bar in placed],
        textposition="inside",
        insidetextanchor="start",
        insidetextfont={"color": charts.INK, "size": 11},
        textangle=0,
        hovertext=[_hover(bar, row.lane) for row, bar in placed],
        hoverinfo="text",
        customdata=[bar.object_id for _, bar in placed],
        marker={
            "color": PALE if running else charts.SKY,
            "line": {"color": charts.INK, "width": 2.5 if running else 1},
        },
    )


def _add_waits(figure: go.Figure, rows: Sequence[Line]) -> None:
    placed = [(row, bar, bar.waits) for row in rows for bar in row.bars if bar.waits]
    figure.add_bar(
        orientation="h",
        y=[row.key for row, _, _ in placed],
        base=[charts.day(waits.from_month) for _, _, waits in placed],
        x=[charts.length_ms(waits) for _, _, waits in placed],
        hovertext=[_hover(bar, row.lane) for row, bar, _ in placed],
        hoverinfo="text",
        customdata=[bar.object_id for _, bar, _ in placed],
        marker={
            "color": charts.WHITE,
            "line": {"color": charts.INK, "width": 1},
            "pattern": {"shape": "/", "fgcolor": charts.INK, "size": 6, "solidity": 0.2},
        },
    )


def _add_fullness(figure: go.Figure, rows: Sequence[Line], horizon: Span) -> None:
    """Draw, on each floor's own line, how much of it is taken; months alike are one piece."""
    keys, bases, widths, colours, texts, tells = [], [], [], [], [], []
    for row in rows:
        if row.bars:
            continue
        taken = list(zip(row.lane.used_m2, row.lane.area_m2, strict=True))
        month = horizon.from_month
        for (used, room), same in groupby(taken):
            span = Span(month, month + sum(1 for _ in same) - 1)
            month = span.to_month + 1
            keys.append(row.key)
            bases.append(charts.day(span.from_month))
            widths.append(charts.length_ms(span))
            colours.append(_shade(used, room))
            texts.append(f"{used} of {room}" if used else "")
            tells.append(f"<b>{row.lane.name}</b><br>{span.words}: {used} of {room} m² taken")
    figure.add_bar(
        orientation="h",
        y=keys,
        base=bases,
        x=widths,
        text=texts,
        textposition="inside",
        insidetextanchor="start",
        insidetextfont={"color": charts.INK, "size": 11},
        textangle=0,
        hovertext=tells,
        hoverinfo="text",
        marker={"color": colours, "line": {"color": charts.INK_SOFT, "width": 0.5}},
    )


def _shade(used: int, room: int) -> str:
    if used <= 0:
        return SHADES[0]
    return SHADES[min(len(SHADES) - 1, 1 + (used * (len(SHADES) - 2)) // max(1, room))]


def month_choices(path: str, horizon: Span, shown: Span) -> Component:
    """Return links to the stretches of the plan one can look at, the present one marked."""
    counts = [*(n for n in SHORTER if n < horizon.months), horizon.months]

    def choice(count: int) -> Component:
        whole = count == horizon.months
        name = f"the whole plan, to {month_words(horizon.to_month)}" if whole else f"first {count} months"
        link = dcc.Link(name, href=path if whole else f"{path}?months={count}")
        return html.Li(link, **aria(current="true" if count == shown.months else ""))

    return html.Nav(html.Ul([choice(n) for n in counts], className="choices"), **aria(label="Months shown"))
