"""Reading the contract's files: whole, or refused with every fault at its place."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.problems.tiny import tiny_problem
from triage.errors import JsonFault, UnusableInput
from triage.planning.points import score
from triage.planning.problem import Plan, Points, value_digest
from triage.planning.reading import plan_json, problem_json, read_plan_or_outcome, read_problem

Value = dict[str, Any]


SOUND = Path(__file__).with_name("sound_problem.json").read_text(encoding="utf-8")


def sound() -> Value:
    """Return the JSON value of the hand-written sound problem: two objects, three months, every part."""
    value: Value = json.loads(SOUND)
    return value


def faults_of(value: Value | str) -> list[JsonFault]:
    """Return the faults a problem file is refused with; none if it is read."""
    text = value if isinstance(value, str) else json.dumps(value)
    try:
        read_problem(text)
    except UnusableInput as refused:
        return [f for f in refused.faults if isinstance(f, JsonFault)]
    return []


def put(path: str, new: Any) -> Callable[[Value], None]:
    """Return a change of a value at a path of names and places."""

    def change(value: Any) -> None:
        *steps, last = [int(s) if s.isdigit() else s for s in path.split("/")]
        for step in steps:
            value = value[step]
        value[last] = new

    return change


def test_a_sound_file_is_read() -> None:
    """The hand-written file has no fault."""
    problem = read_problem(json.dumps(sound()))
    assert [t.treatment_id for t in problem.treatments] == ["T-A", "T-B"]
    assert problem.baseline is not None


WRONG: tuple[tuple[str, Any, str], ...] = (
    ("months", 3.0, "/months"),
    ("months", 0, "/months"),
    ("months", True, "/months"),
    ("months", 10**9, "/months"),
    ("first_month", "2030-13", "/first_month"),
    ("first_month", 2030, "/first_month"),
    ("closed", [3], "/closed/0"),
    ("closed", [-1], "/closed/0"),
    ("closed", 2, "/closed"),
    ("surprise", 1, "/surprise"),
    ("trades/0/hours", [9, 9], "/trades/0/hours"),
    ("trades/0/hours/1", -9, "/trades/0/hours/1"),
    ("trades/0/hours/1", "9", "/trades/0/hours/1"),
    ("trades/0/overtime_points", 0.5, "/trades/0/overtime_points"),
    ("spaces/0/slots", [1, 1, 1, 1], "/spaces/0/slots"),
    ("spaces/0/area_m2/0", 2**53, "/spaces/0/area_m2/0"),
    ("spaces/0/width", 3, "/spaces/0/width"),
    ("halls/0/clear_m2/2", None, "/halls/0/clear_m2/2"),
    ("budgets/0/to_month", -1, "/budgets/0/to_month"),
    ("budgets/0/amount", -1, "/budgets/0/amount"),
    ("objects/0/hung", 1, "/objects/0/hung"),
    ("objects/0/hung", "false", "/objects/0/hung"),
    ("objects/1/hall_id", "west", "/objects/1/hall_id"),
    ("objects/1/hall_id", None, "/treatments/1/stages/0/place"),
    ("objects/0/display_m2", -1, "/objects/0/display_m2"),
    ("treatments/1/loss_if_done", [1, 2, 3], "/treatments/1/loss_if_done"),
    ("treatments/1/object_id", "C", "/treatments/1/object_id"),
    ("treatments/0/stages/0/hours/metal", [3], "/treatments/0/stages/0/hours/metal"),
    ("treatments/0/stages/0/hours/wood", [0, 0], "/treatments/0/stages/0/hours/wood"),
    ("treatments/0/stages/0/months", 0, "/treatments/0/stages/0/months"),
    ("treatments/0/stages/0/place", 5, "/treatments/0/stages/0/place"),
    ("treatments/0/stages/0/away", None, "/treatments/0/stages/0/away"),
    ("rules/0/kind", "never", "/rules/0/kind"),
    ("rules/0/object_ids/1", "C", "/rules/0/object_ids/1"),
    ("rules/0/number", None, "/rules/0"),
    ("rules/0/number", -1, "/rules/0/number"),
    ("pins/0/object_id", "C", "/pins/0/object_id"),
    ("pins/0/treatment_id", "T-C", "/pins/0/treatment_id"),
    ("pins/0/treatment_id", "T-B", "/pins/0/treatment_id"),
    ("pins/0/start", 3, "/pins/0/start"),
    ("pins/0/space_ids/0", "bay 2", "/pins/0/space_ids/0"),
    ("pins/0/space_ids", ["bay 1", None], "/pins/0/space_ids"),
    ("baseline/plan/jobs/0/object_id", "C", "/baseline/plan/jobs/0/object_id"),
    ("baseline/plan/jobs/0/treatment_id", "T-A", "/baseline/plan/jobs/0/treatment_id"),
    ("baseline/plan/jobs/0/stages/0/start", -1, "/baseline/plan/jobs/0/stages/0/start"),
    ("baseline/plan/jobs/0/stages", [], "/baseline/plan/jobs/0/stages"),
    ("baseline/frozen_until", 1.5, "/baseline/frozen_until"),
    ("baseline/plan", None, "/baseline/plan"),
)


@pytest.mark.parametrize(("path", "new", "where"), WRONG, ids=[f"{p}={n!r}"[:50] for p, n, _ in WRONG])
def test_one_planted_fault_is_told_at_its_place_and_no_other(path: str, new: Any, where: str) -> None:
    """Each planted fault gives one fault, at its JSON pointer, with a rule and a mend."""
    value = sound()
    put(path, new)(value)
    found = faults_of(value)
    assert [f.path for f in found] == [where]
    assert found[0].rule
    assert found[0].mend


@pytest.mark.parametrize("field", sorted(set(sound()) - {"closed", "rules", "pins", "budgets", "baseline"}))
def test_a_missing_field_is_told(field: str) -> None:
    """Fields that may not be absent are asked for by name."""
    value = sound()
    del value[field]
    assert any(field in f.rule and f.path == "" for f in faults_of(value))


@pytest.mark.parametrize("field", ["closed", "rules", "pins", "budgets", "baseline"])
def test_what_may_be_absent_may_be_absent(field: str) -> None:
    """Five parts may be left out."""
    value = sound()
    del value[field]
    assert faults_of(value) == []


@pytest.mark.parametrize("table", ["trades", "spaces", "halls", "objects", "treatments", "rules", "pins"])
def test_what_stands_twice_is_told(table: str) -> None:
    """A copied record is a fault at the copy; a second pin of an object too."""
    value = sound()
    value[table].append(value[table][0])
    found = faults_of(value)
    assert [f.path.split("/")[1] for f in found] == [table]


def test_many_faults_are_told_at_once() -> None:
    """Faults planted in many places are all told, and no others."""
    value = sound()
    planted = [w for w in WRONG if w[0].count("/") > 1][:30:3]
    places: dict[str, str] = {}
    for path, new, where in planted:
        if not any(where.startswith(w) or w.startswith(where) for w in places):
            put(path, new)(value)
            places[where] = path
    found = {f.path for f in faults_of(value)}
    assert len(places) >= 6
    assert set(places) == found


@pytest.mark.parametrize(
    ("path", "new"),
    [
        ("treatments/0/earliest", 99),
        ("treatments/0/latest", 99),
        ("treatments/0/stages/0/place", "a kind nobody has"),
        ("budgets/0/to_month", 99),
        ("closed", [2, 2]),
        ("rules/0/object_ids", ["A", "A"]),
        ("objects/0/loss_if_never", -9),
        ("baseline", None),
        ("scale", "100 points are an object"),
        ("loss_scale", 100),
        ("schema_version", "1.0"),
        ("baseline/plan/points", "not read"),
        ("baseline/plan/problem_digest", None),
    ],
)
def test_what_the_contract_does_not_forbid_is_read(path: str, new: Any) -> None:
    """Unusable treatments, repeats, negative losses, a scale by another name, unread parts of a plan."""
    value = sound()
    put(path, new)(value)
    assert faults_of(value) == []


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", "3", '"text"', "{} {}", "[" * 5000, "9" * 5000, '{"a": NaN}', "\ufeff{"],
    ids=lambda text: text[:10],
)
def test_what_is_no_problem_at_all_is_refused(text: str) -> None:
    """Nothing but a JSON object with the right fields is read, and nothing crashes."""
    assert faults_of(text) != []


def test_nan_is_told_once_at_its_place() -> None:
    """NaN and Infinity are not JSON (RFC 8259, section 6)."""
    text = (
        json.dumps(sound())
        .replace('"amount": 100', '"amount": NaN')
        .replace('"cost": 5', '"cost": Infinity', 1)
    )
    assert [f.path for f in faults_of(text)] == ["/budgets/0/amount", "/treatments/0/cost"]


def test_a_name_that_stands_twice_is_told() -> None:
    """A repeated name would hide one of two values."""
    text = json.dumps(sound()).replace('"cost": 5', '"cost": 4, "cost": 5', 1)
    assert [f.path for f in faults_of(text)] == ["/treatments/0/cost"]


def test_half_a_character_is_told() -> None:
    """Text that is not Unicode is a fault, not a crash."""
    text = json.dumps(sound()).replace('"rule_id": "R"', '"rule_id": "\\ud800"')
    assert [f.path for f in faults_of(text)] == ["/rules/0/rule_id"]


def test_a_pointer_escapes_slashes() -> None:
    """RFC 6901: / is ~1 and ~ is ~0."""
    value = sound()
    value["treatments"][0]["stages"][0]["hours"]["wood/~"] = [0, 0]
    assert [f.path for f in faults_of(value)] == ["/treatments/0/stages/0/hours/wood~1~0"]


def test_the_digest_is_of_the_value_as_read() -> None:
    """Spaces and order do not matter, what is left out does (keys sorted, no spaces, non-ASCII unescaped)."""
    value = sound()
    value["scale"] = "Flügel"
    digest = read_problem(json.dumps(value)).digest()
    assert digest == value_digest(value)
    shuffled = dict(reversed(value.items()))
    assert read_problem(json.dumps(shuffled, indent=4, ensure_ascii=False)).digest() == digest
    value["closed"] = [2, 2]
    assert read_problem(json.dumps(value)).digest() != digest


def test_the_digest_is_the_one_worked_out_outside() -> None:
    """sha256 of {"a":"ü","b":[1,2]} in UTF-8, from the command line tool sha256sum."""
    assert (
        value_digest({"b": [1, 2], "a": "ü"})
        == "815fc624760d8eb5090c0da64ed49386a8da3a0ef36c4a331d131430f76e6530"
    )


def test_a_problem_changed_after_reading_has_another_digest() -> None:
    """A copy with other fields does not carry the old file's digest."""
    problem = read_problem(json.dumps(sound()))
    assert problem.model_copy(update={"closed": ()}).digest() != problem.digest()


