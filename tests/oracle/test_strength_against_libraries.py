"""Fits against lifelines and surpyval, the belief against emcee: libraries that the product does not use."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
from scipy.special import log_ndtr

from coupon_samples import CARD, HOUR_s, coupon, exposure
from staydown.evidence.coupon import Coupon
from staydown.strength.belief import BeliefSettings
from staydown.strength.build_belief import believe
from staydown.strength.fits import LifeFit, fit_life
from staydown.strength.trials import trials_of

pytestmark = pytest.mark.oracle

R_J_per_mol_K, LN10 = 8.314462618, math.log(10.0)


def term(temperature_K: np.ndarray | float) -> np.ndarray | float:
    """Return (1/T - 1/296.15)/(R ln 10), the factor of the activation energy."""
    return (1 / temperature_K - 1 / 296.15) / (R_J_per_mol_K * LN10)


@pytest.fixture(scope="module")
def sixty() -> list[Coupon]:
    """Return 60 hangs at three stresses and three temperatures, about a fifth still holding."""
    random = np.random.default_rng(7)
    coupons = []
    for i in range(60):
        stress, T = (100e3, 140e3, 200e3)[i % 3], (296.15, 313.15, 333.15)[(i // 3) % 3]
        log_h = 8 * math.log10(160e3 / stress) + 75e3 * term(T) + 0.4 * random.standard_normal()
        limit = 0.9 + 0.3 * random.standard_normal()
        result = "fell" if log_h < limit else "holding"
        coupons.append(coupon(result, stress, HOUR_s * 10 ** min(log_h, limit), T, name=str(i)))
    assert 6 <= sum(c.result == "holding" for c in coupons) <= 20
    return coupons


def columns(coupons: list[Coupon]) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Return hours, whether fallen, ln stress [100 kPa], 1000/T less its value at 310 K."""
    hours = np.array([c.lasted_s / HOUR_s for c in coupons])
    fell = np.array([c.result == "fell" for c in coupons])
    stress = np.log(np.array([(c.stress_Pa or 0) / 1e5 for c in coupons]))
    warm = np.array([(1 / c.temperature_K - 1 / 310.0) * 1e3 for c in coupons])
    return hours, fell, stress, warm


def coefficients(fit: LifeFit) -> tuple[float, float]:
    """Return the slopes of ln life over ln stress and over 1000/T."""
    return -fit.slope, fit.energy_J_per_mol / R_J_per_mol_K / 1e3


