"""A loss on the published scale of risk magnitude, for readers who know that method.

MR = A + B + C, each at most 5, on a logarithmic scale: A how soon, B how much is lost of what is affected, C
how much of the whole is affected. One step of MR is ten times the loss rate: the expected fraction lost in a
year is 10^(MR - 15).

Source: ABC method, S. Michalski and J. L. Pedersoli, CCI and ICCROM, 2016. That the scores add and are
logarithmic was seen; the formulas are recalled.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

MOST = 5.0


@dataclass(frozen=True)
class Magnitude:
    """The three scores of a risk, unrounded."""

    a: float
    b: float
    c: float

    @property
    def mr(self) -> float:
        """The magnitude of risk, at most 15."""
        return self.a + self.b + self.c

    @property
    def lost_a_year(self) -> float:
        """The expected fraction of the whole lost a year."""
        return float(10.0 ** (self.mr - 3 * MOST))


def risk_magnitude(years: float, lost: float, affected: float) -> Magnitude:
    """Return the scores of a risk.

    Parameters
    ----------
    years
        Years between events, or until the loss has happened.
    lost
        Fraction lost of the value of what is affected, above 0 to 1.
    affected
        Fraction of the whole that is affected, above 0 to 1.

    Raises
    ------
    ValueError
        If years is not above 0 or a fraction does not lie above 0 and up to 1.
    """
    if years <= 0 or not 0 < lost <= 1 or not 0 < affected <= 1:
        raise ValueError(f"no magnitude for {years} years, {lost} lost, {affected} affected")
    return Magnitude(MOST - math.log10(years), MOST + math.log10(lost), MOST + math.log10(affected))
