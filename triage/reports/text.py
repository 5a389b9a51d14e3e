"""The answers as plain text for people: layout only, every figure comes from the rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from triage.errors import Level
from triage.planning.outcome import Outcome, Violation
from triage.reports.forecast_table import ForecastTable
from triage.reports.gallery import due, untreated_rows
from triage.reports.layout import bullets, columns, heading, labelled, paragraph
from triage.reports.notes import note_rows
from triage.reports.queue import queue_rows, running_rows
from triage.reports.rows import JobRow, NoteRow, SafetyRow, StageRow, UntreatedRow
from triage.reports.safety import safety_rows
from triage.reports.standing import points_in_words, standing
from triage.reports.study import Study
from triage.reports.words import counted, listed, stands
from triage.survey import Intake
from triage.units import month_words

CAUTION_LABELS = {
    "safety": "CAUTION",
    "lifting": "CAUTION",
    "hazard": "HAZARD",
    "not_checked": "Not checked",
}
NO_FLAG = "No safety element is flagged. That is a forecast from grades, not an inspection."
MOST_ASSUMED = 5
MOST_SET_ASIDE = 10
"""Rows set aside that are listed one by one; the rest is counted, and ``triage check`` lists all."""
MOST_IN_SIGHT = 20
"""Lines after which the faults, which come first, have left a terminal's window."""
SELDOM = 10
"""A rule broken more often than this is listed after those broken seldom."""


def plan_text(study: Study) -> str:
    """Return the plan as a manager reads it: safety first, then how good it is, then what to do."""
    outcome = study.outcome
    assert outcome is not None
    settings = study.collection.settings
    months = f"{month_words(settings.first_month)} - {month_words(settings.end_month - 1)}"
    parts = [f"{settings.museum or 'The museum'}: plan for {months}"]
    parts.append(_section("Safety first", [_safety(row) for row in safety_rows(study)], NO_FLAG))
    parts.append(_section("How good this plan is", [paragraph(standing(outcome)), *_conflicts(outcome)]))
    if outcome.plan is not None:
        currency = settings.currency
        rows = queue_rows(study)
        queue = [_at_a_glance(rows), *_jobs(rows, currency)] if rows else []
        now, later = due(study)
        parts.append(
            _section("The queue: what comes off display next", queue, "Nothing new goes to the workshop.")
        )
        parts.append(_section("In the galleries now", _jobs(now, currency), "No gallery action is due now."))
        parts.append(_section("In the galleries later", _jobs(later, currency)))
        parts.append(_section("Work that goes on", _jobs(running_rows(study), currency)))
        parts.append(_section("Left untreated, and what waiting costs", _untreated(untreated_rows(study))))
        parts.append(
            _section("The plan in points, which are value judgements", [paragraph(points_in_words(outcome))])
        )
    parts.append(_section("Notes", _notes(note_rows(study))))
    parts.append(_section("Where to go from here", _ways_on(study)))
    return "\n\n".join(part for part in parts if part)


def _ways_on(study: Study) -> list[str]:
    """Return the last lines, the ones a terminal still shows: safety once more, then how to read on."""
    flagged = safety_rows(study)
    names = listed([f"{row.object_name} ({row.object_id})" for row in flagged])
    first = f"Before anything else: {names}. {flagged[0].caution.text}" if flagged else ""
    on = "'triage explain' says why, and why not sooner, for one object; 'triage serve' shows all of it."
    return [bullets([text for text in (first, on) if text])]


def outcome_text(outcome: Outcome) -> str:
    """Return what a search without a collection ended with."""
    parts = [paragraph(standing(outcome)), paragraph(outcome.message), *_conflicts(outcome)]
    if outcome.plan is not None:
        parts.append(paragraph(f"{counted(len(outcome.plan.jobs), 'job')}. {points_in_words(outcome)}"))
    return "\n".join(part for part in parts if part)


def verdict_text(broken: Sequence[Violation], *, has_plan: bool) -> str:
    """Return what the checker found."""
    if broken:
        lines = bullets([violation_text(v) for v in broken])
        return f"{counted(len(broken), 'broken rule')}:\n{lines}"
    if not has_plan:
        return "The outcome has no plan. What it says of itself is sound."
    return "Sound: the plan keeps every rule, and its points are right."


def violation_text(violation: Violation) -> str:
    """Return one broken rule with its number."""
    return f"Rule {violation.rule}: {violation.text}"


def check_text(intake: Intake, name: str) -> str:
    """Return everything that is wrong with a collection, and what was taken in.

    Faults come before warnings before notes; among equals, what is said seldom comes before what is said
    often, so that a hundred like warnings hide nothing.
    """
    count = Counter(fault.level for fault in intake.faults)
    said = ", ".join(
        counted(count[level], word)
        for level, word in ((Level.FAULT, "fault"), (Level.WARNING, "warning"), (Level.NOTE, "note"))
    )
    often = Counter((fault.level, fault.rule) for fault in intake.faults)
    levels = list(Level)
    ordered = sorted(intake.faults, key=lambda f: (levels.index(f.level), often[f.level, f.rule] > SELDOM))
    lines = [fault.sentence() for fault in ordered]
    if not count[Level.FAULT]:
        end = f"{name} can be used: {said}."
    elif intake.collection is None:
        end = f"{name} cannot be used until it is mended: {said}."
    else:
        end = f"{said}. Rows with a fault are set aside; all others are used."
        if intake.loosening:
            end += " No plan is made until those that would loosen a promise, a limit or running work"
            end += " are mended."
    if count[Level.FAULT] and len(lines) > MOST_IN_SIGHT:
        end += " The faults stand first, at the top of this list."
    return "\n".join([*lines, end])


