"""Laws of one pad: its springs, its place, what a mount's force and moment do to it."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

STATICS = "statics, moment of a force about a point"
LAYER = "definition of the modulus: a layer between two rigid faces, free to change its volume"
SECTION = "strength of materials, bending and twist of a rectangular section"


@law(
    unit="m2",
    equation="A = L * W",
    symbols={"L": "pad_length_m", "W": "pad_width_m"},
    source="geometry",
)
def pad_area(pad_length_m: Value, pad_width_m: Value) -> Value:
    """Return the bonded area of a rectangular pad. [m²]

    Parameters
    ----------
    pad_length_m : float or array
        Side along the vehicle, above 0. [m]
    pad_width_m : float or array
        Side across the vehicle, above 0. [m]

    Examples
    --------
    >>> pad_area(0.08, 0.05)
    0.004
    """
    return pad_length_m * pad_width_m


@law(
    unit="N/m",
    equation="k = E * A / t",
    symbols={"E": "modulus_Pa", "A": "bond_area_m2", "t": "tape_thickness_m"},
    source=LAYER,
)
def pad_spring(modulus_Pa: Value, bond_area_m2: Value, tape_thickness_m: Value) -> Value:
    """Return the stiffness of a pad: in pull with the tension modulus, in shear with the shear modulus. [N/m]

    Parameters
    ----------
    modulus_Pa : float or array
        Tension or shear modulus of the tape, above 0. [Pa]
    bond_area_m2 : float or array
        Bonded area. [m²]
    tape_thickness_m : float or array
        Thickness of the tape, above 0. [m]

    Examples
    --------
    >>> pad_spring(0.3e6, 25e-4, 1.1e-3)
    681818.2
    """
    return modulus_Pa * bond_area_m2 / tape_thickness_m


@law(
    unit="N/m",
    equation="k_s = s * k",
    symbols={"s": "share", "k": "shear_spring_N_per_m"},
    source="definition: what a foot keeps of its stiffness in the plane when its slot is free",
)
def sliding_spring(share: Value, shear_spring_N_per_m: Value) -> Value:
    """Return the stiffness in the plane of a foot on which the item may slide. [N/m]

    Parameters
    ----------
    share : float
        1 for a foot that holds, near 0 for a free slot. [1]
    shear_spring_N_per_m : float
        Of the pad's layer of tape. [N/m]

    Examples
    --------
    >>> sliding_spring(1.0, 1.3e6)
    1300000.0
    """
    return share * shear_spring_N_per_m


@law(
    unit="Nm/rad",
    equation="k_r = c * k * b**2 / 12",
    symbols={"c": "clamped", "k": "pull_spring_N_per_m", "b": "pad_side_m"},
    source=SECTION,
)
def tilt_spring(clamped: Value, pull_spring_N_per_m: Value, pad_side_m: Value) -> Value:
    """Return how stiffly a pad resists being tilted, none where the item is hinged to it. [N m/rad]

    Parameters
    ----------
    clamped : float or array
        1 where the foot holds the item stiffly, 0 where it is a hinge. [1]
    pull_spring_N_per_m : float or array
        Stiffness of the pad in pull. [N/m]
    pad_side_m : float or array
        Side of the pad at a right angle to the axis of the tilt. [m]

    Examples
    --------
    >>> tilt_spring(1.0, 3.6e6, 0.08)
    1920.0
    """
    return clamped * pull_spring_N_per_m * pad_side_m**2 / 12


@law(
    unit="Nm/rad",
    equation="k_z = c * k * (L**2 + W**2) / 12",
    symbols={"c": "clamped", "k": "shear_spring_N_per_m", "L": "pad_length_m", "W": "pad_width_m"},
    source=SECTION,
)
def twist_spring(
    clamped: Value, shear_spring_N_per_m: Value, pad_length_m: Value, pad_width_m: Value
) -> Value:
    """Return how stiffly a pad resists being turned on the roof, none where it is hinged. [N m/rad]

    Parameters
    ----------
    clamped : float or array
        1 where the foot holds the item stiffly, 0 where it is a hinge. [1]
    shear_spring_N_per_m : float or array
        Stiffness of the pad in shear. [N/m]
    pad_length_m : float or array
        Side along the vehicle. [m]
    pad_width_m : float or array
        Side across the vehicle. [m]

    Examples
    --------
    >>> twist_spring(1.0, 1.2e6, 0.08, 0.06)
    1000.0
    """
    return clamped * shear_spring_N_per_m * (pad_length_m**2 + pad_width_m**2) / 12


@law(
    unit="m",
    equation="x = l / 2 - d",
    symbols={"l": "item_length_m", "d": "behind_front_edge_m"},
    source="geometry",
)
def forward_of_centre(item_length_m: Value, behind_front_edge_m: Value) -> Value:
    """Return how far in front of the item's centre a pad's centre stands. [m]

    Parameters
    ----------
    item_length_m : float or array
        Length of the item along the vehicle. [m]
    behind_front_edge_m : float or array
        Pad's centre behind the item's front edge. [m]

    Examples
    --------
    >>> forward_of_centre(1.48, 0.12)
    0.62
    """
    return item_length_m / 2 - behind_front_edge_m


@law(
    unit="m",
    equation="e = n * b",
    symbols={"n": "share", "b": "pad_side_m"},
    source="definition of the share",
)
def lever_of_share(share: Value, pad_side_m: Value) -> Value:
    """Return the lever that is a share of the pad's side. [m]

    Parameters
    ----------
    share : float or array
        Lever over the side of the pad along the lever, at least 0. [1]
    pad_side_m : float or array
        Side of the pad along the lever. [m]

    Examples
    --------
    >>> lever_of_share(0.3, 0.05)
    0.015
    """
    return share * pad_side_m


@law(
    unit="m",
    equation="e_s = s * abs(e)",
    symbols={"s": "side", "e": "lever_m"},
    source="definition of the sign: forward and left are positive",
)
def lever_to_side(side: Value, lever_m: Value) -> Value:
    """Return the lever with the sign of the side on which the item pulls. [m]

    Parameters
    ----------
    side : float or array
        +1 forward or left, -1 rearward or right, 0 no lever in this direction. [1]
    lever_m : float or array
        Distance from the pad's centre to the line of pull. [m]

    Examples
    --------
    >>> float(lever_to_side(-1.0, 0.012))
    -0.012
    """
    return side * np.abs(lever_m)


@law(
    unit="m",
    equation="h = (1 - c) * h_0",
    symbols={"c": "clamped", "h_0": "connection_height_m"},
    source="definition: the hinge is at the connection, the clamped pad's springs are at its centre",
)
def height_of_pull(clamped: Value, connection_height_m: Value) -> Value:
    """Return the height above the pad at which the item pulls. [m]

    Parameters
    ----------
    clamped : float or array
        1 where the foot holds the item stiffly, 0 where it is a hinge. [1]
    connection_height_m : float or array
        Height above the pad at which the item holds the foot, at least 0. [m]

    Examples
    --------
    >>> height_of_pull(0.0, 0.045)
    0.045
    """
    return (1 - clamped) * connection_height_m


@law(
    unit="Nm",
    equation="M_x = M_s + N * e_y - h * F_y",
    symbols={
        "M_s": "spring_moment_Nm",
        "N": "pull_N",
        "e_y": "lever_across_m",
        "h": "height_of_pull_m",
        "F_y": "force_across_N",
    },
    source=STATICS,
)
def pad_moment_about_x(
    spring_moment_Nm: Value,
    pull_N: Value,
    lever_across_m: Value,
    height_of_pull_m: Value,
    force_across_N: Value,
) -> Value:
    """Return the moment on the pad about its axis along the vehicle. [N m]

    Parameters
    ----------
    spring_moment_Nm : float or array
        Moment that the clamped foot passes on; 0 for a hinge. [N m]
    pull_N : float or array
        Force away from the roof. [N]
    lever_across_m : float or array
        Pad's centre to the line of pull, positive to the left. [m]
    height_of_pull_m : float or array
        Height of the pull above the pad. [m]
    force_across_N : float or array
        Force to the left. [N]

    Examples
    --------
    >>> pad_moment_about_x(0.0, 850.0, 0.012, 0.045, 0.0)
    10.2
    """
    return spring_moment_Nm + pull_N * lever_across_m - height_of_pull_m * force_across_N


@law(
    unit="Nm",
    equation="M_y = M_s + h * F_x - N * e_x",
    symbols={
        "M_s": "spring_moment_Nm",
        "N": "pull_N",
        "e_x": "lever_along_m",
        "h": "height_of_pull_m",
        "F_x": "force_along_N",
    },
    source=STATICS,
)
def pad_moment_about_y(
    spring_moment_Nm: Value,
    pull_N: Value,
    lever_along_m: Value,
    height_of_pull_m: Value,
    force_along_N: Value,
) -> Value:
    """Return the moment on the pad about its axis across the vehicle. [N m]

    Parameters
    ----------
    spring_moment_Nm : float or array
        Moment that the clamped foot passes on; 0 for a hinge. [N m]
    pull_N : float or array
        Force away from the roof. [N]
    lever_along_m : float or array
        Pad's centre to the line of pull, positive forward. [m]
    height_of_pull_m : float or array
        Height of the pull above the pad. [m]
    force_along_N : float or array
        Force forward. [N]

    Examples
    --------
    >>> pad_moment_about_y(0.0, 850.0, 0.0, 0.045, -8.0)
    -0.36
    """
    return spring_moment_Nm + height_of_pull_m * force_along_N - pull_N * lever_along_m


@law(
    unit="Nm",
    equation="M_z = M_s + e_x * F_y - e_y * F_x",
    symbols={
        "M_s": "spring_moment_Nm",
        "e_x": "lever_along_m",
        "e_y": "lever_across_m",
        "F_x": "force_along_N",
        "F_y": "force_across_N",
    },
    source=STATICS,
)
def pad_moment_about_z(
    spring_moment_Nm: Value,
    lever_along_m: Value,
    lever_across_m: Value,
    force_along_N: Value,
    force_across_N: Value,
) -> Value:
    """Return the moment that turns the pad on the roof. [N m]

    Parameters
    ----------
    spring_moment_Nm : float or array
        Moment that the clamped foot passes on; 0 for a hinge. [N m]
    lever_along_m : float or array
        Pad's centre to the line of pull, positive forward. [m]
    lever_across_m : float or array
        Pad's centre to the line of pull, positive to the left. [m]
    force_along_N : float or array
        Force forward. [N]
    force_across_N : float or array
        Force to the left. [N]

    Examples
    --------
    >>> pad_moment_about_z(0.0, 0.0, 0.012, -50.0, 0.0)
    0.6
    """
    return spring_moment_Nm + lever_along_m * force_across_N - lever_across_m * force_along_N


@law(
    unit="Pa",
    equation="sigma_m = N / A",
    symbols={"N": "pull_N", "A": "bond_area_m2"},
    source=SECTION,
)
def mean_tension(pull_N: Value, bond_area_m2: Value) -> Value:
    """Return the mean tension of a pad, negative where it is pressed. [Pa]

    Parameters
    ----------
    pull_N : float or array
        Force away from the roof. [N]
    bond_area_m2 : float or array
        Bonded area. [m²]

    Examples
    --------
    >>> mean_tension(100.0, 25e-4)
    40000.0
    """
    return pull_N / bond_area_m2


@law(
    unit="Pa",
    equation="sigma = maximum(0, N / (L * W) + 6 * abs(M_y) / (W * L**2) + 6 * abs(M_x) / (L * W**2))",
    symbols={
        "N": "pull_N",
        "M_x": "moment_about_x_Nm",
        "M_y": "moment_about_y_Nm",
        "L": "pad_length_m",
        "W": "pad_width_m",
    },
    source=SECTION,
)
def peak_tension(
    pull_N: Value,
    moment_about_x_Nm: Value,
    moment_about_y_Nm: Value,
    pad_length_m: Value,
    pad_width_m: Value,
) -> Value:
    """Return the tension at the worst corner of a rigid pad, 0 where the whole pad is pressed. [Pa]

    Parameters
    ----------
    pull_N : float or array
        Force away from the roof. [N]
    moment_about_x_Nm : float or array
        Moment about the pad's axis along the vehicle. [N m]
    moment_about_y_Nm : float or array
        Moment about the pad's axis across the vehicle. [N m]
    pad_length_m : float or array
        Side along the vehicle. [m]
    pad_width_m : float or array
        Side across the vehicle. [m]

    Examples
    --------
    >>> float(peak_tension(100.0, 0.0, 1.0, 0.05, 0.05))
    88000.0
    """
    mean = pull_N / (pad_length_m * pad_width_m)
    along = 6 * np.abs(moment_about_y_Nm) / (pad_width_m * pad_length_m**2)
    across = 6 * np.abs(moment_about_x_Nm) / (pad_length_m * pad_width_m**2)
    return np.maximum(0.0, mean + along + across)


@law(
    unit="Pa",
    equation="tau = hypot(F_x, F_y) / (L * W) + abs(M_z) * hypot(L, W) / 2 / (L * W * (L**2 + W**2) / 12)",
    symbols={
        "F_x": "force_along_N",
        "F_y": "force_across_N",
        "M_z": "moment_about_z_Nm",
        "L": "pad_length_m",
        "W": "pad_width_m",
    },
    source=SECTION,
)
def pad_shear(
    force_along_N: Value,
    force_across_N: Value,
    moment_about_z_Nm: Value,
    pad_length_m: Value,
    pad_width_m: Value,
) -> Value:
    """Return the shear of a pad: mean of its force plus the twist at its corner, taken as if in line. [Pa]

    Parameters
    ----------
    force_along_N : float or array
        Force forward. [N]
    force_across_N : float or array
        Force to the left. [N]
    moment_about_z_Nm : float or array
        Moment that turns the pad on the roof. [N m]
    pad_length_m : float or array
        Side along the vehicle. [m]
    pad_width_m : float or array
        Side across the vehicle. [m]

    Examples
    --------
    >>> float(pad_shear(30.0, 40.0, 0.25, 0.08, 0.06))
    13541.7
    """
    polar = pad_length_m * pad_width_m * (pad_length_m**2 + pad_width_m**2) / 12
    corner = np.hypot(pad_length_m, pad_width_m) / 2
    mean = np.hypot(force_along_N, force_across_N) / (pad_length_m * pad_width_m)
    return mean + np.abs(moment_about_z_Nm) * corner / polar


@law(
    unit="N/m",
    equation="w = maximum(0, N) / b",
    symbols={"N": "pull_N", "b": "pad_side_m"},
    source="definition of the line load of a peel test",
)
def line_load(pull_N: Value, pad_side_m: Value) -> Value:
    """Return the pull over the pad's side across the lever, 0 where the pad is pressed. [N/m]

    Parameters
    ----------
    pull_N : float or array
        Force away from the roof. [N]
    pad_side_m : float or array
        Side of the pad across the lever: the edge that would peel. [m]

    Examples
    --------
    >>> float(line_load(240.0, 0.05))
    4800.0
    """
    return np.maximum(0.0, pull_N) / pad_side_m
