"""Laws of a foot that bends: its stiffness against the tape, what its edge pulls, contact on curves, opened edges.

The foot is a strip on an elastic bed that lets no shear through (Winkler), pulled at its end.
"""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

HETENYI = "Hetenyi, Beams on Elastic Foundation, 1946, semi-infinite beam with a load at its end; from memory"
GENT_LINDLEY = (
    "Gent & Lindley, Proc. Inst. Mech. Engrs 173 (1959) 111, block between rigid plates; from memory"
)
SECTION = "strength of materials, section of a rectangle"


@law(
    unit="1",
    equation="S = L * W / (2 * t * (L + W))",
    symbols={"L": "pad_length_m", "W": "pad_width_m", "t": "tape_thickness_m"},
    source=GENT_LINDLEY,
)
def shape_factor(pad_length_m: Value, pad_width_m: Value, tape_thickness_m: Value) -> Value:
    """Return the loaded area of a layer over the area at its rim that is free to bulge. [1]

    Parameters
    ----------
    pad_length_m, pad_width_m : float or array
        Sides of the pad, above 0. [m]
    tape_thickness_m : float or array
        Thickness of the layer, above 0. [m]

    Examples
    --------
    >>> float(shape_factor(0.05, 0.05, 1.1e-3))
    11.364
    """
    return pad_length_m * pad_width_m / (2 * tape_thickness_m * (pad_length_m + pad_width_m))


@law(
    unit="Pa",
    equation="E_c = E * (1 + 2 * S**2)",
    symbols={"E": "modulus_Pa", "S": "shape"},
    source=GENT_LINDLEY,
)
def apparent_modulus(modulus_Pa: Value, shape: Value) -> Value:
    """Return the modulus of a thin layer that keeps its volume, between faces that do not give. [Pa]

    Parameters
    ----------
    modulus_Pa : float or array
        Young's modulus of the adhesive, above 0. [Pa]
    shape : float or array
        Shape factor of the layer. [1]

    Examples
    --------
    >>> apparent_modulus(1.0e6, 11.364)
    2.5928e8
    """
    return modulus_Pa * (1 + 2 * shape**2)


@law(
    unit="Pa",
    equation="E = 1 / (1 / E_c + 1 / K)",
    symbols={"E_c": "apparent_Pa", "K": "bulk_modulus_Pa"},
    source=GENT_LINDLEY,
)
def with_bulk(apparent_Pa: Value, bulk_modulus_Pa: Value) -> Value:
    """Return the modulus of a thin solid layer that is squeezed in volume as well. [Pa]

    Parameters
    ----------
    apparent_Pa : float or array
        Modulus with its volume kept. [Pa]
    bulk_modulus_Pa : float or array
        Bulk modulus of the adhesive. [Pa]

    Examples
    --------
    >>> with_bulk(3.0e8, 2.0e9)
    2.6087e8
    """
    return 1 / (1 / apparent_Pa + 1 / bulk_modulus_Pa)


@law(
    unit="N/m3",
    equation="k = E / t",
    symbols={"E": "modulus_Pa", "t": "tape_thickness_m"},
    source="definition: stress of a layer over how far it is drawn out",
)
def bed_stiffness(modulus_Pa: Value, tape_thickness_m: Value) -> Value:
    """Return the stress of a layer of tape for each unit of its stretch. [N/m³]

    Parameters
    ----------
    modulus_Pa : float or array
        Tension modulus of the layer. [Pa]
    tape_thickness_m : float or array
        Its thickness. [m]

    Examples
    --------
    >>> bed_stiffness(1.0e6, 1.0e-3)
    1.0e9
    """
    return modulus_Pa / tape_thickness_m


