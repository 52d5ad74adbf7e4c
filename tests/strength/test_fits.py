"""The likelihood beside the belief: fits, bounds and tests of the law's assumptions."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coupon_samples import CARD, ROOM_K, HOUR_s, coupon, lives, pulls
from staydown.strength import fits
from staydown.strength.trials import Trials, trials_of

SLOPE, ENERGY_J_per_mol = CARD.slope.likely, CARD.activation_energy.likely


def trials(coupons: list) -> Trials:
    """Return trials of one nameless face."""
    return trials_of(coupons, "not named")


def synthetic(
    count: int, seed: int, slope: float, energy_J_per_mol: float, scatter: float, mode: str = "tension"
) -> list:
    """Return hangs at three stresses and two temperatures from the rupture law, S = 150 kPa."""
    random = np.random.default_rng(seed)
    coupons = []
    for i in range(count):
        stress, T = (120e3, 150e3, 190e3)[i % 3], (ROOM_K, 323.15)[i % 2]
        term = (1 / T - 1 / 296.15) / (8.314462618 * math.log(10))
        log_h = (
            slope * math.log10(150e3 / stress) + energy_J_per_mol * term + scatter * random.standard_normal()
        )
        coupons.append(coupon("fell", stress, HOUR_s * 10**log_h, T, name=str(i), mode=mode))
    return coupons


@pytest.mark.by_hand
def test_one_condition_gives_mean_and_deviation_of_logs() -> None:
    """Without censoring the lognormal fit is the mean of logs and their deviation with n."""
    hours = np.array([95, 140, 118, 162]) / 60
    fit = fits.fit_life(trials(lives(hours, stress_Pa=188e3)), "normal", SLOPE, ENERGY_J_per_mol)

    assert fit.location == pytest.approx(np.log10(hours).mean(), abs=1e-6)
    assert fit.scatter == pytest.approx(np.log10(hours).std(), abs=1e-6)
    assert fit.told == ()
    assert fit.slope == SLOPE


@pytest.mark.by_hand
def test_bound_without_censoring_is_the_profile_of_normal_theory() -> None:
    """For the median the profile loss is n ln(1 + (x - mean)²/s²), so x = mean - s sqrt(exp(z²/n) - 1)."""
    hours = np.array([95, 140, 118, 162, 170]) / 60
    logs = np.log10(hours)
    one = trials(lives(hours, stress_Pa=188e3))
    fit = fits.fit_life(one, "normal", SLOPE, ENERGY_J_per_mol)
    expected = logs.mean() - logs.std() * math.sqrt(math.exp(1.6448536**2 / 5) - 1)

    assert fits.life_bound(one, fit, 188e3, ROOM_K, 0.5, 0.95) / HOUR_s == pytest.approx(
        10**expected, rel=1e-4
    )


@pytest.mark.independent
def test_fit_finds_the_law_that_made_the_data() -> None:
    """Six hundred hangs give slope, energy and scatter back within a few percent."""
    fit = fits.fit_life(trials(synthetic(600, 2, 8.0, 70e3, 0.3)), "normal", SLOPE, ENERGY_J_per_mol)

    assert fit.slope == pytest.approx(8.0, rel=0.03)
    assert fit.energy_J_per_mol == pytest.approx(70e3, rel=0.03)
    assert fit.scatter == pytest.approx(0.3, rel=0.07)
    assert fit.told == ("slope", "activation energy")
    assert fit.life_s(150e3, ROOM_K, 0.5) / HOUR_s == pytest.approx(1.0, rel=0.05)


@pytest.mark.independent
def test_pulls_and_hangs_are_one_law() -> None:
    """Hangs and pulls made by the same law (breaking stress of Charles' relation) give its slope back."""
    random = np.random.default_rng(3)
    m, S, s, rate = 8.0, 150e3, 0.2, 5e4
    hang_logs = m * np.log10(S / 130e3) + s * random.standard_normal(150)
    eps = random.standard_normal(150)
    log_break = (np.log10(rate * 3600) + np.log10(m + 1) + m * np.log10(S) + s * eps) / (m + 1)
    coupons = lives(10**hang_logs, stress_Pa=130e3) + pulls(10**log_break, rate)
    fit = fits.fit_life(trials(coupons), "normal", SLOPE, ENERGY_J_per_mol)

    assert fit.slope == pytest.approx(m, rel=0.02)
    assert fit.scatter == pytest.approx(s, rel=0.1)
    assert fit.life_s(S, ROOM_K, 0.5) / HOUR_s == pytest.approx(1.0, rel=0.1)


def test_stress_bound_is_the_inverse_of_the_life_bound() -> None:
    """Under the stress that is bounded for 5 h, the life is bounded to 5 h."""
    one = trials(synthetic(12, 5, 8.0, 70e3, 0.3))
    fit = fits.fit_life(one, "normal", SLOPE, ENERGY_J_per_mol)
    stress = fits.stress_bound(one, fit, 5 * HOUR_s, ROOM_K, 0.9, 0.95)

    assert fits.life_bound(one, fit, stress, ROOM_K, 0.9, 0.95) / HOUR_s == pytest.approx(5.0, rel=1e-3)


@pytest.mark.independent
def test_sharing_is_rejected_when_it_is_wrong_and_kept_when_right() -> None:
    """Slopes 8 and 8 pass, slopes 8 and 12 do not; one stress each cannot be tested."""
    tension = trials(synthetic(40, 1, 8.0, 70e3, 0.3))
    same = trials(synthetic(40, 2, 8.0, 70e3, 0.3, "shear"))
    other = trials(synthetic(40, 2, 12.0, 70e3, 0.3, "shear"))
    passed = fits.sharing_test([tension, same], "normal", SLOPE, ENERGY_J_per_mol)
    failed = fits.sharing_test([tension, other], "normal", SLOPE, ENERGY_J_per_mol)
    single = [trials(lives([1.0, 2.0, 3.0])), trials(lives([1.0, 2.5, 3.0]))]

    assert passed is not None
    assert failed is not None
    assert passed.freedom == failed.freedom == 2
    assert passed.p_value > 0.05
    assert failed.p_value < 1e-4
    assert fits.sharing_test(single, "normal", SLOPE, ENERGY_J_per_mol) is None


@pytest.mark.independent
def test_law_is_rejected_when_life_bends() -> None:
    """A slope that halves above the middle stress is seen; the law's own data pass."""
    straight = synthetic(60, 4, 8.0, 70e3, 0.2)
    bent = [
        coupon(
            c.result,
            c.stress_Pa or 0,
            c.lasted_s * (4.0 if (c.stress_Pa or 0) > 180e3 else 1.0),
            c.temperature_K,
            name=c.name,
        )
        for c in straight
    ]
    passed = fits.law_test(trials(straight), "normal", SLOPE, ENERGY_J_per_mol)
    failed = fits.law_test(trials(bent), "normal", SLOPE, ENERGY_J_per_mol)

    assert passed is not None
    assert failed is not None
    assert passed.p_value > 0.05
    assert failed.p_value < 1e-4
    assert fits.law_test(trials(lives([1.0, 2.0])), "normal", SLOPE, ENERGY_J_per_mol) is None


def test_one_failure_cannot_be_fitted() -> None:
    """One fall and three survivors tell no scatter."""
    with pytest.raises(ValueError, match="needs 2"):
        fits.fit_life(trials(lives([1.0], [5.0, 6.0, 7.0])), "normal", SLOPE, ENERGY_J_per_mol)
