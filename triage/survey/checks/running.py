"""Rules on work that is going on."""

from __future__ import annotations

from triage.records.vocabulary import HALL_PLACE
from triage.survey.checks.context import Check, Survey, by_value
from triage.survey.register import register_of
from triage.survey.sheet import Row


def _own_treatment(survey: Survey) -> None:
    """Running work is of a treatment of its own object; else it says nothing of that object's work."""
    sheet = survey.sheets["running"]
    treatments = survey.registers["treatments"].known
    for row in sheet.rows:
        treatment = treatments.get(row.values.get("treatment_id"))
        owner = treatment.values.get("object_id") if treatment else None
        obj = row.values.get("object_id")
        if owner and obj and owner != obj and "treatment_id" not in row.bad:
            rule = f"The treatment is of object {owner!r}, not of {obj!r}."
            sheet.refuse(row, "treatment_id", rule, "Write a treatment of this object.")
            del row.values["object_id"]


def _one_work_an_object(survey: Survey) -> None:
    """An object has one piece of work going on; rows that are not its own do not count."""
    survey.registers["running"] = register_of(survey.sheets["running"])


def _own_stage(survey: Survey) -> None:
    """Running work is in a stage its treatment has, in a space of that stage's kind."""
    sheet, stages = survey.sheets["running"], survey.sheets["stages"]
    by_treatment = by_value(stages.rows, "treatment_id")
    spaces = survey.registers["spaces"].known
    for row in sheet.rows:
        own = by_treatment.get(row.values.get("treatment_id", ""), [])
        number = row.values.get("stage")
        if not own or number is None or {"stage", "treatment_id"} & row.bad:
            continue
        stage = next((s for s in own if s.values.get("stage") == number), None)
        if stage is None and _may_be_faulty(number, own):
            continue
        if stage is None:
            rule = f"The treatment has stages 1 to {len(own)} only."
            sheet.refuse(row, "stage", rule, "Write the stage it is in now.")
            continue
        space = spaces.get(row.values.get("space_id"))
        if space is not None and "place" in stage.values and "kind" in space.values:
            _check_space(survey, row, stage, space)


def _may_be_faulty(number: int, own: list[Row]) -> bool:
    """Return whether the stage may be one whose own row is at fault: in a gap, or without its number."""
    numbers = [s.values["stage"] for s in own if "stage" in s.values]
    return number < max(numbers, default=0) or (len(numbers) < len(own) and number <= len(own))


def _check_space(survey: Survey, row: Row, stage: Row, space: Row) -> None:
    sheet = survey.sheets["running"]
    place, kind = stage.values.get("place"), space.values.get("kind")
    if place is None or place == HALL_PLACE:
        rule = f"Stage {row.values['stage']} needs no workshop floor, so it stands in no space."
        sheet.refuse(row, "space_id", rule, "Leave it blank, or correct the stage.")
    elif place != kind:
        rule = f"The space is a {kind}; stage {row.values['stage']} needs a {place}."
        sheet.refuse(row, "space_id", rule, f"Write a space of the kind {place}, or correct the stage.")


RUNNING_CHECKS: tuple[Check, ...] = (_own_treatment, _one_work_an_object, _own_stage)
