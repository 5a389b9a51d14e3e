"""What a reader of a plan should know: what was left out, shortened or set aside, and what was judged."""

from __future__ import annotations

from triage.errors import Level
from triage.reports.rows import NoteRow
from triage.reports.study import Study


def note_rows(study: Study) -> tuple[NoteRow, ...]:
    """Return the notes: rows set aside, treatments left out, work shortened, what was assumed or judged."""
    faults = [NoteRow("set_aside", f.sentence()) for f in study.intake.faults if f.level is Level.FAULT]
    planning = [NoteRow(note.kind, note.text) for note in study.assembled.notes]
    assumed = dict.fromkeys(text for loss in study.losses.values() for text in loss.assumed)
    risk = [NoteRow("note", text) for text in study.forecast.notes]
    unsaid = [NoteRow("assumed", text) for text in assumed]
    return (*faults, *planning, *risk, *value_judgements(study), *unsaid)


def value_judgements(study: Study) -> tuple[NoteRow, ...]:
    """Return the figures of the settings that somebody judged and nobody measured, in words."""
    settings = study.collection.settings
    overtime = settings.overtime_points
    return (
        NoteRow(
            "note",
            f"Value judgement: an hour of overtime counts {overtime} points, as much as {overtime} % of an "
            "object of significance 1 (overtime_points in settings).",
        ),
        NoteRow(
            "note",
            "Value judgement: a month off display counts a point for each 20 of significance begun "
            "(or away_points in objects).",
        ),
        NoteRow(
            "note",
            f"Value judgement: where a plan replaces an older one, each month a start moves "
            f"counts {settings.move_points} points, a dropped job {settings.drop_points} "
            "(move_points, drop_points).",
        ),
        NoteRow(
            "note",
            f"Value judgement: what is lost is judged {settings.value_years:g} years from now, at least 10 "
            "years past the months planned for (value_years in settings).",
        ),
    )
