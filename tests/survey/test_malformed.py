"""Hand-named bad files: each is met with exactly what ``tests/malformed/expected.json`` says of it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.survey.good_museum import good_tables, write_folder
from triage.errors import Fault
from triage.survey import read_collection

MALFORMED = Path(__file__).resolve().parents[1] / "malformed"
EXPECTED = json.loads((MALFORMED / "expected.json").read_text(encoding="utf-8"))
STEMS = sorted(p.stem for p in MALFORMED.glob("*.csv"))


def _said(fault: Fault) -> list[str | int | None]:
    return [fault.level.value, fault.file, fault.row, fault.column, fault.value, fault.rule, fault.mend]


def test_every_bad_file_has_its_expectation() -> None:
    """No malformed file is left without a statement of what must be said of it, and there are many."""
    assert sorted(EXPECTED) == STEMS
    assert len(STEMS) >= 90


@pytest.mark.parametrize("stem", STEMS)
def test_a_bad_file_is_met_with_exactly_its_faults(stem: str, tmp_path: Path) -> None:
    """Place, value, rule and mend of every fault are as stated; the good rows of the file are kept."""
    table = stem.split(".")[0]
    folder = write_folder(good_tables(), tmp_path / "museum")
    (folder / f"{table}.csv").write_bytes((MALFORMED / f"{stem}.csv").read_bytes())
    intake = read_collection(folder)
    said = [_said(f) for f in intake.faults if "never graded" not in f.rule]  # few grades are left
    assert said == EXPECTED[stem]["said"]
    count = intake.counts[table]
    assert (count.accepted, count.set_aside) == (EXPECTED[stem]["accepted"], EXPECTED[stem]["set_aside"])
    assert count.accepted + count.set_aside == count.read
