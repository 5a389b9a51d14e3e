"""A folder of the tiny museum, planned once for all tests of the command line."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.folder import write_folder
from triage.cli import main


@dataclass(frozen=True)
class Planned:
    """A folder with the problem and the outcome that ``triage plan`` wrote, and its exit code."""

    folder: Path
    problem: Path
    plan: Path
    code: int


@pytest.fixture(scope="session")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Return the tiny museum, planned."""
    place = tmp_path_factory.mktemp("planned")
    folder = write_folder(place / "museum")
    problem, plan = place / "problem.json", place / "plan.json"
    code = main(["plan", str(folder), "--out", str(plan), "--problem", str(problem), "--seconds", "20"])
    return Planned(folder, problem, plan, code)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a fresh folder of the tiny museum, to be spoiled."""
    return write_folder(tmp_path / "museum")
