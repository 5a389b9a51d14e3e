"""``triage forecast``: the table of the contract."""

from __future__ import annotations

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from tests.folder import TABLES, write_folder
from triage.cli import main

Rows = list[dict[str, str]]


@pytest.fixture(scope="module")
def rows(tmp_path_factory: pytest.TempPathFactory) -> Rows:
    """Return the rows of the tiny museum's forecast; the crate was never graded."""
    place = tmp_path_factory.mktemp("forecast")
    elements = TABLES["elements"] + "BIPLANE,crate,structure,wood,,no\n"
    folder, out = write_folder(place / "museum", elements=elements), place / "f.csv"
    assert main(["forecast", str(folder), "--out", str(out)]) == 0
    with out.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_columns_are_those_of_the_contract(rows: Rows) -> None:
    """In this order."""
    assert ",".join(rows[0]) == "element_id,object_id,months_ahead,p1,p2,p3,p4,low3,high3"


def test_every_element_has_its_eleven_rows(rows: Rows) -> None:
    """Months 0, 12 .. 120 for each, the never graded one too."""
    found: dict[tuple[str, str], list[int]] = {}
    for row in rows:
        found.setdefault((row["object_id"], row["element_id"]), []).append(int(row["months_ahead"]))

    assert found == {
        key: list(range(0, 121, 12))
        for key in [
            ("GLIDER", "covering"),
            ("GLIDER", "hangers"),
            ("BIPLANE", "covering"),
            ("BIPLANE", "crate"),
        ]
    }


def test_each_row_sums_to_1_exactly_as_read(rows: Rows) -> None:
    """Six decimals or more, and no rounding left over."""
    for row in rows:
        assert sum(float(row[f"p{g}"]) for g in (1, 2, 3, 4)) == 1
        assert all(len(row[f"p{g}"].split(".")[1]) >= 6 for g in (1, 2, 3, 4))


def test_poor_or_worse_never_falls_and_lies_in_its_range(rows: Rows) -> None:
    """p3 + p4 rises with months_ahead, between low3 and high3."""
    poor = [float(r["p3"]) + float(r["p4"]) for r in rows]

    for (before, after), (first, second) in zip(pairwise(rows), pairwise(poor), strict=True):
        if before["element_id"] == after["element_id"] and before["object_id"] == after["object_id"]:
            assert second >= first
    assert all(float(r["low3"]) <= p <= float(r["high3"]) for r, p in zip(rows, poor, strict=True))


def test_faulty_rows_are_set_aside_and_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The good rows go on: exit 0."""
    grades = TABLES["grades"].replace("GLIDER,covering,3", "GLIDER,covering,7")
    folder = write_folder(tmp_path / "m", grades=grades)

    assert main(["forecast", str(folder), "--out", str(tmp_path / "f.csv")]) == 0
    assert "1 fault set aside" in capsys.readouterr().out


def test_an_unusable_folder_exits_2_and_leaves_the_file_alone(tmp_path: Path) -> None:
    """What stood at --out is untouched."""
    folder, out = write_folder(tmp_path / "m", elements=None), tmp_path / "f.csv"
    out.write_text("mine")

    assert main(["forecast", str(folder), "--out", str(out)]) == 2
    assert out.read_text() == "mine"


def test_a_folder_that_does_not_exist_for_out_is_said_before_any_work(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody waits a minute to learn that the answer cannot be kept."""
    assert main(["forecast", str(folder), "--out", str(tmp_path / "no" / "f.csv")]) == 2
    assert "Make it first" in capsys.readouterr().err
