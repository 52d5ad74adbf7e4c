"""A belief from 30 coupons, against emcee on the same model and coupons.

Run: `python benchmarks/belief.py`. It prints the time of a belief and of 60 bounds, the memory of the process, and
how much faster the belief is than emcee at the same effective sample size.

Two sizes are compared. The plain one: effective size of the weights (belief) against samples over autocorrelation
time (emcee). The one that matters: how exactly the 5 % point of the bound is known, as the number of independent
draws that would scatter as much; in the belief every node carries its whole distribution of strength.
"""

from __future__ import annotations

import math
import resource
import sys
import time

import numpy as np
from numpy.typing import NDArray

from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Exposure
from staydown.library.cards import Band, TapeClassCard
from staydown.strength.belief import Belief, BeliefSettings
from staydown.strength.build_belief import believe

Array = NDArray[np.float64]
HOUR_s, R_J_per_mol_K, LN10, Z95 = 3600.0, 8.314462618, math.log(10.0), 1.6448536269514722
BANDS = {
    "strength": (60e3, 130e3, 300e3),
    "slope": (5, 9, 16),
    "energy": (50e3, 80e3, 120e3),
    "scatter": (0.2, 0.4, 0.8),
}
POINT = Exposure(lasts_s=2 * HOUR_s, temperature_K=320.0, season="hot")
SEEDS = 40


def card() -> TapeClassCard:
    """Return an invented class card."""

    def band(low: float, likely: float, high: float) -> Band:
        return Band(low=low, likely=likely, high=high, unit="1", basis="planning value", source="invented")

    told = {name: band(*values) for name, values in BANDS.items()}
    return TapeClassCard(
        id="tape",
        name="tape",
        structural=True,
        why_not="",
        rigid=False,
        tension_modulus=band(0.5e6, 1e6, 2e6),
        shear_modulus=band(0.2e6, 0.35e6, 0.7e6),
        strength_1h_23C=told["strength"],
        slope=told["slope"],
        activation_energy=told["energy"],
        scatter=told["scatter"],
        coldest_K=233.15,
        hottest_K=363.15,
    )


