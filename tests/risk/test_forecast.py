"""Forecasts: proper, monotone, in the right direction, and clear about what they rest on."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.risk.museums import one_element, simulated
from triage.records import Climate, Collection, ConditionFinding, Grade, Round, Treated
from triage.risk import ElementForecast, RiskForecast, fit, forecast
from triage.risk.forecast import proper


def ahead(museum: Collection, months: tuple[int, ...] = (0, 12, 60, 120)) -> ElementForecast:
    """Return the forecast of the first element."""
    return forecast(fit(museum, draws=40), months).elements[0]


@pytest.fixture(scope="module")
def museum_forecast() -> RiskForecast:
    return forecast(fit(simulated(12, 4, 10, leaks=0.5)), (0, 1, 5, 12, 13, 60, 240, 600, 1200))


def test_chances_are_proper_at_any_months(museum_forecast: RiskForecast) -> None:
    """Each row sums to 1 exactly, p3 + p4 never falls, and its range holds it."""
    for element in museum_forecast.elements:
        three = element.p3_or_worse
        assert all(sum(row) == 1.0 for row in element.p)
        assert list(three) == sorted(three)
        assert all(lo <= p <= hi for lo, p, hi in zip(element.low3, three, element.high3, strict=True))


def test_every_element_has_its_forecast_in_the_order_of_the_record(museum_forecast: RiskForecast) -> None:
    """One forecast an element, none left out."""
    assert [e.key for e in museum_forecast.elements] == [
        e.key for e in simulated(12, 4, 10, leaks=0.5).elements
    ]


def test_it_survives_json_exactly(museum_forecast: RiskForecast) -> None:
    """The seam comes back from JSON to the last digit."""
    assert RiskForecast.model_validate_json(museum_forecast.model_dump_json()) == museum_forecast


@given(st.lists(st.lists(st.floats(0, 1), min_size=4, max_size=4).filter(lambda p: sum(p) > 0.1), min_size=2))
def test_rounding_to_proper_chances_keeps_them_near(rows: list[list[float]]) -> None:
    """Any chances whose p3 + p4 rises come back proper and within 1e-11."""
    p = np.array(rows)
    p /= p.sum(axis=1, keepdims=True)
    p = p[np.argsort(p[:, 2] + p[:, 3])]
    p[:, 3] = np.minimum(np.maximum.accumulate(p[:, 3]), p[:, 2] + p[:, 3])
    p[:, 2] = np.maximum(1.0 - p[:, 0] - p[:, 1] - p[:, 3], 0.0)
    good = proper(p[:, None, :])[:, 0]
    three = good[:, 2] + good[:, 3]
    assert (good.sum(axis=1) == 1.0).all()
    assert (good >= 0).all()
    assert (np.diff(three) >= 0).all()
    assert np.abs(three - (p[:, 2] + p[:, 3])).max() < 1e-11


def test_worse_grades_mean_a_worse_forecast() -> None:
    """The same looks with grade 3 last are likelier to be at 3 than with grade 1 last."""
    good = ahead(one_element([("2020-01-01", 1), ("2024-01-01", 1)]))
    bad = ahead(one_element([("2020-01-01", 1), ("2024-01-01", 3)]))
    assert all(b > g for g, b in zip(good.p3_or_worse, bad.p3_or_worse, strict=True))


def test_one_more_look_that_agrees_makes_it_surer() -> None:
    """A second assessor who also says 1 lowers the chance of 3 or worse now."""
    once = ahead(one_element([("2025-01-01", 2)]))
    twice = ahead(one_element([("2025-01-01", 2), ("2025-06-01", 2)]))
    assert twice.p3_or_worse[0] < once.p3_or_worse[0]


def test_a_recorded_3_is_not_a_certain_3() -> None:
    """The grade may be misread: the chance is high, but not 1, and the recorded grade is shown beside it."""
    element = ahead(one_element([("2019-06-01", 1), ("2025-06-01", 3)]))
    assert 0.5 < element.p3_or_worse[0] < 0.999
    assert (element.recorded, element.recorded_on) == (3, dt.date(2025, 6, 1))


def test_an_open_cause_goes_on() -> None:
    """An element under an open leak gets worse sooner than one whose leak ended."""

    def leaking(ended: dt.date | None) -> Collection:
        leak = ConditionFinding(
            finding_id="F", round_id="R0", object_id="O", cause="leak", severity=3, ended_on=ended
        )
        return one_element([("2025-06-01", 1)], findings=(leak,))

    assert ahead(leaking(None)).p3_or_worse[-1] > ahead(leaking(dt.date(2025, 7, 1))).p3_or_worse[-1]


def test_the_last_known_climate_goes_on() -> None:
    """A bright warm hall wears doped fabric sooner than a dim cool one."""

    def in_hall(light: float, warmth: float) -> Collection:
        climate = (Climate(hall_id="H", year=2024, light_klux_h=light, temperature_c=warmth),)
        return one_element([("2025-06-01", 1)], material="doped fabric", environment=climate)

    assert ahead(in_hall(3000, 28)).p3_or_worse[-1] > ahead(in_hall(100, 15)).p3_or_worse[-1]


def test_a_treatment_resets_the_grade() -> None:
    """Treated to 1 after a recorded 4: now at 1 in every draw, the old grade still shown."""
    done = Treated(date=dt.date(2025, 12, 31), object_id="O", element_id="E", grade_after=1)
    element = ahead(one_element([("2025-06-01", 4)], treated=(done,)))
    assert element.p[0][0] > 0.999
    assert (element.recorded, element.treated_to, element.treated_on) == (4, 1, done.date)


def test_the_basis_is_stated() -> None:
    """Own history, the material's other elements, or the tables alone."""
    museum = one_element([("2024-01-01", 2)])
    kin = museum.elements[0].model_copy(update={"element_id": "kin"})
    stranger = museum.elements[0].model_copy(update={"element_id": "stranger", "material": "jade"})
    wider = museum.model_copy(update={"elements": (*museum.elements, kin, stranger)})
    bases = [e.basis for e in forecast(fit(wider, draws=20)).elements]
    assert bases == ["own history", "material", "prior only"]


