"""Overlaps of two sheets: Volkersen 1938, Goland & Reissner 1944, Shigley's Mechanical Engineering Design 9-7.

Formulas and examples from memory; expected values were recomputed, for Shigley's also by finite differences.
"""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread import lap_laws as laws

PSI_Pa, INCH_m = 6894.757293168, 0.0254


@pytest.mark.published
@pytest.mark.parametrize(
    ("shear_modulus_Pa", "bond_m", "sheet_m", "side_m", "lag", "factor"),
    [
        pytest.param(0.5e6, 1.1e-3, 2e-3, 0.050, None, 1.0014, id="foam: even"),
        pytest.param(1.0e9, 0.2e-3, 1.6e-3, 0.0125, 1.868, 1.959, id="rigid adhesive"),
    ],
)
def test_volkersen_balanced(
    shear_modulus_Pa: float, bond_m: float, sheet_m: float, side_m: float, lag: float | None, factor: float
) -> None:
    """tau_max/tau_mean = (w L/2) coth(w L/2), w^2 = (G/t)(1/(E t1) + 1/(E t2)), E = 70 GPa."""
    sheet = laws.sheet_stiffness(70e9, sheet_m)
    found = laws.shear_lag(side_m, shear_modulus_Pa, bond_m, sheet, sheet)
    peak = laws.lap_shear_factor(1.0, found, laws.imbalance(sheet, sheet))

    assert lag is None or found == pytest.approx(lag, rel=1e-3)
    assert peak == pytest.approx(factor, rel=1e-3 if lag else 5e-5)
    assert laws.lap_shear_factor(-1.0, found, 0.0) == pytest.approx(peak)


@pytest.mark.published
def test_shigley_double_lap_with_heat() -> None:
    """Example 9-7: aluminium on both faces of steel, 2000 lbf, 130 F cooler than stress-free.

    w = 3.6515 1/in; 1923 psi at both ends by load (1000 on average), +-2467 psi by heat: one end 4390, the other
    -544, the middle 604 psi. Each bond line is an overlap with half of the inner sheet.
    """
    modulus, bond, side = 0.2e6 * PSI_Pa, 0.020 * INCH_m, 1.0 * INCH_m
    outer = laws.sheet_stiffness(10e6 * PSI_Pa, 0.150 * INCH_m)
    inner = laws.sheet_stiffness(30e6 * PSI_Pa, 0.100 * INCH_m / 2)
    lag = laws.shear_lag(side, modulus, bond, outer, inner)
    unlike = laws.imbalance(outer, inner)
    unrelieved = modulus * (13.3e-6 - 6.0e-6) * 130.0 * side / 2 / bond

    def psi(place: float) -> tuple[float, float]:
        load = laws.peak_shear(laws.lap_shear_factor(place, lag, unlike), 1000.0)
        heat = laws.lap_thermal_shear(unrelieved, place, lag)
        return float(load), float(heat) / PSI_Pa

    assert 2 * lag == pytest.approx(3.6515, rel=1e-4)
    assert psi(1.0) == pytest.approx((1923.0, 2467.0), rel=1e-3)
    assert sum(psi(1.0)) == pytest.approx(4390.5, rel=1e-3)
    assert sum(psi(-1.0)) == pytest.approx(-544.4, rel=1e-3)
    assert sum(psi(0.0)) == pytest.approx(604.0, rel=1e-3)


@pytest.mark.independent
def test_unlike_sheets_against_finite_differences() -> None:
    """Two sheets as rows of springs joined by a bond: shear along an unbalanced overlap, its sum and both ends."""
    first, second, modulus, bond, side, parts = 2.0e8, 0.5e8, 0.8e9, 0.3e-3, 0.03, 4000
    h = side / parts
    # shear flow t: t'' = G/bond (1/s1 + 1/s2) t; ends by the strain of the sheet that carries the load there
    matrix, load, line_load = np.zeros((parts + 1, parts + 1)), np.zeros(parts + 1), 1.0e5
    square = modulus / bond * (1 / first + 1 / second)
    for row in range(1, parts):
        matrix[row, row - 1 : row + 2] = (1 / h**2, -2 / h**2 - square, 1 / h**2)
    matrix[0, :3] = np.array([-3, 4, -1]) / (2 * h)
    matrix[-1, -3:] = np.array([1, -4, 3]) / (2 * h)
    load[0], load[-1] = -modulus / bond * line_load / first, modulus / bond * line_load / second
    shear = np.linalg.solve(matrix, load)
    lag = laws.shear_lag(side, modulus, bond, first, second)
    unlike = laws.imbalance(first, second)

    assert np.trapezoid(shear, dx=h) == pytest.approx(line_load, rel=1e-4)
    mean = line_load / side
    assert shear[-1] / mean == pytest.approx(laws.lap_shear_factor(1.0, lag, unlike), rel=1e-3)
    assert shear[0] / mean == pytest.approx(laws.lap_shear_factor(-1.0, lag, unlike), rel=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(("line_load_N_per_m", "factor"), [(1e3, 0.9632), (1e4, 0.8924), (1e5, 0.7250)])
def test_goland_reissner_moment(line_load_N_per_m: float, factor: float) -> None:
    """k = cosh uc/(cosh uc + 2 sqrt 2 sinh uc): t = 1.6 mm, E = 70 GPa, nu = 0.33, c = 6.25 mm."""
    number = laws.lap_bending_number(0.0125, 1.6e-3, 0.33, line_load_N_per_m, 70e9)

    assert laws.edge_moment_factor(number) == pytest.approx(factor, rel=1e-3)


@pytest.mark.published
def test_goland_reissner_long_overlap() -> None:
    """A long overlap turns into line: k falls to 1/(1 + 2 sqrt 2) = 0.2612 and no lower."""
    assert laws.edge_moment_factor(50.0) == pytest.approx(0.2612, rel=1e-3)


@pytest.mark.published
def test_goland_reissner_peak() -> None:
    """G = 1.1 GPa, 0.2 mm, 1e5 N/m: beta c/t = 3.917, peak over mean 3.318; sheets that only stretch give 2.038."""
    sheet = laws.sheet_stiffness(70e9, 1.6e-3)
    lag = laws.shear_lag(0.0125, 1.1e9, 0.2e-3, sheet, sheet)
    moment = laws.edge_moment_factor(laws.lap_bending_number(0.0125, 1.6e-3, 0.33, 1e5, 70e9))
    stretched, bent = laws.lap_shear_factor(1.0, lag, 0.0), laws.bent_lap_factor(lag, moment)

    assert 2 * lag == pytest.approx(3.917, rel=1e-3)
    assert bent == pytest.approx(3.318, rel=1e-3)
    assert stretched == pytest.approx(2.038, rel=1e-3)
    assert laws.larger_factor(stretched, bent) == bent
