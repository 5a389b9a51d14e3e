"""Rounding of the forecast's table."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from tests.museum import settings
from triage.reports.forecast_table import WHOLE, decimal, forecast_csv, forecast_rows
from triage.risk import ElementForecast, RiskForecast

Chances = tuple[float, float, float, float]


def table(p: list[Chances], low: list[float], high: list[float]) -> RiskForecast:
    """Return a forecast of one element with these rows."""
    months = tuple(range(0, 12 * len(p), 12))
    element = ElementForecast(
        object_id="O",
        element_id="E",
        months_ahead=months,
        p=tuple(p),
        low3=tuple(low),
        high3=tuple(high),
        basis="prior only",
    )
    return RiskForecast(now=settings().now, months_ahead=months, elements=(element,))


@given(st.lists(st.tuples(*[st.floats(0.001, 1)] * 4), min_size=1, max_size=11))
def test_rounding_keeps_sum_order_and_range(weights: list[Chances]) -> None:
    """Whatever the chances: rows sum to 1, p3 + p4 never falls, and lies within its range."""
    rows = [tuple(w / sum(row) for w in row) for row in weights]
    ordered: list[Chances] = sorted(rows, key=lambda row: row[2] + row[3])  # type: ignore[arg-type]  # four numbers each
    poor = [row[2] + row[3] for row in ordered]
    found = forecast_rows(table(ordered, poor, poor))

    sums = [row.p[2] + row.p[3] for row in found]
    assert all(sum(row.p) == WHOLE and min(row.p) >= 0 for row in found)
    assert sums == sorted(sums)
    assert all(row.low3 <= s <= row.high3 for row, s in zip(found, sums, strict=True))


def test_binary_noise_cannot_make_the_chance_fall() -> None:
    """A chance that falls in the last binary place is written as not falling."""
    found = forecast_rows(
        table([(0.2, 0.3, 0.3, 0.2), (0.2, 0.3 + 1e-9, 0.3 - 1e-9, 0.2)], [0.5, 0.5], [0.5, 0.5])
    )

    assert [row.p[2] + row.p[3] for row in found] == [WHOLE // 2, WHOLE // 2]


def test_ids_with_commas_and_quotes_survive() -> None:
    """The table is proper CSV."""
    element = table([(1, 0, 0, 0)], [0], [0]).elements[0].model_copy(update={"element_id": 'a,"b"'})
    text = forecast_csv(
        forecast_rows(RiskForecast(now=settings().now, months_ahead=(0,), elements=(element,)))
    )

    assert text.splitlines()[1].startswith('"a,""b""",O,0,1.000000000')


def test_billionths_are_written_with_nine_places() -> None:
    """Exactly."""
    assert [decimal(n) for n in (0, 1, WHOLE)] == ["0.000000000", "0.000000001", "1.000000000"]
    assert Decimal(decimal(123456789)) == Decimal("0.123456789")
