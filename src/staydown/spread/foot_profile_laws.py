"""The law of the stress under a foot that bends, from its loaded edge inward; only a picture needs it."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="Pa",
    equation="s = 2 * b * exp(-b * x) * (P * cos(b * x) + b * M * (cos(b * x) - sin(b * x))) / W",
    symbols={"b": "rate_one_per_m", "x": "inward_m", "P": "pull_N", "M": "end_moment_Nm", "W": "edge_m"},
    source="Hetenyi, Beams on Elastic Foundation (1946), semi-infinite beam loaded at its end; from memory",
)
def foot_stress_inward(
    rate_one_per_m: Value, inward_m: Value, pull_N: Value, end_moment_Nm: Value, edge_m: Value
) -> Value:
    """Return the stress under a long foot some way in from its loaded edge, tension positive. [Pa]

    Parameters
    ----------
    rate_one_per_m : float or array
        Lambda of the foot. [1/m]
    inward_m : float or array
        Distance from the loaded edge. [m]
    pull_N : float or array
        Pull at the edge. [N]
    end_moment_Nm : float or array
        Moment at the edge that its pull does not make. [N m]
    edge_m : float or array
        Length of that edge. [m]

    Examples
    --------
    >>> float(foot_stress_inward(34.66, 0.0, 100.0, 0.0, 0.05))
    138640.0
    """
    turn = rate_one_per_m * inward_m
    fading = 2 * rate_one_per_m * np.exp(-turn) / edge_m
    return fading * (pull_N * np.cos(turn) + rate_one_per_m * end_moment_Nm * (np.cos(turn) - np.sin(turn)))
