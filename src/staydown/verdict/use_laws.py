"""Laws of use: demand over what is proven."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="1",
    equation="u = where(s > 0, s / c, 0)",
    symbols={"s": "demand_Pa", "c": "proven_Pa"},
    source="definition: demand over what is proven; nothing is used where nothing pulls",
)
def stress_use(demand_Pa: Value, proven_Pa: Value) -> Value:
    """Return the share of a proven stress that a demand uses; NaN where it pulls and nothing is proven. [1]

    Parameters
    ----------
    demand_Pa : float
        Stress of the pad, 0 or more. [Pa]
    proven_Pa : float
        What is proven, NaN where nothing is. [Pa]

    Examples
    --------
    >>> float(stress_use(137.6e3, 206.0e3)), float(stress_use(0.0, float("nan")))
    (0.668, 0.0)
    """
    return np.where(np.asarray(demand_Pa) > 0.0, demand_Pa / np.asarray(proven_Pa, dtype=float), 0.0)


@law(
    unit="1",
    equation="u = hypot(u_s, u_t)",
    symbols={"u_s": "tension_use", "u_t": "shear_use"},
    source="quadratic interaction of tension and shear in one bond: common practice, no source",
)
def combined_use(tension_use: Value, shear_use: Value) -> Value:
    """Return the use of a pad that is pulled and sheared at once. [1]

    Parameters
    ----------
    tension_use, shear_use : float
        Use in each mode. [1]

    Examples
    --------
    >>> float(combined_use(0.3, 0.4))
    0.5
    """
    return np.hypot(tension_use, shear_use)


@law(
    unit="Pa",
    equation="c_t = r * c_s",
    symbols={"r": "share", "c_s": "tension_proven_Pa"},
    source="planning value: shear strength taken as a share of tension where no shear coupon exists",
)
def shear_from_tension(share: Value, tension_proven_Pa: Value) -> Value:
    """Return a shear strength inferred from proven tension. [Pa]

    Parameters
    ----------
    share : float
        Share of the tension bound. [1]
    tension_proven_Pa : float
        What is proven in tension. [Pa]

    Examples
    --------
    >>> shear_from_tension(0.333, 300e3)
    99900.0
    """
    return share * tension_proven_Pa


@law(
    unit="1",
    equation="u = g / g_lim",
    symbols={"g": "strain", "g_lim": "limit"},
    source="definition: daily shear strain over the planning limit",
)
def strain_use(strain: Value, limit: Value) -> Value:
    """Return the use of the strain that a tape stands daily. [1]

    Parameters
    ----------
    strain : float
        Daily shear strain each way. [1]
    limit : float
        What it stands. [1]

    Examples
    --------
    >>> strain_use(0.3, 0.5)
    0.6
    """
    return strain / limit


@law(
    unit="1",
    equation="u = maximum(u_1, u_2)",
    symbols={"u_1": "first_use", "u_2": "second_use"},
    source="definition: either alone decides",
)
def larger_use(first_use: Value, second_use: Value) -> Value:
    """Return the larger of two uses. [1]

    Parameters
    ----------
    first_use, second_use : float
        Use of two limits that stand beside each other. [1]

    Examples
    --------
    >>> float(larger_use(0.6, 1.2))
    1.2
    """
    return np.maximum(first_use, second_use)


@law(
    unit="1",
    source="definition: either alone decides; what nobody proved of the bond cannot hide a strain over its limit",
    method="larger of both; the strain's where it is over 1 and nothing is proven of the bond",
)
def use_in_heat(strain_use: Value, bond_use: Value) -> Value:
    """Return the use of a pad in a soak: of the strain that its tape stands, and of its bond by what the bow pulls. [1]

    Parameters
    ----------
    strain_use : float
        Use of the strain that a tape stands daily. [1]
    bond_use : float
        Use of what is proven of the bond, NaN where it is pulled and nothing is. [1]

    Examples
    --------
    >>> float(use_in_heat(0.6, 0.8)), float(use_in_heat(1.2, float("nan"))), float(use_in_heat(0.6, float("nan")))
    (0.8, 1.2, nan)
    """
    hidden = np.isnan(bond_use) & (np.asarray(strain_use) > 1.0)
    return np.where(hidden, strain_use, np.maximum(strain_use, bond_use))


@law(
    unit="1",
    equation="u = where(w > 0, w / c, 0)",
    symbols={"w": "line_load_N_per_m", "c": "proven_N_per_m"},
    source="definition: demand over what is proven; nothing is used where nothing peels",
)
def peel_use(line_load_N_per_m: Value, proven_N_per_m: Value) -> Value:
    """Return the share of a proven peel strength that a line load uses; NaN where nothing is proven. [1]

    Parameters
    ----------
    line_load_N_per_m : float
        Pull over the edge of a foot that bends, 0 under a rigid one. [N/m]
    proven_N_per_m : float
        What is proven, NaN where nothing is. [N/m]

    Examples
    --------
    >>> float(peel_use(6450.0, 2800.0)), float(peel_use(0.0, float("nan")))
    (2.304, 0.0)
    """
    used = line_load_N_per_m / np.asarray(proven_N_per_m, dtype=float)
    return np.where(np.asarray(line_load_N_per_m) > 0.0, used, 0.0)


@law(
    unit="Pa",
    source="definition: the lesser of both. Lever coupons that were pried less than the mount limit it all the same, "
    "and give it no credit of their own",
    method="lesser of what straight pulls and pulls with a lever prove; a lever alone counts where it pried as hard",
)
def lesser_of_straight_and_lever(straight_Pa: Value, with_lever_Pa: Value, pried_as_hard: Value) -> Value:
    """Return what is proven in tension by straight pulls and by pulls with a lever. [Pa]

    Parameters
    ----------
    straight_Pa, with_lever_Pa : float
        What each proves, NaN where nothing. [Pa]
    pried_as_hard : float
        1 where the lever coupons had at least the mount's peak over mean, else 0. [1]

    Examples
    --------
    >>> float(lesser_of_straight_and_lever(300e3, 200e3, 0.0))
    200000.0
    >>> float(lesser_of_straight_and_lever(float("nan"), 200e3, 0.0))
    nan
    >>> float(lesser_of_straight_and_lever(float("nan"), 200e3, 1.0))
    200000.0
    """
    lesser = np.fmin(straight_Pa, with_lever_Pa)
    alone = np.isnan(straight_Pa) & (np.asarray(pried_as_hard) <= 0.0)
    return np.where(alone, np.nan, lesser)


@law(
    unit="Pa",
    equation="t = t_l + t_h",
    symbols={"t_l": "shear_Pa", "t_h": "thermal_Pa"},
    source="safe side: load and heat shear the bond the same way",
)
def added_shear(shear_Pa: Value, thermal_Pa: Value) -> Value:
    """Return the shear stress of a rigid adhesive by load and by heat. [Pa]

    Parameters
    ----------
    shear_Pa, thermal_Pa : float
        Shear stress by load, and by thermal movement. [Pa]

    Examples
    --------
    >>> added_shear(30e3, 20e3)
    50000.0
    """
    return shear_Pa + thermal_Pa


@law(
    unit="N",
    equation="F = hypot(maximum(N, 0), hypot(F_x, F_y))",
    symbols={"N": "pull_N", "F_x": "along_N", "F_y": "across_N"},
    source="definition: resultant; a mount that is pressed down hands on its shear alone",
)
def link_pull(pull_N: Value, along_N: Value, across_N: Value) -> Value:
    """Return the force that the links of the chain hand on at a mount. [N]

    Parameters
    ----------
    pull_N : float
        Force away from the roof, negative where it presses. [N]
    along_N, across_N : float
        Forces in the plane. [N]

    Examples
    --------
    >>> float(link_pull(400.0, 30.0, 0.0)), float(link_pull(-400.0, 30.0, 40.0))
    (401.12, 50.0)
    """
    return np.hypot(np.maximum(pull_N, 0.0), np.hypot(along_N, across_N))


@law(
    unit="1",
    equation="u = F / R",
    symbols={"F": "demand_N", "R": "strength_N"},
    source="definition: demand over strength of a link",
)
def link_use(demand_N: Value, strength_N: Value) -> Value:
    """Return the use of a link of the chain. [1]

    Parameters
    ----------
    demand_N : float
        Force it hands on. [N]
    strength_N : float
        Its strength. [N]

    Examples
    --------
    >>> link_use(450.0, 1800.0)
    0.25
    """
    return demand_N / strength_N


@law(
    unit="N",
    equation="R = F / u",
    symbols={"F": "force_N", "u": "use"},
    source="definition: the force at which all that is proven is used",
)
def force_at_full_use(force_N: Value, use: Value) -> Value:
    """Return the force at which a mount is used to 100 %, the way it is loaded now. [N]

    Parameters
    ----------
    force_N : float
        Force now. [N]
    use : float
        Use now, above 0. [1]

    Examples
    --------
    >>> force_at_full_use(400.0, 0.5)
    800.0
    """
    return force_N / use
