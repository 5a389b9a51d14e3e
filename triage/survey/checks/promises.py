"""Rules on promises and limits that a row must keep by itself."""

from __future__ import annotations

from triage.records.vocabulary import HALL_PLACE, Limited, RuleKind
from triage.survey.checks.context import Check, Survey


def _from_after_to(survey: Survey) -> None:
    """A span of months ends no earlier than it starts."""
    for name in ("availability", "display_rules"):
        sheet = survey.sheets[name]
        for row in sheet.rows:
            start, end = row.values.get("from"), row.values.get("to")
            if start is not None and end is not None and start > end:
                rule = f"The span ends before it starts ({sheet.text(row, 'from')})."
                sheet.refuse(row, "to", rule, "Exchange from and to, or correct one of them.")


def _availability_complete(survey: Survey) -> None:
    """All but a closure say whose amount they replace, and by how much."""
    sheet = survey.sheets["availability"]
    for row in sheet.rows:
        what = row.values.get("what")
        if what is None or what is Limited.CLOSED:
            continue
        if not row.values.get("id") and "id" not in row.bad and not row.bad & {"what"}:
            rule = f"A row on {what.value} must say which one."
            sheet.refuse(row, "id", rule, "Write the id of the trade, space or hall.")
        amount = row.values.get("amount")
        if amount is None and "amount" not in row.bad:
            sheet.refuse(
                row, "amount", "The amount that holds in these months is missing.", "Write it; 0 for none."
            )
        elif what is Limited.SLOTS and amount is not None and amount != int(amount):
            sheet.refuse(row, "amount", "Slots are a whole number of jobs.", "Write a whole number.")


def _rule_number(survey: Survey) -> None:
    """``at_least`` says how many, and no more than it names."""
    sheet = survey.sheets["display_rules"]
    for row in sheet.rows:
        number, objects = row.values.get("number"), row.values.get("objects")
        if row.values.get("rule") is not RuleKind.AT_LEAST or "number" in row.bad:
            continue
        if number is None:
            mend = "Write how many of the objects must be on show."
            sheet.refuse(row, "number", "The rule at_least needs a number.", mend)
        elif objects is not None and number > len(objects):
            rule = f"The rule wants {number} of {len(objects)} objects on show, which can never be kept."
            sheet.refuse(row, "number", rule, f"Write {len(objects)} or less, or name more objects.")


def _reserved_kind(survey: Survey) -> None:
    """The kind ``hall`` means an object's own gallery and is not a kind of workshop floor."""
    sheet = survey.sheets["spaces"]
    for row in sheet.rows:
        if str(row.values.get("kind", "")).casefold() == HALL_PLACE:
            rule = f"The kind {HALL_PLACE!r} is kept for an object's own hall."
            sheet.refuse(row, "kind", rule, "Give this workshop floor another kind.")


def _plain_hall_place(survey: Survey) -> None:
    """``Hall`` and ``HALL`` as a stage's place mean ``hall``."""
    for row in survey.sheets["stages"].rows:
        if str(row.values.get("place") or "").casefold() == HALL_PLACE:
            row.values["place"] = HALL_PLACE


PROMISE_CHECKS: tuple[Check, ...] = (
    _from_after_to,
    _availability_complete,
    _rule_number,
    _reserved_kind,
    _plain_hall_place,
)
