"""Laws of the prior: how a band low / likely / high is read, and how a data sheet's claim is discounted."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.strength.rupture_laws import GAS_CONSTANT_J_per_mol_K as GAS
from staydown.strength.rupture_laws import HOUR_s

REFERENCE_K = 296.15  # 23 °C, the standard climate of ISO 291

Z_95 = 1.6448536269514722  # 95 % quantile of the standard normal distribution
READING = (
    "reading of a planning band: likely is the median, the farther end its 5 or 95 % quantile; our convention"
)
CLAIM = "from the rupture law; our convention"


@law(
    unit="1",
    equation="w = maximum(log(h / c), log(c / l)) / 1.6448536269514722",
    symbols={"l": "low", "c": "likely", "h": "high"},
    source=READING,
)
def band_ln_sd(low: float, likely: float, high: float) -> float:
    """Return the standard deviation of the natural log that a band stands for. [1]

    The farther end counts, so that the prior is never narrower than the band on either side.

    Parameters
    ----------
    low : float
        Low end, above 0. [1]
    likely : float
        Median, above low. [1]
    high : float
        High end, above likely. [1]

    Examples
    --------
    >>> float(band_ln_sd(50.0, 100.0, 150.0))
    0.4214
    """
    return np.maximum(np.log(high / likely), np.log(likely / low)) / Z_95  # type: ignore[no-any-return]


@law(
    unit="Pa",
    equation="S = p * (t / 3600)**(1 / m) * exp(-E / (8.314462618 * m) * (1 / T - 1 / 296.15)) * b",
    symbols={
        "p": "stress_Pa",
        "t": "static_life_s",
        "T": "temperature_K",
        "m": "slope",
        "E": "activation_energy_J_per_mol",
        "b": "sheet_bias",
    },
    source=CLAIM,
)
def claimed_strength(
    stress_Pa: float,
    static_life_s: float,
    temperature_K: float,
    slope: float,
    activation_energy_J_per_mol: float,
    sheet_bias: float,
) -> float:
    """Return the stress for 1 h at 23 °C that a data sheet's line stands for on a roof. [Pa]

    Parameters
    ----------
    stress_Pa : float
        Stress held or reached. [Pa]
    static_life_s : float
        How long it was held, or the static life of the pull. [s]
    temperature_K : float
        Temperature of the test. [K]
    slope : float
        Exponent m of the power law of life. [1]
    activation_energy_J_per_mol : float
        Apparent activation energy. [J/mol]
    sheet_bias : float
        Strength on a roof over that of the sheet (an average of unknown number on an ideal surface). [1]

    Examples
    --------
    >>> float(claimed_strength(100e3, 3600.0, 296.15, 9.0, 80e3, 0.5))
    50000.0
    """
    shift = activation_energy_J_per_mol / (GAS * slope) * (1.0 / temperature_K - 1.0 / REFERENCE_K)
    return stress_Pa * (static_life_s / HOUR_s) ** (1.0 / slope) * np.exp(-shift) * sheet_bias  # type: ignore[no-any-return]
