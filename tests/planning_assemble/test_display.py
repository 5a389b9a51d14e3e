"""Objects and display rules."""

from __future__ import annotations

import pytest

from tests.museum import OBJECTS, losses, month, museum
from triage.planning.assemble import assemble
from triage.planning.assemble.display import away_points
from triage.planning.problem import PlanRule
from triage.records import DisplayRule, MuseumObject
from triage.records.vocabulary import Mounting, RuleKind


@pytest.mark.parametrize(
    ("significance", "points"),
    [(0, 0), (0.1, 1), (20, 1), (20.1, 2), (50, 3), (80, 4), (100, 5)],
)
def test_a_month_away_costs_a_twentieth_of_significance_rounded_up(significance: float, points: int) -> None:
    """significance / 20, rounded up."""
    assert away_points(MuseumObject(object_id="X", hall_id="H", significance=significance)) == points


def test_away_costs_nothing_in_store() -> None:
    """Nobody misses what was not on show: no hall, or mounted in store."""
    assert away_points(MuseumObject(object_id="X", significance=100)) == 0
    assert away_points(MuseumObject(object_id="X", hall_id="H", mounting=Mounting.STORE)) == 0


def test_away_points_given_are_kept_in_store_too() -> None:
    """A number in the table goes before the rule, 0 and in store included."""
    assert away_points(MuseumObject(object_id="X", hall_id="H", away_points=0)) == 0
    assert away_points(MuseumObject(object_id="X", away_points=9)) == 9


def test_objects_carry_hall_hanging_and_rounded_figures() -> None:
    """The floor an object stands on is room it may free: it rounds down. Loss rounds to the nearest point."""
    collection = museum()
    problem = assemble(collection, losses(collection)).problem

    assert [(o.object_id, o.hall_id, o.hung, o.display_m2, o.loss_if_never) for o in problem.objects] == [
        ("GLIDER", "HARBOUR", True, 40, 3200),
        ("BIPLANE", "HARBOUR", False, 70, 2440),
        ("ENGINE", "LOFT", False, 4, 800),
        ("CRATE", None, False, 0, 1200),
    ]


def test_rules_are_cut_at_the_ends_of_the_horizon() -> None:
    """Blank months are the whole horizon; a promise outside it is none."""
    rules = (
        DisplayRule(rule_id="A", rule=RuleKind.ON_SHOW, objects=("BIPLANE",)),
        DisplayRule(
            rule_id="B",
            rule=RuleKind.AT_LEAST,
            objects=("BIPLANE", "GLIDER"),
            number=1,
            from_month=month("2026-05"),
            to_month=month("2027-02"),
        ),
        DisplayRule(
            rule_id="C",
            rule=RuleKind.NOT_TOGETHER,
            objects=("BIPLANE", "GLIDER"),
            from_month=month("2028-12"),
            to_month=month("2031-01"),
        ),
        DisplayRule(rule_id="D", rule=RuleKind.ON_SHOW, objects=("ENGINE",), from_month=month("2029-01")),
    )
    collection = museum(display_rules=rules)

    assert assemble(collection, losses(collection)).problem.rules == (
        PlanRule(rule_id="A", kind="on_show", object_ids=("BIPLANE",), from_month=0, to_month=23),
        PlanRule(
            rule_id="B",
            kind="at_least",
            object_ids=("BIPLANE", "GLIDER"),
            number=1,
            from_month=0,
            to_month=1,
        ),
        PlanRule(
            rule_id="C", kind="not_together", object_ids=("BIPLANE", "GLIDER"), from_month=23, to_month=23
        ),
    )


def test_an_object_without_elements_or_treatments_is_still_in_the_problem() -> None:
    """Every object of the record is there: display rules may name it."""
    collection = museum(elements=(), treatments=(), stages=(), effects=())
    problem = assemble(collection, losses(collection)).problem

    assert len(problem.objects) == len(OBJECTS)
    assert problem.treatments == ()
