"""The belief by brute force: the rupture law as written in the method, millions of draws from the prior, no tricks."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from scipy.special import log_ndtr

from staydown.evidence.coupon import Coupon

R_J_per_mol_K = 8.314462618
LN10 = math.log(10.0)
Z95 = 1.6448536269514722


def arrhenius(temperature_K: float) -> float:
    """Return (1/T - 1/296.15)/(R ln 10)."""
    return (1 / temperature_K - 1 / 296.15) / (R_J_per_mol_K * LN10)


def weibull_w(eps: np.ndarray) -> np.ndarray:
    """Return the standard smallest extreme value of a standardised error."""
    return np.minimum(eps * math.pi / math.sqrt(6) - 0.5772156649015329, 300.0)


class BruteBelief:
    """Weighted draws of strength, slope, activation energy, scatter, batch offsets from a class prior.

    bands: (low, likely, high) of strength [Pa], slope, energy [J/mol], scatter, batch ln-sd. The feet are of a
    new batch. Scatter of log life normal, or Weibull's (scaled to mean 0 and variance 1).
    """

    def __init__(
        self,
        coupons: Sequence[Coupon],
        bands: dict[str, tuple[float, float, float]],
        draws: int,
        seed: int = 0,
        weibull: bool = False,
    ) -> None:
        random = np.random.default_rng(seed)

        def lognormal(low: float, likely: float, high: float) -> np.ndarray:
            sd = max(math.log(high / likely), math.log(likely / low)) / Z95
            return likely * np.exp(sd * random.standard_normal(draws))

        strength, self.slope, self.energy, self.scatter, spread = (lognormal(*bands[k]) for k in bands)
        log_strength = np.log10(strength)
        tau = spread / LN10
        self.weibull = weibull
        names = sorted({c.batch or "" for c in coupons})
        offsets = {name: tau * random.standard_normal(draws) for name in names}
        self.log_strength = log_strength + tau * random.standard_normal(draws)  # the feet's own batch
        log_weight = np.zeros(draws)
        for one in coupons:
            own = log_strength + offsets[one.batch or ""]
            stress = math.log10(one.load_N / one.area_m2)
            middle = self.slope * (own - stress) + self.energy * arrhenius(one.temperature_K)
            ramp = np.log10(self.slope + 1) if one.result == "broke" else 0.0
            eps = (math.log10(one.lasted_s / 3600) - ramp - middle) / self.scatter
            scale = np.log(self.slope + 1) if one.result == "broke" else 0.0
            if one.result == "holding":
                log_weight += self.log_survival(eps)
            elif one.found_s is not None:
                early = self.log_survival((math.log10(one.found_s / 3600) - middle) / self.scatter)
                log_weight += early + np.log1p(-np.exp(np.minimum(self.log_survival(eps) - early, -1e-12)))
            else:
                log_weight += self.log_density(eps) - np.log(self.scatter) + scale
        weight = np.exp(log_weight - log_weight.max())
        self.weight = weight / weight.sum()
        self.effective_size = 1.0 / (self.weight**2).sum()

    def log_survival(self, eps: np.ndarray) -> np.ndarray:
        """Return the log of the share beyond an error."""
        return -np.exp(weibull_w(eps)) if self.weibull else log_ndtr(-eps)

    def log_density(self, eps: np.ndarray) -> np.ndarray:
        """Return the log density of an error, up to a constant."""
        w = weibull_w(eps)
        return w - np.exp(w) if self.weibull else -0.5 * eps**2

    def quantile(self, values: np.ndarray, share: float) -> float:
        """Return a weighted quantile."""
        order = np.argsort(values)
        return float(values[order][np.searchsorted(np.cumsum(self.weight[order]), share)])

    def lower_bound(self, hours: float, temperature_K: float, content: float, confidence: float) -> float:
        """Return the (1 - confidence) quantile of the (1 - content) strength quantile. [Pa]"""
        z = {0.9: -1.2815515655446004, 0.99: -2.3263478740408408, 0.5: 0.0}[content]
        if self.weibull:
            z = (math.log(-math.log(content)) + 0.5772156649015329) * math.sqrt(6) / math.pi
        spare = self.energy * arrhenius(temperature_K) + self.scatter * z - math.log10(hours)
        return float(10 ** self.quantile(self.log_strength + spare / self.slope, 1 - confidence))
