"""Priors: how bands are read, what the reference prior leaves to them, what a data sheet may do."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coupon_samples import CARD, ROOM_K, HOUR_s, band, coupon, lives, pulls
from staydown.strength import priors
from staydown.strength.prior_laws import band_ln_sd
from staydown.strength.priors import LogNormal, SheetLine, Uniform
from staydown.strength.trials import trials_of


@pytest.mark.by_hand
def test_a_band_is_its_median_and_its_farther_end() -> None:
    """60 / 130 / 300: median 130, 95 % at 300 (ln 300/130 is the larger step), so 5 % below 60."""
    told = priors.lognormal_of(CARD.strength_1h_23C)

    assert told.value(np.array([1.6448536])) == pytest.approx([300e3], rel=1e-6)
    assert told.value(np.array([-1.6448536]))[0] < 60e3
    assert band_ln_sd(50.0, 100.0, 100.0) == pytest.approx(math.log(2) / 1.6448536, rel=1e-6)


def test_other_modes_are_wider() -> None:
    """Shear, cleavage and peel have the tension band widened; peel is a line load."""
    tension, *others = (
        priors.class_prior(CARD, mode).strength for mode in ("tension", "shear", "cleavage", "peel")
    )

    assert tension is not None
    assert all(other is not None and other.ln_sd > tension.ln_sd for other in others)
    assert tension.median == CARD.strength_1h_23C.likely


@pytest.mark.parametrize(
    ("coupons", "slope", "energy"),
    [
        (lives([1.0, 2.0, 3.0], stress_Pa=1e5), False, False),
        (lives([1.0, 2.0], stress_Pa=1e5) + lives([0.1], stress_Pa=1.3e5), True, False),
        (
            lives([1.0, 2.0], [50.0]) + lives([], [80.0], stress_Pa=9.0),
            False,
            False,
        ),  # held under another stress only
        (lives([1.0]) + lives([0.2], temperature_K=320.0), False, True),
        (lives([1.0]) + lives([0.2], temperature_K=ROOM_K + 3.0), False, False),
        (pulls([5e5, 6e5], 1e5), False, False),
        (pulls([5e5, 6e5], 1e5) + pulls([3e5], 1e3), True, False),
        (pulls([5e5], 1e5) + lives([2.0], stress_Pa=1e5), True, False),
    ],
)
def test_reference_prior_takes_what_the_coupons_tell(coupons: list, slope: bool, energy: bool) -> None:
    """Failures under several stresses, rates or kinds tell the slope, at several temperatures the energy."""
    prior = priors.reference_prior(CARD, "tension", trials_of(coupons, "not named"))

    assert isinstance(prior.slope, Uniform if slope else LogNormal)
    assert isinstance(prior.activation_energy, Uniform if energy else LogNormal)
    assert any("one stress only" in note for note in prior.notes) is not slope
    assert any("one temperature only" in note for note in prior.notes) is not energy
    assert prior.strength is None
    assert prior.batch_spread is None


@pytest.mark.by_hand
def test_a_single_planning_value_of_batches_can_still_be_taught() -> None:
    """0.08 alone is read as 0.04 / 0.08 / 0.16."""
    alone, spread = (
        priors.class_prior(CARD, "tension", b) for b in (band(0.08, 0.08, 0.08), band(0.04, 0.08, 0.16))
    )

    assert alone.batch_spread == spread.batch_spread


@pytest.mark.by_hand
def test_sheet_line_is_one_discounted_statement() -> None:
    """At 1 h and 23 °C the line stands for itself times the bias; precisions of class and sheet add."""
    prior = priors.class_prior(CARD, "tension")
    line = SheetLine(stress_Pa=400e3, lasted_s=HOUR_s, temperature_K=ROOM_K, kind="held")
    bias = band(0.25, 0.5, 1.0)
    moved = priors.centre_on_sheet(prior, [line], bias).strength
    assert prior.strength is not None
    assert moved is not None
    own, sheet = prior.strength.ln_sd**-2, (math.log(2) / 1.6448536269514722) ** -2
    mean = (own * math.log(130e3) + sheet * math.log(200e3)) / (own + sheet)

    assert math.log(moved.median) == pytest.approx(mean, rel=1e-9)
    assert moved.ln_sd == pytest.approx((own + sheet) ** -0.5, rel=1e-9)
    twice = priors.centre_on_sheet(prior, [line, line], bias).strength
    assert twice is not None
    assert twice.ln_sd == pytest.approx(moved.ln_sd, rel=1e-12)


def test_sheet_far_from_an_hour_says_less() -> None:
    """A pull in seconds is carried over three decades with an unknown slope: it moves the prior less surely."""
    prior = priors.class_prior(CARD, "tension")
    near = SheetLine(stress_Pa=200e3, lasted_s=HOUR_s, temperature_K=ROOM_K, kind="held")
    far = SheetLine(stress_Pa=600e3, lasted_s=5.0, temperature_K=ROOM_K, kind="broke")
    sure, unsure = (priors.centre_on_sheet(prior, [line]).strength for line in (near, far))

    assert sure is not None
    assert unsure is not None
    assert prior.strength is not None
    assert sure.ln_sd < unsure.ln_sd < prior.strength.ln_sd


def test_reference_prior_takes_no_sheet() -> None:
    """What a maker prints is no coupon."""
    prior = priors.reference_prior(CARD, "tension", trials_of([coupon("fell", 1e5, 60.0)], "not named"))
    line = SheetLine(stress_Pa=2e5, lasted_s=HOUR_s, temperature_K=ROOM_K, kind="held")

    with pytest.raises(ValueError, match="only move the prior of a class"):
        priors.centre_on_sheet(prior, [line])
