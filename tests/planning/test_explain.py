"""What keeps a job from starting sooner: each resource and promise named, and no start overlooked."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import product

import pytest

from tests.planning.build import (
    budget,
    hall,
    job,
    plan,
    problem,
    rule,
    stage,
    thing,
    trade,
    treatment,
)
from tests.problems.generator import make_problem
from tests.problems.plans import plan_of, random_plan
from tests.problems.tiny import tiny_problem
from triage.planning.explain import Blocking, Names, Try, what_blocks
from triage.planning.problem import Job, Pin, PlacedStage, Plan, PlanningProblem, PlanTreatment
from triage.planning.verify import verify


def try_of(found: Blocking, start: int) -> Try:
    """Return the try of one start."""
    return next(t for t in found.tries if t.start == start)


def lack(found: Blocking, start: int) -> tuple[int, tuple[str, ...], str]:
    """Return rule, ids and text of the one lack at a start."""
    lacks = try_of(found, start).lacks
    assert len(lacks) == 1, lacks
    return lacks[0].rule, lacks[0].ids, lacks[0].text


def test_a_job_in_the_first_month_cannot_start_sooner() -> None:
    """Nothing is tried, and it is said."""
    of = problem(treatment("A"))
    found = what_blocks(of, plan(of, job("A", 0)), "A")
    assert found.tries == ()
    assert "cannot start sooner" in found.sentences[0]


def test_a_free_earlier_month_is_said_with_its_points() -> None:
    """A could start in 0 or 1 instead of 2: from 0 the total falls by 20 points."""
    of = problem(treatment("A"))
    found = what_blocks(of, plan(of, job("A", 2)), "A")
    assert [(t.start, t.change) for t in found.tries] == [(1, -10), (0, -20)]
    assert "from Jan 2030 the plan's total would fall by 20 points" in found.sentences[0]


def test_hours_are_named() -> None:
    """B uses the metalworkers in month 0."""
    ten = {"metal": (10,)}
    of = problem(treatment("A", stage(hours=ten)), treatment("B", stage(hours=ten)))
    found = what_blocks(of, plan(of, job("A", 1), job("B", 0)), "A")
    number, ids, text = lack(found, 0)
    assert (number, ids) == (5, ("metal", "A"))
    assert "20 h of metal" in text
    assert "Jan 2030" in text


def test_a_full_bay_is_named_with_the_stage() -> None:
    """A's second stage finds the bay taken by B."""
    of = problem(treatment("A", stage(), stage(place="bay")), treatment("B", stage(2, place="bay")))
    found = what_blocks(of, plan(of, job("A", 1, (2, "bay 1")), job("B", (0, "bay 1"))), "A")
    number, ids, text = lack(found, 0)
    assert (number, ids) == (3, ("bay 1", "A"))
    assert text.startswith("Stage 2 of 2: ")


