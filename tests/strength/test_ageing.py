"""Ageing from conditioned coupons: what is read, what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from coupon_samples import ROOM_K, coupon
from staydown.strength.ageing import AgedResult, aged_results, fit_ageing
from staydown.strength.ageing_laws import kept_after_ageing

DAY_s = 86400.0


@pytest.mark.by_hand
def test_conditioning_is_read() -> None:
    """`21 d in water at 23 degC` is 21 days at 296.15 K; fresh pulls are 0 s; what cannot be read is left out."""
    texts = ["21 d in water at 23 degC", "500 h at 60 degC", "salt spray", None]
    found = aged_results([coupon("broke", 5e5, 5.0, conditioned=text) for text in texts])

    assert [(one.aged_s, round(one.temperature_K, 2)) for one in found] == [
        (21 * DAY_s, 296.15),
        (500 * 3600.0, 333.15),
        (0.0, ROOM_K),
    ]
    assert aged_results([coupon("holding", 5e5, 5.0, conditioned="21 d in water at 23 degC")]) == ()


@pytest.mark.independent
def test_fit_finds_the_law_that_made_the_data() -> None:
    """Two hundred results with 3 % scatter give rate and energy back."""
    random = np.random.default_rng(1)
    aged_s = np.tile([0.0, 7.0, 30.0, 60.0], 50) * DAY_s
    warm_K = np.repeat([323.15, 343.15], 100)
    kept = kept_after_ageing(aged_s, warm_K, 2e-4, 60e3, 333.15)
    stress = 5e5 * kept * np.exp(0.03 * random.standard_normal(200))
    rows = zip(stress, aged_s, warm_K, strict=True)
    fit = fit_ageing([AgedResult(stress_Pa=y, aged_s=t, temperature_K=T) for y, t, T in rows])

    assert fit is not None
    assert fit.energy_J_per_mol == pytest.approx(60e3, rel=0.03)
    assert fit.kept(30 * DAY_s, 333.15) == pytest.approx(np.exp(-2e-4 * (30 * DAY_s) ** 0.5), rel=0.01)
    assert fit.ln_scatter == pytest.approx(0.03, rel=0.15)


def test_one_storage_temperature_tells_no_energy() -> None:
    """Fresh and aged at one temperature, or five results, are not fitted."""
    one = [
        AgedResult(stress_Pa=5e5 - i, aged_s=t * DAY_s, temperature_K=323.15)
        for i, t in enumerate([0, 0, 7, 7, 30, 30])
    ]

    assert fit_ageing(one) is None
    assert fit_ageing(one[:5]) is None
