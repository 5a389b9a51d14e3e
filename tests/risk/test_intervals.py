"""Histories: series cut at treatments, and what speeds wear over each piece of time."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest

from tests.risk.museums import one_element
from triage.records import Climate, ConditionFinding, Hall, Move, MuseumObject, Round, Treated
from triage.records.vocabulary import Mounting
from triage.risk.intervals import Histories, histories


def lengths(record: Histories) -> list[int]:
    counts = record.panel.counts
    return [int((counts > k).sum()) for k in range(record.panel.series)]


def treated(day: str, grade: int = 1, element: str | None = "E") -> Treated:
    return Treated(date=dt.date.fromisoformat(day), object_id="O", element_id=element, grade_after=grade)


def test_a_history_is_cut_at_each_treatment() -> None:
    """Grades before and after a treatment are two series; the second starts at the grade it left."""
    grades = [("2015-06-01", 2), ("2017-06-01", 3), ("2020-06-01", 1), ("2022-06-01", 1), ("2024-06-01", 2)]
    record = histories(one_element(grades, treated=(treated("2018-01-01", 2),)))
    assert lengths(record) == [3, 2]
    assert record.panel.unknown.tolist() == [False, True]
    assert record.panel.start[0].tolist() == [0.0, 1.0, 0.0, 0.0]
    assert record.current.tolist() == [0]


def test_on_one_day_grades_come_before_treatments() -> None:
    """A grade on the day of the treatment belongs to the time before it."""
    record = histories(one_element([("2018-01-01", 4)], treated=(treated("2018-01-01"),)))
    assert lengths(record) == [1, 0]
    assert record.panel.start[record.current[0]].tolist() == [1.0, 0.0, 0.0, 0.0]


def test_blank_element_means_all_and_a_named_one_counts_on_the_same_day() -> None:
    """Of two treatments of one day the one that names the element counts, whatever the row order."""
    for rows in (
        (treated("2018-01-01", 3, None), treated("2018-01-01", 1)),
        (treated("2018-01-01", 1), treated("2018-01-01", 3, None)),
    ):
        record = histories(one_element([], treated=rows))
        assert record.panel.start[record.current[0]].argmax() == 0


def test_looks_that_saw_nothing_are_no_grades() -> None:
    """A blank grade adds no observation, and a treatment from now on does not count."""
    record = histories(
        one_element([("2018-01-01", None), ("2019-01-01", 2)], treated=(treated("2026-01-01"),))
    )
    assert record.panel.observations == 1
    assert record.panel.unknown.all()


def test_worn_time_is_calendar_time_where_nothing_speeds_it() -> None:
    """Years between looks, and from the last look to now."""
    record = histories(one_element([("2015-01-01", 1), ("2019-01-01", 2)]))
    still = np.zeros(len(record.covariates.names))
    assert record.panel.exposure.tau(still)[1] == pytest.approx(4.0, abs=0.01)
    assert record.panel.tail.tau(still)[0] == pytest.approx(7.0, abs=0.01)


def test_a_cause_speeds_only_the_days_it_lasts() -> None:
    """A leak in one of four years multiplies that year alone: tau = 3 + factor."""
    leak = ConditionFinding(
        finding_id="F",
        round_id="R0",
        object_id="O",
        cause="leak",
        severity=2,
        began_on=dt.date(2016, 1, 1),
        ended_on=dt.date(2017, 1, 1),
    )
    record = histories(one_element([("2015-01-01", 1), ("2019-01-01", 2)], findings=(leak,)))
    coef = np.zeros(len(record.covariates.names))
    coef[0] = 1.0
    factor = record.priors[0].factors["leak"]
    assert record.panel.exposure.tau(coef)[1] == pytest.approx(3.0 + factor, abs=0.01)
    assert record.x_now[0, 0] == 0.0


def test_severity_goes_in_proportion_on_the_logarithm() -> None:
    """Severity 1 is the square root of the table's factor, severity 3 its power of one and a half."""
    prior = histories(one_element([])).priors[0]
    two = prior.log_factor("leak", 2)
    assert [prior.log_factor("leak", s) / two for s in (1, 2, 3)] == pytest.approx([0.5, 1.0, 1.5])


def test_climate_follows_the_object_through_its_moves() -> None:
    """Before the first move nothing is known; then the hall it moved to; at last the hall of the record."""
    climate = tuple(
        Climate(hall_id=h, year=2014, light_klux_h=dose) for h, dose in (("H", 600.0), ("G", 3000.0))
    )
    record = histories(
        one_element(
            [("2015-01-01", 1), ("2017-01-01", 1), ("2019-01-01", 1)],
            halls=(Hall(hall_id="H"), Hall(hall_id="G")),
            moves=(
                Move(object_id="O", date=dt.date(2017, 1, 1), hall_id="G"),
                Move(object_id="O", date=dt.date(2018, 1, 1), hall_id="H"),
            ),
            environment=climate,
        )
    )
    coef = np.zeros(len(record.covariates.names))
    coef[record.covariates.climate.start] = 1.0
    tau = record.panel.exposure.tau(coef)
    bright = 0.9 + 0.1 * 5.0
    assert tau[1] == pytest.approx(2.0, abs=0.01)
    assert tau[2] == pytest.approx(bright + 1.0, abs=0.01)
    assert record.x_now[0, record.covariates.climate].tolist() == [0.0, 0.0, 0.0, 0.0]


def test_the_last_known_climate_goes_on() -> None:
    """A reading left blank in the last year is that of the year before; nothing known is no effect."""
    climate = (
        Climate(hall_id="H", year=2020, light_klux_h=3000.0, temperature_c=25.0),
        Climate(hall_id="H", year=2024, temperature_c=20.0),
    )
    record = histories(one_element([("2019-01-01", 1)], environment=climate))
    light, warmth, humidity, swing = record.x_now[0, record.covariates.climate]
    assert light == pytest.approx(np.log(0.9 + 0.1 * 5.0))
    assert (warmth, humidity, swing) == (0.0, 0.0, 0.0)


def test_hanging_counts_while_on_show() -> None:
    """A hung object in a hall carries the hanging covariate; one on the floor does not."""
    hung = MuseumObject(object_id="O", hall_id="H", mounting=Mounting.HUNG)
    assert histories(one_element([], objects=(hung,))).x_now[0, -1] == 1.0
    assert histories(one_element([])).x_now[0, -1] == 0.0


def test_rounds_from_now_on_are_not_read() -> None:
    """A forecast rests on what lies before now."""
    record = histories(one_element([("2025-06-01", 1), ("2026-01-01", 4)]))
    assert record.panel.observations == 1


def test_unknown_assessors_share_one_name() -> None:
    """Rounds without an assessor are read like any other."""
    seen = one_element([("2019-01-01", 2)])
    nameless = seen.model_copy(update={"rounds": (Round(round_id="R0", date=dt.date(2019, 1, 1)),)})
    assert histories(nameless).assessors == ("",)
