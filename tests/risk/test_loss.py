"""Loss: the formula against a plain reckoning with matrix exponentials, and what must follow from it."""

from __future__ import annotations

import datetime as dt
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.linalg import expm

from tests.risk.museums import one_element, settings, simulated
from triage.records import Collection, ConditionFinding, Effect, Element, Grade, Material, Stage, Treatment
from triage.records.vocabulary import TreatmentKind
from triage.risk import FittedModel, ObjectLoss, fit, object_losses
from triage.risk.markov import generators
from triage.risk.values import values_of

Array = NDArray[np.float64]
MONTHS = 24
LEAK = ConditionFinding(finding_id="F", round_id="R0", object_id="O", cause="Leak", severity=3)


def museum(
    *, grades: tuple[tuple[str, int | None], ...] = (("2023-01-01", 1), ("2025-01-01", 2)), **more: Any
) -> Collection:
    """Return one doped covering, a leak on it, and whatever else is given."""
    base: dict[str, Any] = {"settings": settings(MONTHS), "findings": (LEAK,), "material": "doped fabric"}
    return one_element(grades, **{**base, **more})


def treatment(**more: Any) -> Treatment:
    return Treatment.model_validate({"treatment_id": "T", "object_id": "O", **more})


def effect(grade_after: int | None = 1, kept: float | None = 80.0) -> Effect:
    return Effect(treatment_id="T", element_id="E", grade_after=grade_after, original_kept_pct=kept)


def loss_of(collection: Collection, draws: int = 12) -> ObjectLoss:
    return object_losses(fit(collection, draws=draws))["O"]


def plain_reckoning(
    model: FittedModel, treated: Treatment, done: Effect | None, e: int, years: float
) -> float:
    """Return the points lost if the job ends before month e, draw by draw, from the definition."""
    record = model.histories
    lost = np.array(values_of("covering").lost)
    total = 0.0
    for d in range(model.draws):
        old = generators(model.rates[d, 0] * np.exp(model.coef[d] @ record.x_now[0]))
        x = record.x_now[0].copy()
        if "leak" in [c.lower() for c in treated.ends_causes]:
            x[record.covariates.causes.index("leak")] = 0.0
        new = generators(model.rates[d, 0] * np.exp(model.coef[d] @ x) * treated.slows_to)
        at_end = model.state[d, 0] @ expm(old * e / 12)
        onward = expm(new * (years - e / 12))
        for a in range(4):
            g = a if done is None or done.grade_after is None else min(a, done.grade_after - 1)
            k = (
                1.0
                if done is None
                else (done.original_kept_pct or values_of("covering").original_kept_pct) / 100
            )
            left = sum(onward[g, b] * (1 - lost[b]) for b in range(4))
            total += at_end[a] * (1 - (1 - lost[a]) * k * left / (1 - lost[g]))
    return 100 * 60 * total / model.draws


@pytest.mark.parametrize(
    ("job", "done"),
    [
        (treatment(), effect()),
        (treatment(slows_to=0.5, ends_causes=("leak",)), effect(2, 95.0)),
        (treatment(ends_causes=("LEAK",)), None),
        (treatment(), effect(None, None)),
        (treatment(slows_to=1.5), effect(3, 60.0)),
    ],
)
def test_loss_if_done_is_the_definition_at_every_month(job: Treatment, done: Effect | None) -> None:
    """All cases of the effects table: full rows, no row, blanks, slower and faster wear after."""
    collection = museum(treatments=(job,), effects=(done,) if done else ())
    model = fit(collection, draws=6)
    loss = object_losses(model)["O"]
    curve = loss.if_done["T"]
    assert len(curve) == MONTHS + 1
    for e in (0, 1, 13, MONTHS):
        assert curve[e] == pytest.approx(plain_reckoning(model, job, done, e, loss.value_years), rel=1e-9)


