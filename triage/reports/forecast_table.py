"""The forecast as a table. Chances are written with every digit, so that what holds exactly holds as read.

The risk room gives chances as whole multiples of 2^-40: each row sums to 1, p3 + p4 never falls and lies
within its range without any rounding; shorter numbers would lose that.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

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
LEAST_DECIMALS = 6


@dataclass(frozen=True)
class ForecastRow:
    """Chances of one element's true grade so many months from now.

    ``low3`` and ``high3`` are the 90 % range of grade 3 or worse; p3 + p4 lies within and never falls.
    """

    element_id: str
    object_id: str
    months_ahead: int
    p: tuple[float, float, float, float]
    low3: float
    high3: float


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
    rows = zip(element.months_ahead, element.p, element.low3, element.high3, strict=True)
    for months, p, low, high in rows:
        yield ForecastRow(element.element_id, element.object_id, months, p, low, high)


def decimal(chance: float) -> str:
    """Return a chance as the shortest decimal number that reads back the same, at least six places."""
    return np.format_float_positional(chance, unique=True, min_digits=LEAST_DECIMALS)


def forecast_csv(rows: Iterable[ForecastRow]) -> str:
    """Return the rows as a CSV text."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        numbers = (*row.p, row.low3, row.high3)
        writer.writerow((row.element_id, row.object_id, row.months_ahead, *map(decimal, numbers)))
    return text.getvalue()
