"""Laws of pressing a pad on: force, the mass that leans as hard, the largest strip, force on a roller."""

from __future__ import annotations

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="N",
    equation="F = p * A",
    symbols={"p": "pressure_Pa", "A": "area_m2"},
    source="definition of pressure",
)
def press_force(pressure_Pa: Value, area_m2: Value) -> Value:
    """Return the force that puts a pressure on a whole pad. [N]

    Parameters
    ----------
    pressure_Pa : float
        Pressure on the tape. [Pa]
    area_m2 : float
        Area of the pad. [m²]

    Examples
    --------
    >>> press_force(103421.359, 25e-4)
    258.55
    """
    return pressure_Pa * area_m2


@law(
    unit="kg",
    equation="m = F / g",
    symbols={"F": "force_N", "g": "gravity_m_per_s2"},
    source="weight",
)
def leaning_mass(force_N: Value, gravity_m_per_s2: Value) -> Value:
    """Return the mass whose weight presses as hard. [kg]

    Parameters
    ----------
    force_N : float
        Force. [N]
    gravity_m_per_s2 : float
        Acceleration of gravity. [m/s²]

    Examples
    --------
    >>> leaning_mass(258.55, 9.80665)
    26.36
    """
    return force_N / gravity_m_per_s2


@law(
    unit="m",
    equation="l = F / (p * w)",
    symbols={"F": "force_N", "p": "pressure_Pa", "w": "side_m"},
    source="definition of pressure: the length of pad that a force can press at once",
)
def strip_length(force_N: Value, pressure_Pa: Value, side_m: Value) -> Value:
    """Return the length of a strip of pad that a force presses to the full pressure. [m]

    Parameters
    ----------
    force_N : float
        Force that a person can put on. [N]
    pressure_Pa : float
        Pressure on the tape. [Pa]
    side_m : float
        Side of the pad across the strip's length. [m]

    Examples
    --------
    >>> strip_length(400.0, 103421.359, 0.06)
    0.06446
    """
    return force_N / (pressure_Pa * side_m)


@law(
    unit="m",
    equation="l = L / n",
    symbols={"L": "side_m", "n": "count"},
    source="geometry",
)
def equal_strip(side_m: Value, count: Value) -> Value:
    """Return the length of one of several equal strips of a pad. [m]

    Parameters
    ----------
    side_m : float
        Side of the pad along the strips' length. [m]
    count : float
        How many strips, 1 or more. [1]

    Examples
    --------
    >>> equal_strip(0.12, 3.0)
    0.04
    """
    return side_m / count


@law(
    unit="N",
    equation="F = p * w * c",
    symbols={"p": "pressure_Pa", "w": "roller_width_m", "c": "contact_length_m"},
    source="definition of pressure under the flat of a rubber roller",
)
def roller_force(pressure_Pa: Value, roller_width_m: Value, contact_length_m: Value) -> Value:
    """Return the force on a hand roller that gives the full pressure under it. [N]

    Parameters
    ----------
    pressure_Pa : float
        Pressure on the tape. [Pa]
    roller_width_m : float
        Width of the roller. [m]
    contact_length_m : float
        Length over which its rubber is flattened. [m]

    Examples
    --------
    >>> roller_force(103421.359, 0.04, 0.008)
    33.09
    """
    return pressure_Pa * roller_width_m * contact_length_m


@law(
    unit="m",
    equation="U = 2 * (L + W)",
    symbols={"L": "pad_length_m", "W": "pad_width_m"},
    source="geometry",
)
def pad_edge(pad_length_m: Value, pad_width_m: Value) -> Value:
    """Return the length of the edges of a rectangular pad. [m]

    Parameters
    ----------
    pad_length_m, pad_width_m : float
        Its sides. [m]

    Examples
    --------
    >>> pad_edge(0.1, 0.06)
    0.32
    """
    return 2 * (pad_length_m + pad_width_m)


@law(
    unit="m3",
    equation="V = U * h**2 / 2",
    symbols={"U": "edge_m", "h": "leg_m"},
    source="geometry: a fillet of equal legs",
)
def bead_volume(edge_m: Value, leg_m: Value) -> Value:
    """Return the volume of a sealing fillet round an edge. [m³]

    Parameters
    ----------
    edge_m : float
        Length of the edge. [m]
    leg_m : float
        Each leg of the fillet. [m]

    Examples
    --------
    >>> bead_volume(0.32, 0.006)
    5.76e-06
    """
    return edge_m * leg_m**2 / 2


@law(
    unit="m3",
    equation="V = A * t",
    symbols={"A": "area_m2", "t": "thickness_m"},
    source="geometry",
)
def layer_volume(area_m2: Value, thickness_m: Value) -> Value:
    """Return the volume of an adhesive layer. [m³]

    Parameters
    ----------
    area_m2 : float
        Bonded area. [m²]
    thickness_m : float
        Thickness of the layer. [m]

    Examples
    --------
    >>> layer_volume(0.006, 0.003)
    1.8e-05
    """
    return area_m2 * thickness_m


@law(
    unit="m",
    equation="l = A / w",
    symbols={"A": "area_m2", "w": "tape_width_m"},
    source="geometry",
)
def tape_length(area_m2: Value, tape_width_m: Value) -> Value:
    """Return the length of tape that covers an area. [m]

    Parameters
    ----------
    area_m2 : float
        Bonded area. [m²]
    tape_width_m : float
        Width of the tape. [m]

    Examples
    --------
    >>> tape_length(0.006, 0.0254)
    0.2362
    """
    return area_m2 / tape_width_m


@law(
    unit="m",
    equation="l_r = l * (1 + r)",
    symbols={"l": "length_m", "r": "reserve"},
    source="definition of the reserve",
)
def length_with_reserve(length_m: Value, reserve: Value) -> Value:
    """Return the length to buy. [m]

    Parameters
    ----------
    length_m : float
        What is needed. [m]
    reserve : float
        Share added to it. [1]

    Examples
    --------
    >>> length_with_reserve(1.0, 0.15)
    1.15
    """
    return length_m * (1 + reserve)


@law(
    unit="m2",
    equation="A_r = A * (1 + r)",
    symbols={"A": "area_m2", "r": "reserve"},
    source="definition of the reserve",
)
def area_with_reserve(area_m2: Value, reserve: Value) -> Value:
    """Return the area to buy. [m²]

    Parameters
    ----------
    area_m2 : float
        What is needed. [m²]
    reserve : float
        Share added to it. [1]

    Examples
    --------
    >>> area_with_reserve(0.024, 0.15)
    0.0276
    """
    return area_m2 * (1 + reserve)


@law(
    unit="m3",
    equation="V_r = V * (1 + r)",
    symbols={"V": "volume_m3", "r": "reserve"},
    source="definition of the reserve",
)
def volume_with_reserve(volume_m3: Value, reserve: Value) -> Value:
    """Return the volume to buy. [m³]

    Parameters
    ----------
    volume_m3 : float
        What is needed. [m³]
    reserve : float
        Share added to it. [1]

    Examples
    --------
    >>> volume_with_reserve(0.00025, 0.15)
    0.0002875
    """
    return volume_m3 * (1 + reserve)