def forecast_text(table: ForecastTable, out: str) -> str:
    """Return what was written."""
    elements = counted(len(table.forecast.elements), "element")
    lines = [f"{out}: {elements}, {counted(len(table.rows), 'row')}, if nothing is done from now on."]
    lines.extend(table.forecast.notes)
    if table.intake.errors:
        lines.append(f"{counted(len(table.intake.errors), 'fault')} set aside; 'triage check' lists them.")
    return "\n".join(lines)


def _section(title: str, parts: Sequence[str], empty: str = "") -> str:
    if not parts and not empty:
        return ""
    return "\n".join([heading(title), "\n\n".join(parts) if parts else paragraph(empty)])


def _jobs(rows: Sequence[JobRow], currency: str) -> list[str]:
    return [job_text(row, currency) for row in rows]


def _safety(row: SafetyRow) -> str:
    who = f"!! {row.object_name} ({row.object_id}), {stands(row.hall_name, row.mounting)}"
    return "\n".join([who, labelled("", row.reason), labelled("CAUTION", row.caution.text)])


def job_text(row: JobRow, currency: str, *, cautions: bool = True) -> str:
    """Return one job: when, where, what first, why; the cautions stand before the stages."""
    lines = [
        f"{row.position:>2}. {row.object_name} ({row.object_id}), {row.hall_name}: {row.treatment_title}"
    ]
    lines.append(labelled("Off display", _off_display(row)))
    lines.append(labelled("Work", f"{row.span.words}, {counted(row.span.months, 'month')}"))
    if row.bays:
        lines.append(labelled("Goes to", _bays(row)))
    lines.extend(labelled("" if n else "Free first", text) for n, text in enumerate(row.free_first))
    if cautions:
        lines.extend(labelled(CAUTION_LABELS[c.kind], c.text) for c in row.cautions)
    if len(row.stages) > 1:
        lines.extend(
            labelled("Stages" if n == 0 else "", _stage(stage)) for n, stage in enumerate(row.stages)
        )
    lines.append(labelled("Why", row.why))
    if row.cost:
        lines.append(labelled("Cost", f"{row.cost:,} {currency}".strip()))
    return "\n".join(lines)


def _at_a_glance(rows: Sequence[JobRow]) -> str:
    """Return the queue as a table: when, what, where to."""
    whens = [_when(row) for row in rows]
    width = max(len(when) for when in whens)
    return "\n".join(
        columns(f"{row.position:>2}. {when:<{width}}", f"{row.object_name} ({row.object_id}) -> {_bays(row)}")
        for row, when in zip(rows, whens, strict=True)
    )


def _bays(row: JobRow) -> str:
    return " -> ".join(row.bays) or "no bay"


def _when(row: JobRow) -> str:
    if row.off_display:
        return listed([span.words for span in row.off_display])
    return f"{row.span.words}, {'in store' if row.hall_id is None else 'on display'}"


def _off_display(row: JobRow) -> str:
    if row.off_display:
        return listed([f"{span.words} ({counted(span.months, 'month')})" for span in row.off_display])
    return "no, it is in store" if row.hall_id is None else "no, it stays on display"


def _stage(stage: StageRow) -> str:
    text = f"{stage.work.words}: {stage.title}"
    if stage.place:
        shape = ", an area, not a shape" if stage.on_hall_floor else ""
        text += f", {stage.place} ({stage.area_m2} m²{shape})"
    if stage.waits is not None:
        text += f"; then waits{' there' if stage.place else ''} {stage.waits.words}"
    if stage.estimated:
        text += "; hours are an estimate"
    if any(c.kind == "lifting" for c in stage.cautions):
        text += "  [lifting: see CAUTION]"
    if any(c.kind == "not_checked" for c in stage.cautions):
        text += "  [doors not checked]"
    return text


def _untreated(rows: Sequence[UntreatedRow]) -> list[str]:
    if not rows:
        return []
    return ["\n".join(_left(row) for row in rows)]


def _left(row: UntreatedRow) -> str:
    said = bullets([f"{row.object_name} ({row.object_id}), {row.hall_name}. {row.sentence}"])
    return "\n".join([said, *(labelled(CAUTION_LABELS[c.kind], c.text) for c in row.cautions)])


def _notes(rows: Sequence[NoteRow]) -> list[str]:
    aside = [row.text for row in rows if row.kind == "set_aside"]
    shown = aside[:MOST_SET_ASIDE]
    if len(aside) > len(shown):
        shown.append(f"{len(aside) - len(shown)} more rows set aside: 'triage check' lists them all.")
    assumed = [row.text for row in rows if row.kind == "assumed"]
    shown.extend(row.text for row in rows if row.kind not in ("set_aside", "assumed"))
    shown.extend(assumed[:MOST_ASSUMED])
    if len(assumed) > MOST_ASSUMED:
        shown.append(f"{len(assumed) - MOST_ASSUMED} more values assumed for want of a record: see --json.")
    return [bullets(shown)] if shown else []


def _conflicts(outcome: Outcome) -> list[str]:
    return [bullets([violation_text(v) for v in outcome.conflicts])] if outcome.conflicts else []