def thirty_coupons() -> list[Coupon]:
    """Return ten pulls, ten falls and ten survivors, all different, made on one day that also bonded the feet."""
    random = np.random.default_rng(4)
    coupons = []
    for i in range(30):
        warm_K = (296.15, 313.15, 333.15)[i % 3]
        cooling = math.exp(-0.022 * (warm_K - 296.15))
        stress, lasted_s = {
            0: (600e3 * cooling * math.exp(0.06 * random.standard_normal()), random.uniform(4, 10)),
            1: (170e3 * cooling, HOUR_s * 10 ** (0.4 * random.standard_normal())),
            2: (110e3 * cooling, HOUR_s * random.uniform(5, 40)),
        }[i // 10]
        result = ("broke", "fell", "holding")[i // 10]
        coupons.append(
            Coupon(
                name=str(i),
                tape="tape",
                surface="gelcoat",
                mode="tension",
                result=result,  # type: ignore[arg-type]
                load_N=stress,
                area_m2=1.0,
                lasted_s=float(lasted_s),
                temperature_K=warm_K,
                batch="a",
            )
        )
    return coupons


def emcee_bound(coupons: list[Coupon], steps: int) -> tuple[float, float, float]:
    """Return seconds, samples over autocorrelation time of the bound, and its 5 % point [Pa], of emcee."""
    import emcee
    from scipy.special import log_ndtr

    medians = np.log([middle for _, middle, _ in BANDS.values()])
    sds = np.array([max(math.log(h / c), math.log(c / low)) / Z95 for low, c, h in BANDS.values()])
    log_stress = np.log10([c.load_N for c in coupons])
    log_h = np.log10([c.lasted_s / HOUR_s for c in coupons])
    terms = np.array([(1 / c.temperature_K - 1 / 296.15) / (R_J_per_mol_K * LN10) for c in coupons])
    broke, held = (np.array([c.result == kind for c in coupons]) for kind in ("broke", "holding"))

    def log_posterior(z: Array) -> Array:
        strength, m, energy, s = np.exp(medians + sds * z).T[..., None]
        eps = (
            log_h
            - np.where(broke, np.log10(m + 1), 0.0)
            - m * (np.log10(strength) - log_stress)
            - energy * terms
        ) / s
        density = -0.5 * eps[:, ~held] ** 2 - np.log(s) + np.where(broke[~held], np.log(m + 1), 0.0)
        return np.asarray(
            density.sum(axis=1) + log_ndtr(-eps[:, held]).sum(axis=1) - 0.5 * (z**2).sum(axis=1)
        )

    start = time.perf_counter()
    sampler = emcee.EnsembleSampler(32, 4, log_posterior, vectorize=True)
    sampler.run_mcmc(0.2 * np.random.default_rng(1).standard_normal((32, 4)), steps)
    strength, m, energy, s = np.exp(medians + sds * sampler.get_chain(discard=steps // 10)).T
    term = (1 / POINT.temperature_K - 1 / 296.15) / (R_J_per_mol_K * LN10)
    bound = (
        np.log10(strength) + (energy * term - 1.2815515655446004 * s - math.log10(POINT.lasts_s / HOUR_s)) / m
    )
    seconds = time.perf_counter() - start
    tau = float(emcee.autocorr.integrated_time(bound.T[:, :, None], quiet=True)[0])
    return seconds, bound.size / tau, float(10 ** np.quantile(bound, 0.05))


def main() -> None:
    """Print the figures."""
    coupons, tape = thirty_coupons(), card()
    settings = BeliefSettings(bonded_in_batch="a")
    believe(coupons[:5], tape, settings=settings)  # loads scipy.special once
    times, bounds, beliefs = [], [], []
    for seed in range(SEEDS):
        start = time.perf_counter()
        belief = believe(coupons, tape, settings=settings, seed=seed)
        bounds.append(float(belief.lower_bound([POINT], 0.9, 0.95)[0]))
        times.append(time.perf_counter() - start)
        beliefs.append(belief)
    own_s, belief = float(np.median(times)), beliefs[0]
    print(f"belief from 30 coupons and one bound: {1e3 * own_s:.0f} ms (median of {SEEDS})")
    print(f"60 bounds at different points: {1e3 * sixty_bounds(belief):.1f} ms")
    memory_MB = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"memory of the process with {SEEDS} beliefs kept: {memory_MB:.0f} MB")
    print(f"scipy.stats loaded: {'scipy.stats' in sys.modules}")
    theirs_s, theirs_size, theirs_bound = emcee_bound(coupons, 10_000)
    print(f"bound: {bounds[0]:.0f} Pa, emcee {theirs_bound:.0f} Pa ({bounds[0] / theirs_bound - 1:+.2%})")
    per_draw_s = theirs_s / theirs_size
    plain = belief.accuracy.effective_size
    print(f"emcee: {theirs_s:.2f} s for {theirs_size:.0f} effective draws")
    print(
        f"effective size of the weights {plain:.0f}: {per_draw_s * plain / own_s:.0f} times as fast as emcee"
    )
    # the belief's density at its 5 % point turns the scatter of the bound over seeds into one of the share
    edges = np.log(
        [
            float(belief.strength_quantile([(POINT.lasts_s, POINT.temperature_K)], 0.9, q)[0])
            for q in (0.04, 0.06)
        ]
    )
    share_sd = 0.02 / float(np.diff(edges)[0]) * float(np.std(np.log(bounds), ddof=1))
    exact = 0.05 * 0.95 / share_sd**2
    print(
        f"draws of the same exactness of the bound {exact:.0f}: {per_draw_s * exact / own_s:.0f} times as fast"
    )


def sixty_bounds(belief: Belief) -> float:
    """Return the seconds that bounds for 60 different exposures take."""
    random = np.random.default_rng(2)
    asked = [
        Exposure(
            lasts_s=float(10 ** random.uniform(0, 6)),
            temperature_K=float(random.uniform(255, 345)),
            season="hot",
        )
        for _ in range(60)
    ]
    start = time.perf_counter()
    belief.lower_bound(asked, 0.9, 0.95)
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
