"""Rules of the bonding trade: common practice, no source; the arithmetic beside each check is by hand."""

from __future__ import annotations

import pytest

from staydown.evidence.slip_laws import slip_strain
from staydown.making.dilution_laws import stock_volume, water_volume
from staydown.making.dwell_laws import bond_share, wait_for_share
from staydown.making.press_laws import leaning_mass, press_force
from staydown.upkeep.proof_laws import (
    foot_bound,
    lever_factor,
    proof_pull,
    proof_pull_limit,
    speed_with_margin,
)

PSI_15_Pa = 15 * 6894.757293168  # 15 pounds-force on a square inch, exact by definition
BUILD_UP = {"first_s": 1800.0, "first_share": 0.5, "most_s": 86400.0, "most_share": 0.9, "full_s": 259200.0}


@pytest.mark.published
@pytest.mark.parametrize(("area_cm2", "force_N"), [(25.0, 258.6), (150.0, 1551.0)])
def test_pressing_at_15_psi(area_cm2: float, force_N: float) -> None:
    """15 psi = 103.4 kPa on a pad, to 0.1 %; 25 cm² is 26.4 kgf. Common practice, no source."""
    force = press_force(PSI_15_Pa, area_cm2 * 1e-4)

    assert force == pytest.approx(force_N, rel=1e-3)
    assert leaning_mass(press_force(PSI_15_Pa, 25e-4), 9.80665) == pytest.approx(26.4, abs=0.05)


@pytest.mark.published
def test_seventy_per_cent_from_ninety_nine() -> None:
    """0.70/0.99 = 0.7071 L of stock and about 0.29 L of water a litre. Common practice, no source."""
    stock = stock_volume(1.0, 0.70, 0.99)

    assert stock == pytest.approx(0.7071, abs=5e-5)
    assert water_volume(1.0, stock) == pytest.approx(0.29, abs=0.005)


@pytest.mark.published
@pytest.mark.parametrize(
    ("waited_h", "share"), [(0.5, 0.5), (24.0, 0.9), (72.0, 1.0), (500.0, 1.0), (0.4, 0.0)]
)
def test_build_up_of_foam_tapes(waited_h: float, share: float) -> None:
    """Half in the first half hour, nine tenths after a day, all after three. Planning band, common practice."""
    assert bond_share(waited_h * 3600.0, **BUILD_UP) == pytest.approx(share)


@pytest.mark.independent
@pytest.mark.parametrize("share", [0.5, 0.6, 0.75, 0.9, 0.97, 1.0])
def test_waiting_for_a_share_brings_it(share: float) -> None:
    """The two laws of build-up are each other's inverse."""
    assert bond_share(wait_for_share(share, **BUILD_UP), **BUILD_UP) == pytest.approx(share)


@pytest.mark.by_hand
def test_a_proof_pull_by_hand() -> None:
    """Cruise 194 N x 1.25 = 243 N; 206.0 kPa x 3871 mm² / 1.354 = 589 N, half is 294 N: 243 N is allowed."""
    factor = lever_factor(0.003, 0.0508)
    bound = foot_bound(206.0e3, 3871e-6, factor)
    wanted, limit = proof_pull(1.25, 194.0, 100.0), proof_pull_limit(0.5, bound)

    assert factor == pytest.approx(1.354, abs=5e-4)
    assert wanted == pytest.approx(243.0, abs=0.6)
    assert bound == pytest.approx(589.0, abs=0.5)
    assert limit == pytest.approx(294.5, abs=0.5)
    assert wanted < limit


@pytest.mark.by_hand
def test_slip_as_strain() -> None:
    """0.3 mm on a tape of 1.1 mm is 27 % and over the limit, 0.1 mm is 9 % and only written down."""
    assert slip_strain(0.3e-3, 1.1e-3) == pytest.approx(0.273, abs=5e-4)
    assert slip_strain(0.1e-3, 1.1e-3) == pytest.approx(0.091, abs=5e-4)


@pytest.mark.by_hand
def test_half_the_load_margin_is_speed_over_root_two() -> None:
    """60 mph with half of the loads in hand: 42 mph, since wind loads go with the square of the speed."""
    assert speed_with_margin(60.0, 2.0) == pytest.approx(42.4, abs=0.05)
