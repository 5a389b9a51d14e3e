"""Safety flags: recorded poor, doubtful, or not known; outside the points."""

from __future__ import annotations

import datetime as dt
from typing import Any

import numpy as np
import pytest

from tests.risk.museums import one_element, simulated
from triage.records import Collection, Element, Treated
from triage.risk import fit, safety_flags
from triage.risk.safety import THRESHOLD, safety_of

SUPPORT = Element(object_id="O", element_id="E", kind="suspension", material="steel cable", safety=True)


def museum(*grades: tuple[str, int | None], **more: Any) -> Collection:
    return one_element(grades, **{"elements": (SUPPORT,), **more})


@pytest.mark.parametrize("grade", [3, 4])
def test_recorded_poor_always_flags(grade: int) -> None:
    """One assessor's 3 or 4 is enough, whatever the model thinks of it."""
    calm = tuple((f"20{y}-01-01", 1) for y in range(10, 25))
    (flag,) = safety_flags(fit(museum(*calm, ("2025-01-01", grade)), draws=20))
    assert flag.worst_recorded == grade
    assert flag.element_ids == ("E",)
    assert f"grade {grade}" in flag.reason
    assert "competent person" in flag.caution


def test_good_and_lately_seen_is_not_flagged() -> None:
    """Grade 1 twice, lately: no flag, and the chance is below the threshold."""
    model = fit(museum(("2024-01-01", 1), ("2025-06-01", 1)), draws=20)
    assert safety_flags(model) == ()
    state = safety_of(model, model.collection.objects[0])
    assert state is not None
    assert state.chance < THRESHOLD


def test_never_graded_flags_as_not_known() -> None:
    """Nobody looked: that is a reason of its own, not a clean bill."""
    (flag,) = safety_flags(fit(museum(), draws=20))
    assert flag.not_known == ("E",)
    assert flag.worst_recorded is None
    assert "not known" in flag.reason


def test_long_unseen_is_flagged_by_its_chance() -> None:
    """A support last seen good decades ago is doubtful now."""
    (flag,) = safety_flags(fit(museum(("1995-01-01", 1)), draws=40))
    assert flag.chance >= flag.threshold == THRESHOLD
    assert flag.low <= flag.chance <= flag.high


def test_a_treatment_since_lifts_the_recorded_grade() -> None:
    """Renewed after the 4 was recorded: not flagged for it any more; left at 3: still flagged."""
    done = Treated(date=dt.date(2025, 6, 1), object_id="O", element_id="E", grade_after=1)
    assert safety_flags(fit(museum(("2025-01-01", 4), treated=(done,)), draws=20)) == ()
    poor = done.model_copy(update={"grade_after": 3})
    (flag,) = safety_flags(fit(museum(("2025-01-01", 4), treated=(poor,)), draws=20))
    assert flag.worst_recorded == 3
    assert "Left at grade 3" in flag.reason


def test_the_chance_is_of_any_element_inside_each_draw() -> None:
    """1 - prod(1 - p) draw by draw, then averaged: at least the worst element's own chance."""
    model = fit(
        museum(
            ("2010-01-01", 1),
            elements=tuple(SUPPORT.model_copy(update={"element_id": e}) for e in ("E", "B", "C")),
        ),
        draws=20,
    )
    poor = model.state[:, :, 2:].sum(axis=2)
    (flag,) = safety_flags(model)
    assert flag.chance == pytest.approx((1 - np.prod(1 - poor, axis=1)).mean())
    assert flag.chance >= poor.mean(axis=0).max()


def test_weights_do_not_hide_a_flag_and_the_threshold_is_the_callers() -> None:
    """A support with no share of the significance flags all the same; a threshold of 0 flags every one."""
    light = SUPPORT.model_copy(update={"share": 0.0})
    assert len(safety_flags(fit(museum(("2025-01-01", 4), elements=(light,)), draws=20))) == 1
    assert len(safety_flags(fit(museum(("2025-06-01", 1)), draws=20), threshold=0.0)) == 1


def test_recorded_poor_ones_come_first_then_by_chance() -> None:
    """Most doubtful first; objects without a safety element are not there."""
    flags = safety_flags(fit(simulated(30, 3, 8, seed=4), draws=20))
    worst = [(flag.worst_recorded or 0) >= 3 for flag in flags]
    assert worst == sorted(worst, reverse=True)
    rest = [flag.chance for flag in flags if (flag.worst_recorded or 0) < 3]
    assert rest == sorted(rest, reverse=True)
    assert safety_flags(fit(one_element([("2025-01-01", 4)]), draws=20)) == ()