@law(
    unit="1/m",
    equation="b = (3 * k / (E_f * h**3))**(1 / 4)",
    symbols={"k": "bed_N_per_m3", "E_f": "foot_modulus_Pa", "h": "foot_thickness_m"},
    source=HETENYI + "; (k w / 4 E I)^(1/4) with I = w h^3/12",
)
def foot_rate(bed_N_per_m3: Value, foot_modulus_Pa: Value, foot_thickness_m: Value) -> Value:
    """Return lambda of a foot: how fast what its edge pulls dies away under it. [1/m]

    Parameters
    ----------
    bed_N_per_m3 : float or array
        Stiffness of the layer under it. [N/m³]
    foot_modulus_Pa : float or array
        Young's modulus of the foot. [Pa]
    foot_thickness_m : float or array
        Thickness of the foot's plate. [m]

    Examples
    --------
    >>> foot_rate(1.0e6 / 1.1e-3, 70e9, 3e-3)
    34.66
    """
    return (3 * bed_N_per_m3 / (foot_modulus_Pa * foot_thickness_m**3)) ** (1 / 4)


@law(
    unit="1",
    equation="n = b * L",
    symbols={"b": "rate_one_per_m", "L": "side_m"},
    source=HETENYI,
)
def stiffness_number(rate_one_per_m: Value, side_m: Value) -> Value:
    """Return lambda L: small, the foot stays flat; large, it bends and its edge peels. [1]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda of the foot. [1/m]
    side_m : float or array
        Side of the pad along the lever. [m]

    Examples
    --------
    >>> stiffness_number(58.3, 0.04)
    2.332
    """
    return rate_one_per_m * side_m


@law(
    unit="1/m",
    equation="c = where(n >= r, b, 0)",
    symbols={"b": "rate_one_per_m", "n": "number", "r": "rigid_below"},
    source="docs/method/foot.md: below the limit the foot counts as rigid",
)
def rate_that_counts(rate_one_per_m: Value, number: Value, rigid_below: Value) -> Value:
    """Return lambda where a foot bends enough to be judged by it, 0 where it counts as rigid. [1/m]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda of the foot. [1/m]
    number : float or array
        Its lambda L. [1]
    rigid_below : float or array
        Lambda L below which a foot counts as rigid. [1]

    Examples
    --------
    >>> float(rate_that_counts(58.3, 2.332, 1.0)), float(rate_that_counts(12.0, 0.6, 1.0))
    (58.3, 0.0)
    """
    return np.where(np.asarray(number) >= rigid_below, rate_one_per_m, 0.0)


@law(
    unit="Nm",
    equation="M = where(a > 0.5, abs(M_y), abs(M_x))",
    symbols={"a": "lever_lies_along", "M_x": "moment_about_x_Nm", "M_y": "moment_about_y_Nm"},
    source="geometry: a lever along the vehicle turns the pad about its y axis",
)
def moment_along_lever(lever_lies_along: Value, moment_about_x_Nm: Value, moment_about_y_Nm: Value) -> Value:
    """Return the size of the moment that bends the foot along its lever. [N m]

    Parameters
    ----------
    lever_lies_along : float or array
        1 where the lever lies along the vehicle, 0 where across. [1]
    moment_about_x_Nm, moment_about_y_Nm : float or array
        Moments about the pad's centre. [N m]

    Examples
    --------
    >>> float(moment_along_lever(1.0, 3.0, -5.0)), float(moment_along_lever(0.0, 3.0, -5.0))
    (5.0, 3.0)
    """
    return np.where(np.asarray(lever_lies_along) > 0.5, np.abs(moment_about_y_Nm), np.abs(moment_about_x_Nm))


