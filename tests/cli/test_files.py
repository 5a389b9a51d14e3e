"""``triage solve`` and ``triage verify``: the contract's files."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Planned
from triage.cli import main
from triage.planning.reading import read_plan_or_outcome


def changed(path: Path, place: Path, **fields: Any) -> Path:
    """Write a changed copy of a JSON file and return it."""
    value = json.loads(path.read_text(encoding="utf-8")) | fields
    place.write_text(json.dumps(value), encoding="utf-8")
    return place


def plan_alone(planned: Planned, place: Path, **fields: Any) -> Path:
    """Write the plan of the outcome by itself, some of it changed."""
    value = json.loads(planned.plan.read_text(encoding="utf-8"))["plan"] | fields
    place.write_text(json.dumps(value), encoding="utf-8")
    return place


def test_solve_writes_an_outcome_that_verify_accepts(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit 0 twice; the total equals that of ``triage plan``."""
    out = tmp_path / "o.json"

    assert main(["solve", str(planned.problem), "--out", str(out), "--seconds", "20"]) == 0
    assert main(["verify", str(planned.problem), str(out)]) == 0
    assert "Sound" in capsys.readouterr().out
    totals = [
        json.loads(p.read_text(encoding="utf-8"))["plan"]["points"]["total"] for p in (out, planned.plan)
    ]
    assert totals[0] == totals[1]


def test_solve_json_prints_the_outcome_it_wrote(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """stdout is the outcome itself."""
    out = tmp_path / "o.json"

    assert main(["solve", str(planned.problem), "--out", str(out), "--seconds", "20", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(out.read_text(encoding="utf-8"))


def test_an_unusable_problem_exits_2_with_every_fault_and_no_outcome(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each fault has a JSON pointer, the value, the rule and the mend; the file at --out is left alone."""
    bad, out = changed(planned.problem, tmp_path / "bad.json", months=0, closed=["x"]), tmp_path / "o.json"
    out.write_text("mine")

    assert main(["solve", str(bad), "--out", str(out), "--json"]) == 2
    answer = json.loads(capsys.readouterr().out)
    assert list(answer) == ["faults"]
    assert all(set(fault) == {"path", "value", "rule", "mend"} for fault in answer["faults"])
    assert {"/months", "/closed/0"} <= {fault["path"] for fault in answer["faults"]}
    assert out.read_text() == "mine"


@pytest.mark.parametrize("text", ["", "not json", "[]", "\ufeff{}", "null"])
def test_a_file_that_is_no_problem_exits_2(tmp_path: Path, text: str) -> None:
    """Whatever is in it."""
    bad = tmp_path / "bad.json"
    bad.write_text(text, encoding="utf-8")

    assert main(["solve", str(bad), "--out", str(tmp_path / "o.json")]) == 2
    assert not (tmp_path / "o.json").exists()


def test_binary_folder_and_missing_files_exit_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each with a sentence, none with a traceback."""
    binary = tmp_path / "b.json"
    binary.write_bytes(b"\xff\xfe\x00")

    for path in (binary, tmp_path, tmp_path / "none.json"):
        assert main(["solve", str(path), "--out", str(tmp_path / "o.json")]) == 2
    err = capsys.readouterr().err
    assert "Traceback" not in err
    assert [words in err for words in ("not UTF-8", "is a folder", "There is no file")] == [True] * 3


def test_verify_takes_a_plan_alone(planned: Planned, tmp_path: Path) -> None:
    """A plan without its outcome is checked by itself."""
    assert main(["verify", str(planned.problem), str(plan_alone(planned, tmp_path / "p.json"))]) == 0


def test_a_tampered_plan_exits_1_naming_every_broken_rule(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The glider hoisted without its re-covering, points as before: rules 2 and 10 are named."""
    plan = json.loads(planned.plan.read_text(encoding="utf-8"))["plan"]
    job = next(j for j in plan["jobs"] if j["object_id"] == "GLIDER")
    job["stages"][1]["start"] = job["stages"][0]["start"]
    job["stages"][1]["space_id"] = "NOWHERE"

    assert main(["verify", str(planned.problem), str(plan_alone(planned, tmp_path / "p.json", **plan))]) == 1
    out = capsys.readouterr().out
    assert "Rule 2:" in out
    assert "Rule 3:" in out


def test_verify_compares_never_gap_and_points_too(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An outcome that praises itself is caught."""
    lying = changed(planned.plan, tmp_path / "o.json", never=10**9)

    assert main(["verify", str(planned.problem), str(lying), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["sound"] is False
    assert {v["rule"] for v in answer["broken"]} == {10}


def test_an_outcome_without_a_plan_exits_3(planned: Planned, tmp_path: Path) -> None:
    """There is nothing to verify, and nothing wrong."""
    outcome = read_plan_or_outcome(planned.plan.read_text(encoding="utf-8"))
    none = changed(
        planned.plan,
        tmp_path / "o.json",
        ending="no_plan_in_time",
        plan=None,
        made_by=None,
        bound=None,
        gap=None,
    )

    assert outcome.problem_digest
    assert main(["verify", str(planned.problem), str(none)]) == 3


def test_verify_with_an_unusable_plan_file_exits_2(planned: Planned, tmp_path: Path) -> None:
    """A plan that breaks its schema cannot be judged."""
    bad = tmp_path / "p.json"
    bad.write_text('{"jobs": 3}', encoding="utf-8")

    assert main(["verify", str(planned.problem), str(bad)]) == 2
