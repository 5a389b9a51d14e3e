"""How likely, how soon, how bad."""

from triage.risk.fit import FittedModel, fit
from triage.risk.forecast import forecast
from triage.risk.loss import object_losses
from triage.risk.magnitude import Magnitude, risk_magnitude
from triage.risk.results import (
    IF_CAUSAL,
    ElementForecast,
    KindValues,
    MaterialRow,
    ObjectLoss,
    RiskForecast,
    RiskValues,
    SafetyFlag,
)
from triage.risk.safety import safety_flags
from triage.risk.values import risk_values

__all__ = [
    "IF_CAUSAL",
    "ElementForecast",
    "FittedModel",
    "KindValues",
    "Magnitude",
    "MaterialRow",
    "ObjectLoss",
    "RiskForecast",
    "RiskValues",
    "SafetyFlag",
    "fit",
    "forecast",
    "object_losses",
    "risk_magnitude",
    "risk_values",
    "safety_flags",
]