@law(
    unit="Nm",
    equation="M = where(a > 0.5, -M_y, M_x)",
    symbols={"a": "lever_lies_along", "M_x": "moment_about_x_Nm", "M_y": "moment_about_y_Nm"},
    source="statics: a pull in front of the centre turns the pad by less than nought about y, one to its left about x",
)
def pry_along_lever(lever_lies_along: Value, moment_about_x_Nm: Value, moment_about_y_Nm: Value) -> Value:
    """Return the moment that bends the foot along its lever, positive where its front or left edge is pried. [N m]

    Parameters
    ----------
    lever_lies_along : float or array
        1 where the lever lies along the vehicle, 0 where across. [1]
    moment_about_x_Nm, moment_about_y_Nm : float or array
        Moments about the pad's centre. [N m]

    Examples
    --------
    >>> float(pry_along_lever(1.0, 3.0, -5.0)), float(pry_along_lever(0.0, 3.0, -5.0))
    (5.0, 3.0)
    """
    return np.where(np.asarray(lever_lies_along) > 0.5, -np.asarray(moment_about_y_Nm), moment_about_x_Nm)


@law(
    unit="Nm",
    equation="M = where(a > 0.5, abs(M_x), abs(M_y))",
    symbols={"a": "lever_lies_along", "M_x": "moment_about_x_Nm", "M_y": "moment_about_y_Nm"},
    source="geometry: the other moment in the plane of the roof",
)
def moment_across_lever(lever_lies_along: Value, moment_about_x_Nm: Value, moment_about_y_Nm: Value) -> Value:
    """Return the size of the moment square to the foot's lever. [N m]

    Parameters
    ----------
    lever_lies_along : float or array
        1 where the lever lies along the vehicle, 0 where across. [1]
    moment_about_x_Nm, moment_about_y_Nm : float or array
        Moments about the pad's centre. [N m]

    Examples
    --------
    >>> float(moment_across_lever(1.0, 3.0, -5.0)), float(moment_across_lever(0.0, 3.0, -5.0))
    (3.0, 5.0)
    """
    return np.where(np.asarray(lever_lies_along) > 0.5, np.abs(moment_about_x_Nm), np.abs(moment_about_y_Nm))


@law(
    unit="Pa",
    equation=(
        "s = where(b > 0, maximum(0, 2 * b * (maximum(0, N) + b * maximum(0, M - maximum(0, N) * L / 2)) / W"
        " + minimum(0, N) / (L * W) + 6 * C / (L * W**2)), 0)"
    ),
    symbols={
        "b": "rate_one_per_m",
        "N": "pull_N",
        "M": "along_lever_Nm",
        "C": "across_lever_Nm",
        "L": "side_m",
        "W": "edge_m",
    },
    source=HETENYI
    + "; the moment that the edge's own pull does not make acts at the end too; one across it as on "
    "a rigid pad",
)
def foot_edge_stress(
    rate_one_per_m: Value,
    pull_N: Value,
    along_lever_Nm: Value,
    across_lever_Nm: Value,
    side_m: Value,
    edge_m: Value,
) -> Value:
    """Return the tension at the edge of a foot that bends, pulled at that edge; 0 where it counts as rigid. [Pa]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda that counts, 0 for a rigid foot. [1/m]
    pull_N : float or array
        Force away from the roof. [N]
    along_lever_Nm, across_lever_Nm : float or array
        Sizes of the moments about the pad's centre, along its lever and square to it. [N m]
    side_m : float or array
        Side along the lever. [m]
    edge_m : float or array
        Side across it: the edge that would peel. [m]

    Examples
    --------
    >>> float(foot_edge_stress(34.66, 100.0, 0.0, 0.0, 0.05, 0.05))
    138640.0
    """
    pull = np.maximum(0.0, pull_N)
    more = np.maximum(0.0, along_lever_Nm - pull * side_m / 2)
    pressed = np.minimum(0.0, pull_N) / (side_m * edge_m)
    across = 6 * across_lever_Nm / (side_m * edge_m**2)
    rate = np.asarray(rate_one_per_m, dtype=float)
    stress = np.maximum(0.0, 2 * rate * (pull + rate * more) / edge_m + pressed + across)
    return np.where(rate > 0.0, stress, 0.0)


