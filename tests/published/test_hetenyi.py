"""Hetenyi, Beams on Elastic Foundation, 1946: the semi-infinite beam with a load at its end; values from memory.

An aluminium strip of 3 x 50 mm (E = 70 GPa) on 1.1 mm of tape of 1 MPa, 100 N at its end.
"""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread import foot_laws, opening_laws

BED_N_per_m3 = 1.0e6 / 1.1e-3
RATE = float(foot_laws.foot_rate(foot_laws.bed_stiffness(1.0e6, 1.1e-3), 70e9, 3e-3))
PULL_N, SIDE_m = 100.0, 0.050


def edge_stress(pull_N: float, along_Nm: float) -> float:
    """Return the edge stress of the strip. [Pa]"""
    return float(foot_laws.foot_edge_stress(RATE, pull_N, along_Nm, 0.0, SIDE_m, 0.050))


def deflections(pull_N: float, moment_Nm: float, length_m: float, parts: int) -> np.ndarray:
    """Return the lift of a strip pulled and turned at its first end, by finite differences. [m]"""
    h, stiffness, bed = length_m / parts, 70e9 * 0.05 * 0.003**3 / 12, BED_N_per_m3 * 0.05
    matrix, load = np.zeros((parts + 5, parts + 5)), np.zeros(parts + 5)
    for row in range(parts + 1):
        matrix[row, row : row + 5] = np.array([1, -4, 6, -4, 1]) * stiffness / h**4
        matrix[row, row + 2] += bed
    ends = (
        (2, moment_Nm, pull_N),
        (parts + 2, 0.0, 0.0),
    )  # E I w'' and E I w''' at the two ends: curled and pulled up
    for number, (at, bent, sheared) in enumerate(ends):
        matrix[parts + 1 + 2 * number, at - 1 : at + 2] = np.array([1, -2, 1]) * stiffness / h**2
        load[parts + 1 + 2 * number] = bent
        matrix[parts + 2 + 2 * number, at - 2 : at + 3] = np.array([-1, 2, 0, -2, 1]) * stiffness / (2 * h**3)
        load[parts + 2 + 2 * number] = sheared
    return np.linalg.solve(matrix, load)[2:-2]


@pytest.mark.published
def test_rate_of_decay() -> None:
    """(k/4EI)^(1/4) = 34.66 1/m with k = 4.5455e7 N/m2 and EI = 7.875 N m2; 1/lambda = 28.85 mm."""
    by_book = (BED_N_per_m3 * 0.05 / (4 * 7.875)) ** 0.25

    assert pytest.approx(by_book, rel=1e-12) == RATE
    assert pytest.approx(34.66, rel=1e-3) == RATE
    assert pytest.approx(28.85e-3, rel=1e-3) == 1 / RATE


@pytest.mark.published
def test_end_load() -> None:
    """y0 = 2 P lambda/k = 0.1525 mm, 138.6 kPa at the edge: 3.5 times the 40 kPa of an even pad of 50 x 50 mm."""
    stress = edge_stress(PULL_N, 0.0)

    assert stress == pytest.approx(138.6e3, rel=1e-3)
    assert stress / BED_N_per_m3 == pytest.approx(0.1525e-3, rel=1e-3)
    assert stress / 40e3 == pytest.approx(3.5, rel=0.02)


@pytest.mark.published
def test_moment_and_first_zero() -> None:
    """|M|max = 0.3224 P/lambda = 0.930 N m at pi/(4 lambda); the lift first turns to pressing at pi/(2 lambda)."""
    moment = float(foot_laws.foot_bending_moment(PULL_N, RATE))

    assert moment == pytest.approx(0.3224 * PULL_N / RATE, rel=1e-3)
    assert moment == pytest.approx(0.930, rel=1e-3)
    assert foot_laws.pulled_length(RATE) == pytest.approx(np.pi / 2 * 28.85e-3, rel=1e-3)


@pytest.mark.independent
@pytest.mark.parametrize("more_Nm", [0.0, 2.0])
def test_edge_against_finite_differences(more_Nm: float) -> None:
    """A strip of ten decay lengths cut into pieces lifts as the law says, by a pull and a moment at its end."""
    lift = deflections(PULL_N, more_Nm, 10 / RATE, 2000)
    stress = edge_stress(PULL_N, PULL_N * SIDE_m / 2 + more_Nm)

    assert lift[0] * BED_N_per_m3 == pytest.approx(stress, rel=2e-3)
    assert np.trapezoid(lift * BED_N_per_m3 * 0.05, dx=10 / RATE / 2000) == pytest.approx(PULL_N, rel=2e-3)


@pytest.mark.published
def test_give_of_an_opened_strip() -> None:
    """Load and moment at the end (from memory) and a cantilever beyond: 2 b/k (1 + 2x + 2x^2 + 2x^3/3)."""
    opened_m, stiffness = 0.020, 7.875
    bed, x = BED_N_per_m3 * 0.05, RATE * 0.020
    lift = 2 * RATE / bed * (1.0 + RATE * opened_m)  # y0 of P = 1 N and M = P s
    turn = 2 * RATE**2 / bed * (1.0 + 2 * RATE * opened_m)
    give = lift + turn * opened_m + opened_m**3 / (3 * stiffness)
    more = float(opening_laws.more_give_bending(RATE, SIDE_m, opened_m)) / (bed * SIDE_m)

    assert give == pytest.approx(2 * RATE / bed * (1 + 2 * x + 2 * x**2 + 2 * x**3 / 3), rel=1e-3)
    assert more == pytest.approx(give - 2 * RATE / bed, rel=1e-3)


@pytest.mark.independent
def test_give_of_an_opened_strip_against_finite_differences() -> None:
    """The strip in pieces, ten decay lengths bonded, pulled 20 mm beyond its bonded end, gives as the law says."""
    opened_m, parts = 0.020, 2000
    step = 10 / RATE / parts
    lift = deflections(1.0, 1.0 * opened_m, 10 / RATE, parts)
    turn = -(-3 * lift[0] + 4 * lift[1] - lift[2]) / (2 * step)
    give = lift[0] + turn * opened_m + opened_m**3 / (3 * 70e9 * 0.05 * 0.003**3 / 12)
    whole = deflections(1.0, 0.0, 10 / RATE, parts)[0]
    more = float(opening_laws.more_give_bending(RATE, SIDE_m, opened_m)) / (BED_N_per_m3 * 0.05 * SIDE_m)

    assert more == pytest.approx(give - whole, rel=5e-3)
