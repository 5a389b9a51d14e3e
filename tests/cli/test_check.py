"""``triage check``."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.folder import TABLES, write_folder
from triage.cli import main


def test_a_sound_folder_exits_0(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Notes and warnings do not make a fault."""
    assert main(["check", str(folder)]) == 0
    assert "0 faults" in capsys.readouterr().out


def test_a_fault_exits_1_with_place_value_and_mend(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """File, row, column, value and mend are in the line."""
    folder = write_folder(
        tmp_path / "m", grades=TABLES["grades"].replace("GLIDER,covering,3", "GLIDER,covering,7")
    )

    assert main(["check", str(folder)]) == 1
    out = capsys.readouterr().out
    for words in ("FAULT", "grades.csv", "row 4", "column grade", "'7'", "Mend:", "1 fault"):
        assert words in out


def test_json_lists_every_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Programs get each fault with its parts."""
    folder = write_folder(
        tmp_path / "m", grades=TABLES["grades"].replace("GLIDER,covering,3", "GLIDER,covering,7")
    )

    assert main(["check", str(folder), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["counts"]["grades"]["read"] == 7
    faults = [f for f in answer["faults"] if f["level"] == "fault"]
    assert [(f["file"], f["row"], f["column"], f["value"]) for f in faults] == [
        ("grades.csv", 4, "grade", "7")
    ]


def test_a_needed_table_missing_is_a_fault_and_said_to_stop_everything(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """``check`` has done its job: it found faults, so it exits 1."""
    folder = write_folder(tmp_path / "m", settings=None)

    assert main(["check", str(folder)]) == 1
    assert "cannot be used until it is mended" in capsys.readouterr().out


def test_no_such_folder_exits_2_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without input there is nothing to find faults in."""
    assert main(["check", str(tmp_path / "nowhere")]) == 2
    said = capsys.readouterr()
    assert "nowhere" in said.err
    assert "Traceback" not in said.err