@law(
    unit="Pa",
    equation="s = maximum(s_1, s_2)",
    symbols={"s_1": "first_Pa", "s_2": "second_Pa"},
    source="docs/method/foot.md: between rigid and flexible the worse of both counts",
)
def larger_stress(first_Pa: Value, second_Pa: Value) -> Value:
    """Return the larger of two stresses. [Pa]

    Parameters
    ----------
    first_Pa, second_Pa : float or array
        Peak of the pad under a rigid foot, and at the edge of one that bends. [Pa]

    Examples
    --------
    >>> float(larger_stress(161e3, 752e3))
    752000.0
    """
    return np.maximum(first_Pa, second_Pa)


@law(
    unit="N/m",
    equation="p = where(b > 0, w, 0)",
    symbols={"b": "rate_one_per_m", "w": "line_load_N_per_m"},
    source="docs/method/foot.md: a rigid foot does not peel",
)
def peeling_line_load(rate_one_per_m: Value, line_load_N_per_m: Value) -> Value:
    """Return the line load that peels the edge of a foot, 0 where the foot counts as rigid. [N/m]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda that counts. [1/m]
    line_load_N_per_m : float or array
        Pull over the edge. [N/m]

    Examples
    --------
    >>> float(peeling_line_load(58.3, 6450.0)), float(peeling_line_load(0.0, 6450.0))
    (6450.0, 0.0)
    """
    return np.where(np.asarray(rate_one_per_m) > 0.0, line_load_N_per_m, 0.0)


@law(unit="m", equation="x = pi / (2 * b)", symbols={"b": "rate_one_per_m"}, source=HETENYI)
def pulled_length(rate_one_per_m: Value) -> Value:
    """Return how far from its loaded edge a long foot pulls; beyond it presses. [m]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda of the foot. [1/m]

    Examples
    --------
    >>> pulled_length(34.66)
    0.04532
    """
    return np.pi / (2 * rate_one_per_m)


@law(
    unit="Nm",
    equation="M = maximum(0, N) / b * exp(-pi / 4) * sin(pi / 4)",
    symbols={"N": "pull_N", "b": "rate_one_per_m"},
    source=HETENYI + "; at a quarter of pi over lambda from the end",
)
def foot_bending_moment(pull_N: Value, rate_one_per_m: Value) -> Value:
    """Return the largest moment that bends a long foot pulled at its end. [N m]

    Parameters
    ----------
    pull_N : float or array
        Pull at the end. [N]
    rate_one_per_m : float or array
        Lambda of the foot. [1/m]

    Examples
    --------
    >>> float(foot_bending_moment(100.0, 34.66))
    0.930
    """
    share: float = np.exp(-np.pi / 4) * np.sin(np.pi / 4)
    return np.maximum(0.0, pull_N) / rate_one_per_m * share


@law(
    unit="m",
    equation="h = (3 * k * L**4 / (r**4 * E_f))**(1 / 3)",
    symbols={"k": "bed_N_per_m3", "L": "side_m", "r": "rigid_below", "E_f": "foot_modulus_Pa"},
    source=HETENYI + "; lambda L set to the limit and solved for the thickness",
)
def least_rigid_thickness(
    bed_N_per_m3: Value, side_m: Value, rigid_below: Value, foot_modulus_Pa: Value
) -> Value:
    """Return the thickness from which a foot counts as rigid. [m]

    Parameters
    ----------
    bed_N_per_m3 : float or array
        Stiffness of the layer under it. [N/m³]
    side_m : float or array
        Side along the lever. [m]
    rigid_below : float or array
        Lambda L below which a foot counts as rigid, above 0. [1]
    foot_modulus_Pa : float or array
        Young's modulus of the foot. [Pa]

    Examples
    --------
    >>> float(least_rigid_thickness(1.0e6 / 1.1e-3, 0.04, 1.0, 70e9))
    0.004638
    """
    return (3 * bed_N_per_m3 * side_m**4 / (rigid_below**4 * foot_modulus_Pa)) ** (1 / 3)


