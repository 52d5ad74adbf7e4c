"""Laws of the success run: what it proves that all coupons held, or all but a few."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.law import law

Value = float | NDArray[np.float64]

SUCCESS_RUN = (
    "binomial with no failures; as in MIL-HDBK-781 and the first order statistic of CMH-17-1G 8.3.4.5"
)
WEIBULL_RUN = "Weibull zero-failure plan: Lipson & Sheth 1973; Meeker & Escobar 1998, 10.6"
CLOPPER = "Clopper & Pearson, Biometrika 26 (1934) 404"


@law(
    unit="1",
    equation="R = (1 - C)**(1 / n)",
    symbols={"C": "confidence", "n": "count"},
    source=SUCCESS_RUN,
)
def success_run_reliability(count: Value, confidence: Value) -> Value:
    """Return the share that would hold too, when every coupon tested held. [1]

    Parameters
    ----------
    count : int
        Coupons tested, all of which held. [1]
    confidence : float
        Confidence in the answer. [1]

    Examples
    --------
    >>> success_run_reliability(5, 0.90)
    0.631
    """
    return (1.0 - confidence) ** (1.0 / count)


@law(
    unit="1",
    equation="n = log(1 - C) / log(R)",
    symbols={"C": "confidence", "R": "reliability"},
    source=SUCCESS_RUN,
)
def success_run_count(reliability: Value, confidence: Value) -> Value:
    """Return how many coupons must all hold to prove a share; round it up. [1]

    Parameters
    ----------
    reliability : float
        Share of bonds that shall hold, below 1. [1]
    confidence : float
        Confidence in the answer. [1]

    Examples
    --------
    >>> float(success_run_count(0.90, 0.95))
    28.4332
    """
    return np.log(1.0 - confidence) / np.log(reliability)


@law(
    unit="1",
    equation="R = (1 - C)**(1 / (n * k**b))",
    symbols={"C": "confidence", "n": "count", "k": "time_ratio", "b": "shape"},
    source=WEIBULL_RUN,
)
def success_run_reliability_longer(count: Value, confidence: Value, time_ratio: Value, shape: Value) -> Value:
    """Return the share that would hold the asked time, when every coupon held a multiple of it. [1]

    Parameters
    ----------
    count : int
        Coupons tested, all of which held. [1]
    confidence : float
        Confidence in the answer. [1]
    time_ratio : float
        Time tested over time asked. [1]
    shape : float
        Shape of the Weibull distribution of life. [1]

    Examples
    --------
    >>> success_run_reliability_longer(6, 0.90, 2.0, 1.5)
    0.873
    """
    return (1.0 - confidence) ** (1.0 / (count * time_ratio**shape))


@law(
    unit="1",
    equation="n = log(1 - C) / (k**b * log(R))",
    symbols={"C": "confidence", "R": "reliability", "k": "time_ratio", "b": "shape"},
    source=WEIBULL_RUN,
)
def success_run_count_longer(reliability: Value, confidence: Value, time_ratio: Value, shape: Value) -> Value:
    """Return how many coupons must hold a multiple of the asked time to prove a share; round it up. [1]

    Parameters
    ----------
    reliability : float
        Share of bonds that shall hold the asked time. [1]
    confidence : float
        Confidence in the answer. [1]
    time_ratio : float
        Time tested over time asked. [1]
    shape : float
        Shape of the Weibull distribution of life. [1]

    Examples
    --------
    >>> float(success_run_count_longer(0.90, 0.90, 2.0, 1.5))
    7.73
    """
    return np.log(1.0 - confidence) / (time_ratio**shape * np.log(reliability))


@law(
    unit="1",
    equation="k = (log(1 - C) / (n * log(R)))**(1 / b)",
    symbols={"n": "count", "C": "confidence", "R": "reliability", "b": "shape"},
    source=WEIBULL_RUN,
)
def success_run_time_ratio(count: Value, reliability: Value, confidence: Value, shape: Value) -> Value:
    """Return how many times the asked time every coupon must hold to prove a share. [1]

    Parameters
    ----------
    count : int
        Coupons tested, all of which hold. [1]
    reliability : float
        Share of bonds that shall hold the asked time. [1]
    confidence : float
        Confidence in the answer. [1]
    shape : float
        Shape of the Weibull distribution of life. [1]

    Examples
    --------
    >>> float(success_run_time_ratio(6, 0.90, 0.90, 2.0))
    1.9085
    """
    return (np.log(1.0 - confidence) / (count * np.log(reliability))) ** (1.0 / shape)


@law(
    unit="1", method="lower limit of Clopper and Pearson, a quantile of the beta distribution", source=CLOPPER
)
def demonstrated_reliability(count: Value, falls: Value, confidence: Value) -> Value:
    """Return the share that would hold, when some of the coupons tested fell. [1]

    Parameters
    ----------
    count : int
        Coupons tested. [1]
    falls : int
        How many of them fell, less than all. [1]
    confidence : float
        Confidence in the answer. [1]

    Examples
    --------
    >>> float(demonstrated_reliability(46, 1, 0.95))
    0.9010
    """
    from scipy.special import betaincinv

    share: Value = betaincinv(count - falls, falls + 1.0, 1.0 - confidence)
    return share
