"""``triage explain``: why, why not, what would change it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Planned
from tests.folder import TABLES, write_folder
from triage.cli import main


def explained(planned: Planned, capsys: pytest.CaptureFixture[str], *more: str) -> str:
    """Return what is printed for an object."""
    assert main(["explain", str(planned.folder), "--plan", str(planned.plan), *more]) == 0
    return capsys.readouterr().out


def test_it_says_drivers_waiting_dates_and_what_keeps_it(
    planned: Planned, capsys: pytest.CaptureFixture[str]
) -> None:
    """All that a manager asks about one object."""
    out = " ".join(explained(planned, capsys, "GLIDER").split())

    for words in (
        "WHAT WAITING COSTS",
        "One more year's wait",
        "WHAT DRIVES ITS LOSS",
        "if the association is causal",
        "IN THE PLAN",
        "Re-cover the glider",
        "Suspended load",
        "WHAT KEEPS IT FROM STARTING SOONER",
        "inspected by a competent person",
    ):
        assert words in out


def test_json_is_the_objects_page(planned: Planned, capsys: pytest.CaptureFixture[str]) -> None:
    """The same page as on screen."""
    page = json.loads(explained(planned, capsys, "GLIDER", "--json"))

    assert page["object_id"] == "GLIDER"
    assert page["job"]["treatment_id"] == "T-GLIDER"
    assert [e["element_id"] for e in page["elements"]] == ["covering", "hangers"]


def test_an_unknown_object_suggests_close_ids(planned: Planned, capsys: pytest.CaptureFixture[str]) -> None:
    """Case and a missing letter are forgiven with a question."""
    assert main(["explain", str(planned.folder), "--plan", str(planned.plan), "glidr"]) == 2
    assert "Did you mean GLIDER?" in capsys.readouterr().err


def test_a_plan_of_an_older_folder_is_counted_anew(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """More hours than before: the plan still keeps every rule and is explained."""
    folder = write_folder(tmp_path / "m", trades=TABLES["trades"].replace("160", "170"))

    assert main(["explain", str(folder), "--plan", str(planned.plan), "GLIDER"]) == 0
    assert "IN THE PLAN" in capsys.readouterr().out


def test_a_plan_that_no_longer_holds_is_refused(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The bay was given away: the plan breaks a rule of the folder as it stands."""
    folder = write_folder(tmp_path / "m", spaces=TABLES["spaces"].replace("bay,80,1", "bay,20,1"))

    assert main(["explain", str(folder), "--plan", str(planned.plan), "GLIDER"]) == 2
    assert "make a new one with 'triage plan'" in capsys.readouterr().err


def test_an_outcome_without_a_plan_exits_3(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is known of the object is printed, and that there is no plan."""
    value = json.loads(planned.plan.read_text(encoding="utf-8"))
    value |= {"ending": "no_plan_in_time", "plan": None, "made_by": None, "bound": None, "gap": None}
    none = tmp_path / "o.json"
    none.write_text(json.dumps(value), encoding="utf-8")

    assert main(["explain", str(planned.folder), "--plan", str(none), "GLIDER"]) == 3
    assert "No plan was found" in capsys.readouterr().out