@pytest.mark.parametrize("family", ["normal", "weibull"])
def test_regression_against_lifelines(sixty: list[Coupon], family: str) -> None:
    """Slopes, scatter and log likelihood of the accelerated-life regression, lognormal and Weibull."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import pandas as pd
        from lifelines import LogNormalAFTFitter, WeibullAFTFitter

        hours, fell, stress, warm = columns(sixty)
        frame = pd.DataFrame({"t": hours, "d": fell, "stress": stress, "warm": warm})
        theirs = (LogNormalAFTFitter if family == "normal" else WeibullAFTFitter)().fit(frame, "t", "d")
    place = "mu_" if family == "normal" else "lambda_"
    fit = fit_life(trials_of(sixty, "not named"), family, 9.0, 80e3)  # type: ignore[arg-type]
    by_stress, by_warmth = coefficients(fit)

    assert by_stress == pytest.approx(float(theirs.params_[place, "stress"]), rel=1e-3)
    assert by_warmth == pytest.approx(float(theirs.params_[place, "warm"]), rel=1e-3)
    assert fit.log_likelihood == pytest.approx(float(theirs.log_likelihood_), abs=2e-3)
    ancillary = float(theirs.params_["sigma_" if family == "normal" else "rho_", "Intercept"])
    ours = math.log(fit.scatter * LN10) if family == "normal" else math.log(fit.weibull_shape)
    assert ours == pytest.approx(ancillary, abs=2e-3)


@pytest.mark.parametrize("family", ["normal", "weibull"])
def test_one_sample_against_surpyval(sixty: list[Coupon], family: str) -> None:
    """Location and scatter of one censored cell, lognormal and Weibull."""
    import surpyval

    cell = [c for c in sixty if c.temperature_K == 296.15 and c.stress_Pa == pytest.approx(140e3)]
    cell += [coupon("holding", 140e3, 12 * HOUR_s, name="holds")]
    hours, fell, *_ = columns(cell)
    fitter = surpyval.LogNormal if family == "normal" else surpyval.Weibull
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = fitter.fit(hours, c=(~fell).astype(int))
    fit = fit_life(trials_of(cell, "not named"), family, 9.0, 80e3)  # type: ignore[arg-type]

    if family == "normal":
        ours = (fit.location * LN10, fit.scatter * LN10)
    else:
        ours = (fit.life_s(140e3, 296.15, math.exp(-1)) / HOUR_s, fit.weibull_shape)
    assert ours == pytest.approx(tuple(float(p) for p in theirs.params), rel=2e-3)


def test_posterior_against_emcee() -> None:
    """Quantiles of the four parameters and of the bound: 2 % of emcee on the same model, written out independently.

    Ten coupons of all kinds, one batch that also bonded the feet (so no batch term on either side).
    """
    import emcee

    coupons = [
        *(coupon("broke", s, 8.0, 296.15, batch="a") for s in (480e3, 505e3, 530e3)),
        *(coupon("fell", 200e3, h * HOUR_s, 313.15, batch="a") for h in (0.4, 0.9, 0.5)),
        *(coupon("fell", 120e3, h * HOUR_s, 333.15, batch="a") for h in (0.8, 2.0)),
        *(coupon("holding", 110e3, h * HOUR_s, 313.15, batch="a") for h in (30.0, 45.0)),
    ]
    belief = believe(coupons, CARD, settings=BeliefSettings(bonded_in_batch="a"))
    z95 = 1.6448536269514722
    medians = np.log([130e3, 9.0, 80e3, 0.4])
    spreads = np.array(
        [
            max(math.log(high / likely), math.log(likely / low)) / z95
            for low, likely, high in ((60e3, 130e3, 300e3), (5, 9, 16), (50e3, 80e3, 120e3), (0.2, 0.4, 0.8))
        ]
    )
    log_stress = np.log10([c.stress_Pa or 0.0 for c in coupons])
    hours = np.array([c.lasted_s / HOUR_s for c in coupons])
    terms = np.array([term(c.temperature_K) for c in coupons])
    broke, held = (np.array([c.result == kind for c in coupons]) for kind in ("broke", "holding"))

    def log_posterior(z: np.ndarray) -> np.ndarray:
        strength, m, energy, s = np.exp(medians + spreads * z).T[..., None]
        middle = m * (np.log10(strength) - log_stress) + energy * terms
        eps = (np.log10(hours) - np.where(broke, np.log10(m + 1), 0.0) - middle) / s
        density = -0.5 * eps**2 - np.log(s) + np.where(broke, np.log(m + 1), 0.0)
        return np.where(held, log_ndtr(-eps), density).sum(axis=1) - 0.5 * (z**2).sum(axis=1)

    start = 0.3 * np.random.default_rng(1).standard_normal((64, 4))
    sampler = emcee.EnsembleSampler(64, 4, log_posterior, vectorize=True)
    sampler.random_state = np.random.RandomState(5).get_state()
    sampler.run_mcmc(start, 8000)
    draws = np.exp(medians + spreads * sampler.get_chain(discard=1000, thin=10, flat=True))
    told = belief.parameters()
    names = ("stress_1h_23C_Pa", "slope", "activation_energy_J_per_mol", "scatter_log10_life")
    for place, name in enumerate(names):
        theirs = np.quantile(draws[:, place], [0.05, 0.5, 0.95])
        ours = [told[name][key] for key in ("low_5", "median", "high_95")]
        assert ours == pytest.approx(theirs, rel=0.02), name
    strength, m, energy, s = draws.T
    for h, T in ((2.0, 313.15), (0.001, 313.15), (10.0, 333.15)):
        lower = np.log10(strength) + (energy * term(T) - 1.2815515655 * s - math.log10(h)) / m
        bound = belief.lower_bound([exposure(h, T)], 0.9, 0.95)[0]
        assert bound == pytest.approx(10 ** np.quantile(lower, 0.05), rel=0.02)
