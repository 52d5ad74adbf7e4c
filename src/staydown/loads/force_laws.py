"""Laws of weight, inertia, pressed areas, places, moments and factors."""

from __future__ import annotations

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

_STATICS = "definition: statics"


@law(unit="N", equation="F = -m * g", symbols={"m": "mass_kg", "g": "gravity_m_per_s2"}, source=_STATICS)
def weight(mass_kg: Value, gravity_m_per_s2: Value) -> Value:
    """Return the weight as a force along z, negative: it presses on the roof. [N]

    Parameters
    ----------
    mass_kg : float
        Mass. [kg]
    gravity_m_per_s2 : float
        Standard gravity. [m/s²]

    Examples
    --------
    >>> weight(10.0, 9.80665)
    -98.07
    """
    return -mass_kg * gravity_m_per_s2


@law(unit="N", equation="F = m * a", symbols={"m": "mass_kg", "a": "acceleration_m_per_s2"}, source=_STATICS)
def inertia_force(mass_kg: Value, acceleration_m_per_s2: Value) -> Value:
    """Return the force with which an item pushes on when its vehicle is accelerated the other way. [N]

    Parameters
    ----------
    mass_kg : float
        Mass of the item. [kg]
    acceleration_m_per_s2 : float
        Acceleration, positive in the direction of the push. [m/s²]

    Examples
    --------
    >>> inertia_force(15.0, 7.84532)
    117.68
    """
    return mass_kg * acceleration_m_per_s2


@law(
    unit="N",
    equation="F = d * p * L * W",
    symbols={"d": "direction", "p": "pressure_Pa", "L": "length_m", "W": "width_m"},
    source=_STATICS,
)
def pressed_area(direction: Value, pressure_Pa: Value, length_m: Value, width_m: Value) -> Value:
    """Return the force of a pressure on a plan area along z. [N]

    Parameters
    ----------
    direction : float
        1 away from the roof, -1 toward it. [1]
    pressure_Pa : float
        Pressure. [Pa]
    length_m, width_m : float
        Plan sizes. [m]

    Examples
    --------
    >>> pressed_area(-1.0, 600.0, 1.5, 0.7)
    -630.0
    """
    return direction * pressure_Pa * length_m * width_m


@law(unit="N", equation="F = d * F_0", symbols={"d": "direction", "F_0": "size_N"}, source=_STATICS)
def directed_force(direction: Value, size_N: Value) -> Value:
    """Return the component of a force along one axis. [N]

    Parameters
    ----------
    direction : float
        Direction cosine, -1 to 1. [1]
    size_N : float
        Size of the force. [N]

    Examples
    --------
    >>> directed_force(-1.0, 250.0)
    -250.0
    """
    return direction * size_N


@law(
    unit="m/s2",
    equation="a_i = d * a",
    symbols={"d": "direction", "a": "size_m_per_s2"},
    source=_STATICS,
)
def directed_acceleration(direction: Value, size_m_per_s2: Value) -> Value:
    """Return the component of an acceleration along one axis. [m/s²]

    Parameters
    ----------
    direction : float
        Direction cosine, -1 to 1. [1]
    size_m_per_s2 : float
        Size of the acceleration. [m/s²]

    Examples
    --------
    >>> directed_acceleration(-1.0, 4.9)
    -4.9
    """
    return direction * size_m_per_s2


@law(
    unit="m",
    equation="z = s + h / 2",
    symbols={"s": "gap_m", "h": "thickness_m"},
    source="definition: middle of the item's thickness above the roof",
)
def mid_height(gap_m: Value, thickness_m: Value) -> Value:
    """Return the height of the middle of an item above the plane of its pads. [m]

    Parameters
    ----------
    gap_m : float
        Roof to underside. [m]
    thickness_m : float
        Thickness of the item. [m]

    Examples
    --------
    >>> mid_height(0.045, 0.035)
    0.0625
    """
    return gap_m + thickness_m / 2


@law(
    unit="m",
    equation="x = d * s / 2",
    symbols={"d": "direction", "s": "side_m"},
    source="definition: middle of an edge",
)
def edge_place(direction: Value, side_m: Value) -> Value:
    """Return the coordinate of the middle of an edge. [m]

    Parameters
    ----------
    direction : float
        1 front or left edge, -1 rear or right edge. [1]
    side_m : float
        Side of the item along that axis. [m]

    Examples
    --------
    >>> edge_place(-1.0, 1.2)
    -0.6
    """
    return direction * side_m / 2


@law(
    unit="m",
    equation="d = l - b - s",
    symbols={"l": "roof_length_m", "b": "behind_front_m", "s": "length_m"},
    source="definition: distance of the rear edge from the roof's rear edge",
)
def rear_distance(roof_length_m: Value, behind_front_m: Value, length_m: Value) -> Value:
    """Return how far an item's rear edge is from the roof's rear edge. [m]

    Parameters
    ----------
    roof_length_m : float
        Length of the roof. [m]
    behind_front_m : float
        Item's front edge behind the roof's front edge. [m]
    length_m : float
        Length of the item. [m]

    Examples
    --------
    >>> rear_distance(4.0, 0.9, 1.5)
    1.6
    """
    return roof_length_m - behind_front_m - length_m


@law(
    unit="m",
    equation="d = b / 2 - e * y - w / 2",
    symbols={"b": "roof_width_m", "e": "side", "y": "left_of_centre_m", "w": "width_m"},
    source="definition: distance of a side edge from the roof's edge on that side",
)
def side_distance(roof_width_m: Value, side: Value, left_of_centre_m: Value, width_m: Value) -> Value:
    """Return how far an item's side edge is from the roof's edge on that side. [m]

    Parameters
    ----------
    roof_width_m : float
        Width of the roof. [m]
    side : float
        1 for the left edge, -1 for the right one. [1]
    left_of_centre_m : float
        Item's centreline left of the roof's. [m]
    width_m : float
        Width of the item. [m]

    Examples
    --------
    >>> side_distance(1.8, 1.0, 0.1, 0.6)
    0.5
    """
    return roof_width_m / 2 - side * left_of_centre_m - width_m / 2


@law(
    unit="N",
    equation="F_d = g * F",
    symbols={"g": "factor", "F": "force_N"},
    source="EN 1990, 6.3.1: design value of an action",
)
def factored(factor: Value, force_N: Value) -> Value:
    """Return a force times its load factor. [N]

    Parameters
    ----------
    factor : float
        Load factor. [1]
    force_N : float
        Force. [N]

    Examples
    --------
    >>> factored(1.5, 100.0)
    150.0
    """
    return factor * force_N


@law(
    unit="Nm",
    equation="M = a * F_b - b * F_a",
    symbols={"a": "first_arm_m", "F_b": "second_force_N", "b": "second_arm_m", "F_a": "first_force_N"},
    source="definition: moment of a force, one component of r x F",
)
def moment_component(
    first_arm_m: Value, second_force_N: Value, second_arm_m: Value, first_force_N: Value
) -> Value:
    """Return one component of the moment of a force about the origin. [N m]

    Parameters
    ----------
    first_arm_m, second_arm_m : float
        Coordinates of the point along the next two axes in cyclic order (y, z for x; z, x for y; x, y for z). [m]
    first_force_N, second_force_N : float
        Force along those two axes. [N]

    Examples
    --------
    >>> moment_component(0.2, 100.0, 0.1, 50.0)
    15.0
    """
    return first_arm_m * second_force_N - second_arm_m * first_force_N
