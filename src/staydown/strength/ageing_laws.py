"""Laws of ageing: how strength falls with time and temperature of storage."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.law import law
from staydown.strength.rupture_laws import GAS_CONSTANT_J_per_mol_K as GAS

Value = float | NDArray[np.float64]

ROOT_TIME = "destructive degradation of an adhesive bond: Escobar, Meeker, Kugler & Kramer 2003"


@law(
    unit="1",
    equation="k = exp(-r * exp(E / 8.314462618 * (1 / T0 - 1 / T)) * sqrt(t))",
    symbols={
        "r": "rate_per_root_second",
        "E": "activation_energy_J_per_mol",
        "T0": "reference_temperature_K",
        "T": "temperature_K",
        "t": "aged_s",
    },
    source=ROOT_TIME,
)
def kept_after_ageing(
    aged_s: Value,
    temperature_K: Value,
    rate_per_root_second: Value,
    activation_energy_J_per_mol: Value,
    reference_temperature_K: Value,
) -> Value:
    """Return the share of strength kept after storage: its log falls with the root of time. [1]

    Parameters
    ----------
    aged_s : float
        Time of storage. [s]
    temperature_K : float
        Temperature of storage. [K]
    rate_per_root_second : float
        Rate at the reference temperature, per root of a second. [1]
    activation_energy_J_per_mol : float
        Apparent activation energy of the rate. [J/mol]
    reference_temperature_K : float
        Temperature of the rate. [K]

    Examples
    --------
    >>> float(kept_after_ageing(604800.0, 323.15, 1.3178e-4, 61400.0, 323.15))
    0.9026
    """
    shift = activation_energy_J_per_mol / GAS * (1.0 / reference_temperature_K - 1.0 / temperature_K)
    return np.exp(-rate_per_root_second * np.exp(shift) * np.sqrt(aged_s))