def test_clear_floor_is_named() -> None:
    """The hung A needs 50 m2; they are there once B is away."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=50)),
        treatment("B", stage(2, away=True)),
        objects=(thing("A", hung=True), thing("B")),
    )
    found = what_blocks(of, plan(of, job("A", 2), job("B", 1)), "A")
    assert try_of(found, 1).fits
    number, ids, text = lack(found, 0)
    assert (number, ids) == (4, ("east", "A"))
    assert "50 m² of clear floor" in text
    assert "20 m²" in text


def test_others_may_rely_on_a_spot() -> None:
    """B must be away in month 1, when A is lowered onto its spot: it may not be back before."""
    of = problem(
        treatment("A", stage(place="hall", area_m2=50)),
        treatment("B", stage(1, away=True)),
        objects=(thing("A", hung=True), thing("B")),
    )
    number, _, text = lack(what_blocks(of, plan(of, job("A", 1), job("B", 1)), "B"), 0)
    assert number == 4
    assert "relies on the spot of B being free in Feb 2030" in text


def test_most_away_display_rules_and_budgets_are_named() -> None:
    """Three causes, three rules."""
    away = (treatment("A", stage(away=True), cost=5), treatment("B", stage(away=True), cost=5))
    crowded = problem(*away, halls=(hall(away=1),))
    rivals = problem(*away, rules=(rule("not_together", "A", "B"),))
    poor = problem(*away, budgets=(budget(9, 0, 0),))
    for of, expected in ((crowded, (6, "east")), (rivals, (7, "R")), (poor, (8, "A"))):
        number, ids, _ = lack(what_blocks(of, plan(of, job("A", 1), job("B", 0)), "A"), 0)
        assert (number, ids[0]) == expected


def test_windows_pins_and_doors_are_named() -> None:
    """The window, the promise and the door keep a job where it is."""
    late = problem(treatment("A", earliest=1))
    assert "may not start before Feb 2030" in lack(what_blocks(late, plan(late, job("A", 1)), "A"), 0)[2]
    pin = Pin(object_id="A", treatment_id="T-A", start=1)
    promised = problem(treatment("A"), pins=(pin,))
    assert lack(what_blocks(promised, plan(promised, job("A", 1)), "A"), 0)[0] == 9
    big = problem(treatment("A", stage(place="bay", width_cm=401)))
    found = what_blocks(big, plan(big), "A")
    assert "No space of kind bay has a door that lets 401 x 0 cm" in found.sentences[0]
    assert "even if nothing else were planned" in found.sentences[0]


def test_an_object_without_a_treatment_is_said() -> None:
    """There is nothing to plan."""
    of = problem(objects=(thing("A"),))
    assert what_blocks(of, plan(of), "A").sentences == ("There is no treatment for A to plan.",)


def test_an_object_not_worth_treating_is_said_with_its_numbers() -> None:
    """Saving 90 points of loss for 120 of months off display is not worth it."""
    of = problem(
        treatment("A", stage(3, away=True), loss_if_done=(10,) * 7),
        objects=(thing("A", away_points=40),),
    )
    text = what_blocks(of, plan(of), "A").sentences[0]
    assert "not worth it" in text
    assert "rise by 30 points" in text
    assert "saves 90 points of loss and costs 120 for 3 months off display" in text


def test_overtime_is_counted_against_a_job() -> None:
    """Saving 5 points for 6 of overtime is not worth it."""
    of = problem(
        treatment("A", stage(hours={"metal": (13,)}), loss_if_done=(95,) * 7), trades=(trade(most=3),)
    )
    assert "costs 6 for overtime" in what_blocks(of, plan(of), "A").sentences[0]


def test_a_job_the_search_missed_is_said() -> None:
    """An honest word where a plan can be mended by one more job."""
    of = problem(treatment("A"))
    text = what_blocks(of, plan(of), "A").sentences[0]
    assert "from Jan 2030" in text
    assert "fall by 90 points; the search did not come to it" in text


def test_an_unknown_object_is_refused() -> None:
    """The name is told."""
    of = problem(treatment("A"))
    with pytest.raises(ValueError, match="no object X"):
        what_blocks(of, plan(of), "X")


def _every_job(of: PlanningProblem, treatment_: PlanTreatment, start: int) -> Iterator[Job]:
    """Yield every choice of later starts and of spaces of the right kind, sound or not."""
    spaces: list[list[str | None]] = [
        [s.space_id for s in of.spaces if s.kind == k.place] or [None] for k in treatment_.stages
    ]
    for later in product(range(of.months), repeat=len(treatment_.stages) - 1):
        if list(later) == sorted(set(later)) and (not later or later[0] > start):
            for chosen in product(*spaces):
                placed = tuple(
                    PlacedStage(start=m, space_id=s) for m, s in zip((start, *later), chosen, strict=True)
                )
                yield Job(object_id=treatment_.object_id, treatment_id=treatment_.treatment_id, stages=placed)


def _cheapest(of: PlanningProblem, rest: Plan, treatment_: PlanTreatment, start: int) -> int | None:
    """Return the least total of a sound plan of the rest and one job that starts then."""
    totals = []
    for one in _every_job(of, treatment_, start):
        try:
            made = plan_of(of, [*rest.jobs, one])
        except (ValueError, KeyError):
            continue
        if not verify(of, made):
            totals.append(made.points.total)
    return min(totals, default=None)


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_every_try_agrees_with_the_checker(first: int) -> None:
    """On tiny problems a start fits exactly if some sound plan has it; the change told is the least."""
    met = 0
    for seed in range(first, first + 10):
        of = tiny_problem(seed).model_copy(update={"pins": (), "baseline": None, "rules": ()})
        made = random_plan(of, random.Random(seed), tries=10)
        for item in of.objects:
            rest = plan_of(of, [j for j in made.jobs if j.object_id != item.object_id])
            if verify(of, rest):
                continue  # the others rely on this object's spot: tested above
            for one in what_blocks(of, made, item.object_id).tries:
                least = _cheapest(of, rest, of.treatment_by_id[one.treatment_id], one.start)
                assert one.fits == (least is not None), (seed, one)
                assert one.fits == (not one.lacks), (seed, one)
                if least is not None:
                    assert one.change == least - made.points.total, (seed, one)
                    met += 1
    assert met >= 5


def test_a_large_plan_is_explained_for_every_object() -> None:
    """Every object of a plan gets at least one sentence that names it."""
    of = make_problem(5, 40, 48, pins=3, baseline=True)
    made = random_plan(of.model_copy(update={"pins": (), "baseline": None}), random.Random(1))
    for item in of.objects:
        found = what_blocks(of, made, item.object_id)
        assert item.object_id in found.sentences[0]


def test_sentences_use_the_museums_names() -> None:
    """Objects, treatments and spaces are called by their names where names are given."""
    of = problem(treatment("A", stage(place="bay")), treatment("B", stage(2, place="bay")))
    made = plan(of, job("A", (2, "bay 1")), job("B", (0, "bay 1")))
    names = Names(objects={"A": "the amphibian"}, spaces={"bay 1": "North bay"}, treatments={"T-A": "repair"})
    found = what_blocks(of, made, "A", names)
    assert found.sentences[0].startswith("the amphibian starts in Mar 2030")
    assert "North bay would hold 2 jobs" in found.sentences[1]
    assert "repair on the amphibian" in what_blocks(of, plan(of), "A", names).sentences[0]


def test_a_treatment_that_saves_nothing_is_said_to() -> None:
    """Where at least as much is lost with a treatment as without, no shortage is blamed."""
    of = problem(treatment("A", loss_if_done=(100,) * 7))
    found = what_blocks(of, plan(of), "A")
    assert "would save nothing" in found.sentences[0]


def test_money_does_not_hide_what_else_is_short() -> None:
    """Too dear for the first months' budget and promised on show then: both are said."""
    of = problem(
        treatment("A", stage(away=True), cost=5),
        budgets=(budget(4, 0, 1),),
        rules=(rule("on_show", "A", first=0, last=1),),
    )
    found = what_blocks(of, plan(of, job("A", 2)), "A")
    assert [violation.rule for violation in try_of(found, 0).lacks] == [8, 7]
