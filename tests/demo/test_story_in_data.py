"""Each ingredient of the story is there in the tables."""

from __future__ import annotations

from collections import defaultdict

from tests.demo.conftest import Tables


def lowering_area(demo: Tables, treatment_id: str) -> float:
    """The clear floor the first hall stage of a treatment needs."""
    return float(demo.where("stages", treatment_id=treatment_id, place="hall")[0]["area_m2"])


def test_the_worst_graded_object_has_nothing_left_to_lose_quickly(demo: Tables) -> None:
    """The wreck has the worst grades of all, and its only treatment would keep little of the original."""
    dates = {r["round_id"]: r["date"] for r in demo["rounds"]}
    last: dict[tuple[str, str], int] = {}
    for g in sorted(demo["grades"], key=lambda g: dates[g["round_id"]]):
        if g["grade"]:
            last[(g["object_id"], g["element_id"])] = int(g["grade"])
    grades = defaultdict(list)
    for (object_id, _), grade in last.items():
        grades[object_id].append(grade)
    mean = {k: sum(v) / len(v) for k, v in grades.items()}
    assert max(mean, key=lambda k: mean[k]) == "E09"
    kept = [float(e["original_kept_pct"]) for e in demo.where("treatment_effects", treatment_id="E09-full")]
    assert sum(kept) / len(kept) < 40


def test_a_hung_object_needs_the_spot_of_a_neighbour(demo: Tables) -> None:
    """The ocean racer needs more than its hall's clear floor, not more than that and one spot."""
    clear = float(demo.one("halls", hall_id="H1")["clear_m2"])
    spots = [float(o["display_m2"]) for o in demo.where("objects", hall_id="H1", mounting="floor")]
    assert clear < lowering_area(demo, "E03-part") <= clear + min(spots)
    assert demo.one("objects", object_id="E03")["in_the_way"] == "E02"


def test_a_drip_tray_costs_next_to_nothing_beside_a_restoration(demo: Tables) -> None:
    """The survey biplane leaks oil at the worst severity; ending that is cheap, its restoration is not."""
    leak = [f for f in demo.where("findings", object_id="M05", cause="oil leak") if not f["ended_on"]]
    assert leak[-1]["severity"] == "3"
    tray, full = (demo.one("treatments", treatment_id=t) for t in ("M05-tray", "M05-full"))
    assert tray["ends_causes"] == "oil leak"
    assert tray["kind"] == "in_gallery"
    assert float(tray["cost"]) * 80 <= float(full["cost"])


def test_one_suspension_fitting_is_doubtful(demo: Tables) -> None:
    """The record monoplane hangs from a fitting graded 3, with a finding of the worst severity."""
    assert demo.one("elements", object_id="M02", element_id="suspension")["safety"] == "yes"
    assert demo.one("objects", object_id="M02")["mounting"] == "hung"
    seen = [g["grade"] for g in demo.where("grades", object_id="M02", element_id="suspension") if g["grade"]]
    assert seen[-1] == "3"
    assert demo.where("findings", object_id="M02", cause="hanging load", severity="3", ended_on="")


def test_one_treatment_does_not_pass_the_door(demo: Tables) -> None:
    """The hull in one piece is wider than its hall's door; in two halves it passes."""
    door = float(demo.one("halls", hall_id="H2")["door_width_m"])
    whole = [float(s["width_m"]) for s in demo.where("stages", treatment_id="M07-onepiece") if s["width_m"]]
    halves = [float(s["width_m"]) for s in demo.where("stages", treatment_id="M07-part") if s["width_m"]]
    bay = max(float(s["door_width_m"]) for s in demo.where("spaces", kind="structure"))
    assert door < max(whole) <= bay
    assert max(halves) <= door


def test_one_bay_door_is_too_small_for_most(demo: Tables) -> None:
    """Some structure stages pass the door of both bays, some only that of the northern one."""
    south = float(demo.one("spaces", space_id="STR-S")["door_width_m"])
    widths = [float(s["width_m"]) for s in demo.where("stages", place="structure") if s["width_m"]]
    assert min(widths) <= south < max(widths)


def test_one_object_was_never_graded(demo: Tables) -> None:
    """The newcomer in store has elements and a treatment but no grade, and nobody surveyed its hazards."""
    never = {o["object_id"] for o in demo["objects"]} - {g["object_id"] for g in demo["grades"]}
    assert never == {"S05"}
    assert demo.where("elements", object_id="S05")
    assert demo.where("treatments", object_id="S05")
    assert not demo.where("hazards", object_id="S05")


def test_one_object_is_held_by_the_anniversary(demo: Tables) -> None:
    """The airliner stays on show through 2028, and cannot be away and back before."""
    rule = demo.one("display_rules", rule="on_show")
    assert (rule["objects"], rule["from"], rule["to"]) == ("A01", "2028-01", "2028-12")
    months = sum(int(s["months"]) for s in demo.where("stages", treatment_id="A01-part"))
    assert months > 12


def test_two_or_three_jobs_are_going_on(demo: Tables) -> None:
    """A scout in repair, an engine on the bench, and an aircraft that stands finished in the paint room."""
    assert [(r["object_id"], r["months_left"]) for r in demo["running"]] == [
        ("E05", "4"),
        ("R03", "2"),
        ("A07", "0"),
    ]
    spaces = {s["space_id"]: s["kind"] for s in demo["spaces"]}
    for r in demo["running"]:
        stage = demo.one("stages", treatment_id=r["treatment_id"], stage=r["stage"])
        assert stage["place"] == spaces[r["space_id"]]


def test_the_optional_columns_are_used_a_little(demo: Tables) -> None:
    """Some halls have their true shape, some objects their place, turn and what stands under them."""
    assert {bool(h["length_m"]) for h in demo["halls"]} == {True, False}
    assert 5 <= sum(bool(o["x_m"] and o["y_m"] and o["turned_deg"]) for o in demo["objects"]) <= 10
    assert sum(bool(o["in_the_way"]) for o in demo["objects"]) == 3
    assert demo["moves"]


def test_hung_objects_are_lowered_and_hoisted_on_hall_floor(demo: Tables) -> None:
    """Each treatment that takes a hung object away begins and ends its absence on its hall's clear floor."""
    hung = {o["object_id"] for o in demo.where("objects", mounting="hung")}
    treatments = [t["treatment_id"] for t in demo["treatments"] if t["object_id"] in hung]
    absences = [demo.where("stages", treatment_id=t, away="yes") for t in treatments]
    checked = [stages for stages in absences if stages]
    assert len(checked) >= 8
    for stages in checked:
        assert (stages[0]["place"], stages[-1]["place"]) == ("hall", "hall")
        assert "Lowering under a licensed lifting plan" in stages[0]["title"]
        assert "hoisting under a licensed lifting plan" in stages[-1]["title"]