def test_untreated_loss_is_the_expected_loss_at_the_value_date() -> None:
    """The same as a treatment that does nothing, and its range holds it."""
    loss = loss_of(museum(treatments=(treatment(),)))
    assert loss.never == pytest.approx(loss.if_done["T"][0])
    assert loss.if_done["T"][0] == pytest.approx(loss.if_done["T"][-1])
    assert loss.low < loss.never < loss.high
    assert 0 < loss.never < 6000


@pytest.mark.parametrize(
    ("months", "value_years", "expected"), [(24, 25.0, 25.0), (24, 5.0, 12.0), (240, 25.0, 30.0)]
)
def test_value_date_lies_ten_years_past_the_horizon_at_least(
    months: int, value_years: float, expected: float
) -> None:
    """value_years from now, unless late work would then look worthless."""
    assert loss_of(museum(settings=settings(months, value_years))).value_years == expected


def test_ending_a_cause_never_raises_the_loss_and_waiting_with_it_costs() -> None:
    """A tray under a leak saves points at any month, and each month later saves less."""
    loss = loss_of(museum(treatments=(treatment(ends_causes=("leak",), kind=TreatmentKind.IN_GALLERY),)))
    curve = loss.if_done["T"]
    assert (np.diff(curve) > 0).all()
    assert curve[-1] < loss.never
    assert dict(loss.by_cause) == pytest.approx({"leak": loss.never - curve[0]})


@pytest.mark.parametrize("slows_to", [0.3, 0.8, 1.0])
@pytest.mark.parametrize("last", [1, 2, 3, 4])
def test_waiting_never_pays_where_grades_are_left_as_they_are(slows_to: float, last: int) -> None:
    """A treatment that only slows wear is never better later."""
    grades: tuple[tuple[str, int | None], ...] = (("2025-01-01", last),)
    loss = loss_of(museum(grades=grades, treatments=(treatment(slows_to=slows_to),)))
    assert (np.diff(loss.if_done["T"]) >= 0).all()


def test_renewing_a_worn_element_later_costs() -> None:
    """A covering at grade 3 that would be made good: every month of waiting loses more."""
    grades: tuple[tuple[str, int | None], ...] = (("2024-01-01", 3), ("2025-01-01", 3))
    loss = loss_of(museum(grades=grades, treatments=(treatment(),), effects=(effect(),)))
    assert (np.diff(loss.if_done["T"]) > 0).all()


def test_replacing_what_could_be_kept_loses_too() -> None:
    """Keeping less of the original is a loss of its own, whatever the grade after."""
    kept = [
        loss_of(museum(treatments=(treatment(),), effects=(effect(1, k),))).if_done["T"][0]
        for k in (95.0, 50.0, 0.0)
    ]
    assert kept == sorted(kept)
    assert kept[2] == pytest.approx(6000.0)


def test_a_blank_kept_is_the_kinds_default_and_said() -> None:
    """Never silently 100 %: the assumption is a sentence of the result."""
    blank = loss_of(museum(treatments=(treatment(),), effects=(effect(1, None),)))
    given = loss_of(
        museum(treatments=(treatment(),), effects=(effect(1, values_of("covering").original_kept_pct),))
    )
    assert blank.if_done == given.if_done
    assert given.assumed == ()
    assert "assumed kept" in blank.assumed[0]


def test_unknown_words_are_said() -> None:
    """A kind and a material nobody knows are named, with what is used for them."""
    said = " ".join(loss_of(museum(kind="sundry", material="")).assumed)
    assert "'sundry'" in said
    assert "not recorded" in said


def test_points_go_with_significance_and_share() -> None:
    """Elements share the object's points; twice the significance is twice the loss."""
    collection = museum()
    first = collection.elements[0].model_copy(update={"share": 3.0})
    second = Element(object_id="O", element_id="B", kind="tyre", material="rubber", share=1.0)
    both = collection.model_copy(update={"elements": (first, second)})
    loss = loss_of(Collection.model_validate(both.model_dump()))
    assert sum(points for _, points in loss.by_element) == pytest.approx(loss.never)
    assert dict(loss.by_element)["B"] < 1500
    louder = both.model_copy(update={"objects": (both.objects[0].model_copy(update={"significance": 30.0}),)})
    assert loss_of(Collection.model_validate(louder.model_dump())).never == pytest.approx(loss.never / 2)


