"""How likely, how soon, how bad."""

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

__all__ = [
    "IF_CAUSAL",
    "ElementForecast",
    "KindValues",
    "MaterialRow",
    "ObjectLoss",
    "RiskForecast",
    "RiskValues",
    "SafetyFlag",
]
