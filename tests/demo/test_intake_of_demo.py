"""What the intake says of the demo: no fault, and only the warnings that are meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from triage.survey import Intake, read_collection


@pytest.fixture(scope="module")
def intake(demo_folder: Path) -> Intake:
    """The demo as read."""
    return read_collection(demo_folder)


def test_no_fault_is_found(intake: Intake) -> None:
    """Every row is accepted."""
    assert intake.errors == ()
    assert intake.loosening == ()
    assert all(c.set_aside == 0 for c in intake.counts.values())


def test_the_warnings_are_the_door_and_grades_that_improved(intake: Intake) -> None:
    """One treatment does not pass a door; some grades fell back, as they do where assessors err."""
    doors = [w for w in intake.warnings if w.file == "stages.csv"]
    improved = [w for w in intake.warnings if w.file == "grades.csv"]
    assert len(doors) == 1
    assert "door" in doors[0].rule
    assert 50 < len(improved) < 200
    assert all("improved" in w.rule for w in improved)
    assert len(doors) + len(improved) == len(intake.warnings)


def test_the_notes_say_what_was_never_looked_at(intake: Intake) -> None:
    """The newcomer's elements and the objects never surveyed for hazards are named in notes."""
    notes = " ".join(n.sentence() for n in intake.notes)
    assert "S05" in notes
    assert "not surveyed" in notes


def test_templates_become_estimated_stages(intake: Intake) -> None:
    """Treatments by a built-in chain have their stages, marked as estimates."""
    assert intake.collection is not None
    chained = [t for t in intake.collection.treatments if t.template]
    assert chained
    for treatment in chained:
        assert all(s.estimated for s in intake.collection.stages_of[treatment.treatment_id])
