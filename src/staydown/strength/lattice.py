"""Quasi-random points: a shifted rank-1 lattice and a heavy-tailed map from the unit cube."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Generating vector, found component by component for 512, 2048 and 8192 points at once (worst-case error P2,
# product weights 1/j²; method: Nuyens & Cools, Math. Comp. 75 (2006) 903); a test recomputes its quality.
GENERATOR = (
    *(1, 567, 133, 209, 331, 451, 487, 651, 675, 711, 725, 743),
    *(751, 789, 823, 863, 949, 979, 1037, 1071, 1093, 1153, 1165, 1179),
)
# the roots of primes are independent over the rationals: their multiples fill the cube evenly (Weyl 1916)
PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89)
TURNS = 64  # shifts kept for one seed


def lattice_points(count: int, shift: Array) -> Array:
    """Return points of a shifted lattice in the open unit cube, shape (count, dimensions).

    Every fourth point is again a lattice, so that quarters of the set tell the error of the whole.

    Raises
    ------
    ValueError
        More dimensions are asked than the generating vector has.
    """
    if shift.size > len(GENERATOR):
        raise ValueError(f"at most {len(GENERATOR)} dimensions, got {shift.size}")
    steps = np.arange(count)[:, None] * np.array(GENERATOR[: shift.size]) % count / count
    points: Array = (steps + shift) % 1.0
    inside: Array = np.clip(points, 1e-12, 1.0 - 1e-12)
    return inside


def shift_of(seed: int, turn: int, dimensions: int) -> Array:
    """Return the shift of a lattice: evenly spread over seeds and turns, no chance in it."""
    steps = seed * TURNS + turn + 1
    shift: Array = (steps * np.sqrt(np.array(PRIMES[:dimensions], dtype=float))) % 1.0
    return shift


def t4_quantile(u: Array) -> Array:
    """Return the quantile of Student's t with 4 degrees of freedom (closed form of Shaw 2006)."""
    alpha = np.sqrt(4.0 * u * (1.0 - u))
    root = np.cos(np.arccos(np.minimum(alpha, 1.0)) / 3.0) / alpha
    t: Array = np.sign(u - 0.5) * 2.0 * np.sqrt(np.maximum(root - 1.0, 0.0))
    return t


def t4_log_density(t: Array) -> Array:
    """Return the log density of Student's t with 4 degrees of freedom."""
    density: Array = np.log(0.375) - 2.5 * np.log1p(0.25 * t * t)
    return density
