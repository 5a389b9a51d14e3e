"""The fit: most probable parameters given the grades and the tables, and how uncertain they are.

Maximum a posteriori by L-BFGS with exact gradients, then a normal approximation at the top (Laplace): the
Hessian by differences of the exact gradient, and draws from it that every forecast and loss is averaged over.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import fmin_l_bfgs_b

from triage.records import Collection
from triage.risk.intervals import Histories, histories
from triage.risk.likelihood import Natural, filtered, log_likelihood_and_slopes
from triage.risk.markov import Transitions
from triage.risk.misgrading import Misgrading
from triage.risk.parameters import OWN, Priors

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

MOST_ROUNDS = 500
FLAT = 1e-5
"""Largest entry of the gradient at which the search stops."""
STEP = 1e-4
"""Step of the differences for the Hessian, in prior standard deviations."""


@dataclass(frozen=True, eq=False)
class FittedModel:
    """A fitted model of one collection, with draws of everything a forecast needs.

    ``mode`` (parameters,) and ``covariance`` (parameters, parameters) are of the standard normal parameters
    of :mod:`triage.risk.parameters`. ``rates`` (draws, materials, 3) per year at speed 1; ``coef`` (draws,
    covariates); ``state`` (draws, elements, 4): each element's true grade now, given its own history in that
    draw.
    """

    collection: Collection
    histories: Histories
    mode: Array
    covariance: Array
    rates: Array
    coef: Array
    state: Array
    log_likelihood: float
    converged: bool
    convergence: str
    """How the search ended, in words."""
    notes: tuple[str, ...]
    """What was assumed or could not be done, in words."""

    @property
    def draws(self) -> int:
        """How many draws there are."""
        return int(self.state.shape[0])

    def speed(self, x: Array) -> Array:
        """Return the speed of wear under covariates (elements, covariates), shape (draws, elements)."""
        return np.asarray(np.exp(self.coef @ x.T))


@dataclass(frozen=True)
class Mode:
    """Where the search ended."""

    z: Array
    log_likelihood: float
    slope: float
    rounds: int
    converged: bool
    said: str


def fit(collection: Collection, *, draws: int = 100, seed: int = 0) -> FittedModel:
    """Fit the deterioration model to a collection's record.

    Parameters
    ----------
    collection
        Records up to now (the first day of the first month); later rows are not read.
    draws
        Draws of the parameters carried into every forecast, at least 2.
    seed
        Of the draws; the same seed gives the same answer.

    Raises
    ------
    ValueError
        If draws is below 2.
    """
    if draws < 2:
        raise ValueError(f"{draws} draws cannot carry a range; at least 2 are needed")
    record = histories(collection)
    priors = Priors(record, Misgrading())
    mode = find_mode(record, priors)
    covariance, adequate = covariance_of(hessian_of(record, priors, mode.z))
    sample = draw(mode.z, covariance, draws, seed)
    naturals = [priors.natural(z) for z in sample]
    return FittedModel(
        collection=collection,
        histories=record,
        mode=mode.z,
        covariance=covariance,
        rates=np.array([np.exp(n.log_rates) for n in naturals]),
        coef=np.array([n.coef for n in naturals]),
        state=np.array([state_now(record, n) for n in naturals]),
        log_likelihood=mode.log_likelihood,
        converged=mode.converged,
        convergence=convergence_words(mode),
        notes=notes_on(record, adequate),
    )


def objective(record: Histories, priors: Priors, z: Array) -> tuple[float, Array]:
    """Return minus the log posterior (up to a constant) and its exact gradient."""
    natural = priors.natural(z)
    value, slopes = log_likelihood_and_slopes(record.panel, natural)
    return -value + 0.5 * float(z @ z), z - priors.pull_back(natural, slopes)


def find_mode(record: Histories, priors: Priors) -> Mode:
    """Return the most probable parameters, searched from the tables' own values."""
    z, value, told = fmin_l_bfgs_b(
        lambda at: objective(record, priors, at),
        np.zeros(priors.layout.size),
        maxiter=MOST_ROUNDS,
        pgtol=FLAT,
        factr=100.0,
        m=20,
    )
    slope = float(np.abs(told["grad"]).max(initial=0.0))
    return Mode(
        z=np.asarray(z, dtype=float),
        log_likelihood=0.5 * float(z @ z) - float(value),
        slope=slope,
        rounds=int(told["nit"]),
        converged=told["warnflag"] == 0,
        said=str(told["task"]),
    )


