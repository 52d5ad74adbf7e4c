"""The integral over strength at each node against a plain sum on a fine grid."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import log_ndtr

from coupon_samples import HOUR_s, coupon
from staydown.evidence.coupon import Coupon
from staydown.strength import location
from staydown.strength.location import POINTS, LocationModel, Nodes, Normal
from staydown.strength.temperature_terms import temperature_term
from staydown.strength.trials import trials_of

COUPONS = [
    coupon("fell", 150e3, 3 * HOUR_s, batch="a"),
    coupon("fell", 150e3, 1.2 * HOUR_s, 313.15, batch="b"),
    coupon("holding", 100e3, 20 * HOUR_s, 313.15, batch="a"),
    coupon("holding", 110e3, 20 * HOUR_s, 313.15, batch="a"),
    coupon("broke", 450e3, 5.0, batch="a"),
    coupon("fell", 120e3, 30 * HOUR_s, found_s=20 * HOUR_s, batch="b"),
]
SLOPE, ENERGY_J_per_mol, SCATTER, SPREAD = 8.0, 70e3, 0.35, 0.04
MEAN, SD = math.log10(130e3), 0.2


def nodes() -> Nodes:
    """Return one node."""
    one = np.ones(1)
    return Nodes(
        slope=SLOPE * one,
        energy_J_per_mol=ENERGY_J_per_mol * one,
        scatter=SCATTER * one,
        spread=SPREAD * one,
        own=0 * one,
    )


def model(coupons: list[Coupon], *, batched: bool) -> LocationModel:
    """Return a model of some coupons, normal and by Arrhenius."""
    trials = trials_of(coupons, "not named")
    terms = temperature_term("arrhenius", trials.temperature_K)
    return LocationModel(trials, terms, "normal", batched=batched, bonded_in=None)


def log_likelihood(one: Coupon, v: np.ndarray) -> np.ndarray:
    """Return the log likelihood of a coupon over log10 strength, as the method page has it."""
    term = float(temperature_term("arrhenius", np.array([one.temperature_K]))[0])
    middle = SLOPE * (v - math.log10(one.stress_Pa or 0)) + ENERGY_J_per_mol * term
    ramp = math.log10(SLOPE + 1) if one.result == "broke" else 0.0
    eps = (math.log10(one.lasted_s / HOUR_s) - ramp - middle) / SCATTER
    if one.result == "holding":
        return log_ndtr(-eps)
    if one.found_s is not None:
        early = (math.log10(one.found_s / HOUR_s) - middle) / SCATTER
        return log_ndtr(-early) + np.log1p(-np.exp(np.minimum(log_ndtr(-eps) - log_ndtr(-early), -1e-15)))
    scale = (SLOPE + 1) / SCATTER if one.result == "broke" else 1 / SCATTER
    return -0.5 * eps**2 - 0.5 * math.log(2 * math.pi) + math.log(scale)


@pytest.mark.independent
@pytest.mark.parametrize(
    "kept", [slice(0, 6), slice(2, 4), slice(0, 2), slice(0, 0)], ids=["all", "held", "fell", "none"]
)
def test_integral_over_strength(kept: slice) -> None:
    """Likelihood times prior summed over 20 001 strengths; shares below three of them."""
    coupons = COUPONS[kept]
    v = np.linspace(MEAN - 1.5, MEAN + 1.5, 20_001)
    step = v[1] - v[0]
    log_total = -0.5 * ((v - MEAN) / SD) ** 2 - math.log(SD * math.sqrt(2 * math.pi))
    for one in coupons:
        log_total = log_total + log_likelihood(one, v)
    total = np.exp(log_total) * step
    found, table = model(coupons, batched=False).integrate(
        nodes(), Normal(mean=np.array([MEAN]), sd=np.array([SD]))
    )

    assert found[0] == pytest.approx(math.log(total.sum()), abs=2e-5)
    cumulative = np.cumsum(total) / total.sum()
    for share in (0.02, 0.5, 0.97):
        place = int(np.searchsorted(cumulative, share))
        assert table.below(np.array([[v[place] + step / 2]]))[0][0, 0] == pytest.approx(
            cumulative[place], abs=1e-4
        )


@pytest.mark.independent
def test_integral_over_batches(monkeypatch: pytest.MonkeyPatch) -> None:
    """Offsets of two batches summed over 401 points each at every strength; three points are 1 % off one likelihood."""
    v = np.linspace(MEAN - 1.0, MEAN + 1.0, 1001)
    delta = np.linspace(-6, 6, 401)
    prior = np.exp(-0.5 * delta**2)
    prior /= prior.sum()
    log_total = -0.5 * ((v - MEAN) / SD) ** 2 - math.log(SD * math.sqrt(2 * math.pi))
    for batch in ("a", "b"):
        own = sum(log_likelihood(one, v[:, None] + SPREAD * delta) for one in COUPONS if one.batch == batch)
        log_total = log_total + np.log(np.maximum(np.exp(own) @ prior, 1e-300))
    total = float(np.exp(log_total).sum() * (v[1] - v[0]))
    prior_of_mean = Normal(mean=np.array([MEAN]), sd=np.array([SD]))
    found, _ = model(COUPONS, batched=True).integrate(nodes(), prior_of_mean)

    assert found[0] == pytest.approx(math.log(total), abs=0.01)
    monkeypatch.setattr(location, "HERMITE", 15)
    monkeypatch.setattr(location, "HERMITE_BETWEEN", 15)
    found, _ = model(COUPONS, batched=True).integrate(nodes(), prior_of_mean)

    assert found[0] == pytest.approx(math.log(total), abs=1e-5)


@pytest.mark.independent
def test_share_and_its_value_invert_each_other() -> None:
    """The value at a share of belief has that share below it."""
    _, table = model(COUPONS, batched=False).integrate(
        nodes(), Normal(mean=np.array([MEAN]), sd=np.array([SD]))
    )
    shares = np.array([0.01, 0.3, 0.5, 0.9, 0.99])
    v = table.value_at(np.zeros(5, dtype=np.int64), shares)

    assert table.cubic.shape == (POINTS - 1, 4)
    assert table.below(v[:, None])[0][:, 0] == pytest.approx(shares, abs=1e-5)
