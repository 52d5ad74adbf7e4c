"""What a test that was not made yet would show, and what the belief would be after it: draws, weighted again.

Every draw of belief is one possible bond. A test is simulated on some of them; all of them are weighted by how well
they explain what it showed; the lower bound is read off the weighted draws. Quick and rough: it ranks tests, it
never gives a verdict.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.strength import families
from staydown.strength.belief import Draws
from staydown.strength.rupture_laws import HOUR_s
from staydown.strength.temperature_terms import temperature_term

Array = NDArray[np.float64]
Pair = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A test of alike coupons: pulled in so many seconds, or hung under a stress for so long. [s, K, Pa]"""

    way: Literal["pull", "hang"]
    count: int
    temperature_K: float
    lasts_s: float
    stress_Pa: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlook:
    """Draws laid out for questions: log10 strength for each pair asked, sorted, and the draws' parameters.

    strength, order: (pairs, draws). The face that goes first counts.
    """

    draws: Draws
    strength: Array
    order: NDArray[np.int64]
    pairs: tuple[Pair, ...]


def outlook(draws: Draws, pairs: Sequence[Pair], content: float) -> Outlook:
    """Return draws laid out for pairs of (lasting [s], temperature [K]) at a content."""
    epsilon = families.quantile(draws.family, content ** (1.0 / draws.slope.shape[0]))
    rows = []
    for lasts_s, temperature_K in pairs:
        log_life = np.log10(lasts_s / HOUR_s)
        term = _term(draws, max(temperature_K, draws.coolest_K))
        carried = draws.energy_J_per_mol * term + draws.scatter * epsilon - log_life
        rows.append((draws.log_strength + carried / draws.slope).min(axis=0))
    strength = np.array(rows).reshape(len(pairs), -1)
    return Outlook(draws=draws, strength=strength, order=np.argsort(strength, axis=1), pairs=tuple(pairs))


def _term(draws: Draws, temperature_K: float) -> float:
    return float(temperature_term(draws.temperature_law, np.array([temperature_K]))[0])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shown:
    """What a test shows in each world.

    log_likelihood: of that result, for every draw, (worlds, draws). seen: log10 of hours held, or of the
    breaking stress, of each coupon, (worlds, count). let_go: whether it fell or broke, (worlds, count).
    """

    log_likelihood: Array
    seen: Array
    let_go: NDArray[np.bool_]


def simulate(look: Outlook, trial: Trial, truths: NDArray[np.int64], noise: Array) -> Shown:
    """Return what a test shows when one draw is the truth, and how well every draw explains it.

    Parameters
    ----------
    look : Outlook
        Draws of belief.
    trial : Trial
        The test.
    truths : array
        Indices of the draws that are taken as the truth, shape (worlds,).
    noise : array
        Standard normal scatter, shape (worlds, at least trial.count, faces).
    """
    draws = look.draws
    term = _term(draws, trial.temperature_K)
    if trial.way == "pull":
        log_rate = float(np.median(draws.log_strength)) - np.log10(trial.lasts_s / HOUR_s)
        middle = draws.slope * draws.log_strength + draws.energy_J_per_mol * term
        middle = (middle + log_rate + np.log10(draws.slope + 1.0)) / (draws.slope + 1.0)
        spread = draws.scatter / (draws.slope + 1.0)
        limit = np.inf
    else:
        middle = (
            draws.slope * (draws.log_strength - np.log10(trial.stress_Pa)) + draws.energy_J_per_mol * term
        )
        spread = draws.scatter
        limit = float(np.log10(trial.lasts_s / HOUR_s))
    return _explained(draws.family, middle, spread, limit, truths, noise[:, : trial.count, :])


def _explained(
    family: families.Family,
    middle: Array,
    spread: Array,
    limit: float,
    truths: NDArray[np.int64],
    noise: Array,
) -> Shown:
    """Return the worlds' results and how well each draw explains them; the first face to go is seen, others held."""
    own = middle[:, truths].T[:, None, :] + spread[:, truths].T[:, None, :] * noise
    face = own.argmin(axis=2)
    seen = np.minimum(own.min(axis=2), limit)
    let_go = own.min(axis=2) < limit
    total = np.zeros((truths.size, middle.shape[1]))
    for number in range(middle.shape[0]):
        away = (seen[:, :, None] - middle[number]) / spread[number]
        held = families.log_survival(family, away)
        exact = families.log_density(family, away) - np.log(spread[number])
        here = (let_go & (face == number))[:, :, None]
        total += np.where(here, exact, held).sum(axis=1)
    return Shown(log_likelihood=total, seen=seen, let_go=let_go)


def bounds_after(look: Outlook, log_likelihood: Array, confidence: float) -> Array:
    """Return the lower bound of strength after each world's test. [Pa], shape (worlds, pairs)"""
    weight = np.exp(log_likelihood - log_likelihood.max(axis=1, keepdims=True))
    weight /= weight.sum(axis=1, keepdims=True)
    found = np.empty((log_likelihood.shape[0], len(look.pairs)))
    for number in range(len(look.pairs)):
        order = look.order[number]
        cumulative = np.cumsum(weight[:, order], axis=1)
        place = (cumulative < 1.0 - confidence).sum(axis=1)
        found[:, number] = look.strength[number, order[np.minimum(place, order.size - 1)]]
    bounds: Array = 10.0**found
    return bounds
