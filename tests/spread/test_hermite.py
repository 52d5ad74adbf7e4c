"""Cubic Hermite functions on a line: what they hold exactly, and loads that thin toward the lee end."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.polynomial import Polynomial
from numpy.typing import NDArray

from staydown.spread.hermite import Line

Array = NDArray[np.float64]
LINE = Line(side_m=1.4, cells=7)
CUBIC = Polynomial([0.3, -0.7, 1.1, 0.4])


def unknowns(curve: Polynomial) -> Array:
    """Return the unknowns of a curve along the line: values, and slopes times the cell's length."""
    nodes = LINE.nodes_m
    return np.stack([curve(nodes), curve.deriv()(nodes) * LINE.cell_m], axis=-1).ravel()


@pytest.mark.by_hand
def test_a_cubic_is_held_exactly() -> None:
    """Value and slope of any cubic come out at any place, and the integrals of its curvature squared."""
    places = np.array([-0.7, -0.33, 0.0, 0.215, 0.7])
    moved = unknowns(CUBIC)
    energy = (CUBIC.deriv(2) ** 2).integ()

    assert LINE.value(places) @ moved == pytest.approx(CUBIC(places))
    assert LINE.slope(places) @ moved == pytest.approx(CUBIC.deriv()(places))
    assert moved @ LINE.matrix(2, 2) @ moved == pytest.approx(energy(0.7) - energy(-0.7))


@pytest.mark.by_hand
def test_a_foot_feels_mean_and_tilt() -> None:
    """Mean and fitted slope over 80 mm of a cubic: its integral, and 12/b^3 times that of x from the middle."""
    middle, half = 0.215, 0.04
    whole = CUBIC.integ()
    turned = (CUBIC * Polynomial([-middle, 1.0])).integ()

    mean, slope = LINE.foot(np.array(middle), np.array(2 * half))

    assert mean @ unknowns(CUBIC) == pytest.approx((whole(middle + half) - whole(middle - half)) / (2 * half))
    assert slope @ unknowns(CUBIC) == pytest.approx(
        (turned(middle + half) - turned(middle - half)) * 12 / (2 * half) ** 3
    )


@pytest.mark.by_hand
@pytest.mark.parametrize("middle", [-0.72, -0.68, 0.0, 0.69, 0.73])
def test_a_foot_past_the_end_still_keeps_the_balance(middle: float) -> None:
    """A straight item is felt exactly wherever the foot stands, also half beside the item: statics stay whole."""
    straight = Polynomial([0.2, 0.5])

    mean, slope = LINE.foot(np.array(middle), np.array(0.08))

    assert mean @ unknowns(straight) == pytest.approx(straight(middle))
    assert slope @ unknowns(straight) == pytest.approx(0.5)


@pytest.mark.by_hand
@pytest.mark.parametrize("power", [0.0, 0.3, 1.0, 1.62, 2.0, 5.0])
@pytest.mark.parametrize("rear", [False, True])
def test_a_thinning_load_has_its_size_and_centre(power: float, rear: bool) -> None:
    """The integral of (n + 1) z^n is 1, and its centre lies 1/(n + 2) of the side from the windward end."""
    load = LINE.thinning(power, rear)
    centre = (0.5 - 1 / (power + 2)) * LINE.side_m

    assert load @ LINE.even() == pytest.approx(1.0, rel=1e-9)
    assert load @ unknowns(Polynomial([0.0, 1.0])) == pytest.approx(-centre if rear else centre, abs=1e-9)


@pytest.mark.independent
def test_a_thinning_load_on_a_curve() -> None:
    """Its work on a cubic equals a fine sum over a hundred thousand strips."""
    strips = (np.arange(100_000) + 0.5) / 100_000
    work = np.mean(2.62 * strips**1.62 * CUBIC(strips * LINE.side_m - LINE.side_m / 2))

    assert LINE.thinning(1.62, rear=False) @ unknowns(CUBIC) == pytest.approx(work, rel=1e-6)
