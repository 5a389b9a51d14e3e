"""``triage plan``: the main job."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Planned
from tests.folder import TABLES, write_folder
from triage import workflow
from triage.cli import main
from triage.planning.outcome import Ending
from triage.planning.reading import read_plan_or_outcome, read_problem


@pytest.fixture(scope="module")
def printed(planned: Planned, tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return what ``triage plan`` prints for the tiny museum."""
    made = workflow.with_plan(workflow.prepare(planned.folder), planned.plan)
    from triage.reports.text import plan_text

    return plan_text(made)


def test_it_exits_0_and_writes_problem_and_outcome(planned: Planned) -> None:
    """Both files can be read back, and the outcome belongs to the problem."""
    problem = read_problem(planned.problem.read_text(encoding="utf-8"))
    outcome = read_plan_or_outcome(planned.plan.read_text(encoding="utf-8"))

    assert planned.code == 0
    assert outcome.problem_digest == problem.digest()
    assert "ending" in json.loads(planned.plan.read_text(encoding="utf-8"))


def test_sections_stand_in_the_order_a_manager_reads_them(printed: str) -> None:
    """Safety, how good, queue, galleries, untreated or points, notes."""
    titles = [
        "SAFETY FIRST",
        "HOW GOOD THIS PLAN IS",
        "THE QUEUE",
        "IN THE GALLERIES",
        "THE PLAN IN POINTS",
        "NOTES",
    ]
    places = [printed.index(title) for title in titles]

    assert places == sorted(places)


def test_the_safety_flag_has_its_caution(printed: str) -> None:
    """The glider's hangers are doubtful: keep people away, have it inspected now."""
    safety = printed.split("HOW GOOD")[0]

    assert "Tern glider (GLIDER)" in safety
    assert "inspected by a competent person" in " ".join(safety.split())


def test_the_queue_says_object_bay_months_and_what_goes_first(printed: str) -> None:
    """One line at a glance, then the job with all that belongs to it."""
    queue = " ".join(printed.split("THE QUEUE")[1].split("IN THE GALLERIES")[0].split())

    for words in (
        "Tern glider (GLIDER) -> North bay",
        "Off display",
        "2027 (5 months)",
        "Move first: Sandpiper biplane",
        "an area, not a shape",
        "Suspended load",
        "licensed lifting practice",
        "no permission to lift",
        "cellulose nitrate dope",
        "One more year's wait costs",
    ):
        assert words in queue


def test_hazards_stand_before_the_stages(printed: str) -> None:
    """Whoever reads down meets the caution first."""
    queue = printed.split("THE QUEUE")[1]

    assert queue.index("HAZARD") < queue.index("Stages")
    assert queue.index("CAUTION") < queue.index("Stages")


def test_gallery_actions_have_their_hazards_too(printed: str) -> None:
    """The biplane was never surveyed."""
    gallery = printed.split("IN THE GALLERIES")[1]

    assert "Shade the biplane" in gallery
    assert "Hazards not surveyed" in gallery


def test_json_carries_the_same_rows(
    planned: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Programs get queue, galleries, safety, notes and the outcome; progress goes to stderr."""
    out = tmp_path / "plan.json"
    assert main(["plan", str(planned.folder), "--out", str(out), "--seconds", "20", "--json"]) == 0
    said = capsys.readouterr()
    value = json.loads(said.out)

    assert [row["object_id"] for row in value["queue"]] == ["GLIDER"]
    assert value["queue"][0]["off_display"][0]["from_month"].startswith("2027-")
    assert value["safety"][0]["caution"]["kind"] == "safety"
    assert value["outcome"] == json.loads(out.read_text(encoding="utf-8"))
    assert "Reading the collection." in said.err


@pytest.mark.parametrize(
    ("table", "good", "bad"),
    [("trades", "woodwork,160", "woodwork,lots"), ("spaces", "bay,80,1", "bay,80,one")],
)
def test_a_faulty_limit_stops_the_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], table: str, good: str, bad: str
) -> None:
    """Leaving the row out would loosen a limit: exit 2, the fault named, the file at --out left alone."""
    folder, out = (
        write_folder(tmp_path / "m", **{table: TABLES[table].replace(good, bad)}),
        tmp_path / "plan.json",
    )
    out.write_text("mine")

    assert main(["plan", str(folder), "--out", str(out), "--json"]) == 2
    faults = json.loads(capsys.readouterr().out)["faults"]
    assert {fault["file"] for fault in faults} == {f"{table}.csv"}
    assert out.read_text() == "mine"


def test_a_faulty_grade_does_not_stop_the_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is set aside and said in the notes; the plan is made."""
    grades = TABLES["grades"].replace("BIPLANE,covering,2", "BIPLANE,covering,9")
    folder = write_folder(tmp_path / "m", grades=grades)

    assert main(["plan", str(folder), "--out", str(tmp_path / "plan.json"), "--seconds", "20"]) == 0
    notes = capsys.readouterr().out.split("NOTES")[1]
    assert "grades.csv, row 7" in " ".join(notes.split())


def test_a_clash_exits_3_and_says_which_promises(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Running work in a month whose hours cannot carry it: impossible, outcome written, conflict named."""
    head = "object_id,treatment_id,stage,months_left,space_id,hours_left_woodwork"
    running = f"{head}\nGLIDER,T-GLIDER,2,1,BAY1,900\n"
    folder, out = write_folder(tmp_path / "m", running=running), tmp_path / "plan.json"

    assert main(["plan", str(folder), "--out", str(out), "--seconds", "20"]) == 3
    written = json.loads(out.read_text(encoding="utf-8"))
    assert (written["ending"], written["plan"]) == (Ending.IMPOSSIBLE.value, None)
    assert "promises that must be kept clash" in capsys.readouterr().out


def test_one_file_for_both_answers_is_refused(folder: Path, tmp_path: Path) -> None:
    """The problem would be overwritten by the outcome."""
    same = str(tmp_path / "p.json")

    assert main(["plan", str(folder), "--out", same, "--problem", same]) == 2
    assert not Path(same).exists()


def test_a_missing_folder_exits_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And says so in one sentence, with JSON for programs."""
    assert main(["plan", str(tmp_path / "no"), "--out", str(tmp_path / "p.json"), "--json"]) == 2
    assert len(json.loads(capsys.readouterr().out)["faults"]) == 1
    assert not (tmp_path / "p.json").exists()
