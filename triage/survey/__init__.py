"""What was seen, by whom, and whether the file that says so can be used."""

from triage.survey.importer import read_collection
from triage.survey.intake import ExtraColumn, FileCount, Intake

__all__ = ["ExtraColumn", "FileCount", "Intake", "read_collection"]