def test_a_repeat_is_read_once() -> None:
    """Months closed twice and objects named twice in a rule count once."""
    value = sound()
    value["closed"], value["rules"][0]["object_ids"] = [2, 0, 2], ["B", "A", "B"]
    problem = read_problem(json.dumps(value))
    assert problem.closed == (0, 2)
    assert problem.rules[0].object_ids == ("B", "A")


def plan_value() -> Value:
    """Return the JSON value of a plan."""
    problem = tiny_problem(0)
    plan = Plan(problem_digest="x", jobs=(), points=score(problem, []))
    value: Value = json.loads(plan_json(plan))
    return value


def outcome_value() -> Value:
    """Return the JSON value of an outcome with a plan."""
    return {
        "schema_version": 1,
        "problem_digest": "x",
        "ending": "best_in_time",
        "plan": plan_value(),
        "made_by": "greedy",
        "never": 5,
        "bound": None,
        "gap": None,
        "seconds": 3,
        "solver": "",
        "message": "",
        "conflicts": [{"rule": 9, "ids": ["A"], "from_month": None, "to_month": None, "text": "clash"}],
    }


def test_a_plan_and_an_outcome_are_told_apart() -> None:
    """Either file is read for what it is."""
    assert isinstance(read_plan_or_outcome(json.dumps(plan_value())), Plan)
    assert not isinstance(read_plan_or_outcome(json.dumps(outcome_value())), Plan)


