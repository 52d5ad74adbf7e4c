"""Laws of air that streams over a flat roof: heat transfer, boundary layer, pressure within it."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

# Flat plate, parallel flow, mean over the length: laminar up to Re 5e5, then turbulent from there on
# (Cengel, Heat and Mass Transfer, ch. 7; Incropera, ch. 7; values from memory)
TRANSITION_REYNOLDS = 5e5
LAMINAR_FACTOR = 0.664
TURBULENT_FACTOR = 0.037
TURBULENT_POWER = 0.8
TRANSITION_OFFSET = 871.0
# Schlichting, Boundary-Layer Theory, ch. 7 (laminar) and 21 (turbulent, 1/7 power); values from memory
LAMINAR_THICKNESS = 5.0
TURBULENT_THICKNESS = 0.37
THICKNESS_POWER = 0.2
PROFILE_SHARE = 7 / 9
PROFILE_POWER = 9 / 7
# McAdams, Heat Transmission, after Juerges 1924, wind up to 5 m/s; values from memory
STILL_CONVECTION_W_per_m2_K = 5.7
CONVECTION_PER_SPEED = 3.8


@law(
    unit="1",
    equation="Re = v * l / nu",
    symbols={"v": "air_speed_m_per_s", "l": "length_m", "nu": "kinematic_viscosity_m2_per_s"},
    source="definition",
)
def reynolds_number(air_speed_m_per_s: Value, length_m: Value, kinematic_viscosity_m2_per_s: Value) -> Value:
    """Return the Reynolds number of a flow along a length. [1]

    Parameters
    ----------
    air_speed_m_per_s : float
        Speed of the air. [m/s]
    length_m : float
        Length along the flow. [m]
    kinematic_viscosity_m2_per_s : float
        Of the air. [m²/s]

    Examples
    --------
    >>> reynolds_number(30.0, 3.0, 1.46e-5)
    6164383.56
    """
    return air_speed_m_per_s * length_m / kinematic_viscosity_m2_per_s


@law(
    unit="1",
    equation="Nu = where(Re < 5e5, 0.664 * Re**0.5, 0.037 * Re**0.8 - 871) * Pr**(1/3)",
    symbols={"Re": "reynolds", "Pr": "prandtl"},
    source="Cengel, Heat and Mass Transfer, ch. 7: flat plate, laminar or laminar then turbulent; from memory",
)
def flat_plate_nusselt(reynolds: Value, prandtl: Value) -> Value:
    """Return the mean Nusselt number of a flat plate along the flow. [1]

    Parameters
    ----------
    reynolds : float
        Reynolds number over the plate's length, 0 to 1e7 (to 1e8 in common practice). [1]
    prandtl : float
        Prandtl number, 0.6 and above. [1]

    Examples
    --------
    >>> float(flat_plate_nusselt(4.71e5, 0.7154))
    407.5
    """
    laminar = LAMINAR_FACTOR * reynolds**0.5
    mixed = TURBULENT_FACTOR * reynolds**TURBULENT_POWER - TRANSITION_OFFSET
    return np.where(np.asarray(reynolds) < TRANSITION_REYNOLDS, laminar, mixed) * prandtl ** (1 / 3)


@law(
    unit="W/m2K",
    equation="h = Nu * k / l",
    symbols={"Nu": "nusselt", "k": "conductivity_W_per_m_K", "l": "length_m"},
    source="definition",
)
def convection_coefficient(nusselt: Value, conductivity_W_per_m_K: Value, length_m: Value) -> Value:
    """Return the heat transfer from a surface to the air that streams over it. [W/m²K]

    Parameters
    ----------
    nusselt : float
        Nusselt number over the length. [1]
    conductivity_W_per_m_K : float
        Thermal conductivity of the air. [W/mK]
    length_m : float
        Length along the flow. [m]

    Examples
    --------
    >>> convection_coefficient(2687.0, 0.02953, 6.0)
    13.22
    """
    return nusselt * conductivity_W_per_m_K / length_m


@law(
    unit="W/m2K",
    equation="h = maximum(h_1, h_2)",
    symbols={"h_1": "first_W_per_m2_K", "h_2": "second_W_per_m2_K"},
    source="definition: a breeze never cools less than a calm",
)
def larger_convection(first_W_per_m2_K: Value, second_W_per_m2_K: Value) -> Value:
    """Return the larger of two heat transfers. [W/m²K]

    Parameters
    ----------
    first_W_per_m2_K, second_W_per_m2_K : float
        Heat transfer to the air, in a calm and in the wind. [W/m²K]

    Examples
    --------
    >>> float(larger_convection(5.0, 3.0))
    5.0
    """
    return np.maximum(first_W_per_m2_K, second_W_per_m2_K)


@law(
    unit="W/m2K",
    equation="h = 5.7 + 3.8 * v",
    symbols={"v": "air_speed_m_per_s"},
    source="McAdams, Heat Transmission, after Juerges; wind up to 5 m/s; from memory",
)
def light_wind_convection(air_speed_m_per_s: Value) -> Value:
    """Return the heat transfer from a surface in the open to a light wind. [W/m²K]

    Parameters
    ----------
    air_speed_m_per_s : float
        Wind, 0 to 5. [m/s]

    Examples
    --------
    >>> light_wind_convection(5.0)
    24.7
    """
    return STILL_CONVECTION_W_per_m2_K + CONVECTION_PER_SPEED * air_speed_m_per_s


@law(
    unit="m",
    equation="d = x * where(Re < 5e5, 5.0 * Re**-0.5, 0.37 * Re**-0.2)",
    symbols={"x": "distance_m", "Re": "reynolds"},
    source="Schlichting, Boundary-Layer Theory, ch. 7 and 21: flat plate, laminar, turbulent; from memory",
)
def boundary_layer_thickness(distance_m: Value, reynolds: Value) -> Value:
    """Return how thick the slowed layer of air is that a smooth roof would carry. [m]

    Parameters
    ----------
    distance_m : float
        Behind the roof's front edge. [m]
    reynolds : float
        Reynolds number over that distance, above 0. [1]

    Examples
    --------
    >>> float(boundary_layer_thickness(3.0, 6.164e6))
    0.04868
    """
    laminar, turbulent = LAMINAR_THICKNESS * reynolds**-0.5, TURBULENT_THICKNESS * reynolds**-THICKNESS_POWER
    return distance_m * np.where(np.asarray(reynolds) < TRANSITION_REYNOLDS, laminar, turbulent)


@law(
    unit="1",
    equation=(
        "s = (7/9 * d * ((minimum(z + h, d) / d)**(9/7) - (minimum(z, d) / d)**(9/7))"
        " + maximum(z + h - d, 0) - maximum(z - d, 0)) / h"
    ),
    symbols={"z": "bottom_m", "h": "thickness_m", "d": "layer_m"},
    source="Schlichting, Boundary-Layer Theory, ch. 21: u/U = (z/d)^(1/7), its square averaged over the height",
)
def profile_pressure_share(bottom_m: Value, thickness_m: Value, layer_m: Value) -> Value:
    """Return the mean dynamic pressure on an edge within a boundary layer, over that of the free stream. [1]

    Parameters
    ----------
    bottom_m, thickness_m : float
        Height of the edge's lower end above the roof, and of the edge itself. [m]
    layer_m : float
        Thickness of the layer; above it the stream is free. [m]

    Examples
    --------
    >>> float(profile_pressure_share(0.0, 0.05, 0.05)), float(profile_pressure_share(0.0, 0.05, 0.1))
    (0.7778, 0.6380)
    """
    top_m = bottom_m + thickness_m
    below = (np.minimum(top_m, layer_m) / layer_m) ** PROFILE_POWER
    below = below - (np.minimum(bottom_m, layer_m) / layer_m) ** PROFILE_POWER
    above = np.maximum(top_m - layer_m, 0.0) - np.maximum(bottom_m - layer_m, 0.0)
    share: Value = (PROFILE_SHARE * layer_m * below + above) / thickness_m
    return share
