"""The fit: what it learns, what it keeps, and that odd records do not break it."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.risk.museums import RATES, one_element, simulated
from tests.risk.museums import settings as museum_settings
from triage.records import Collection, Treated
from triage.risk import FittedModel, fit, forecast, object_losses, safety_flags
from triage.risk.fit import Mode, convergence_words, covariance_of, notes_on
from triage.risk.intervals import histories
from triage.risk.misgrading import Misgrading
from triage.risk.parameters import FIRST, Priors


@pytest.fixture(scope="module")
def fitted() -> FittedModel:
    return fit(simulated(60, 4, 12, seed=5, leaks=0.4, climate=False))


def test_rates_are_found_again() -> None:
    """Over three museums the truth's rates lie about as far from the draws' mean as the draws say."""
    away = []
    for seed in range(3):
        model = fit(simulated(30, 3, 12, seed=seed, climate=False))
        logs = np.log(model.rates)
        truth = np.log([RATES[m] for m in model.histories.materials])
        away.append((logs.mean(axis=0) - truth) / logs.std(axis=0))
    assert 0.6 < np.sqrt(np.mean(np.square(away))) < 1.4


def test_a_cause_is_found_again() -> None:
    """Leaks twice as strong as the table says (on the logarithm) move the coefficient well above 1."""
    strong = fit(simulated(60, 4, 12, seed=5, leaks=0.4, leak_effect=2.0, climate=False)).coef[:, 0]
    assert 1.4 < strong.mean() < 2.4
    assert strong.std() < 0.5


def test_data_narrow_what_the_tables_leave_open(fitted: FittedModel) -> None:
    """Rates of well-seen materials have a small part of the tables' variance left."""
    own = np.diag(fitted.covariance)
    assert own.max() <= 1.0 + 1e-6
    assert np.log(fitted.rates).std(axis=0).max() < 0.6 * fitted.histories.priors[0].log_sd


def test_convergence_is_said_in_words(fitted: FittedModel) -> None:
    """A sentence with the rounds it took."""
    assert fitted.converged
    assert fitted.convergence.startswith("The fit converged after")


def test_the_same_seed_gives_the_same_answer() -> None:
    """Two fits agree to the last digit; another seed moves the draws, not the mode."""
    museum = simulated(6, 3, 6)
    one, two, other = fit(museum, draws=10), fit(museum, draws=10), fit(museum, draws=10, seed=1)
    assert np.array_equal(one.state, two.state)
    assert np.array_equal(one.mode, other.mode)
    assert not np.array_equal(one.rates, other.rates)


def test_without_grades_the_tables_speak() -> None:
    """No round at all: the mode is the prior's, the range of the median the spread the table states."""
    model = fit(one_element([]), draws=2000)
    assert np.abs(model.mode).max() == 0.0
    medians = np.log(2) / model.rates[:, 0, :]
    low, high = np.percentile(medians, [5, 95], axis=0)
    prior = model.histories.priors[0]
    assert low == pytest.approx(np.array(prior.years) / prior.spread, rel=0.1)
    assert high == pytest.approx(np.array(prior.years) * prior.spread, rel=0.1)
    assert any("tables alone" in note for note in model.notes)


def test_a_material_never_seen_leans_on_its_kin() -> None:
    """Where everything else wears faster than the tables, a material never graded is taken to as well."""
    fast = simulated(30, 4, 12, seed=3, missed=0.0, speed=2.0, climate=False)
    extra = fast.elements[0].model_copy(update={"element_id": "new", "material": "leather"})
    model = fit(fast.model_copy(update={"elements": (*fast.elements, extra)}))
    place = model.histories.materials.index("leather")
    table = np.log(np.log(2) / np.array(model.histories.priors[place].years))
    others = np.delete(np.log(model.rates), place, axis=1).mean(axis=0)
    tables = np.log(np.log(2) / np.array([p.years for p in model.histories.priors]))
    shift = (others - np.delete(tables, place, axis=0)).mean()
    assert shift > 0.05
    assert 0.0 < (np.log(model.rates[:, place]).mean(axis=0) - table).mean() < shift


