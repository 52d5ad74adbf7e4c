"""NIST/SEMATECH e-Handbook of Statistical Methods: acceleration, tolerance factors, censored fits."""

from __future__ import annotations

import math

import pytest

from coupon_samples import lives
from staydown.strength.fits import fit_life, law_test, life_bound
from staydown.strength.rupture_laws import GAS_CONSTANT_J_per_mol_K, arrhenius_shift
from staydown.strength.tolerance_laws import tolerance_factor, tolerance_factor_natrella
from staydown.strength.trials import Trials, trials_of

NIST_EV_J_per_mol = GAS_CONSTANT_J_per_mol_K / 8.617e-5  # the handbook's k = 8.617e-5 eV/K
NIST_ZERO_K = 273.16  # the handbook's zero of the Celsius scale


@pytest.mark.published
@pytest.mark.parametrize(
    ("energy_eV", "cool_C", "hot_C", "factor"),
    [(0.5, 25, 125, 132.65), (1.0, 25, 125, 17596), (0.7, 25, 85, 96.0), (0.63, 25, 60, 13.15)],
)
def test_arrhenius_acceleration(energy_eV: float, cool_C: float, hot_C: float, factor: float) -> None:
    """Section 8.1.5.1 prints 133 and 17,597 for 25 to 125 °C (from memory); the others are common practice."""
    shift = arrhenius_shift(hot_C + NIST_ZERO_K, cool_C + NIST_ZERO_K, energy_eV * NIST_EV_J_per_mol)

    assert 1 / shift == pytest.approx(factor, rel=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(("count", "natrella", "exact"), [(43, 1.8752, 1.8740), (40, 1.9034, 1.9017)])
def test_tolerance_factor_and_its_approximation(count: int, natrella: float, exact: float) -> None:
    """Section 7.2.6.3: Natrella's approximation and the exact factor, content 0.90, confidence 0.99."""
    assert tolerance_factor_natrella(count, 0.90, 0.99) == pytest.approx(natrella, abs=1e-4)
    assert tolerance_factor(count, 0.90, 0.99) == pytest.approx(exact, abs=1e-4)


# Section 8.4.1.3 and 8.2.2.1: ten failures of twenty, the others censored at 500 h
TEN_OF_TWENTY_h = [54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0]
# Section 8.4.2.2: three temperatures, censored at 1000 h: failures and number of units
CELLS = {
    85: ("401 428 695 725 738", 100),
    105: (
        "171 187 189 266 275 285 301 302 305 316 317 324 349 350 386 405 480 493 530 534 536 567 589 598 599 614 "
        "620 650 668 685 718 795 854 917 926",
        50,
    ),
    125: ("24 42 92 93 141 142 143 159 181 188 194 199 207 213 243 256 259 290 294 305 392 454 502 696", 25),
}
LN10 = math.log(10.0)
START = (9.0, 80e3)  # slope and activation energy to begin with, as of a class card


def ten_of_twenty() -> Trials:
    """Return the censored set of section 8.4.1.3."""
    return trials_of(lives(TEN_OF_TWENTY_h, [500.0] * 10), "not named")


def cells(temperatures_C: tuple[int, ...]) -> Trials:
    """Return the censored cells of section 8.4.2.2."""
    coupons = []
    for warm_C in temperatures_C:
        told, count = CELLS[warm_C]
        failures = [float(hours) for hours in told.split()]
        coupons += lives(failures, [1000.0] * (count - len(failures)), temperature_K=warm_C + NIST_ZERO_K)
    return trials_of(coupons, "not named")


@pytest.mark.published
def test_weibull_of_a_censored_set() -> None:
    """Section 8.4.1.3: scale 606.53, shape 1.7208, log likelihood -75.135, mean 540.74 h, deviation 323.81 h."""
    fit = fit_life(ten_of_twenty(), "weibull", *START)
    scale_h = fit.life_s(1.0, 296.15, math.exp(-1.0)) / 3600.0
    mean_h = scale_h * math.gamma(1 + 1 / fit.weibull_shape)
    sd_h = math.sqrt(scale_h**2 * math.gamma(1 + 2 / fit.weibull_shape) - mean_h**2)

    assert fit.weibull_shape == pytest.approx(1.7208, abs=1e-4)
    assert scale_h == pytest.approx(606.528, abs=0.01)
    assert fit.log_likelihood == pytest.approx(-75.135, abs=1e-3)
    assert (mean_h, sd_h) == (pytest.approx(540.737, rel=1e-4), pytest.approx(323.806, rel=1e-4))


@pytest.mark.published
def test_lognormal_of_a_censored_set() -> None:
    """The same set: AIC 154.39 (section 8.4.1.3) for two parameters; mu 6.2260, sigma 0.9089, recomputed."""
    fit = fit_life(ten_of_twenty(), "normal", *START)

    assert 4 - 2 * fit.log_likelihood == pytest.approx(154.39, abs=5e-3)
    assert fit.location * LN10 == pytest.approx(6.2260, abs=1e-4)
    assert fit.scatter * LN10 == pytest.approx(0.9089, abs=1e-4)


@pytest.mark.published
def test_bound_of_the_tenth_part_is_by_likelihood_ratio() -> None:
    """B10 164.02 h; its one-sided 95 % bound by likelihood ratio 74.8 h (Meeker & Escobar 1998, ch. 8).

    Wald's bound on the log scale would be 93.4 h, a quarter higher and on the unsafe side.
    """
    fit = fit_life(ten_of_twenty(), "weibull", *START)
    bound_h = life_bound(ten_of_twenty(), fit, 1.0, 296.15, 0.90, 0.95) / 3600.0

    assert fit.life_s(1.0, 296.15, 0.90) / 3600.0 == pytest.approx(164.02, rel=1e-4)
    assert bound_h == pytest.approx(74.8, rel=2e-3)


@pytest.mark.published
@pytest.mark.parametrize(
    ("warm_C", "mu", "sigma", "log_likelihood"),
    [(85, 8.891, 1.212, -53.35), (105, 6.470, 0.715, -265.23), (125, 5.333, 0.811, -156.53)],
)
def test_lognormal_cell_by_cell(warm_C: int, mu: float, sigma: float, log_likelihood: float) -> None:
    """Section 8.4.2.2, each temperature alone."""
    fit = fit_life(cells((warm_C,)), "normal", *START)

    assert fit.location * LN10 == pytest.approx(mu, abs=1e-3)
    assert fit.scatter * LN10 == pytest.approx(sigma, abs=1e-3)
    assert fit.log_likelihood == pytest.approx(log_likelihood, abs=5e-3)


@pytest.mark.published
def test_arrhenius_over_three_temperatures() -> None:
    """Section 8.4.2.2: intercept -19.906, 0.863 eV, sigma 0.772, log likelihood -476.709; the model passes, p 0.363."""
    fit = fit_life(cells((85, 105, 125)), "normal", *START)
    at_reference = fit.location - fit.energy_J_per_mol * fit.at_term  # log10 hours at 23 °C
    intercept = LN10 * at_reference - fit.energy_J_per_mol / GAS_CONSTANT_J_per_mol_K / 296.15
    passed = law_test(cells((85, 105, 125)), "normal", *START)

    assert intercept == pytest.approx(-19.906, abs=2e-3)
    assert fit.energy_J_per_mol / NIST_EV_J_per_mol == pytest.approx(0.863, abs=1e-3)
    assert fit.scatter * LN10 == pytest.approx(0.772, abs=1e-3)
    assert fit.log_likelihood == pytest.approx(-476.709, abs=2e-3)
    assert passed is not None
    assert (passed.freedom, passed.statistic) == (3, pytest.approx(3.194, abs=2e-3))
    assert passed.p_value == pytest.approx(0.363, abs=1e-3)
