"""The product's transition matrices, asked of one chain at a time."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from triage.risk.markov import Transitions

Array = NDArray[np.float64]


def transition_matrices(rates: Array, tau: Array) -> Array:
    """Return P(tau) of one chain (rates of shape (3,)) at worn times tau, shape (len(tau), 4, 4)."""
    return Transitions(rates[None], (np.arange(tau.size),), tau).P
