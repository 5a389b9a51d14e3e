"""``triage serve``: on this machine only, with a message where it cannot."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests.cli.conftest import Planned
from triage.cli import main


def free_port() -> int:
    """Return a port nobody uses now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def page(port: int, seconds: float = 60) -> str:
    """Return the first page, once somebody answers."""
    until = time.monotonic() + seconds
    while True:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=5) as answer:
                return str(answer.read().decode())
        except (urllib.error.URLError, ConnectionError):
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


@pytest.mark.slow
def test_it_serves_this_machine_until_ctrl_c(planned: Planned) -> None:
    """The page answers on 127.0.0.1, the address is said, and Ctrl-C ends it with 0."""
    port = free_port()
    call = [sys.executable, "-m", "triage", "serve", str(planned.folder), "--plan", str(planned.plan)]
    with subprocess.Popen([*call, "--port", str(port)], stderr=subprocess.PIPE, text=True) as process:
        assert process.stderr is not None
        assert f"http://127.0.0.1:{port}/" in process.stderr.readline()
        assert "<title>" in page(port)
        process.send_signal(signal.SIGINT)
        said, code = process.stderr.read(), process.wait(30)

    assert code == 0
    assert "Traceback" not in said


@pytest.mark.slow
def test_a_taken_port_exits_2_and_says_which(planned: Planned) -> None:
    """Another program has it: choose another."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        call = ["serve", str(planned.folder), "--plan", str(planned.plan), "--port", str(port)]
        ended = subprocess.run(
            [sys.executable, "-m", "triage", *call], capture_output=True, text=True, check=False
        )

    assert ended.returncode == 2
    assert f"Port {port} cannot be used" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_a_missing_folder_or_plan_exits_2(planned: Planned, tmp_path: Path) -> None:
    """Before anything is served."""
    assert main(["serve", str(tmp_path / "no")]) == 2
    assert main(["serve", str(planned.folder), "--plan", str(tmp_path / "no.json")]) == 2
