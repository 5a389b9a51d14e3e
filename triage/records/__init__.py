"""What the museum owns, what was seen of it, and where it can be treated: frozen records."""

from triage.records.collection import Collection, Settings
from triage.records.objects import Element, Hall, Hazard, Move, MuseumObject
from triage.records.observations import Climate, ConditionFinding, Grade, Material, Round, Treated
from triage.records.workshop import (
    Availability,
    Budget,
    DisplayRule,
    Effect,
    Running,
    Space,
    Stage,
    Trade,
    Treatment,
)

__all__ = [
    "Availability",
    "Budget",
    "Climate",
    "Collection",
    "ConditionFinding",
    "DisplayRule",
    "Effect",
    "Element",
    "Grade",
    "Hall",
    "Hazard",
    "Material",
    "Move",
    "MuseumObject",
    "Round",
    "Running",
    "Settings",
    "Space",
    "Stage",
    "Trade",
    "Treated",
    "Treatment",
]
