"""The forecast's table: what holds exactly in the risk room holds exactly in the file."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from tests.museum import settings
from triage import risk
from triage.reports.forecast_table import COLUMNS, decimal, forecast_csv, forecast_rows
from triage.risk import ElementForecast, RiskForecast
from triage.survey import read_collection


@pytest.fixture(scope="module")
def rows(demo_folder: Path) -> list[dict[str, str]]:
    """Return the demo's forecast as another program would read it."""
    collection = read_collection(demo_folder).collection
    assert collection is not None
    text = forecast_csv(forecast_rows(risk.forecast(risk.fit(collection))))
    return list(csv.DictReader(io.StringIO(text)))


def test_every_row_read_back_sums_to_one_exactly(rows: list[dict[str, str]]) -> None:
    """No tolerance is needed by whoever reads the file."""
    assert {sum(float(row[f"p{g}"]) for g in (1, 2, 3, 4)) for row in rows} == {1.0}


def test_the_chance_of_poor_never_falls_and_lies_in_its_range(rows: list[dict[str, str]]) -> None:
    """As read, without tolerance: p3 + p4 rises with the months ahead and low3 <= p3 + p4 <= high3."""
    before: dict[tuple[str, str], float] = {}
    for row in rows:
        key, poor = (row["object_id"], row["element_id"]), float(row["p3"]) + float(row["p4"])

        assert before.get(key, 0.0) <= poor
        assert float(row["low3"]) <= poor <= float(row["high3"])

        before[key] = poor
    assert len(rows) == 11 * len(before)


def test_columns_are_those_other_programs_read(rows: list[dict[str, str]]) -> None:
    """The header names the element, the object, the months ahead, four chances and a range."""
    assert tuple(rows[0]) == COLUMNS
    assert [int(row["months_ahead"]) for row in rows[:11]] == list(range(0, 121, 12))


def test_ids_with_commas_and_quotes_survive() -> None:
    """The table is proper CSV."""
    element = ElementForecast(
        object_id="O",
        element_id='a,"b"',
        months_ahead=(0,),
        p=((1.0, 0.0, 0.0, 0.0),),
        low3=(0.0,),
        high3=(0.0,),
        basis="prior only",
    )
    text = forecast_csv(
        forecast_rows(RiskForecast(now=settings().now, months_ahead=(0,), elements=(element,)))
    )

    assert text.splitlines()[1].startswith('"a,""b""",O,0,1.000000,')


def test_a_chance_is_written_so_that_it_reads_back_the_same() -> None:
    """At least six places, no exponent, every digit that matters."""
    assert [decimal(x) for x in (0.0, 1.0, 0.5)] == ["0.000000", "1.000000", "0.500000"]
    assert float(decimal(2.0**-40)) == 2.0**-40
    assert "e" not in decimal(2.0**-40)
