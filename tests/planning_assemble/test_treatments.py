"""Treatments and their stages in whole numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.museum import STAGES, TREATMENTS, losses, month, museum
from triage.planning.assemble import Assembled, assemble
from triage.planning.assemble.treatments import spread_hours, whole_losses
from triage.records import Stage, Treatment


def assembled(**changes: object) -> Assembled:
    """Return the tiny museum assembled, some of its tables changed."""
    collection = museum(**changes)
    return assemble(collection, losses(collection))


def with_window(not_before: str | None, not_after: str | None) -> tuple[Treatment, ...]:
    """Return the treatments, the engine's with a window."""
    window = {
        "not_before": None if not_before is None else month(not_before),
        "not_after": None if not_after is None else month(not_after),
    }
    return (*TREATMENTS[:3], TREATMENTS[3].model_copy(update=window))


def test_hours_are_spread_evenly_larger_first() -> None:
    """303 hours in four months are 76, 76, 76, 75."""
    assert spread_hours({"woodwork": 302.5}, 4) == {"woodwork": (76, 76, 76, 75)}


def test_a_trade_without_hours_is_left_out_of_a_stage() -> None:
    """0 hours are no entry; a tenth of an hour is one hour."""
    assert spread_hours({"a": 0, "b": 0.1}, 2) == {"b": (1, 0)}


@given(st.floats(0, 1e5), st.integers(1, 60))
def test_spread_hours_sum_to_the_total_and_differ_by_at_most_one(total: float, months: int) -> None:
    """Whatever the total, its months sum to it rounded up, never rise and differ by at most one."""
    hours = spread_hours({"t": total}, months).get("t", (0,) * months)

    assert total - 1e-6 <= sum(hours) < total + 1
    assert list(hours) == sorted(hours, reverse=True)
    assert hours[0] - hours[-1] <= 1


@given(st.lists(st.floats(0, 1e4), min_size=1, max_size=40))
def test_whole_losses_never_fall(raw: list[float]) -> None:
    """Rounding keeps the order, and noise in the last binary place cannot turn it round."""
    rising = sorted(raw)

    assert list(whole_losses(rising)) == sorted(whole_losses(rising))
    assert whole_losses((0.5, 0.5 - 1e-12, 1.5)) == (0, 0, 2)


def test_renewing_later_is_no_gain_to_wait_for() -> None:
    """Where a later end would lose less by the value date, it counts as much as earlier ends."""
    assert whole_losses((40.2, 42.6, 39.1, 41.0, 50.4)) == (40, 43, 43, 43, 50)


def test_needs_round_up() -> None:
    """Area 45.2 m2 is 46, height 2.001 m is 201 cm, cost 12000.2 is 12001."""
    treatment = assembled().problem.treatment_by_id["T-GLIDER"]

    assert treatment.cost == 12001
    assert (treatment.stages[1].area_m2, treatment.stages[1].height_cm) == (46, 201)
    assert treatment.stages[1].hours == {"woodwork": (76, 76, 76, 75)}


def test_an_unknown_size_is_zero_and_passes() -> None:
    """A stage without width and height asks nothing of a door."""
    stage = assembled().problem.treatment_by_id["T-BIPLANE"].stages[0]

    assert (stage.width_cm, stage.height_cm) == (0, 0)


def test_stages_keep_order_waits_places_and_absence() -> None:
    """Stages are written in the order of their numbers whatever the order of the rows."""
    result = assembled(stages=tuple(reversed(STAGES)))
    stages = result.problem.treatment_by_id["T-GLIDER"].stages

    assert [(s.months, s.place, s.most_wait, s.away) for s in stages] == [
        (1, "hall", 0, True),
        (4, "bay", 2, True),
        (1, "hall", 6, True),
    ]
    assert [s.title for s in result.stages_of["T-GLIDER"]] == ["Lower", "Re-cover", "Hoist"]


def test_in_gallery_treatments_are_planned_like_the_others() -> None:
    """A gallery action is a treatment with its own stages, no place and no absence."""
    stage = assembled().problem.treatment_by_id["T-SHADE"].stages[0]

    assert (stage.place, stage.away, stage.hours) == (None, False, {"woodwork": (8,)})


def test_loss_if_done_has_one_number_more_than_months() -> None:
    """H+1 whole points that do not fall."""
    for treatment in assembled().problem.treatments:
        assert len(treatment.loss_if_done) == 25
        assert list(treatment.loss_if_done) == sorted(treatment.loss_if_done)


@pytest.mark.parametrize(
    ("not_before", "not_after", "window"),
    [
        (None, None, (0, 23)),
        ("2027-01", "2028-12", (0, 23)),
        ("2026-06", "2030-01", (0, 23)),
        ("2027-02", "2027-02", (1, 1)),
        ("2028-12", None, (23, 23)),
        (None, "2027-01", (0, 0)),
    ],
)
def test_the_window_is_not_before_to_not_after_within_the_horizon(
    not_before: str | None, not_after: str | None, window: tuple[int, int]
) -> None:
    """earliest and latest are the given months, else 0 and H-1."""
    result = assembled(treatments=with_window(not_before, not_after))
    treatment = result.problem.treatment_by_id["T-ENGINE"]

    assert (treatment.earliest, treatment.latest) == window


@pytest.mark.parametrize(("not_before", "not_after"), [("2029-01", None), (None, "2026-12")])
def test_a_window_outside_the_horizon_is_left_out_and_said(
    not_before: str | None, not_after: str | None
) -> None:
    """Such a treatment is not in the problem, and a note names it."""
    result = assembled(treatments=with_window(not_before, not_after))

    assert "T-ENGINE" not in result.problem.treatment_by_id
    assert "outside the months planned for" in result.left_out_by_id["T-ENGINE"].words
    assert any("Catch and drain the oil (T-ENGINE)" in note.text for note in result.notes)


def test_a_stage_made_from_a_template_keeps_its_mark() -> None:
    """Estimated stages can be told from written ones in the look-up back."""
    stages = (*STAGES[:5], Stage(treatment_id="T-ENGINE", stage=1, months=2, estimated=True))

    assert assembled(stages=stages).stages_of["T-ENGINE"][0].estimated
