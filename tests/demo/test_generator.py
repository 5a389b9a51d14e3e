"""The committed tables are what the generator writes, and nothing else."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

from demo_collection.cast import CAST
from demo_collection.chance import pick, stream
from demo_collection.generate import COLUMNS, as_csv, tables
from demo_collection.history import true_grade, truth, walks
from tests.demo.conftest import FOLDER

INVENTED = {
    "Trandolve", "Pellowyn", "Harnqvel", "Dravinth", "Brimtasse", "Ulmbrek", "Ondrissel", "Zintherly",
    "Yestoline", "Lomperel", "Tambrelisk", "Sorvantry", "Jostrelle", "Wyndolque", "Vimpolane", "Quarramine",
    "Isquorel", "Kalspindle", "Pallimorn", "Fennolith", "Grasmundel", "Birquane", "Umbelisk", "Cravotine",
    "Tessimund", "Ruvenquil", "Orvelhaun",
}  # fmt: skip
"""Makers, types and the coast; each was looked for in public code, and is nowhere a name."""
PLAIN = {
    "No", "Wet", "Field", "Orchard",
}  # fmt: skip


@pytest.mark.parametrize("name", COLUMNS)
def test_committed_table_equals_a_fresh_generation(name: str) -> None:
    """Every committed table is byte for byte what the generator makes now."""
    assert (FOLDER / name).read_bytes() == as_csv(name, tables()[name]).encode()


def test_no_table_is_left_over() -> None:
    """The folder holds the generator's tables and no other."""
    assert {p.name for p in FOLDER.glob("*.csv")} == set(COLUMNS)


def test_the_command_writes_the_same_bytes_in_another_process(tmp_path: Path) -> None:
    """A new process, with another hash seed, writes the same files."""
    subprocess.run(
        [sys.executable, "-m", "demo_collection.generate", str(tmp_path)],
        check=True, cwd=FOLDER.parent, env={"PYTHONHASHSEED": "7"}, timeout=60,
    )  # fmt: skip
    for name in COLUMNS:
        assert (tmp_path / name).read_bytes() == (FOLDER / name).read_bytes()


def test_a_column_nobody_declared_is_refused() -> None:
    """A row with an unknown column cannot slip into a table."""
    with pytest.raises(ValueError, match="fieldnames"):
        as_csv("budget.csv", [{"year": 2027, "sum": 1}])


def test_every_capitalised_name_is_an_invented_one() -> None:
    """No word in an object's name is a name except those on the list of invented ones."""
    for c in CAST:
        words = [w.strip(",.") for w in c.name.split()]
        names = {w for w in words if w[0].isupper() and len(w) > 1 and not w.isdigit()}
        assert names <= INVENTED | PLAIN, c.name


def test_the_truth_never_improves_without_a_treatment() -> None:
    """The hidden history is progressive: only objects treated get better."""
    treated = {(r["object_id"], r["element_id"]) for r in tables()["treated.csv"]}
    for row in tables()["elements.csv"]:
        key = str(row["object_id"]), str(row["element_id"])
        grades = [g for _, g in truth(*key)]
        better = any(b < a for a, b in pairwise(grades))
        assert not better or key in treated or (key[0], "") in treated


def test_assessors_err_a_little() -> None:
    """Three to six of a hundred grades are not the true one, and nearly all of those are one step off."""
    days = {w.round_id: w.day for w in walks()}
    off = [
        abs(
            int(str(r["grade"]))
            - true_grade(str(r["object_id"]), str(r["element_id"]), days[str(r["round_id"])])
        )
        for r in tables()["grades.csv"]
        if r["grade"] != ""
    ]
    wrong = [d for d in off if d]
    assert 0.03 < len(wrong) / len(off) < 0.06
    assert sum(d > 1 for d in wrong) < 0.1 * len(wrong)


def test_chance_is_seeded_by_the_question() -> None:
    """Two streams of one question agree, those of two questions do not."""
    assert stream("a", 1).random() == stream("a", 1).random()
    assert stream("a", 1).random() != stream("a", 2).random()
    assert pick(stream("x"), (0.0, 1.0, 0.0)) == 1


@pytest.mark.parametrize("name", COLUMNS)
def test_the_readme_explains_every_table_and_column(name: str) -> None:
    """The page beside the tables names each of them and all their columns."""
    lines = (FOLDER / "README.md").read_text(encoding="utf-8").splitlines()
    (line,) = (x for x in lines if x.startswith(f"| `{name.removesuffix('.csv')}` |"))
    plain = [c for c in COLUMNS[name] if not c.startswith(("hours_left_", "x_")) or c == "x_m"]
    plain = [c for c in plain if name != "stages.csv" or not c.startswith("hours_")]
    assert [c for c in plain if f"`{c}`" not in line] == []
