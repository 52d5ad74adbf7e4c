"""Laws of the bond's temperature over a day and a departure, and of thermal movement."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact by the SI of 2019
SPELLS_OF_DAY = 48


@law(
    unit="K",
    equation="T = T_a + c * G",
    symbols={"T_a": "air_temperature_K", "c": "sun_factor_K_m2_per_W", "G": "sun_W_per_m2"},
    source="planning form: rise over air in proportion to the sun, from one owner's calm-day measurement",
)
def parked_temperature(air_temperature_K: Value, sun_factor_K_m2_per_W: Value, sun_W_per_m2: Value) -> Value:
    """Return the temperature of a parked roof, bond or item in the sun. [K]

    Parameters
    ----------
    air_temperature_K : float
        Air temperature. [K]
    sun_factor_K_m2_per_W : float
        Rise over air for each W/m² of sun. [K m²/W]
    sun_W_per_m2 : float
        Sun on the horizontal. [W/m²]

    Examples
    --------
    >>> parked_temperature(313.15, 0.044, 1000.0)
    357.15
    """
    return air_temperature_K + sun_factor_K_m2_per_W * sun_W_per_m2


@law(
    unit="K",
    equation="dT = T_h - T_c",
    symbols={"T_h": "hot_K", "T_c": "cold_K"},
    source="definition: span between hot and cold soak",
)
def temperature_span(hot_K: Value, cold_K: Value) -> Value:
    """Return the temperature change of a part between cold and hot soak. [K]

    Parameters
    ----------
    hot_K, cold_K : float
        Temperatures of the part in the two soaks. [K]

    Examples
    --------
    >>> temperature_span(350.0, 260.0)
    90.0
    """
    return hot_K - cold_K


@law(
    unit="1",
    equation="m = abs(a_1 * dT_1 - a_2 * dT_2)",
    symbols={
        "a_1": "first_expansion_one_per_K",
        "dT_1": "first_change_K",
        "a_2": "second_expansion_one_per_K",
        "dT_2": "second_change_K",
    },
    source="definition: difference of free thermal strains, each part with its own change",
)
def mismatch_strain(
    first_expansion_one_per_K: Value,
    first_change_K: Value,
    second_expansion_one_per_K: Value,
    second_change_K: Value,
) -> Value:
    """Return the difference of free thermal strain of two parts. [1]

    Parameters
    ----------
    first_expansion_one_per_K, second_expansion_one_per_K : float
        Linear thermal expansion. [1/K]
    first_change_K, second_change_K : float
        Temperature change of each part. [K]

    Examples
    --------
    >>> float(mismatch_strain(23.1e-6, 60.0, 12e-6, 60.0))
    0.000666
    """
    first = first_expansion_one_per_K * first_change_K
    return np.abs(first - second_expansion_one_per_K * second_change_K)


@law(
    unit="1",
    equation="gamma = m * d / t",
    symbols={"m": "mismatch", "d": "distance_m", "t": "thickness_m"},
    source="definition; ASTM C1401 computes sealant movement the same way",
)
def thermal_shear_strain(mismatch: Value, distance_m: Value, thickness_m: Value) -> Value:
    """Return the shear strain of a bond at a distance from the point that does not move. [1]

    Parameters
    ----------
    mismatch : float
        Difference of thermal strain of the parts it joins. [1]
    distance_m : float
        Distance from the stiffness centre (for a foot, its own half length). [m]
    thickness_m : float
        Thickness of the tape. [m]

    Examples
    --------
    >>> thermal_shear_strain(0.000666, 0.5, 0.0011)
    0.303
    """
    return mismatch * distance_m / thickness_m


@law(
    unit="1",
    equation="gamma = (g_1 + g_2) / 2",
    symbols={"g_1": "item_strain", "g_2": "foot_strain"},
    source="half of the span between hot and cold soak each way from the middle; item and foot summed, safe side",
)
def strain_each_way(item_strain: Value, foot_strain: Value) -> Value:
    """Return the daily shear strain each way from the middle of the span. [1]

    Parameters
    ----------
    item_strain : float
        Strain over the whole span from item against roof. [1]
    foot_strain : float
        Strain over the whole span from foot against roof, at the foot's end. [1]

    Examples
    --------
    >>> strain_each_way(0.4, 0.1)
    0.25
    """
    return (item_strain + foot_strain) / 2


@law(
    unit="m",
    equation="d = hypot(x - x_0, y - y_0)",
    symbols={"x": "x_m", "x_0": "centre_x_m", "y": "y_m", "y_0": "centre_y_m"},
    source="definition: distance in the plane",
)
def plane_distance(x_m: Value, centre_x_m: Value, y_m: Value, centre_y_m: Value) -> Value:
    """Return the distance of a pad's centre from the stiffness centre of the group. [m]

    Parameters
    ----------
    x_m, y_m : float
        The pad's centre. [m]
    centre_x_m, centre_y_m : float
        Stiffness centre in the plane. [m]

    Examples
    --------
    >>> float(plane_distance(0.3, 0.0, 0.4, 0.0))
    0.5
    """
    return np.hypot(x_m - centre_x_m, y_m - centre_y_m)


@law(
    unit="m",
    method="centre of areas: sum of place x area over sum of area, along the last axis",
    source="definition: stiffness centre of pads of one tape and thickness",
)
def weighted_centre(place_m: Value, area_m2: Value) -> float:
    """Return the stiffness centre of a group of pads along one axis. [m]

    Parameters
    ----------
    place_m : array
        Coordinates of the pads' centres. [m]
    area_m2 : array
        Their areas. [m²]

    Examples
    --------
    >>> weighted_centre(np.array([0.0, 1.0]), np.array([1.0, 3.0]))
    0.75
    """
    return float(np.sum(place_m * area_m2) / np.sum(np.broadcast_to(area_m2, np.shape(place_m))))


@law(
    unit="m",
    equation="l = s / 2",
    symbols={"s": "side_m"},
    source="definition",
)
def half_length(side_m: Value) -> Value:
    """Return half of a foot's longer side. [m]

    Parameters
    ----------
    side_m : float
        The longer side of the pad. [m]

    Examples
    --------
    >>> half_length(0.08)
    0.04
    """
    return side_m / 2


@law(
    unit="s",
    equation="tau = C / h",
    symbols={"C": "heat_capacity_J_per_m2_K", "h": "surface_W_per_m2_K"},
    source="one lump that gives its heat to the air: textbook, valid for thin skins (Biot number below 0.1)",
)
def time_constant(heat_capacity_J_per_m2_K: Value, surface_W_per_m2_K: Value) -> Value:
    """Return the time in which a difference of temperature falls to 37 %. [s]

    Parameters
    ----------
    heat_capacity_J_per_m2_K : float
        Of the roof's skin with the tape, for its area. [J/m²K]
    surface_W_per_m2_K : float
        Heat transfer of the surface. [W/m²K]

    Examples
    --------
    >>> time_constant(15000.0, 60.0)
    250.0
    """
    return heat_capacity_J_per_m2_K / surface_W_per_m2_K


@law(
    unit="W/m2",
    equation="G_s = k * G",
    symbols={"k": "share", "G": "sun_W_per_m2"},
    source="planning form: what the sky and bright things around still send into a shadow",
)
def sun_in_shade(share: Value, sun_W_per_m2: Value) -> Value:
    """Return the sun that reaches a vehicle parked in the shade. [W/m²]

    Parameters
    ----------
    share : float
        Share of the full sun that is no direct sun. [1]
    sun_W_per_m2 : float
        Full sun on the horizontal. [W/m²]

    Examples
    --------
    >>> sun_in_shade(0.4, 1000.0)
    400.0
    """
    return share * sun_W_per_m2


@law(
    unit="K",
    equation="T = T_e + (T_0 - T_e) * exp(-t / tau)",
    symbols={"T_e": "final_K", "T_0": "start_K", "t": "time_s", "tau": "constant_s"},
    source="one lump that gives its heat to the air: textbook",
)
def cooled_temperature(final_K: Value, start_K: Value, time_s: Value, constant_s: Value) -> Value:
    """Return the temperature on the way from one state to another, after a time. [K]

    Parameters
    ----------
    final_K, start_K : float
        Temperature in the end, and at first. [K]
    time_s : float
        Time since the start. [s]
    constant_s : float
        Time constant. [s]

    Examples
    --------
    >>> float(cooled_temperature(320.0, 360.0, 600.0, 250.0))
    323.63
    """
    return final_K + (start_K - final_K) * np.exp(-time_s / constant_s)


@law(
    unit="K",
    method="E/R over minus the log of the mean of exp(-E/(R T)), along the last axis",
    source="mean kinetic temperature: Haynes, J. Pharm. Sci. 60 (1971) 927; USP <1079.2>; from memory",
)
def mean_kinetic_temperature(temperatures_K: Value, activation_energy_J_per_mol: Value) -> Value:
    """Return the steady temperature at which as much happens as in spells of equal length. [K]

    Parameters
    ----------
    temperatures_K : array
        One a spell, along the last axis. [K]
    activation_energy_J_per_mol : float
        Activation energy of what happens. [J/mol]

    Examples
    --------
    >>> float(mean_kinetic_temperature(np.array([293.15, 313.15]), 83144.62618))
    307.51
    """
    energy_K = np.asarray(activation_energy_J_per_mol)[..., None] / GAS_CONSTANT
    # relative to the hottest spell, so that no exponential runs out of range
    hottest = np.max(temperatures_K, axis=-1, keepdims=True)
    share = np.mean(np.exp(energy_K / hottest - energy_K / temperatures_K), axis=-1)
    energy_K, hottest = energy_K[..., 0], hottest[..., 0]
    mean: Value = energy_K / (energy_K / hottest - np.log(share))
    return mean


@law(
    unit="K",
    method="mean kinetic temperature of a day: twelve hours at the coolest, twelve up and down as half a sine",
    source="Haynes 1971 over a day of clear sky; shape of the day: common practice, no source",
)
def equivalent_day_temperature(
    coolest_K: Value, hottest_K: Value, activation_energy_J_per_mol: Value
) -> Value:
    """Return the steady temperature that uses a bond as much as a day in the sun does. [K]

    Parameters
    ----------
    coolest_K, hottest_K : float
        Bond by night and at noon. [K]
    activation_energy_J_per_mol : float
        Activation energy of the bond's rupture. [J/mol]

    Examples
    --------
    >>> float(equivalent_day_temperature(311.15, 366.15, 120e3))
    350.1
    """
    middles = (np.arange(SPELLS_OF_DAY) + 0.5) / SPELLS_OF_DAY
    shares = np.maximum(0.0, np.sin(2 * np.pi * middles))
    cool, hot = np.asarray(coolest_K)[..., None], np.asarray(hottest_K)[..., None]
    return mean_kinetic_temperature(cool + (hot - cool) * shares, activation_energy_J_per_mol)


@law(
    unit="m",
    equation="l = maximum(0, 2 * t * (2 * g - s) / m)",
    symbols={"t": "thickness_m", "g": "strain_limit", "s": "item_strain", "m": "foot_mismatch"},
    source="thermal shear strain at the foot's end turned round; item and foot summed, safe side",
)
def longest_foot(thickness_m: Value, strain_limit: Value, item_strain: Value, foot_mismatch: Value) -> Value:
    """Return the longest foot whose ends would just keep the limit of strain, 0 where none would. [m]

    Parameters
    ----------
    thickness_m : float
        Thickness of the tape. [m]
    strain_limit : float
        Daily shear strain each way that a tape may reach. [1]
    item_strain : float
        Strain over the whole span from item against roof at this mount. [1]
    foot_mismatch : float
        Difference of thermal strain of foot and roof over the span, above 0. [1]

    Examples
    --------
    >>> float(longest_foot(0.0011, 0.5, 0.4, 0.002))
    0.66
    """
    return np.maximum(0.0, 2 * thickness_m * (2 * strain_limit - item_strain) / foot_mismatch)


@law(
    unit="Pa",
    equation="s = G * gamma",
    symbols={"G": "shear_modulus_Pa", "gamma": "strain"},
    source="Hooke's law in shear",
)
def thermal_shear_stress(shear_modulus_Pa: Value, strain: Value) -> Value:
    """Return the shear stress that thermal movement leaves in a rigid adhesive. [Pa]

    Parameters
    ----------
    shear_modulus_Pa : float
        Shear modulus of the adhesive. [Pa]
    strain : float
        Daily shear strain each way. [1]

    Examples
    --------
    >>> thermal_shear_stress(1e9, 0.001)
    1000000.0
    """
    return shear_modulus_Pa * strain


@law(
    unit="1",
    equation="e = d / t",
    symbols={"d": "gap_m", "t": "thickness_m"},
    source="definition: a gap pressed shut stretches the tape for good",
)
def fit_strain(gap_m: Value, thickness_m: Value) -> Value:
    """Return the strain that a gap pressed shut leaves in the tape. [1]

    Parameters
    ----------
    gap_m : float
        Gap between foot and roof before pressing, tape included. [m]
    thickness_m : float
        Thickness of the tape. [m]

    Examples
    --------
    >>> fit_strain(0.0001, 0.001)
    0.1
    """
    return gap_m / thickness_m


@law(
    unit="Pa",
    equation="s = E * e",
    symbols={"E": "tension_modulus_Pa", "e": "strain"},
    source="Hooke's law in tension",
)
def fit_stress(tension_modulus_Pa: Value, strain: Value) -> Value:
    """Return the tension that a gap pressed shut leaves in the tape for good. [Pa]

    Parameters
    ----------
    tension_modulus_Pa : float
        Modulus of the tape in tension. [Pa]
    strain : float
        What the gap leaves. [1]

    Examples
    --------
    >>> fit_stress(1e6, 0.05)
    50000.0
    """
    return tension_modulus_Pa * strain