def test_a_never_graded_element_follows_its_material() -> None:
    """Rubber nobody looked at is worse ten years ahead than glass nobody looked at; both are unsure."""
    rubber = ahead(one_element([], material="rubber"))
    glass = ahead(one_element([], material="glass"))
    assert rubber.p3_or_worse[-1] > glass.p3_or_worse[-1]
    assert rubber.recorded is None
    assert rubber.high3[-1] - rubber.low3[-1] > 0.2


def test_years_to_a_grade_are_when_it_is_as_likely_as_not() -> None:
    """The chance crosses one half there; 0 if it has, None if it will not in a hundred years."""
    model = fit(one_element([("2025-06-01", 1)], material="rubber"), draws=40)
    years = forecast(model).elements[0].years_to_3
    assert years is not None
    months = round(years * 12)
    before, after = forecast(model, (months - 2, months + 2)).elements[0].p3_or_worse
    assert before < 0.5 < after
    assert ahead(one_element([("2025-06-01", 4), ("2025-07-01", 4)])).years_to_3 == 0.0
    slow = one_element([("2024-06-01", 1), ("2025-06-01", 1)], material="glass")
    assert ahead(slow).years_to_4 is None


def test_names_and_order_do_not_matter() -> None:
    """Renaming objects, elements and assessors and turning the record round changes no number."""
    museum = simulated(5, 3, 8, seed=2)
    renamed = Collection.model_validate(
        {
            **{k: getattr(museum, k) for k in ("settings", "halls", "environment")},
            "objects": [o.model_copy(update={"object_id": "x" + o.object_id}) for o in museum.objects[::-1]],
            "elements": [
                e.model_copy(update={"object_id": "x" + e.object_id, "element_id": "y" + e.element_id})
                for e in museum.elements[::-1]
            ],
            "rounds": [
                Round(round_id=r.round_id, date=r.date, assessor=f"z{r.assessor}")
                for r in museum.rounds[::-1]
            ],
            "grades": [
                Grade(
                    round_id=g.round_id,
                    object_id="x" + g.object_id,
                    element_id="y" + g.element_id,
                    grade=g.grade,
                )
                for g in museum.grades[::-1]
            ],
            "findings": [
                f.model_copy(update={"object_id": "x" + f.object_id}) for f in museum.findings[::-1]
            ],
        }
    )
    one, other = forecast(fit(museum, draws=20)), forecast(fit(renamed, draws=20))
    for element in one.elements:
        twin = other.of("x" + element.object_id, "y" + element.element_id)
        assert np.array(twin.p) == pytest.approx(np.array(element.p), abs=1e-4)


@pytest.mark.parametrize("months", [(-1, 0), (12, 0), (0, 0)])
def test_months_must_rise_from_now(months: tuple[int, ...]) -> None:
    """Months before now or out of order are refused."""
    with pytest.raises(ValueError, match="must rise"):
        forecast(fit(one_element([]), draws=2), months)
