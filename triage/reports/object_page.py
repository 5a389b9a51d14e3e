"""One object's page: graded past, forecast, findings, hazards, what waiting costs, its place in the plan."""

from __future__ import annotations

from collections.abc import Sequence

from triage.planning.explain import what_blocks
from triage.records import Collection, Element, MuseumObject, Treatment
from triage.reports.cautions import BENEATH_HUNG, hazard_caution, hazard_cautions
from triage.reports.neighbours import neighbours
from triage.reports.queue import row_of
from triage.reports.rows import (
    Caution,
    ElementPage,
    FindingRow,
    ForecastPoint,
    GradePoint,
    HazardRow,
    JobRow,
    ObjectPage,
    TreatmentChoice,
)
from triage.reports.safety import safety_cautions, safety_rows
from triage.reports.study import Study
from triage.reports.view import PlanView
from triage.reports.why import drivers, element_sentence, left_alone, wait_sentence
from triage.reports.words import hall_name, share_of_object
from triage.risk import ElementForecast
from triage.survey.scale import describe


def object_page(study: Study, object_id: str) -> ObjectPage:
    """Return everything known about one object.

    Raises
    ------
    KeyError
        If the record has no such object.
    """
    collection = study.collection
    item, loss = collection.object_by_id[object_id], study.losses[object_id]
    low, share, high = (share_of_object(collection, object_id, p) for p in (loss.low, loss.never, loss.high))
    view = PlanView(study)
    job = row_of(view, object_id)
    return ObjectPage(
        object_id=object_id,
        object_name=item.called,
        category=item.category,
        hall_id=item.hall_id,
        hall_name=hall_name(collection, item.hall_id),
        mounting=item.mounting.value,
        significance=item.significance,
        size_words=size_words(item),
        elements=tuple(element_page(study, e) for e in collection.elements_of.get(object_id, ())),
        findings=finding_rows(collection, object_id),
        surveyed=collection.surveyed(object_id),
        hazards=hazard_rows(collection, object_id),
        cautions=_cautions(study, item, job),
        safety=next((row for row in safety_rows(study) if row.object_id == object_id), None),
        loss_points=study.assembled.problem.object_by_id[object_id].loss_if_never,
        loss_share=share,
        loss_share_low=low,
        loss_share_high=high,
        wait_points=loss.wait_year,
        wait_sentence=f"{left_alone(study, object_id)} {wait_sentence(study, object_id)}".strip(),
        drivers=drivers(study, object_id),
        treatments=tuple(_choice(study, t, job) for t in collection.treatments_of.get(object_id, ())),
        job=job,
        blocked=_blocked(study, object_id),
        neighbours=neighbours(view, object_id),
    )


def element_page(study: Study, element: Element) -> ElementPage:
    """Return one element's graded past, treatments done included, and its forecast."""
    forecast = study.forecast.of(*element.key)
    return ElementPage(
        element_id=element.element_id,
        kind=element.kind,
        material=element.material,
        share=study.collection.shares[element.key],
        safety=element.safety,
        past=_past(study.collection, element),
        ahead=_ahead(study.collection, forecast),
        basis=forecast.basis,
        sentence=element_sentence(study, forecast),
    )


def _past(collection: Collection, element: Element) -> tuple[GradePoint, ...]:
    graded = [
        GradePoint(
            date=walk.date,
            assessor=walk.assessor or "",
            grade=grade.grade,
            words=_grade_words(element, grade.grade),
            note=grade.note,
            treated=False,
        )
        for walk, grade in collection.grades_of.get(element.key, ())
    ]
    treated = [
        GradePoint(
            date=done.date,
            assessor="",
            grade=done.grade_after,
            words=_grade_words(element, done.grade_after),
            note=done.note,
            treated=True,
        )
        for done in collection.treated_of.get(element.object_id, ())
        if done.element_id in (None, element.element_id)
    ]
    return tuple(sorted([*graded, *treated], key=lambda p: (p.date, p.treated)))


