"""Choosing single spaces of a class."""

from __future__ import annotations

from tests.engine.small import FIRST_MONTH, bay, stage, thing, treatment
from triage.planning.engine.assign import assign
from triage.planning.engine.columns import Selection, make_column, selection_of
from triage.planning.engine.instance import Instance, build_instance
from triage.planning.problem import PlanningProblem


def twin_bays(areas: tuple[int, ...], months: tuple[int, ...], slots: int = 3) -> Instance:
    """Objects that need some area for some months in one of two bays of 10 m2."""
    names = [f"o{k}" for k in range(len(areas))]
    return build_instance(
        PlanningProblem(
            first_month=FIRST_MONTH,
            months=8,
            spaces=(bay("b1", 8, slots=slots), bay("b2", 8, slots=slots)),
            objects=tuple(thing(name) for name in names),
            treatments=tuple(
                treatment(name, 8, stage(m, area_m2=a))
                for name, a, m in zip(names, areas, months, strict=True)
            ),
        )
    )


def started(inst: Instance, starts: tuple[int, ...]) -> Selection:
    """Every object's only treatment from a start, in the class of the twins."""
    return selection_of(make_column(inst, k, (s,), (0,)) for k, s in enumerate(starts))


def test_twins_are_one_class() -> None:
    """Two identical bays are one class with the room of both."""
    inst = twin_bays((6,), (2,))
    assert [c.members for c in inst.classes] == [("b1", "b2")]
    assert inst.resources.table("area", inst.resources.capacity).tolist() == [[20] * 8]


def test_three_that_fit_the_class_but_no_spaces_are_refused_with_certainty() -> None:
    """18 of 20 m2 in use, yet no bay of 10 m2 holds two of 6."""
    inst = twin_bays((6, 6, 6), (2, 2, 2))
    plan = started(inst, (0, 0, 0))
    assert plan.fits(inst)
    assigned = assign(inst, plan)
    assert assigned.misfit is not None
    assert assigned.proven


def test_a_choice_that_first_fit_misses_is_found() -> None:
    """The search goes back on an early choice where a later stay needs the room."""
    inst = twin_bays((3, 4, 7, 6), (6, 6, 3, 3))
    assigned = assign(inst, started(inst, (0, 0, 1, 1)))
    assert assigned.misfit is None
    space = {o: s for (o, _), s in assigned.spaces.items()}
    assert space[0] == space[2] != space[1] == space[3]


def test_slots_are_kept() -> None:
    """With one slot a bay, two jobs at once stand in different bays and a third is refused."""
    inst = twin_bays((2, 2, 2), (2, 2, 2), slots=1)
    two = assign(inst, started(inst, (0, 1)))
    assert len(set(two.spaces.values())) == 2
    assert assign(inst, started(inst, (0, 1, 1))).misfit is not None
