"""CMH-17-1G: one-sided tolerance factors (tables 8.5.10 and 8.5.11) and an 18-specimen strength set.

Tables and set were found in public copies of the handbook's figures, not read in the handbook.
"""

from __future__ import annotations

import numpy as np
import pytest

from coupon_samples import CARD, ROOM_K, coupon, pulls
from staydown.strength.belief import BeliefSettings
from staydown.strength.build_belief import believe
from staydown.strength.fits import fit_life
from staydown.strength.tolerance_laws import lower_bound_of_logs, tolerance_factor
from staydown.strength.trials import trials_of

B_BASIS = {
    3: 6.155,
    5: 3.407,
    6: 3.006,
    8: 2.582,
    10: 2.355,
    12: 2.210,
    15: 2.068,
    20: 1.926,
    30: 1.777,
    50: 1.646,
}
A_BASIS = {
    3: 10.553,
    5: 5.741,
    6: 5.062,
    8: 4.354,
    10: 3.981,
    12: 3.747,
    15: 3.520,
    20: 3.295,
    30: 3.064,
    50: 2.862,
}
SET = (
    "137.4438 139.5395 150.89 141.4474 141.8203 151.8821 143.9245 132.9732 136.6419 138.1723 148.7668 143.283 "
    "143.5429 141.7023 137.4732 152.338 144.1589 128.5218"
)
STRENGTHS = np.array([float(value) for value in SET.split()])


@pytest.mark.published
@pytest.mark.parametrize(("content", "table"), [(0.90, B_BASIS), (0.99, A_BASIS)])
def test_tolerance_factors(content: float, table: dict[int, float]) -> None:
    """Factors for 95 % confidence in tables 8.5.10 (90 % content) and 8.5.11 (99 %)."""
    counts = np.array(list(table), dtype=float)

    assert tolerance_factor(counts, content, 0.95) == pytest.approx(list(table.values()), abs=1.5e-3)


@pytest.mark.published
@pytest.mark.parametrize(("count", "factor"), [(5, 2.742), (10, 2.066), (20, 1.765)])
def test_factors_at_90_confidence(count: int, factor: float) -> None:
    """Factors for 90 % content at 90 % confidence, ISO 16269-6, from memory."""
    assert tolerance_factor(count, 0.90, 0.90) == pytest.approx(factor, abs=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(
    ("content", "normal", "lognormal"), [(0.90, 129.287, 129.664), (0.99, 120.336, 121.710)]
)
def test_basis_values_of_the_strength_set(content: float, normal: float, lognormal: float) -> None:
    """B- and A-basis of 18 strengths; the published factors are approximations, so ±0.02."""
    factor = tolerance_factor(STRENGTHS.size, content, 0.95)
    logs = np.log(STRENGTHS)

    assert lower_bound_of_logs(STRENGTHS.mean(), STRENGTHS.std(ddof=1), factor) == pytest.approx(
        normal, abs=0.02
    )
    assert np.exp(lower_bound_of_logs(logs.mean(), logs.std(ddof=1), factor)) == pytest.approx(
        lognormal, abs=0.02
    )


@pytest.mark.published
@pytest.mark.parametrize("content", [0.90, 0.99])
def test_belief_gives_the_basis_values(content: float) -> None:
    """Pulled at one rate, the set's lognormal basis is the belief's bound under the reference prior, k to 1e-3."""
    belief = believe(pulls(STRENGTHS * 1e3, 10e3), CARD, settings=BeliefSettings(prior="reference"))
    stress = belief.breaking_stress_bound(10e3, ROOM_K, content, 0.95) / 1e3
    logs = np.log(STRENGTHS)
    factor = (logs.mean() - np.log(stress)) / logs.std(ddof=1)

    assert factor == pytest.approx(tolerance_factor(STRENGTHS.size, content, 0.95), abs=1e-3)
    assert stress == pytest.approx({0.90: 129.664, 0.99: 121.710}[content], abs=0.02)


@pytest.mark.published
def test_weibull_fit_of_the_strength_set() -> None:
    """Most likely Weibull of the 18 strengths as values: shape 24.811, scale 144.887 (handbook's method)."""
    coupons = [coupon("fell", 1.0, value * 3600.0, name=str(i)) for i, value in enumerate(STRENGTHS)]
    fit = fit_life(trials_of(coupons, "not named"), "weibull", 9.0, 80e3)

    assert fit.weibull_shape == pytest.approx(24.811, rel=1e-3)
    assert fit.life_s(1.0, ROOM_K, np.exp(-1.0)) / 3600.0 == pytest.approx(144.887, rel=1e-4)
