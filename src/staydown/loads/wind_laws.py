"""Laws of the wind: speed over the roof, pressure, drag of an edge, uplift of a plan area."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

# White, Fluid Mechanics, Table 7.3 (plate normal to flow, breadth over height : drag coefficient); value from memory
PLATE_ASPECTS = (1.0, 5.0, 10.0, 20.0)
PLATE_DRAG = (1.18, 1.20, 1.30, 1.50)
# Viterna & Corrigan, NASA, 1982: C_D = 1.11 + 0.018 AR, to AR 50; never below the table's end or above a strip's 2.0
LONG_PLATE_AT_ZERO = 1.11
LONG_PLATE_PER_ASPECT = 0.018
LONGEST_STRIP_DRAG = 2.0


@law(
    unit="m/s",
    equation="V = v + g * w",
    symbols={"v": "vehicle_speed_m_per_s", "g": "gust_factor", "w": "wind_m_per_s"},
    source="definition: air speed ahead of a vehicle that meets the wind",
)
def headwind_air_speed(vehicle_speed_m_per_s: Value, gust_factor: Value, wind_m_per_s: Value) -> Value:
    """Return the speed of the air that a vehicle meets head on. [m/s]

    Parameters
    ----------
    vehicle_speed_m_per_s : float
        Speed over ground. [m/s]
    gust_factor : float
        Gust over ten-minute mean; 1 where the mean itself acts. [1]
    wind_m_per_s : float
        Ten-minute mean wind against the vehicle. [m/s]

    Examples
    --------
    >>> headwind_air_speed(30.0, 1.5, 8.0)
    42.0
    """
    return vehicle_speed_m_per_s + gust_factor * wind_m_per_s


@law(
    unit="m/s",
    equation="V = g * w * e",
    symbols={"g": "gust_factor", "w": "wind_m_per_s", "e": "direction_cosine"},
    source="definition: component of the wind",
)
def wind_component(gust_factor: Value, wind_m_per_s: Value, direction_cosine: Value) -> Value:
    """Return the component of a wind along one axis, positive where it comes from that axis. [m/s]

    Parameters
    ----------
    gust_factor : float
        Gust over the wind named; 1 where it is a gust already. [1]
    wind_m_per_s : float
        Wind speed. [m/s]
    direction_cosine : float
        Cosine of the angle between the axis and where the wind comes from, -1 to 1. [1]

    Examples
    --------
    >>> wind_component(1.5, 10.0, -1.0)
    -15.0
    """
    return gust_factor * wind_m_per_s * direction_cosine


@law(
    unit="m/s",
    equation="V = hypot(a, b)",
    symbols={"a": "along_m_per_s", "b": "across_m_per_s"},
    source="definition: length of a vector",
)
def air_speed(along_m_per_s: Value, across_m_per_s: Value) -> Value:
    """Return the speed of the air over the roof. [m/s]

    Parameters
    ----------
    along_m_per_s : float
        Component from the front. [m/s]
    across_m_per_s : float
        Component from the left. [m/s]

    Examples
    --------
    >>> float(air_speed(30.0, 10.0))
    31.623
    """
    return np.hypot(along_m_per_s, across_m_per_s)


@law(
    unit="Pa",
    equation="q = 0.5 * rho * v**2",
    symbols={"v": "air_speed_m_per_s", "rho": "air_density_kg_per_m3"},
    source="Bernoulli; ASCE 7-16 eq. 26.10-1 gives 0.613 V² (SI) for standard air",
)
def dynamic_pressure(air_speed_m_per_s: Value, air_density_kg_per_m3: Value) -> Value:
    """Return the dynamic pressure of moving air. [Pa]

    Parameters
    ----------
    air_speed_m_per_s : float
        Speed of the air over the roof. [m/s]
    air_density_kg_per_m3 : float
        Density of the air. [kg/m³]

    Examples
    --------
    >>> dynamic_pressure(40.0, 1.225)
    980.0
    """
    return 0.5 * air_density_kg_per_m3 * air_speed_m_per_s**2


@law(
    unit="1",
    equation="AR = b / h",
    symbols={"b": "across_m", "h": "along_m"},
    source="definition",
)
def aspect_ratio(across_m: Value, along_m: Value) -> Value:
    """Return the side across the wind over the side along it (or over the height). [1]

    Parameters
    ----------
    across_m : float
        Side across the wind. [m]
    along_m : float
        The other side. [m]

    Examples
    --------
    >>> aspect_ratio(1.0, 0.05)
    20.0
    """
    return across_m / along_m


@law(
    unit="1",
    method="drag coefficient of a plate normal to the flow: log interpolation of a table to 20, a bounded line above",
    source="White, Fluid Mechanics, Table 7.3, value from memory; above 20 max(1.5, min(2.0, 1.11 + 0.018 AR)), "
    "Viterna & Corrigan, NASA, 1982",
)
def plate_drag_coefficient(aspect_ratio: Value) -> Value:
    """Return the drag coefficient of a thin plate that stands across the flow. [1]

    Parameters
    ----------
    aspect_ratio : float
        Breadth over height, at least 1 (a ratio below 1 is the same plate turned). [1]

    Examples
    --------
    >>> plate_drag_coefficient(7.0), plate_drag_coefficient(20.0)
    (1.2485, 1.50)
    """
    slender = np.maximum(aspect_ratio, 1.0 / np.asarray(aspect_ratio, dtype=float))
    table = np.interp(np.log(slender), np.log(PLATE_ASPECTS), PLATE_DRAG)
    line = LONG_PLATE_AT_ZERO + LONG_PLATE_PER_ASPECT * slender
    beyond = np.clip(line, PLATE_DRAG[-1], LONGEST_STRIP_DRAG)
    coefficient = np.where(slender > PLATE_ASPECTS[-1], beyond, table)
    return coefficient if coefficient.ndim else float(coefficient)


@law(
    unit="N",
    equation="F = -0.5 * rho * V * V_i * C_d * b * h * r**2",
    symbols={
        "rho": "air_density_kg_per_m3",
        "V": "air_speed_m_per_s",
        "V_i": "component_m_per_s",
        "C_d": "drag_coefficient",
        "b": "side_m",
        "h": "thickness_m",
        "r": "speed_ratio",
    },
    source="definition of a drag coefficient on the frontal area of an edge",
)
def edge_drag(
    air_density_kg_per_m3: Value,
    air_speed_m_per_s: Value,
    component_m_per_s: Value,
    drag_coefficient: Value,
    side_m: Value,
    thickness_m: Value,
    speed_ratio: Value,
) -> Value:
    """Return the drag on one edge of an item, along the axis of the wind's component. [N]

    Parameters
    ----------
    air_density_kg_per_m3 : float
        Density of the air. [kg/m³]
    air_speed_m_per_s : float
        Speed of the air over the roof. [m/s]
    component_m_per_s : float
        Its component along this axis, positive from the front or from the left. [m/s]
    drag_coefficient : float
        Drag coefficient of the edge as a plate. [1]
    side_m : float
        Length of the edge across the component. [m]
    thickness_m : float
        Height of the edge. [m]
    speed_ratio : float
        Measured speed at the edge over the speed ahead, 1 where none was measured. [1]

    Examples
    --------
    >>> edge_drag(1.225, 30.0, 30.0, 1.6, 1.0, 0.05, 1.0)
    -44.10
    """
    pressure = 0.5 * air_density_kg_per_m3 * air_speed_m_per_s * component_m_per_s
    return -pressure * drag_coefficient * side_m * thickness_m * speed_ratio**2


@law(
    unit="rad",
    equation="a = maximum(0, a_0 * V_x / V)",
    symbols={"a_0": "nose_up_rad", "V_x": "along_m_per_s", "V": "air_speed_m_per_s"},
    source="definition: small angle resolved along the wind; a nose held down does not lift",
)
def wind_incidence(nose_up_rad: Value, along_m_per_s: Value, air_speed_m_per_s: Value) -> Value:
    """Return the nose-up angle as the wind meets it, never negative. [rad]

    Parameters
    ----------
    nose_up_rad : float
        Front edge higher than rear edge. [rad]
    along_m_per_s : float
        Component of the air from the front. [m/s]
    air_speed_m_per_s : float
        Speed of the air, above 0. [m/s]

    Examples
    --------
    >>> float(wind_incidence(0.1, 30.0, 30.0)), float(wind_incidence(0.1, -30.0, 30.0))
    (0.1, 0.0)
    """
    return np.maximum(0.0, nose_up_rad * along_m_per_s / air_speed_m_per_s)


@law(
    unit="1",
    equation="C = 2 * pi * sin(a) * AR / (AR + 2)",
    symbols={"a": "incidence_rad", "AR": "aspect_ratio"},
    source="lift of a thin plate (2 pi sin a) with the finite-span factor of lifting-line theory",
)
def incidence_coefficient(incidence_rad: Value, aspect_ratio: Value) -> Value:
    """Return what a nose-up angle adds to the uplift coefficient. [1]

    Parameters
    ----------
    incidence_rad : float
        Angle between plate and wind, 0 to about 0.3 before it stalls. [rad]
    aspect_ratio : float
        Side across the wind over side along it. [1]

    Examples
    --------
    >>> float(incidence_coefficient(0.20944, 2.207))
    0.685
    """
    return 2 * np.pi * np.sin(incidence_rad) * aspect_ratio / (aspect_ratio + 2)


@law(
    unit="1",
    equation="C_N = sin(a) / (0.222 * sin(a) + 0.283)",
    symbols={"a": "incidence_rad"},
    source="Hoerner, Fluid-Dynamic Drag, separated inclined plate: C_N = 1/(0.222 + 0.283/sin a)",
)
def separated_plate_coefficient(incidence_rad: Value) -> Value:
    """Return the normal-force coefficient of a fully separated inclined plate. [1]

    Parameters
    ----------
    incidence_rad : float
        Angle between plate and wind, 0 to pi/2. [rad]

    Examples
    --------
    >>> float(separated_plate_coefficient(0.17453293))
    0.5400
    """
    sine = np.sin(incidence_rad)
    return sine / (0.222 * sine + 0.283)


@law(
    unit="1",
    equation="C_up = maximum(C_0 + C_a, C_N)",
    symbols={"C_0": "flat_coefficient", "C_a": "incidence_coefficient", "C_N": "separated_coefficient"},
    source="common practice, no source: the larger of attached lift added to the flat value and the separated plate",
)
def uplift_coefficient(
    flat_coefficient: Value, incidence_coefficient: Value, separated_coefficient: Value
) -> Value:
    """Return the net uplift coefficient of a plan area. [1]

    Parameters
    ----------
    flat_coefficient : float
        Coefficient of the item lying flat. [1]
    incidence_coefficient : float
        What the nose-up angle adds. [1]
    separated_coefficient : float
        Floor: separated plate at that angle. [1]

    Examples
    --------
    >>> float(uplift_coefficient(0.6, 0.685, 0.632))
    1.285
    """
    return np.maximum(flat_coefficient + incidence_coefficient, separated_coefficient)


@law(
    unit="N",
    equation="F = q * C_up * L * W * r**2",
    symbols={
        "q": "pressure_Pa",
        "C_up": "coefficient",
        "L": "length_m",
        "W": "width_m",
        "r": "speed_ratio",
    },
    source="definition of an uplift coefficient on the plan area",
)
def uplift(
    pressure_Pa: Value, coefficient: Value, length_m: Value, width_m: Value, speed_ratio: Value
) -> Value:
    """Return the wind's lift on an item, positive away from the roof. [N]

    Parameters
    ----------
    pressure_Pa : float
        Dynamic pressure of the free stream. [Pa]
    coefficient : float
        Net uplift coefficient of the plan area. [1]
    length_m, width_m : float
        Plan sizes. [m]
    speed_ratio : float
        Measured local speed over the speed ahead, where it counts for uplift; else 1. [1]

    Examples
    --------
    >>> uplift(1350.0, 1.2, 1.0, 1.0, 1.0)
    1620.0
    """
    return pressure_Pa * coefficient * length_m * width_m * speed_ratio**2


@law(
    unit="m",
    equation="x = s / 4 * V_i / V",
    symbols={"s": "side_m", "V_i": "component_m_per_s", "V": "air_speed_m_per_s"},
    source="EN 1991-1-4, 7.3: resultant at a quarter of the depth from the windward edge (monopitch canopy); "
    "Rayleigh 1876 gives 0.33 at 5 degrees",
)
def pressure_centre(side_m: Value, component_m_per_s: Value, air_speed_m_per_s: Value) -> Value:
    """Return how far upwind of the middle the uplift acts, along one axis. [m]

    Parameters
    ----------
    side_m : float
        Side of the item along this axis. [m]
    component_m_per_s : float
        Component of the air along this axis. [m/s]
    air_speed_m_per_s : float
        Speed of the air, above 0. [m/s]

    Examples
    --------
    >>> pressure_centre(1.48, 42.0, 42.0)
    0.37
    """
    return side_m / 4 * component_m_per_s / air_speed_m_per_s


@law(
    unit="1",
    equation="r = r_1 + (r_2 - r_1) * (x - x_1) / (x_2 - x_1)",
    symbols={
        "x": "place_m",
        "x_1": "first_place_m",
        "x_2": "second_place_m",
        "r_1": "first_ratio",
        "r_2": "second_ratio",
    },
    source="definition: linear between two measured places",
)
def ratio_between(
    place_m: Value, first_place_m: Value, second_place_m: Value, first_ratio: Value, second_ratio: Value
) -> Value:
    """Return the wind-speed ratio between two measured places. [1]

    Parameters
    ----------
    place_m : float
        Where it is wanted, behind the roof's front. [m]
    first_place_m, second_place_m : float
        Where it was measured. [m]
    first_ratio, second_ratio : float
        What was measured there. [1]

    Examples
    --------
    >>> ratio_between(1.0, 0.5, 1.5, 0.6, 0.8)
    0.7
    """
    share = (place_m - first_place_m) / (second_place_m - first_place_m)
    return first_ratio + (second_ratio - first_ratio) * share
