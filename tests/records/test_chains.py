"""Built-in chains of stages."""

from __future__ import annotations

import pytest

from triage.records import MuseumObject, Stage, Treatment
from triage.records.chains import CHAINS, stages_from_chain
from triage.records.vocabulary import Mounting

KINDS = {None, "hall", "strip", "structure", "paint", "assembly"}
TRADES = {"conservation", "woodwork", "metalwork", "fabric and dope", "engines and systems", "rigging"}


def made(name: str, **of_object: object) -> tuple[Stage, ...]:
    fields: dict[str, object] = {"object_id": "A1", "hall_id": "H1", **of_object}
    obj = MuseumObject.model_validate(fields)
    return stages_from_chain(Treatment(treatment_id="T1", object_id="A1", template=name), obj)


def hours(stages: tuple[Stage, ...]) -> float:
    return sum(sum(s.hours.values()) for s in stages)


def test_thirteen_chains_are_built_in() -> None:
    """Every sort of airframe, engines, airships, exhibits and gallery work have a chain."""
    assert set(CHAINS) == {
        "fabric_full", "fabric_recover", "metal_full", "metal_corrosion", "engine", "rotorcraft", "glider",
        "lighter_than_air", "non_flying", "gallery_clean", "gallery_shade", "gallery_drip_tray",
        "gallery_support_inspection",
    }  # fmt: skip


@pytest.mark.parametrize("name", CHAINS)
@pytest.mark.parametrize("mounting", list(Mounting))
def test_every_chain_makes_numbered_estimated_stages(name: str, mounting: Mounting) -> None:
    """Stages count 1..n, belong to the treatment, are marked estimated and use only documented words."""
    stages = made(name, mounting=mounting)
    assert [s.stage for s in stages] == list(range(1, len(stages) + 1))
    assert {s.treatment_id for s in stages} == {"T1"}
    assert all(s.estimated for s in stages)
    assert {s.place for s in stages} <= KINDS
    assert all(set(s.hours) <= TRADES for s in stages)
    assert hours(stages) > 0
    assert all(s.area_m2 > 0 for s in stages if s.place is not None)


def test_a_full_restoration_runs_through_all_kinds_of_floor() -> None:
    """A hung airframe is researched on show, lowered, opened, repaired, covered and hoisted."""
    stages = made("fabric_full", mounting="hung")
    kinds = list(dict.fromkeys(s.place for s in stages))
    assert kinds == [None, "hall", "strip", "structure", "paint", "assembly"]
    assert not stages[0].away
    assert all(s.away for s in stages[1:])
    assert stages[1].place == stages[-1].place == "hall"
    assert "Lowering" in stages[1].title
    assert "hoisting" in stages[-1].title


def test_lowering_and_hoisting_always_name_the_licensed_lifting_plan() -> None:
    """No chain says lower or hoist without naming the licensed lifting plan beside it."""
    for name in CHAINS:
        for stage in made(name, mounting="hung"):
            if "owering" in stage.title or "oisting" in stage.title:
                assert "licensed lifting plan" in stage.title


def test_only_hung_objects_are_lowered_and_hoisted() -> None:
    """An object on the floor is neither lowered nor hoisted; it comes back over the floor."""
    stages = made("metal_full", mounting="floor")
    assert not [s for s in stages if "owering" in s.title or "oisting" in s.title]
    assert stages[-1].title.startswith("Moving back")


def test_an_object_in_store_needs_no_hall_floor() -> None:
    """Without a home hall the chain has no stage on a hall floor."""
    assert "hall" not in {s.place for s in made("fabric_full", hall_id=None, mounting="store")}


def test_gallery_work_keeps_the_object_on_show() -> None:
    """Gallery chains need no floor and never take the object off display."""
    for name in CHAINS:
        if name.startswith("gallery_"):
            assert all(s.place is None and not s.away for s in made(name))


def test_hours_grow_with_floor_and_months_with_its_square_root() -> None:
    """Four times the length x span takes four times the hours and about twice the months."""
    small = made("fabric_full", length_m=8, span_m=11)
    large = made("fabric_full", length_m=16, span_m=22)
    assert hours(large) == 4 * hours(small)
    repair = [next(s.months for s in x if s.title.startswith("Repair")) for x in (small, large)]
    assert repair == [7, 14]


def test_engines_scale_with_mass() -> None:
    """An engine of twice the mass takes twice the hours whatever its length."""
    assert hours(made("engine", mass_kg=1000, length_m=9)) == 2 * hours(
        made("engine", mass_kg=500, length_m=2)
    )


def test_the_scale_is_held_within_bounds() -> None:
    """Very small and very large objects are held between a quarter and eight times the chain's size."""
    plain = hours(made("glider"))
    assert hours(made("glider", length_m=0.1, span_m=0.1)) == pytest.approx(plain / 4, rel=0.02)
    assert hours(made("glider", length_m=100, span_m=100)) == 8 * plain


def test_unknown_size_takes_the_size_of_the_chain_and_leaves_doors_unknown() -> None:
    """Hours and areas of an unmeasured object are the chain's own; door sizes stay unknown, never guessed."""
    unknown = made("fabric_full")
    assert hours(unknown) == hours(made("fabric_full", length_m=8, span_m=11))
    assert all(s.width_m is None and s.height_m is None for s in unknown)
    known = made("fabric_full", span_m=12, height_m=3)
    assert (known[3].width_m, known[3].height_m) == (3.0, 2.4)


def test_an_unknown_chain_is_refused_with_the_names_there_are() -> None:
    """A template that is not built in is named, and so are the chains that exist."""
    with pytest.raises(ValueError, match=r"'fabric_fll' is not a built-in chain .* fabric_full, "):
        made("fabric_fll")
