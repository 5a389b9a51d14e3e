"""No content of any file raises, and rows are never lost count of."""

from __future__ import annotations

import io
import random
import tempfile
from pathlib import Path

import openpyxl
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.survey.good_museum import csv_text, good_tables, write_folder
from triage.survey import Intake, read_collection
from triage.survey.columns import TABLES
from triage.survey.workbook import UnreadableWorkbook, read_workbook

_QUIET = settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
_CELLS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        [
            "",
            " ",
            "0",
            "-1",
            "1e400",
            "NaN",
            "2026-02-30",
            "OB01",
            "T01",
            "R1",
            "yes",
            ";",
            '"',
            "#REF!",
            "x" * 41,
        ]
    ),
)


def _read_with(name: str, content: bytes) -> Intake:
    with tempfile.TemporaryDirectory() as folder:
        path = write_folder(good_tables(), Path(folder))
        (path / f"{name}.csv").write_bytes(content)
        return read_collection(path)


def _is_whole(intake: Intake) -> None:
    for count in intake.counts.values():
        assert count.accepted + count.set_aside == count.read
        assert count.waiting <= count.set_aside
    for fault in intake.faults:
        assert fault.rule
        assert fault.mend


@_QUIET
@given(name=st.sampled_from(sorted(TABLES)), content=st.binary(max_size=400))
def test_any_bytes_can_be_read(name: str, content: bytes) -> None:
    """A table of random bytes gives findings, never an exception."""
    _is_whole(_read_with(name, content))


@_QUIET
@given(name=st.sampled_from(sorted(TABLES)), data=st.data())
def test_any_cells_can_be_read(name: str, data: st.DataObject) -> None:
    """Random cells under the right header give findings, never an exception."""
    header = good_tables()[name][0]
    row = st.lists(_CELLS, min_size=len(header), max_size=len(header))
    rows = data.draw(st.lists(row, max_size=6))
    _is_whole(_read_with(name, csv_text([header, *rows]).encode("utf-8", "surrogatepass")))


@_QUIET
@given(seed=st.integers(0, 10**6))
def test_any_exchange_of_cells_can_be_read(seed: int) -> None:
    """Sound tables with cells thrown about give findings, never an exception, and no row is lost count of."""
    rng = random.Random(seed)
    tables = good_tables()
    pool = [c for rows in tables.values() for row in rows[1:] for c in row]
    for rows in tables.values():
        for row in rng.sample(rows[1:], k=min(3, len(rows) - 1)):
            row[rng.randrange(len(row))] = rng.choice(pool)
    with tempfile.TemporaryDirectory() as folder:
        intake = read_collection(write_folder(tables, Path(folder)))
    _is_whole(intake)
    for name, count in intake.counts.items():
        blank = sum(1 for row in tables[name][1:] if not any(row))
        assert count.read in (len(tables[name]) - 1 - blank, 0)


@_QUIET
@given(at=st.integers(0, 10**6), bits=st.integers(1, 255))
def test_a_workbook_with_one_wrong_byte_is_read_or_refused(at: int, bits: int) -> None:
    """A damaged workbook gives rows or a refusal in words, never another exception."""
    damaged = bytearray(_workbook())
    damaged[at % len(damaged)] ^= bits
    assert _read_or_refuse(bytes(damaged))


def _read_or_refuse(data: bytes) -> str:
    """Return the sheets' names, or the refusal's rule and mend."""
    try:
        return " ".join(read_workbook(data)) or "no sheet"
    except UnreadableWorkbook as bad:
        return f"{bad.rule} {bad.mend}"


def _workbook() -> bytes:
    book = openpyxl.Workbook()
    for row in good_tables()["rounds"]:
        book.worksheets[0].append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
