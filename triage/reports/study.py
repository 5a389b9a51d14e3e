"""Everything one run worked out, held together so that every report reads the same figures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from triage.planning.assemble import Assembled
from triage.planning.outcome import Outcome
from triage.records import Collection
from triage.risk import FittedModel, ObjectLoss, RiskForecast, SafetyFlag
from triage.survey import Intake


@dataclass(frozen=True)
class Study:
    """What a collection folder led to, up to the plan.

    ``outcome`` is None before anybody searched for a plan; ``outcome.plan`` is None where none was found.
    """

    intake: Intake
    collection: Collection
    fitted: FittedModel
    forecast: RiskForecast
    losses: Mapping[str, ObjectLoss]
    flags: tuple[SafetyFlag, ...]
    assembled: Assembled
    outcome: Outcome | None = None
