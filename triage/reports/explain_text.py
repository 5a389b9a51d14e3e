"""One object explained as plain text: layout only."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from triage.reports.layout import bullets, heading, labelled, paragraph
from triage.reports.rows import DriverRow, JobRow, ObjectPage, TreatmentChoice
from triage.reports.standing import standing
from triage.reports.study import Study
from triage.reports.text import CAUTION_LABELS, job_text
from triage.reports.words import counted, percent, stands
from triage.risk import IF_CAUSAL


def explain_text(study: Study, page: ObjectPage) -> str:
    """Return why an object is treated when it is, or why not; what waiting costs; what keeps it."""
    parts = ["\n".join(_opening(page)), _section("What waiting costs", [page.wait_sentence])]
    parts.append(_section("What drives its loss", _drivers(page.drivers), listed=True))
    parts.append(_section("Its elements", [element.sentence for element in page.elements], listed=True))
    parts.extend(_plan_parts(study, page))
    parts.append(_section("What could be done", [_choice(t) for t in page.treatments], listed=True))
    return "\n\n".join(part for part in parts if part)


def _opening(page: ObjectPage) -> Iterator[str]:
    where = stands(page.hall_name, page.mounting)
    yield paragraph(f"{page.object_name} ({page.object_id}), {where}. {page.size_words.rstrip('.')}.")
    if page.safety is not None:
        yield labelled("SAFETY", page.safety.reason)
    for caution in page.cautions:
        yield labelled(CAUTION_LABELS[caution.kind], caution.text)


def _plan_parts(study: Study, page: ObjectPage) -> Iterator[str]:
    if study.outcome is None or study.outcome.plan is None:
        yield _section("In the plan", [standing(study.outcome)] if study.outcome else [])
        return
    if page.job is None:
        yield _section("In the plan", ["The plan leaves it untreated."])
        yield _section("What keeps it out of the plan", page.blocked, listed=True)
        return
    yield "\n".join([heading("In the plan"), _job(page.job, study)])
    yield _section("What keeps it from starting sooner", page.blocked, listed=True)
    yield _section("Its neighbours meanwhile", page.neighbours, listed=True)


def _job(job: JobRow, study: Study) -> str:
    return job_text(job, study.collection.settings.currency, cautions=False)


def _drivers(rows: Sequence[DriverRow]) -> list[str]:
    said = []
    for row in rows:
        if row.what == "element":
            said.append(f"{row.name}: {percent(row.share)} of the loss")
        else:
            said.append(f"{row.name}: ending it now would save {percent(row.share)} of the loss, {IF_CAUSAL}")
    return said


def _choice(row: TreatmentChoice) -> str:
    text = f"{row.title} ({row.treatment_id}), {counted(row.months, 'month')} of work"
    if row.left_out:
        return f"{text}: could not be planned, {row.left_out}."
    return f"{text}{': in the plan' if row.planned else ''}."


def _section(title: str, texts: Sequence[str], *, listed: bool = False) -> str:
    if not texts:
        return ""
    return "\n".join([heading(title), bullets(texts) if listed else "\n".join(map(paragraph, texts))])
