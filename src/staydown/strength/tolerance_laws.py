"""Laws of tolerance: how far below the mean of a few logs a bound must lie."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.law import law

Value = float | NDArray[np.float64]

TOLERANCE = "one-sided tolerance limit of a normal population: CMH-17-1G 8.5.10; ISO 16269-6"
NATRELLA = "Natrella, NBS Handbook 91 (1963); NIST/SEMATECH e-Handbook 7.2.6.3"


@law(
    unit="1",
    method="quantile of the noncentral t distribution: t'(C; n-1, z_p sqrt n) / sqrt n",
    source=TOLERANCE,
)
def tolerance_factor(count: Value, content: Value, confidence: Value) -> Value:
    """Return the one-sided normal tolerance factor k. [1]

    Parameters
    ----------
    count : int
        Number of complete (not censored) results n, at least 2. [1]
    content : float
        Share p of the population that must lie above the bound, 0.90 for a B-basis. [1]
    confidence : float
        Confidence C in that, 0.95 for a B-basis. [1]

    Examples
    --------
    >>> float(tolerance_factor(5, 0.90, 0.95))
    3.407
    >>> float(tolerance_factor(10, 0.99, 0.95))
    3.981
    """
    from scipy.special import nctdtrit, ndtri

    root = np.sqrt(count)
    factor: Value = nctdtrit(count - 1.0, ndtri(content) * root, confidence) / root
    return factor


@law(
    unit="1",
    method="approximation of Natrella by the normal quantiles of content and confidence",
    source=NATRELLA,
)
def tolerance_factor_natrella(count: Value, content: Value, confidence: Value) -> Value:
    """Return the approximate one-sided tolerance factor, a check of the exact one by hand. [1]

    Parameters
    ----------
    count : int
        Number of complete results n, good from about 20. [1]
    content : float
        Share of the population that must lie above the bound. [1]
    confidence : float
        Confidence in that. [1]

    Examples
    --------
    >>> float(tolerance_factor_natrella(43, 0.90, 0.99))
    1.8752
    """
    from scipy.special import ndtri

    z_content, z_confidence = ndtri(content), ndtri(confidence)
    a = 1.0 - z_confidence**2 / (2.0 * (count - 1.0))
    b = z_content**2 - z_confidence**2 / count
    factor: Value = (z_content + np.sqrt(z_content**2 - a * b)) / a
    return factor


@law(
    unit="1",
    equation="b = x - k * s",
    symbols={"x": "mean_log", "k": "factor", "s": "sd_log"},
    source=TOLERANCE,
)
def lower_bound_of_logs(mean_log: Value, sd_log: Value, factor: Value) -> Value:
    """Return the lower bound of a logarithm, in the same base as the mean. [1]

    Parameters
    ----------
    mean_log : float
        Mean of the logs of the results. [1]
    sd_log : float
        Their standard deviation, with n-1. [1]
    factor : float
        Tolerance factor k. [1]

    Examples
    --------
    >>> lower_bound_of_logs(0.804, 0.239, 3.407)
    -0.010273
    """
    return mean_log - factor * sd_log
