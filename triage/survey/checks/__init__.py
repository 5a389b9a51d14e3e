"""Rules that take more than one cell, in the order in which they are applied; one function a rule."""

from __future__ import annotations

from triage.survey.checks.context import Survey
from triage.survey.checks.history import HISTORY_CHECKS, LATE_NOTES
from triage.survey.checks.promises import PROMISE_CHECKS
from triage.survey.checks.running import RUNNING_CHECKS
from triage.survey.checks.workshop import WORKSHOP_CHECKS
from triage.survey.links import check_links, registers_of


def check_everything(survey: Survey) -> None:
    """Apply every rule: rows by themselves, then the ids they name, then what takes several rows."""
    for check in (*HISTORY_CHECKS, *PROMISE_CHECKS):
        check(survey)
    survey.registers = registers_of(survey.sheets)
    check_links(survey.sheets, survey.registers)
    for check in (*WORKSHOP_CHECKS, *RUNNING_CHECKS, *LATE_NOTES):
        check(survey)
