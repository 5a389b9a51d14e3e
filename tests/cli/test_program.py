"""The program as others start it: help, exit codes, Ctrl-C, pipes."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.folder import TABLES, write_folder
from tests.problems.generator import make_problem
from triage.cli import main

TRIAGE = (sys.executable, "-m", "triage")


@pytest.mark.parametrize("command", ["check", "forecast", "plan", "solve", "verify", "explain", "serve"])
def test_every_command_has_help(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    """It says what the command does, and exits 0."""
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])

    assert ended.value.code == 0
    assert "usage: triage" in capsys.readouterr().out


@pytest.mark.parametrize(
    "argv",
    [
        [],
        ["paint"],
        ["plan", "folder"],
        ["solve", "p.json", "--out", "o.json", "--seconds", "0"],
        ["serve", "f", "--port", "x"],
    ],
)
def test_a_wrong_call_exits_2(argv: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """No command, an unknown one, a missing option, a senseless number."""
    with pytest.raises(SystemExit) as ended:
        main(argv)

    assert ended.value.code == 2
    assert "Traceback" not in capsys.readouterr().err


def test_the_exit_code_reaches_the_shell(folder: Path) -> None:
    """0 for a sound folder, 2 for none, as a process."""
    codes = [
        subprocess.run([*TRIAGE, "check", str(path)], capture_output=True, check=False).returncode
        for path in (folder, folder / "nowhere")
    ]

    assert codes == [0, 2]


@pytest.mark.slow
@pytest.mark.parametrize("sent", [signal.SIGINT, signal.SIGTERM])
def test_a_search_that_is_stopped_exits_130_and_keeps_its_best_plan(
    tmp_path: Path, sent: signal.Signals
) -> None:
    """Ctrl-C, or a request to end, during a long search: outcome written as cancelled, its plan verified."""
    problem, out = tmp_path / "problem.json", tmp_path / "o.json"
    problem.write_text(make_problem(3, 60, 60).model_dump_json(), encoding="utf-8")
    with subprocess.Popen(
        [*TRIAGE, "solve", str(problem), "--out", str(out), "--seconds", "120"],
        stderr=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        text=True,
    ) as process:
        assert process.stderr is not None
        for line in process.stderr:
            if "best plan so far" in line:
                break
        process.send_signal(sent)
        process.stderr.read()
        code = process.wait(60)

    assert code == 130
    outcome = json.loads(out.read_text(encoding="utf-8"))
    assert outcome["ending"] == "cancelled"
    assert outcome["plan"]["jobs"]
    assert main(["verify", str(problem), str(out)]) == 0


def test_stopped_before_the_search_exits_130_and_writes_nothing(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-C while reading: no file, no traceback."""

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("triage.workflow.read_collection", stopped)
    out = tmp_path / "plan.json"

    assert main(["plan", str(folder), "--out", str(out)]) == 130
    assert not out.exists()
    assert "Cancelled." in capsys.readouterr().err


def test_names_cannot_steer_the_terminal_and_any_terminal_will_do(tmp_path: Path) -> None:
    """Control characters are replaced; a terminal of plain ASCII gets escapes, not a traceback."""
    objects = TABLES["objects"].replace("Tern glider", "Tern \x1b[31mglid\u00e9r")
    folder, out = write_folder(tmp_path / "m", objects=objects), tmp_path / "plan.json"
    call = [*TRIAGE, "plan", str(folder), "--out", str(out), "--seconds", "20"]
    env = {**os.environ, "PYTHONIOENCODING": "ascii"}
    ended = subprocess.run(call, capture_output=True, check=False, env=env)

    assert ended.returncode == 0
    assert b"\x1b" not in ended.stdout
    assert b"glid\\xe9r" in ended.stdout


def test_a_reader_that_goes_away_is_no_failure(folder: Path) -> None:
    """``triage check FOLDER | head -0`` ends without a traceback."""
    with subprocess.Popen(
        [*TRIAGE, "check", str(folder)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        time.sleep(0)
        said = process.stderr.read()

    assert "Traceback" not in said
    assert "BrokenPipe" not in said