@pytest.mark.parametrize(
    ("path", "new"),
    [
        ("ending", "done"),
        ("gap", "0.1"),
        ("seconds", None),
        ("made_by", "me"),
        ("never", 1.5),
        ("plan/points/total", 1.5),
        ("plan/jobs", None),
        ("plan/extra", 1),
        ("conflicts/0/rule", "nine"),
    ],
)
def test_a_wrong_outcome_is_refused_at_its_place(path: str, new: Any) -> None:
    """One planted fault, one fault told."""
    value = outcome_value()
    put(path, new)(value)
    with pytest.raises(UnusableInput) as refused:
        read_plan_or_outcome(json.dumps(value))
    assert [f.path for f in refused.value.faults if isinstance(f, JsonFault)] == [f"/{path}"]


def test_a_problem_is_no_plan() -> None:
    """A problem file given for a plan is refused."""
    with pytest.raises(UnusableInput):
        read_plan_or_outcome(problem_json(tiny_problem(0)))


def test_files_taken_for_each_other_are_told_so() -> None:
    """A problem read as a plan, and a plan read as a problem, name the likely mistake beside every fault."""
    of = tiny_problem(1)
    plan = Plan(
        problem_digest=of.digest(), jobs=(), points=Points(loss=0, away=0, overtime=0, moves=0, total=0)
    )
    with pytest.raises(UnusableInput, match="looks like a planning problem"):
        read_plan_or_outcome(problem_json(of))
    with pytest.raises(UnusableInput, match="looks like a plan or an outcome"):
        read_problem(plan_json(plan))
