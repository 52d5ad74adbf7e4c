"""What conditioned coupons say of ageing: the rate at which strength falls, and what is left after years."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.foundation.errors import UnreadableValue
from staydown.foundation.units import parse_quantity
from staydown.strength.ageing_laws import kept_after_ageing
from staydown.strength.ascent import ascend
from staydown.strength.families import LOG_ROOT_TWO_PI, Array
from staydown.strength.trials import tested_stress

LEAST_RESULTS = 6
_SPELL = re.compile(
    r"^\s*(?P<time>.+?)\s+(?:in\b.*?|dry\b.*?|wet\b.*?)?\s*\bat\s+(?P<temperature>[^,;]+?)\s*$"
)
_STEPS = np.array([1e-3, 1e-3, 50.0, 1e-3])


@dataclass(frozen=True, slots=True, kw_only=True)
class AgedResult:
    """One breaking stress after storage. [Pa, s, K]"""

    stress_Pa: float
    aged_s: float
    temperature_K: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AgeingFit:
    """The most likely fall of strength: fresh strength [Pa], rate at the reference temperature, energy, scatter of ln.

    log_likelihood: of ln strength.
    """

    fresh_Pa: float
    rate_per_root_second: float
    energy_J_per_mol: float
    reference_K: float
    ln_scatter: float
    log_likelihood: float

    def kept(self, aged_s: float, temperature_K: float) -> float:
        """Return the share of the fresh strength that is kept. [1]"""
        told = (self.rate_per_root_second, self.energy_J_per_mol, self.reference_K)
        return float(kept_after_ageing(aged_s, temperature_K, *told))

    def share_below(self, stress_Pa: float, aged_s: float, temperature_K: float) -> float:
        """Return the share of bonds that are weaker than a stress after storage. [1]"""
        from scipy.special import ndtr

        middle = self.fresh_Pa * self.kept(aged_s, temperature_K)
        return float(ndtr(math.log(stress_Pa / middle) / self.ln_scatter))


def aged_results(coupons: Sequence[Coupon]) -> tuple[AgedResult, ...]:
    """Return the pulls whose conditioning says how long and how warm (`21 d in water at 23 degC`), fresh ones as 0 s.

    Pulls whose conditioning cannot be read so are left out.
    """
    found = []
    for coupon in coupons:
        if coupon.result != "broke":
            continue
        spell = (0.0, coupon.temperature_K) if coupon.conditioned is None else spell_of(coupon.conditioned)
        if spell is not None:
            found.append(AgedResult(stress_Pa=tested_stress(coupon), aged_s=spell[0], temperature_K=spell[1]))
    return tuple(found)


@lru_cache(maxsize=256)
def spell_of(text: str) -> tuple[float, float] | None:
    """Return how long and how warm a conditioning was, from words such as `21 d in water at 23 degC`. [s, K]

    None where the words do not say it.
    """
    match = _SPELL.match(text)
    if match is None:
        return None
    try:
        return parse_quantity(match["time"], "s"), parse_quantity(match["temperature"], "K")
    except UnreadableValue:
        return None


def fit_ageing(results: Sequence[AgedResult]) -> AgeingFit | None:
    """Return the most likely fall of strength with time and temperature of storage.

    None where it cannot be told: fewer than six results, fewer than two temperatures of storage or no fresh ones
    and a single time.
    """
    stress = np.log([one.stress_Pa for one in results])
    aged_s = np.array([one.aged_s for one in results])
    temperature_K = np.array([one.temperature_K for one in results])
    stored = aged_s > 0.0
    if stress.size < LEAST_RESULTS or np.unique(temperature_K[stored]).size < 2 or np.unique(aged_s).size < 2:
        return None
    reference_K = float(temperature_K[stored].mean())

    def likelihood(z: Array) -> Array:
        fresh, rate, energy, scatter = z[:, [0]], np.exp(z[:, [1]]), z[:, [2]], np.exp(z[:, 3])
        middle = fresh + np.log(kept_after_ageing(aged_s, temperature_K, rate, energy, reference_K))
        square = ((stress - middle) ** 2).sum(axis=1)
        total: Array = -stress.size * (z[:, 3] + LOG_ROOT_TWO_PI) - 0.5 * square / scatter**2
        return total

    top = float(stress[aged_s <= np.quantile(aged_s, 0.25)].mean())
    fall = max(top - float(stress.mean()), 0.05) / math.sqrt(float(aged_s.mean()))
    start = np.array([top, math.log(fall), 60e3, math.log(float(stress.std()))])
    z, _, value = ascend(
        likelihood, start, _STEPS, rounds=200, close=1e-10, least_curvature=1e-9, longest=1e3
    )
    return AgeingFit(
        fresh_Pa=math.exp(z[0]),
        rate_per_root_second=math.exp(z[1]),
        energy_J_per_mol=float(z[2]),
        reference_K=reference_K,
        ln_scatter=math.exp(z[3]),
        log_likelihood=value,
    )
