"""The quasi-random points: how evenly they lie, and their map to heavy tails."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import stdtr, stdtrit

from staydown.strength import lattice


def worst_case_error(count: int, dimensions: int) -> float:
    """Return the squared worst-case error P2 with product weights 1/j², Nuyens & Cools 2006."""
    points = lattice.lattice_points(count, np.zeros(dimensions))
    kernel = 2 * math.pi**2 * (points**2 - points + 1 / 6)
    weights = 1.0 / np.arange(1, dimensions + 1) ** 2
    return float(np.prod(1.0 + weights * kernel, axis=1).mean() - 1.0)


@pytest.mark.independent
@pytest.mark.parametrize("dimensions", [2, 4, 6, 10])
def test_error_falls_faster_than_chance(dimensions: int) -> None:
    """From 512 to 8192 points the squared error falls far more than the 16 times of random points."""
    few, many = worst_case_error(512, dimensions), worst_case_error(8192, dimensions)
    mean_of_random = float(np.prod(1.0 + math.pi**2 / 3 / np.arange(1, dimensions + 1) ** 2) - 1.0) / 8192

    assert few / many > 20
    assert many < 0.2 * mean_of_random


@pytest.mark.by_hand
def test_every_axis_is_even() -> None:
    """On each axis n points are n equal steps, whatever the shift."""
    points = lattice.lattice_points(512, lattice.shift_of(3, 1, 24))

    assert np.diff(np.sort(points, axis=0), axis=0) == pytest.approx(np.full((511, 24), 1 / 512), abs=1e-9)


@pytest.mark.independent
def test_heavy_tails() -> None:
    """Quantile and density of Student's t with 4 degrees of freedom are the library's."""
    u = np.linspace(1e-6, 1 - 1e-6, 2001)
    t = lattice.t4_quantile(u)
    step = 1e-5
    density = (stdtr(4, t + step) - stdtr(4, t - step)) / (2 * step)

    assert t == pytest.approx(stdtrit(4, u), rel=1e-7, abs=1e-7)
    assert np.exp(lattice.t4_log_density(t))[500:1500] == pytest.approx(density[500:1500], rel=1e-5)


def test_too_many_dimensions_are_refused() -> None:
    """The generating vector has 24 entries."""
    with pytest.raises(ValueError, match="at most 24"):
        lattice.lattice_points(512, np.zeros(25))


def test_seeds_and_turns_shift_apart() -> None:
    """Different seeds and turns give different shifts, the same ones the same."""
    shifts = {tuple(lattice.shift_of(seed, turn, 3)) for seed in range(5) for turn in range(5)}

    assert len(shifts) == 25
    assert np.array_equal(lattice.shift_of(2, 3, 5), lattice.shift_of(2, 3, 5))
