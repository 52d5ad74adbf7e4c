"""Laws of the bond's planning temperature and of thermal movement."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


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
