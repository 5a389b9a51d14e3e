"""The forecast as a table: whole billionths, so that each row sums to 1 exactly as written."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from triage.risk import ElementForecast, RiskForecast
from triage.survey import Intake

COLUMNS = (
    "element_id",
    "object_id",
    "months_ahead",
    "p1",
    "p2",
    "p3",
    "p4",
    "low3",
    "high3",
)
DECIMALS = 9
WHOLE = 10**DECIMALS


@dataclass(frozen=True)
class ForecastRow:
    """Chances of one element's true grade so many months from now, in billionths.

    ``low3`` and ``high3`` are the 90 % range of grade 3 or worse; p3 + p4 lies within and never falls.
    """

    element_id: str
    object_id: str
    months_ahead: int
    p: tuple[int, int, int, int]
    low3: int
    high3: int


@dataclass(frozen=True)
class ForecastTable:
    """Every element's rows, what they came from and what was set aside."""

    intake: Intake
    forecast: RiskForecast
    rows: tuple[ForecastRow, ...]


def forecast_rows(forecast: RiskForecast) -> tuple[ForecastRow, ...]:
    """Return every element's rows, in the order of the record."""
    return tuple(row for element in forecast.elements for row in _element_rows(element))


def _element_rows(element: ElementForecast) -> Iterator[ForecastRow]:
    """Yield an element's rows; rounding keeps the sum, the order in time and the range."""
    poor = 0
    rows = zip(element.months_ahead, element.p, element.low3, element.high3, strict=True)
    for months, p, low, high in rows:
        poor = min(WHOLE, max(poor, round((p[2] + p[3]) * WHOLE)))
        p4 = min(poor, round(p[3] * WHOLE))
        p1 = min(WHOLE - poor, round(p[0] * WHOLE))
        yield ForecastRow(
            element_id=element.element_id,
            object_id=element.object_id,
            months_ahead=months,
            p=(p1, WHOLE - poor - p1, poor - p4, p4),
            low3=max(0, min(poor, round(low * WHOLE))),
            high3=min(WHOLE, max(poor, round(high * WHOLE))),
        )


def decimal(billionths: int) -> str:
    """Return billionths as a decimal number with nine places."""
    return f"{billionths // WHOLE}.{billionths % WHOLE:0{DECIMALS}d}"


def forecast_csv(rows: Iterable[ForecastRow]) -> str:
    """Return the rows as a CSV text."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        numbers = (*row.p, row.low3, row.high3)
        writer.writerow((row.element_id, row.object_id, row.months_ahead, *map(decimal, numbers)))
    return text.getvalue()
