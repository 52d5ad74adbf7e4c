"""How the activation energy enters log life at a temperature: by Arrhenius, or by Williams, Landel and Ferry."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from staydown.strength.families import Array
from staydown.strength.prior_laws import REFERENCE_K
from staydown.strength.rupture_laws import GAS_CONSTANT_J_per_mol_K

TemperatureLaw = Literal["arrhenius", "wlf"]

# Constant c2 at 23 °C for a glass transition at -30 °C, from the universal 51.6 K of Williams, Landel & Ferry 1955;
# the transition is a planning value (common practice for pressure-sensitive acrylics, no source).
WLF_OFFSET_AT_23C_K = 51.6 + 53.0
_LN10_R = math.log(10.0) * GAS_CONSTANT_J_per_mol_K


def temperature_term(law: TemperatureLaw, temperature_K: Array) -> Array:
    """Return the factor t such that log10 life changes by Ea t from 23 °C to a temperature. [mol/J]

    With "wlf" the activation energy is the apparent one at 23 °C, so that both laws agree there in value and
    slope, and the prior means the same; farther off, life shortens less in heat and lengthens more in cold.
    """
    if law == "arrhenius":
        return (1.0 / temperature_K - 1.0 / REFERENCE_K) / _LN10_R
    above = temperature_K - REFERENCE_K
    if np.any(above <= -WLF_OFFSET_AT_23C_K):
        raise ValueError("the law of Williams, Landel and Ferry does not reach below the glass transition")
    return -above / (REFERENCE_K**2 * (1.0 + above / WLF_OFFSET_AT_23C_K)) / _LN10_R
