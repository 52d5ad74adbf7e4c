"""Laws of rupture under sustained load: stress, time, temperature, ramps, summed damage."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.law import law

Value = float | NDArray[np.float64]

GAS_CONSTANT_J_per_mol_K = 8.314462618  # CODATA 2018, exact since the SI of 2019 (shortened)
HOUR_s = 3600.0  # SI brochure, table 8
BASQUIN = "power law of stress rupture: Charles, J. Appl. Phys. 29 (1958) 1657; form of ASTM C1368"
CHARLES = "Charles, J. Appl. Phys. 29 (1958) 1657, constant stress rate"
ARRHENIUS = "Arrhenius life-temperature model: NIST/SEMATECH e-Handbook 8.1.5.1"
WLF = "Williams, Landel & Ferry, J. Am. Chem. Soc. 77 (1955) 3701"
LARSON_MILLER = "Larson & Miller, Trans. ASME 74 (1952) 765"
ROBINSON = "Robinson, Trans. ASME 60 (1938) 253; Palmgren 1924, Miner 1945 for cycles"


@law(
    unit="s",
    equation="t = t0 * (S / p)**m",
    symbols={"t0": "reference_life_s", "S": "strength_Pa", "p": "stress_Pa", "m": "slope"},
    source=BASQUIN,
)
def rupture_life(stress_Pa: Value, strength_Pa: Value, reference_life_s: Value, slope: Value) -> Value:
    """Return the life under a constant stress. [s]

    Parameters
    ----------
    stress_Pa : float
        Stress held, above 0. [Pa]
    strength_Pa : float
        Stress that is held for the reference life. [Pa]
    reference_life_s : float
        Reference life. [s]
    slope : float
        Exponent m of the power law of life, above 0. [1]

    Examples
    --------
    >>> rupture_life(50e3, 100e3, 3600.0, 8.0)
    921600.0
    """
    return reference_life_s * (strength_Pa / stress_Pa) ** slope


@law(
    unit="Pa",
    equation="p = S * (t / t0)**(-1 / m)",
    symbols={"t": "lasts_s", "t0": "reference_life_s", "S": "strength_Pa", "m": "slope"},
    source=BASQUIN,
)
def stress_for_life(lasts_s: Value, strength_Pa: Value, reference_life_s: Value, slope: Value) -> Value:
    """Return the constant stress that is held for a given time. [Pa]

    Parameters
    ----------
    lasts_s : float
        Time the stress must be held. [s]
    strength_Pa : float
        Stress that is held for the reference life. [Pa]
    reference_life_s : float
        Reference life. [s]
    slope : float
        Exponent m of the power law of life, above 0. [1]

    Examples
    --------
    >>> stress_for_life(921600.0, 100e3, 3600.0, 8.0)
    50000.0
    """
    return strength_Pa * (lasts_s / reference_life_s) ** (-1.0 / slope)


@law(unit="s", equation="t = t_r / (m + 1)", symbols={"t_r": "pull_s", "m": "slope"}, source=CHARLES)
def ramp_static_life(pull_s: Value, slope: Value) -> Value:
    """Return the static life that a pull at a constant rate stands for, at its breaking stress. [s]

    Parameters
    ----------
    pull_s : float
        Time from no load to the break. [s]
    slope : float
        Exponent m of the power law of life. [1]

    Examples
    --------
    >>> ramp_static_life(60.0, 16.0)
    3.53
    """
    return pull_s / (slope + 1.0)


@law(
    unit="Pa",
    equation="p = (v * (m + 1) * t0 * S**m)**(1 / (m + 1))",
    symbols={"v": "stress_rate_Pa_per_s", "S": "strength_Pa", "t0": "reference_life_s", "m": "slope"},
    source=CHARLES,
)
def ramp_breaking_stress(
    stress_rate_Pa_per_s: Value, strength_Pa: Value, reference_life_s: Value, slope: Value
) -> Value:
    """Return the stress at which a pull at a constant rate breaks. [Pa]

    Parameters
    ----------
    stress_rate_Pa_per_s : float
        Rate of the pull. [Pa/s]
    strength_Pa : float
        Stress that is held for the reference life. [Pa]
    reference_life_s : float
        Reference life. [s]
    slope : float
        Exponent m of the power law of life. [1]

    Examples
    --------
    >>> ramp_breaking_stress(10e3, 100e3, 3600.0, 8.0)
    245505.1
    """
    # written as a ratio, because the m-th power of a stress in Pa overflows where m is large
    ratio = stress_rate_Pa_per_s * (slope + 1.0) * reference_life_s / strength_Pa
    return strength_Pa * ratio ** (1.0 / (slope + 1.0))


@law(
    unit="1",
    equation="a = exp(E / 8.314462618 * (1 / T - 1 / T0))",
    symbols={"E": "activation_energy_J_per_mol", "T": "temperature_K", "T0": "reference_temperature_K"},
    source=ARRHENIUS,
)
def arrhenius_shift(
    temperature_K: Value, reference_temperature_K: Value, activation_energy_J_per_mol: Value
) -> Value:
    """Return life at a temperature over life at the reference temperature, by Arrhenius. [1]

    Parameters
    ----------
    temperature_K : float
        Temperature of the bond. [K]
    reference_temperature_K : float
        Temperature that life is known at. [K]
    activation_energy_J_per_mol : float
        Apparent activation energy. [J/mol]

    Examples
    --------
    >>> float(1 / arrhenius_shift(343.15, 296.15, 60e3))
    28.15
    """
    inverse = 1.0 / temperature_K - 1.0 / reference_temperature_K
    return np.exp(activation_energy_J_per_mol / GAS_CONSTANT_J_per_mol_K * inverse)


@law(
    unit="1",
    equation="a = 10**(-c1 * (T - T0) / (c2 + T - T0))",
    symbols={"c1": "wlf_slope", "c2": "wlf_offset_K", "T": "temperature_K", "T0": "reference_temperature_K"},
    source=WLF,
)
def wlf_shift(
    temperature_K: Value, reference_temperature_K: Value, wlf_slope: Value, wlf_offset_K: Value
) -> Value:
    """Return life at a temperature over life at the reference temperature, by Williams, Landel and Ferry. [1]

    Valid from the glass transition to about 100 K above it.

    Parameters
    ----------
    temperature_K : float
        Temperature of the bond. [K]
    reference_temperature_K : float
        Temperature that life is known at. [K]
    wlf_slope : float
        Constant c1 for that reference. [1]
    wlf_offset_K : float
        Constant c2 for that reference. [K]

    Examples
    --------
    >>> wlf_shift(263.15, 243.15, 17.44, 51.6)
    1.3443e-05
    """
    above = temperature_K - reference_temperature_K
    return 10.0 ** (-wlf_slope * above / (wlf_offset_K + above))


@law(
    unit="1",
    equation="c = c1 * c2 / (c2 + T - T0)",
    symbols={"c1": "wlf_slope", "c2": "wlf_offset_K", "T": "temperature_K", "T0": "reference_temperature_K"},
    source=WLF,
)
def moved_wlf_slope(
    temperature_K: Value, reference_temperature_K: Value, wlf_slope: Value, wlf_offset_K: Value
) -> Value:
    """Return the constant c1 for another reference temperature. [1]

    Parameters
    ----------
    temperature_K : float
        New reference temperature. [K]
    reference_temperature_K : float
        Old reference temperature. [K]
    wlf_slope : float
        Constant c1 for the old reference. [1]
    wlf_offset_K : float
        Constant c2 for the old reference. [K]

    Examples
    --------
    >>> moved_wlf_slope(293.15, 243.15, 17.44, 51.6)
    8.857
    """
    return wlf_slope * wlf_offset_K / (wlf_offset_K + temperature_K - reference_temperature_K)


@law(
    unit="K",
    equation="c = c2 + T - T0",
    symbols={"c2": "wlf_offset_K", "T": "temperature_K", "T0": "reference_temperature_K"},
    source=WLF,
)
def moved_wlf_offset(temperature_K: Value, reference_temperature_K: Value, wlf_offset_K: Value) -> Value:
    """Return the constant c2 for another reference temperature. [K]

    Parameters
    ----------
    temperature_K : float
        New reference temperature. [K]
    reference_temperature_K : float
        Old reference temperature. [K]
    wlf_offset_K : float
        Constant c2 for the old reference. [K]

    Examples
    --------
    >>> moved_wlf_offset(293.15, 243.15, 51.6)
    101.6
    """
    return wlf_offset_K + temperature_K - reference_temperature_K


@law(
    unit="K",
    equation="P = T * (C + log10(t / 3600))",
    symbols={"T": "temperature_K", "C": "constant", "t": "life_s"},
    source=LARSON_MILLER,
)
def larson_miller_parameter(life_s: Value, temperature_K: Value, constant: Value) -> Value:
    """Return the parameter of Larson and Miller, life counted in hours. [K]

    Parameters
    ----------
    life_s : float
        Life at that temperature. [s]
    temperature_K : float
        Temperature. [K]
    constant : float
        Constant C of the material for hours and kelvin: 20 for steel, fitted for polymers. [1]

    Examples
    --------
    >>> float(larson_miller_parameter(838500.0, 1073.0, 20.0))
    24000.0
    """
    return temperature_K * (constant + np.log10(life_s / HOUR_s))


@law(
    unit="s",
    equation="t = 3600 * 10**(P / T - C)",
    symbols={"P": "parameter_K", "T": "temperature_K", "C": "constant"},
    source=LARSON_MILLER,
)
def larson_miller_life(parameter_K: Value, temperature_K: Value, constant: Value) -> Value:
    """Return the life at a temperature from the parameter of Larson and Miller. [s]

    Parameters
    ----------
    parameter_K : float
        Parameter at the stress in question. [K]
    temperature_K : float
        Temperature. [K]
    constant : float
        Constant C of the material for hours and kelvin. [1]

    Examples
    --------
    >>> larson_miller_life(24000.0, 1073.0, 20.0) / 3600
    232.9
    """
    return HOUR_s * 10.0 ** (parameter_K / temperature_K - constant)


@law(unit="1", method="sum over the spells of duration over life, along the last axis", source=ROBINSON)
def robinson_sum(durations_s: Value, lives_s: Value) -> Value:
    """Return the share of life that spells under different loads use up together; the bond fails at 1. [1]

    Parameters
    ----------
    durations_s : array
        How long each spell lasts, last axis over spells. [s]
    lives_s : array
        Life under the load of each spell. [s]

    Examples
    --------
    >>> float(robinson_sum([2400.0, 900.0, 300.0], [1.8e8, 2.34e7, 3.6e6]))
    0.000135128
    """
    used: Value = np.sum(np.asarray(durations_s) / np.asarray(lives_s), axis=-1)
    return used


@law(
    unit="s",
    equation="t_e = t * (p / p0)**m",
    symbols={"t": "duration_s", "p": "stress_Pa", "p0": "reference_stress_Pa", "m": "slope"},
    source="from the power law of life and the sum of Robinson",
)
def equivalent_time(duration_s: Value, stress_Pa: Value, reference_stress_Pa: Value, slope: Value) -> Value:
    """Return how long a reference stress would use up the same share of life. [s]

    Parameters
    ----------
    duration_s : float
        How long the stress acts. [s]
    stress_Pa : float
        Stress that acts. [Pa]
    reference_stress_Pa : float
        Stress it is compared with, at the same temperature. [Pa]
    slope : float
        Exponent m of the power law of life. [1]

    Examples
    --------
    >>> equivalent_time(3600.0, 150e3, 100e3, 8.0)
    92264.1
    """
    return duration_s * (stress_Pa / reference_stress_Pa) ** slope
