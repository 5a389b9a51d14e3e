"""Hours as figures and words."""

from __future__ import annotations

from dataclasses import replace

from dashboard.parts import hours
from tests.dashboard.reading import text
from tests.dashboard.stand_ins import NOW, hours_row
from triage.reports.rows import Span


def test_overtime_stands_on_top_of_capacity_with_a_pattern() -> None:
    """Planned hours within capacity and overtime are two bars that add up to what is planned."""
    within, overtime = hours.hours_figure(hours_row(), []).to_plotly_json()["data"][:2]

    assert (within["y"][5], overtime["y"][5]) == (160, 10)
    assert overtime["marker"]["pattern"]["shape"] == "/"


def test_capacity_is_a_step_line_that_ends_with_the_last_month() -> None:
    """The capacity line reaches the end of the last month, and drops in a closed one."""
    line = hours.hours_figure(hours_row(), []).to_plotly_json()["data"][2]

    assert line["line"]["shape"] == "hv"
    assert line["y"][7] == 0
    assert line["x"][-1] == "2032-01-01"


def test_closed_months_are_shaded() -> None:
    """A closure is shaded as on the bays."""
    shapes = hours.hours_figure(hours_row(), [Span(NOW + 7, NOW + 7)]).to_plotly_json()["layout"]["shapes"]

    assert shapes[0]["x0"] == "2027-08-01"


def test_a_trade_is_told_in_a_sentence() -> None:
    """The sentence names the month with least room and the overtime."""
    said = hours.hours_sentence(hours_row())

    assert "Least room in Jun 2027: 170 hours planned where there are 160." in said
    assert "Overtime 10 hours" in said


def test_an_idle_trade_says_so() -> None:
    """A trade without planned hours has no fullest month."""
    assert (
        hours.hours_sentence(replace(hours_row(), fullest_month=None, planned_total=0)) == "Nothing planned."
    )


def test_a_museum_without_trades_is_told_so() -> None:
    """No trades in the folder: hours limit nothing, and the sheet says so."""
    assert "limit nothing" in hours.overall_sentence([])


def test_the_tables_carry_every_month() -> None:
    """The alternative to the chart has a row for each month."""
    said = text(hours.hours_table(hours_row()))

    assert said.count("160") >= 59
    assert "closed" in said
