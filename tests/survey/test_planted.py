"""Folders with k planted faults report those k, with their place and a mend, and no other."""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest

from tests.survey.good_museum import good_tables, write_folder
from tests.survey.planting import CELL_PLANTS, OTHER_PLANTS, plant
from triage.survey import Intake, read_collection


def _places(intake: Intake) -> Counter[tuple[str, int | None, str]]:
    return Counter((f.file, f.row, f.column) for f in intake.errors)


def test_the_sound_museum_is_without_any_remark(tmp_path: Path) -> None:
    """The ground on which faults are planted has neither fault nor warning nor note."""
    assert read_collection(write_folder(good_tables(), tmp_path)).faults == ()


@pytest.mark.parametrize("number", range(len(CELL_PLANTS) + len(OTHER_PLANTS)))
def test_each_kind_of_fault_alone_is_found_alone(number: int, tmp_path: Path) -> None:
    """One planted fault is one fault, at its place, with a mend; nothing that depends on it complains."""
    tables = good_tables()
    place = (*CELL_PLANTS, *OTHER_PLANTS)[number].plant(random.Random(number), tables, set())
    assert place is not None
    intake = read_collection(write_folder(tables, tmp_path))
    assert _places(intake) == Counter([place])
    assert intake.errors[0].mend.endswith((".", "?"))
    assert not intake.warnings


@pytest.mark.parametrize("count", range(1, 51))
@pytest.mark.parametrize("seed", [1, 2])
def test_k_planted_faults_are_k_faults(count: int, seed: int, tmp_path: Path) -> None:
    """Any mix of 1 to 50 faults is reported whole, each once, without followers."""
    tables = good_tables()
    planted = plant(tables, count, seed=1000 * seed + count)
    assert len(planted) == count
    intake = read_collection(write_folder(tables, tmp_path))
    assert _places(intake) == Counter(planted)


@pytest.mark.parametrize(
    ("name", "column"),
    [
        ("halls", "hall_id"),
        ("objects", "object_id"),
        ("elements", "element_id"),
        ("rounds", "round_id"),
        ("treatments", "treatment_id"),
        ("spaces", "space_id"),
        ("spaces", "kind"),
        ("trades", "trade"),
    ],
)
def test_a_lost_id_is_one_fault_whatever_names_it(name: str, column: str, tmp_path: Path) -> None:
    """Whichever row loses its id, that is the one fault: what names the id waits without a fault."""
    for row in range(1, min(len(good_tables()[name]), 8)):
        tables = good_tables()
        tables[name][row][tables[name][0].index(column)] = ""
        intake = read_collection(write_folder(tables, tmp_path))
        assert _places(intake) == Counter([(f"{name}.csv", row + 1, column)])


@pytest.mark.parametrize("seed", range(5))
def test_good_rows_outlive_bad_ones(seed: int, tmp_path: Path) -> None:
    """Accepted and set aside add up to the rows read, and rows set aside are faulty or wait."""
    tables = good_tables()
    planted = plant(tables, 20, seed)
    intake = read_collection(write_folder(tables, tmp_path))
    for name, count in intake.counts.items():
        assert count.accepted + count.set_aside == count.read == len(tables[name]) - 1
        at_fault = len({row for file, row, _ in planted if file == f"{name}.csv"})
        assert count.set_aside - count.waiting + count.in_part <= at_fault


@pytest.mark.parametrize("seed", range(10))
def test_what_is_accepted_names_nothing_that_is_not(seed: int, tmp_path: Path) -> None:
    """However many rows are set aside, no record is left that names an id the collection does not hold."""
    tables = good_tables()
    plant(tables, 40, seed)
    for row in tables["settings"]:
        row[1] = "25" if row[0] == "value_years" else row[1]
    record = read_collection(write_folder(tables, tmp_path)).collection
    assert record is not None
    elements = {e.key for e in record.elements}
    trades = {t.trade for t in record.trades}
    places = {None, "hall", *(s.kind for s in record.spaces)}
    assert {e.object_id for e in record.elements} <= record.object_by_id.keys()
    assert {(g.object_id, g.element_id) for g in record.grades} <= elements
    assert {g.round_id for g in record.grades} <= record.round_by_id.keys()
    assert {t.object_id for t in record.treatments} <= record.object_by_id.keys()
    assert {
        (record.treatment_by_id[e.treatment_id].object_id, e.element_id) for e in record.effects
    } <= elements
    assert {s.treatment_id for s in record.stages} == set(record.treatment_by_id)
    assert {t for s in record.stages for t in s.hours} <= trades
    assert {s.place for s in record.stages} <= places
    assert {o for r in record.display_rules for o in r.objects} <= record.object_by_id.keys()
    assert {r.treatment_id for r in record.running} <= record.treatment_by_id.keys()
    assert {r.space_id for r in record.running} <= {None, *record.space_by_id}