def _grade_words(element: Element, grade: int | None) -> str:
    if grade is None:
        return "Looked for, could not be seen."
    return describe(element.kind, element.material, grade)


def _ahead(collection: Collection, forecast: ElementForecast) -> tuple[ForecastPoint, ...]:
    rows: Sequence[tuple[int, tuple[float, float, float, float], float, float, float]] = tuple(
        zip(
            forecast.months_ahead,
            forecast.p,
            forecast.p3_or_worse,
            forecast.low3,
            forecast.high3,
            strict=True,
        )
    )
    first = collection.settings.first_month
    return tuple(ForecastPoint(first + ahead, p, poor, low, high) for ahead, p, poor, low, high in rows)


def finding_rows(collection: Collection, object_id: str) -> tuple[FindingRow, ...]:
    """Return what was noted on an object, newest first."""
    rounds = collection.round_by_id
    rows = [
        FindingRow(
            finding_id=f.finding_id,
            date=rounds[f.round_id].date,
            element_id=f.element_id,
            cause=f.cause,
            severity=f.severity,
            note=f.note,
            ended_on=f.ended_on,
        )
        for f in collection.findings_of.get(object_id, ())
    ]
    return tuple(sorted(rows, key=lambda r: (r.date, r.finding_id), reverse=True))


def hazard_rows(collection: Collection, object_id: str) -> tuple[HazardRow, ...]:
    """Return an object's hazards, cleared ones included (with no caution)."""
    return tuple(
        HazardRow(
            hazard=h.hazard,
            state=h.state.value,
            note=h.note,
            by=h.by,
            date=h.date,
            caution=hazard_caution(h.hazard) if h in collection.open_hazards(object_id) else "",
        )
        for h in collection.hazards_of.get(object_id, ())
    )


def size_words(item: MuseumObject) -> str:
    """Return an object's sizes in words; what nobody measured is said."""
    measures = (
        ("length", item.length_m, "m"),
        ("span", item.span_m, "m"),
        ("height", item.height_m, "m"),
        ("mass", item.mass_kg, "kg"),
    )
    known = [f"{word} {value:,.9g} {unit}" for word, value, unit in measures if value is not None]
    unknown = [word for word, value, _ in measures if value is None]
    if not known:
        return "Not measured."
    said = ", ".join(known) + (f"; not measured: {', '.join(unknown)}" if unknown else "")
    return said[0].upper() + said[1:]


def _cautions(study: Study, item: MuseumObject, job: JobRow | None) -> tuple[Caution, ...]:
    if job is not None:
        return job.cautions
    hung = (Caution("lifting", BENEATH_HUNG),) if item.hung else ()
    flagged = safety_cautions(study, item.object_id)
    return (*flagged, *hung, *hazard_cautions(study.collection, item.object_id))


def _choice(study: Study, treatment: Treatment, job: JobRow | None) -> TreatmentChoice:
    planned = study.assembled.problem.treatment_by_id.get(treatment.treatment_id)
    left_out = study.assembled.left_out_by_id.get(treatment.treatment_id)
    stages = study.collection.stages_of.get(treatment.treatment_id, ())
    months = sum(stage.months for stage in (planned.stages if planned else stages))
    soonest = None if planned is None else min(planned.earliest + months, study.assembled.problem.months)
    return TreatmentChoice(
        treatment_id=treatment.treatment_id,
        title=treatment.called,
        kind=treatment.kind.value,
        months=months,
        cost=planned.cost if planned else round(treatment.cost),
        planned=job is not None and job.treatment_id == treatment.treatment_id,
        left_out=left_out.words if left_out else "",
        loss_first=planned.loss_if_done[soonest] if planned and soonest is not None else None,
        loss_untreated=study.assembled.problem.object_by_id[treatment.object_id].loss_if_never,
    )


def _blocked(study: Study, object_id: str) -> tuple[str, ...]:
    if study.outcome is None or study.outcome.plan is None:
        return ()
    assembled = study.assembled
    return what_blocks(assembled.problem, study.outcome.plan, object_id, assembled.names).sentences
