"""Bays over time as a figure."""

from __future__ import annotations

import datetime as dt
from typing import Any

from dashboard.parts import bays
from tests.dashboard.reading import links, text
from tests.dashboard.stand_ins import HORIZON, NOW, lane
from triage.reports.rows import Span

DAY = 86_400_000


def figure(lanes: Any, closed: Any = (), shown: Span = HORIZON) -> Any:
    """Return the figure as plain data."""
    return bays.bays_figure(lanes, closed, shown, HORIZON).to_plotly_json()


def test_each_floor_is_followed_by_its_objects_in_order_of_arrival() -> None:
    """The lines are the floor, then one for each object on it."""
    rows = bays.lines([lane(objects=3)])

    assert [len(r.bars) for r in rows] == [0, 2, 2, 2]
    assert [r.bars[0].object_id for r in rows[1:]] == ["O1", "O2", "O3"]


def test_a_bar_lasts_from_its_first_month_to_the_end_of_its_last() -> None:
    """A stage of March to June is drawn from 1 March to 30 June."""
    planned = figure([lane(objects=2)])["data"][1]

    assert planned["base"][0] == "2027-03-01"
    assert planned["x"][0] == (dt.date(2027, 7, 1) - dt.date(2027, 3, 1)).days * DAY


def test_every_bar_carries_its_object() -> None:
    """A click can open the object: planned work, running work and waits know theirs."""
    _, planned, running, waits = figure([lane(objects=2)])["data"]

    assert set(planned["customdata"]) == {"O2"}
    assert set(running["customdata"]) == {"O1"}
    assert list(waits["customdata"]) == ["O1", "O2"]


def test_waits_and_running_work_are_told_apart_without_colour() -> None:
    """Waits are hatched and work that goes on has a thick outline; planned work has neither."""
    looks = [trace["marker"] for trace in figure([lane()])["data"][1:]]

    assert [look.get("pattern", {}).get("shape") for look in looks] == [None, None, "/"]
    assert [look["line"]["width"] for look in looks] == [1, 2.5, 1]


def test_the_chart_has_a_line_height_for_every_line() -> None:
    """Sixty objects on one floor stay readable: the chart grows with its lines."""
    lanes = [lane(objects=60)]

    assert bays.figure_height(lanes) == 61 * bays.ROW_PX
    assert len(bays.bays_names(lanes).children) == 61


def test_names_beside_the_chart_link_to_the_objects() -> None:
    """The names are links, so that the chart can be used from the keyboard."""
    assert links(bays.bays_names([lane(objects=2)])) == ["/object/O1", "/object/O2"]


def test_fullness_is_drawn_in_runs_with_figures() -> None:
    """A floor's own line has one piece for each run of months alike, with used and available area."""
    fullness = figure([lane()])["data"][0]

    assert list(fullness["text"]) == ["", "60 of 240", ""]
    assert fullness["base"][1] == "2027-04-01"


def test_closed_months_are_shaded() -> None:
    """A closure lies over the whole height from its first month to the day after its last."""
    shapes = figure([lane()], [Span(NOW + 1, NOW + 2)])["layout"]["shapes"]

    assert [(s["x0"], s["x1"]) for s in shapes] == [("2027-02-01", "2027-04-01")]


def test_the_zoom_is_kept_over_redrawing() -> None:
    """The figure carries the same revision whatever is shown."""
    assert {figure([lane()], shown=s)["layout"]["uirevision"] for s in (HORIZON, Span(NOW, NOW + 11))} == {
        "bays"
    }


def test_months_are_written_as_months() -> None:
    """The axis names months, never numbers of months."""
    axis = figure([lane()], shown=Span(NOW, NOW + 11))["layout"]["xaxis"]

    assert axis["ticktext"][0] == "Jan<br>2027"
    assert len(axis["ticktext"]) == 12


def test_unknown_stretches_show_the_whole_plan() -> None:
    """An address with another number of months shows everything."""
    assert bays.first_months(HORIZON, "7") == HORIZON
    assert bays.first_months(HORIZON, "24") == Span(NOW, NOW + 23)


def test_the_table_says_what_the_chart_shows() -> None:
    """Every bar has a row with floor, object, stage, months, waits and area."""
    said = text(bays.bays_table([lane(objects=1)]))

    assert "Long bay" in said
    assert "1. Opening up" in said
    assert "May 2027 - Jun 2027" in said


def test_empty_floors_are_told_in_words() -> None:
    """A bay nobody uses is named; a plan without any bar says so."""
    assert "Nothing planned in Long bay" in bays.bays_sentence([lane("A", 2), lane("B", 0)])
    assert bays.bays_sentence([lane("B", 0)]).startswith("No object")


def test_a_plan_without_floors_still_draws() -> None:
    """No lane at all gives an empty chart, not an error."""
    assert list(figure([])["data"][0]["y"]) == []


def test_objects_not_there_in_the_months_shown_take_no_line() -> None:
    """Showing fewer months leaves out the objects that come later; one that still waits stays."""
    seen = bays.in_sight([lane(objects=6)], Span(NOW + 5, NOW + 5))

    assert [r.bars[0].object_id for r in bays.lines(seen)[1:]] == ["O1", "O2", "O3"]


def test_a_bar_carries_as_many_whole_words_as_fit() -> None:
    """A stage's name is cut at a word, with dots; where not even one word fits the bar stays bare."""
    assert bays.fitting("Covering and doping", 30) == "Covering and doping"
    assert bays.fitting("Covering and doping", 15) == "Covering and…"
    assert bays.fitting("Covering and doping", 5) == ""