def test_first_grades_without_data_are_the_prior() -> None:
    """An element never looked at starts from the chances of a first look."""
    record = histories(one_element([]))
    priors = Priors(record, Misgrading())
    assert priors.natural(np.zeros(priors.layout.size)).first[0] == pytest.approx(np.array(FIRST))


def test_too_few_draws_are_refused() -> None:
    """A range needs at least two draws."""
    with pytest.raises(ValueError, match="at least 2"):
        fit(one_element([]), draws=1)


SIXTY_YEARS = [(f"{y}-06-01", 1 + (y - 1965) // 16) for y in range(1965, 2026)]
ODD = {
    "contradictory": one_element(
        [("2015-01-01", 4), ("2016-01-01", 1), ("2017-01-01", 4), ("2018-01-01", 1)]
    ),
    "no grades": one_element([]),
    "one grade": one_element([("2015-01-01", 3)]),
    "all unknown": one_element([("2015-01-01", None), ("2016-01-01", None)]),
    "sixty years": one_element(SIXTY_YEARS),
    "one look sixty years ago": one_element([("1966-01-01", 1)]),
    "twice on one day": one_element([("2015-01-01", 1), ("2015-01-01", 2), ("2020-01-01", 2)]),
    "better than the treatment left it": one_element(
        [("2016-01-01", 1), ("2020-01-01", 1)],
        treated=(Treated(date=dt.date(2015, 1, 1), object_id="O", grade_after=4),),
    ),
    "no elements": Collection(settings=museum_settings()),
    "no words": one_element([("2015-01-01", 2)], kind="", material=""),
}


@pytest.mark.parametrize("name", list(ODD))
def test_odd_histories_give_finite_well_formed_answers(name: str) -> None:
    """Whatever the record, chances are proper and losses finite."""
    museum = ODD[name]
    model = fit(museum, draws=20)
    ahead = forecast(model)
    assert len(ahead.elements) == len(museum.elements)
    for element in ahead.elements:
        p = np.array(element.p)
        assert np.isfinite(p).all()
        assert (p >= 0).all()
        assert np.abs(p.sum(axis=1) - 1.0).max() < 1e-9
    losses = object_losses(model)
    assert list(losses) == [o.object_id for o in museum.objects]
    assert all(0 <= loss.low <= loss.never <= loss.high for loss in losses.values())
    assert safety_flags(model) == ()


def test_a_hessian_without_a_clear_peak_falls_back_to_the_prior_and_says_so() -> None:
    """Directions that are not certain at all keep the prior's certainty; the note is there."""
    covariance, adequate = covariance_of(np.diag([4.0, -1.0, 0.5]))
    assert not adequate
    assert np.diag(covariance) == pytest.approx([0.25, 1.0, 1.0])
    assert covariance_of(np.diag([4.0, 0.5]))[1]
    assert any("no clear peak" in note for note in notes_on(histories(one_element([])), adequate))


def test_a_search_that_stopped_early_is_said() -> None:
    """Not converged: the sentence says so and asks for care."""
    said = convergence_words(Mode(np.zeros(1), 0.0, 0.3, 500, False, "STOP"))
    assert "before it converged" in said
    assert "care" in said


DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2025, 12, 31)).map(dt.date.isoformat)
LOOKS = st.lists(st.tuples(DAYS, st.none() | st.integers(1, 4)), max_size=6)
DONE = st.lists(
    st.builds(
        Treated,
        date=st.dates(dt.date(1990, 1, 1), dt.date(2025, 12, 31)),
        object_id=st.just("O"),
        element_id=st.sampled_from([None, "E"]),
        grade_after=st.integers(1, 4),
    ),
    max_size=2,
)


@settings(max_examples=25)
@given(LOOKS, DONE)
def test_any_history_gives_proper_chances(looks: list[tuple[str, int | None]], done: list[Treated]) -> None:
    """Any looks in any order with any treatments: chances sum to 1, p3 + p4 never falls, ranges hold it."""
    model = fit(one_element(looks, treated=tuple(done)), draws=4)
    (element,) = forecast(model, (0, 12, 120, 1200)).elements
    three = element.p3_or_worse
    assert all(sum(row) == 1.0 and min(row) >= 0.0 for row in element.p)
    assert list(three) == sorted(three)
    assert all(lo <= p <= hi for lo, p, hi in zip(element.low3, three, element.high3, strict=True))