def test_waiting_a_year_is_told_of_the_best_workshop_treatment() -> None:
    """The workshop treatment that saves most, from the month it could end."""
    better = treatment(treatment_id="A")
    gallery = treatment(treatment_id="G", kind=TreatmentKind.IN_GALLERY, ends_causes=("leak",), slows_to=0.1)
    collection = museum(
        grades=(("2024-01-01", 3), ("2025-01-01", 3)),
        treatments=(better, treatment(), gallery),
        effects=(
            effect(1, 60.0),
            Effect(treatment_id="A", element_id="E", grade_after=1, original_kept_pct=90.0),
        ),
        stages=(Stage(treatment_id="A", stage=1, months=5),),
    )
    loss = loss_of(collection)
    assert loss.wait_treatment == "A"
    assert loss.wait_year == pytest.approx(loss.if_done["A"][17] - loss.if_done["A"][5])


def test_an_object_without_elements_loses_nothing_and_says_why() -> None:
    """No element, no loss to reckon: said, not hidden."""
    bare = museum(elements=(), grades=(), findings=())
    loss = loss_of(bare)
    assert (loss.never, loss.low, loss.high) == (0.0, 0.0, 0.0)
    assert "no elements" in loss.assumed[0]


def test_more_bad_grades_mean_more_loss() -> None:
    """A round that finds grade 4 raises the loss; element order changes nothing."""
    calm = simulated(4, 3, 6, seed=9)
    worse = Grade(round_id="R5", object_id="O0", element_id="E0", grade=4)
    rest = tuple(g for g in calm.grades if (g.round_id, g.object_id, g.element_id) != ("R5", "O0", "E0"))
    better = Grade(round_id="R5", object_id="O0", element_id="E0", grade=1)
    up, down = (
        object_losses(fit(Collection.model_validate({**dict(calm), "grades": (*rest, g)}), draws=20))[
            "O0"
        ].never
        for g in (worse, better)
    )
    assert up > down
    turned = Collection.model_validate({**dict(calm), "elements": calm.elements[::-1]})
    one, other = (object_losses(fit(c, draws=20)) for c in (calm, turned))
    assert {k: v.never for k, v in one.items()} == pytest.approx(
        {k: v.never for k, v in other.items()}, rel=1e-6
    )


def test_a_cause_that_ended_before_now_costs_less_than_one_that_goes_on() -> None:
    """The same record with the leak stopped yesterday loses less."""
    stopped = LEAK.model_copy(update={"ended_on": dt.date(2025, 12, 31)})
    assert loss_of(museum(findings=(stopped,))).never < loss_of(museum()).never


def test_a_cause_the_museums_table_says_slows_wear_is_said() -> None:
    """A factor below 1 in the museum's own table: ending it would save nothing, and that is a sentence."""
    oiled = Material(
        material="doped fabric",
        years_1_to_2=9,
        years_2_to_3=8,
        years_3_to_4=6,
        factors={"leak": 0.8},
        spread=2.0,
    )
    loss = loss_of(museum(materials=(oiled,)))
    assert dict(loss.by_cause)["leak"] < 0
    assert any("saves nothing" in said for said in loss.assumed)


def test_long_horizons_work_in_parts() -> None:
    """A hundred years of months: the curve is whole, and ends where doing nothing ends."""
    loss = loss_of(museum(settings=settings(1200), treatments=(treatment(),)), draws=4)
    assert len(loss.if_done["T"]) == 1201
    assert loss.if_done["T"][-1] == pytest.approx(loss.never)