def covariance_of(hessian: Array) -> tuple[Array, bool]:
    """Return the covariance of the normal approximation, and whether the Hessian was positive definite.

    Where it was not, directions the data would make less certain than the prior keep the prior's certainty.
    """
    values, vectors = np.linalg.eigh(hessian)
    adequate = bool(values.min(initial=1.0) > 0.0)
    held = values if adequate else np.maximum(values, 1.0)
    return np.asarray((vectors / held) @ vectors.T), adequate


def hessian_of(record: Histories, priors: Priors, z: Array) -> Array:
    """Return the Hessian of the objective by differences of its exact gradient.

    Parameters of different materials do not meet in the likelihood, so that one parameter of all materials
    is moved at once: the number of gradients does not grow with the number of materials.
    """
    layout = priors.layout
    shared = layout.shared
    here = objective(record, priors, z)[1]
    hessian = np.zeros((layout.size, layout.size))
    for k in range(shared):
        moved = z.copy()
        moved[k] += STEP
        hessian[:, k] = (objective(record, priors, moved)[1] - here) / STEP
    hessian[:shared, shared:] = hessian[shared:, :shared].T
    own = shared + np.arange(layout.materials)[:, None] * OWN + np.arange(OWN)
    for k in range(OWN):
        moved = z.copy()
        moved[own[:, k]] += STEP
        change = (objective(record, priors, moved)[1] - here) / STEP
        hessian[own, own[:, [k]]] = change[own]
    return np.asarray((hessian + hessian.T) / 2.0)


def draw(mode: Array, covariance: Array, draws: int, seed: int) -> Array:
    """Return draws of the parameters, in opposite pairs about the mode, shape (draws, parameters)."""
    rng = np.random.default_rng(seed)
    half = rng.standard_normal(((draws + 1) // 2, mode.size))
    noise = np.concatenate([half, -half])[:draws]
    return np.asarray(mode + noise @ np.linalg.cholesky(covariance).T)


def state_now(record: Histories, natural: Natural) -> Array:
    """Return each element's true grade now given its history, shape (elements, 4)."""
    last = filtered(record.panel, natural)[record.current]
    tau = record.panel.tail.tau(natural.coef)[record.current]
    moved = Transitions(np.exp(natural.log_rates), element_groups(record), tau)
    return np.asarray(np.matmul(last[:, None, :], moved.P)[:, 0])


def element_groups(record: Histories) -> tuple[Ints, ...]:
    """Return the elements of each material."""
    return tuple(np.flatnonzero(record.chain == m) for m in range(len(record.materials)))


def convergence_words(mode: Mode) -> str:
    """Return how the search ended, as a sentence."""
    if mode.converged:
        return f"The fit converged after {mode.rounds} steps; the largest slope left is {mode.slope:.1e}."
    return (
        f"The fit stopped before it converged ({mode.said}) after {mode.rounds} steps; the largest slope "
        f"left is {mode.slope:.1e}. Treat its ranges with care."
    )


def notes_on(record: Histories, adequate: bool) -> tuple[str, ...]:
    """Return what was assumed or could not be done, as sentences."""
    notes = [
        "Grades are taken to be misread by one grade about once in seven looks, the same for every assessor.",
        "A year without climate readings takes the nearest known year of its hall; what is unknown counts as "
        "ordinary display.",
        "Ranges speak of what is not known of the rates, not of what may happen to one element.",
    ]
    notes += [
        f"Some readings of {v.name} lie beyond {v.low:g} to {v.high:g} {v.unit}: they count as its end."
        for v in record.beyond
    ]
    if not adequate:
        notes.append(
            "The likelihood has no clear peak in some direction; there the tables' own certainty was kept."
        )
    if not record.panel.observations:
        notes.append("No grade was recorded before now: every figure comes from the tables alone.")
    return tuple(notes)