@law(
    unit="m",
    equation="g = w**2 / (8 * R)",
    symbols={"w": "side_m", "R": "radius_m"},
    source="geometry: height of a flat arc over its chord",
)
def gap_on_curve(side_m: Value, radius_m: Value) -> Value:
    """Return the gap that a flat foot leaves on a curved roof. [m]

    Parameters
    ----------
    side_m : float or array
        Side of the foot along the curve, well below the radius. [m]
    radius_m : float or array
        Radius of the roof there. [m]

    Examples
    --------
    >>> gap_on_curve(0.1, 2.0)
    0.000625
    """
    return side_m**2 / (8 * radius_m)


@law(
    unit="m",
    equation="t = n * g",
    symbols={"n": "times_the_gap", "g": "gap_m"},
    source="common practice, no source: tape at least twice as thick as what it has to fill",
)
def least_tape_thickness(times_the_gap: Value, gap_m: Value) -> Value:
    """Return the least thickness of tape that fills a gap and stays in contact. [m]

    Parameters
    ----------
    times_the_gap : float or array
        Thickness over gap. [1]
    gap_m : float or array
        Gap to fill. [m]

    Examples
    --------
    >>> least_tape_thickness(2.0, 0.000625)
    0.00125
    """
    return times_the_gap * gap_m


@law(
    unit="1",
    equation="z = ((L - s) / L)**2",
    symbols={"L": "side_m", "s": "opened_m"},
    source=SECTION,
)
def section_left(side_m: Value, opened_m: Value) -> Value:
    """Return the share of a pad's section against prying that is left when an edge has opened. [1]

    Parameters
    ----------
    side_m : float or array
        Side along the lever. [m]
    opened_m : float or array
        How much of it has let go, less than the side. [m]

    Examples
    --------
    >>> section_left(0.050, 0.010)
    0.64
    """
    return ((side_m - opened_m) / side_m) ** 2


@law(
    unit="m",
    equation="l = L - s",
    symbols={"L": "side_m", "s": "opened_m"},
    source="definition",
)
def side_left(side_m: Value, opened_m: Value) -> Value:
    """Return the side of a pad that still holds when an edge has opened. [m]

    Parameters
    ----------
    side_m : float or array
        Side along the lever. [m]
    opened_m : float or array
        How much of it has let go. [m]

    Examples
    --------
    >>> side_left(0.050, 0.010)
    0.04
    """
    return side_m - opened_m


@law(
    unit="Nm",
    equation="M = M_0 + maximum(0, N) * s / 2",
    symbols={"M_0": "moment_Nm", "N": "pull_N", "s": "opened_m"},
    source="statics: the middle of what still holds moves away from the pull",
)
def moment_about_rest(moment_Nm: Value, pull_N: Value, opened_m: Value) -> Value:
    """Return the moment about the middle of what still holds when the pulled edge has opened. [N m]

    Parameters
    ----------
    moment_Nm : float or array
        Size of the moment about the whole pad's centre. [N m]
    pull_N : float or array
        Force away from the roof. [N]
    opened_m : float or array
        Width of the strip that has let go. [m]

    Examples
    --------
    >>> float(moment_about_rest(2.0, 200.0, 0.01))
    3.0
    """
    return moment_Nm + np.maximum(0.0, pull_N) * opened_m / 2


@law(
    unit="Nm",
    equation="M = maximum(0, N) * L / 2",
    symbols={"N": "pull_N", "L": "side_m"},
    source="statics: a pull at the edge, half a side from the middle",
)
def moment_of_edge_pull(pull_N: Value, side_m: Value) -> Value:
    """Return the moment about the pad's centre of a pull at its edge. [N m]

    Parameters
    ----------
    pull_N : float or array
        Force away from the roof. [N]
    side_m : float or array
        Side along the lever. [m]

    Examples
    --------
    >>> float(moment_of_edge_pull(100.0, 0.05))
    2.5
    """
    return np.maximum(0.0, pull_N) * side_m / 2
