"""What the demo promises about its data, read from the committed tables."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from itertools import pairwise

import pytest

from tests.demo.conftest import Tables


def grades_of(demo: Tables) -> dict[tuple[str, str], list[tuple[str, str, str]]]:
    """(object, element) -> (date, assessor, grade), by date."""
    rounds = {r["round_id"]: r for r in demo["rounds"]}
    found = defaultdict(list)
    for g in demo["grades"]:
        r = rounds[g["round_id"]]
        found[(g["object_id"], g["element_id"])].append((r["date"], r["assessor"], g["grade"]))
    return {k: sorted(v) for k, v in found.items()}


def test_sixty_objects_in_five_halls_and_a_store(demo: Tables) -> None:
    """About sixty objects hang, stand, sit on plinths and lie in store."""
    assert len(demo["objects"]) == 60
    assert len(demo["halls"]) == 5
    mountings = Counter(o["mounting"] for o in demo["objects"])
    assert set(mountings) == {"hung", "floor", "plinth", "store"}
    assert mountings["hung"] >= 10
    assert all((o["hall_id"] == "") == (o["mounting"] == "store") for o in demo["objects"])


def test_halls_hold_what_stands_in_them(demo: Tables) -> None:
    """Places on show and clear floor leave a fifth of each hall to visitors."""
    for hall in demo["halls"]:
        floor = float(hall["floor_m2"])
        shown = sum(float(o["display_m2"]) for o in demo.where("objects", hall_id=hall["hall_id"]))
        assert 900 <= floor <= 2500
        assert shown + float(hall["clear_m2"]) <= 0.8 * floor
        if hall["length_m"]:
            assert float(hall["length_m"]) * float(hall["width_m"]) == floor


def test_each_object_has_four_to_eight_elements(demo: Tables) -> None:
    """Objects are graded in four to eight parts; hung ones have suspension marked as safety."""
    parts = Counter(e["object_id"] for e in demo["elements"])
    assert set(parts) == {o["object_id"] for o in demo["objects"]}
    assert all(4 <= n <= 8 for n in parts.values())
    safe = {e["object_id"] for e in demo.where("elements", safety="yes")}
    assert {o["object_id"] for o in demo.where("objects", mounting="hung")} <= safe


def test_every_material_used_is_in_the_museum_s_table(demo: Tables) -> None:
    """The museum's own table of materials covers its elements, and its causes its findings."""
    assert {e["material"] for e in demo["elements"]} <= {m["material"] for m in demo["materials"]}
    causes = {c.removeprefix("x_") for c in demo["materials"][0] if c.startswith("x_")}
    assert {f["cause"] for f in demo["findings"]} == causes


def test_twelve_years_of_rounds_before_now(demo: Tables) -> None:
    """Rounds run from 2015 to 2026 by five assessors, all before the first month."""
    years = {r["date"][:4] for r in demo["rounds"]}
    assert years == {str(y) for y in range(2015, 2027)}
    assert len({r["assessor"] for r in demo["rounds"]}) == 5
    assert all(r["date"] < "2027-01-01" for r in demo["rounds"])


def test_rounds_have_gaps(demo: Tables) -> None:
    """Some halls were not walked in some year, and some elements could not be seen."""
    dates = {r["round_id"]: r["date"] for r in demo["rounds"]}
    years = {dates[g["round_id"]][:4] for g in demo["grades"] if g["object_id"] == "M01"}
    assert years == {str(y) for y in range(2015, 2027)} - {"2020"}
    unseen = [g for g in demo["grades"] if g["grade"] == ""]
    assert 0.03 < len(unseen) / len(demo["grades"]) < 0.12
    assert all(g["note"] for g in unseen)


def test_a_tenth_is_graded_again_by_another_assessor(demo: Tables) -> None:
    """About one grade in ten was given again within a week, by somebody else, who now and then disagrees."""
    pairs, differ = 0, 0
    for seen in grades_of(demo).values():
        for (d1, a1, g1), (d2, a2, g2) in pairwise(seen):
            if (dt.date.fromisoformat(d2) - dt.date.fromisoformat(d1)).days <= 7:
                assert a1 != a2
                pairs += 1
                differ += "" not in (g1, g2) and g1 != g2
    assert 0.06 < pairs / len(demo["grades"]) < 0.12
    assert 0.05 < differ / pairs < 0.25


def test_no_element_has_two_grades_in_one_round(demo: Tables) -> None:
    """A second opinion is a round of its own."""
    keys = Counter((g["round_id"], g["object_id"], g["element_id"]) for g in demo["grades"])
    assert max(keys.values()) == 1


def test_causes_come_and_go(demo: Tables) -> None:
    """Some causes have ended, some go on; one leak and one damp spell ended before now."""
    ended = {f["cause"] for f in demo["findings"] if f["ended_on"]}
    open_now = {f["cause"] for f in demo["findings"] if not f["ended_on"]}
    assert {"roof leak", "damp", "daylight"} <= ended
    assert {"roof leak", "damp", "daylight", "oil leak", "hanging load"} <= open_now


def test_treatments_done_are_on_record(demo: Tables) -> None:
    """At least six treatments were done, one of them on a whole object."""
    assert len(demo["treated"]) >= 6
    assert any(t["element_id"] == "" for t in demo["treated"])


def test_most_objects_have_one_to_three_treatments(demo: Tables) -> None:
    """Nearly every object could be treated, in the gallery, in part or in full; some by a built-in chain."""
    counts = Counter(t["object_id"] for t in demo["treatments"])
    assert max(counts.values()) <= 3
    assert 50 <= len(counts) < 60
    assert {t["kind"] for t in demo["treatments"]} == {"in_gallery", "workshop"}
    by_chain = [t for t in demo["treatments"] if t["template"]]
    staged = {s["treatment_id"] for s in demo["stages"]}
    assert 5 <= len(by_chain) < 0.2 * len(demo["treatments"])
    assert {t["treatment_id"] for t in demo["treatments"]} - staged == {t["treatment_id"] for t in by_chain}


def test_workshop_has_four_kinds_of_floor_and_six_trades(demo: Tables) -> None:
    """Strip-down, structure, covering and paint, assembly; six trades, some with overtime."""
    assert {s["kind"] for s in demo["spaces"]} == {"strip", "structure", "paint", "assembly"}
    assert len(demo["trades"]) == 6
    assert any(t["overtime_hours"] for t in demo["trades"])


@pytest.mark.parametrize("what", ["closed", "hall", "space", "trade", "slots"])
def test_something_is_closed_or_short(demo: Tables, what: str) -> None:
    """Every sort of shortage occurs: new-year closures, a re-roofing, a paint room, a joiner, a rail."""
    assert demo.where("availability", what=what)


def test_some_objects_were_never_surveyed_for_hazards(demo: Tables) -> None:
    """Hazards are suspected, confirmed or cleared; a fifth to a half of the objects has no row at all."""
    assert {h["state"] for h in demo["hazards"]} == {"suspected", "confirmed", "cleared"}
    surveyed = {h["object_id"] for h in demo["hazards"]}
    assert 0.2 < 1 - len(surveyed) / 60 < 0.5


def test_no_person_is_named(demo: Tables) -> None:
    """Assessors and surveyors are roles."""
    assert all(r["assessor"].startswith("assessor ") for r in demo["rounds"])
    roles = {"conservation scientist", "lifting engineer", "workshop manager", "collections manager"}
    roles |= {"radiation adviser", "licensed armourer", ""}
    assert {h["by"] for h in demo["hazards"]} <= roles
