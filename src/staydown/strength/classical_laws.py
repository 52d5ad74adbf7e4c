"""Laws of the classical bounds: logs back to stress and life, ratios kept."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="Pa",
    equation="S = exp(b)",
    symbols={"b": "log_stress"},
    source="definition: natural logarithm of a stress in pascals",
)
def stress_of_log(log_stress: Value) -> Value:
    """Return the stress whose natural logarithm (of pascals) this is. [Pa]

    Parameters
    ----------
    log_stress : float
        Natural logarithm of a stress in Pa. [1]

    Examples
    --------
    >>> float(stress_of_log(13.19))
    534988.2
    """
    return np.exp(log_stress)


@law(
    unit="s",
    equation="t = exp(b)",
    symbols={"b": "log_life"},
    source="definition: natural logarithm of a life in seconds",
)
def life_of_log(log_life: Value) -> Value:
    """Return the life whose natural logarithm (of seconds) this is. [s]

    Parameters
    ----------
    log_life : float
        Natural logarithm of a life in s. [1]

    Examples
    --------
    >>> float(life_of_log(8.188689))
    3600.
    """
    return np.exp(log_life)


@law(
    unit="Pa",
    equation="S_k = k * S",
    symbols={"k": "kept", "S": "stress_Pa"},
    source="definition: share of a strength that is kept when hot, wet or aged",
)
def kept_strength(kept: Value, stress_Pa: Value) -> Value:
    """Return what is left of a strength. [Pa]

    Parameters
    ----------
    kept : float
        Share that is kept, 0 to 1. [1]
    stress_Pa : float
        Strength before. [Pa]

    Examples
    --------
    >>> kept_strength(0.55, 535e3)
    294250.0
    """
    return kept * stress_Pa


@law(
    unit="N/m",
    equation="w_k = k * w",
    symbols={"k": "kept", "w": "line_load_N_per_m"},
    source="definition: share of a strength that is kept when hot, wet or aged",
)
def kept_line_load(kept: Value, line_load_N_per_m: Value) -> Value:
    """Return what is left of a peel strength. [N/m]

    Parameters
    ----------
    kept : float
        Share that is kept, 0 to 1. [1]
    line_load_N_per_m : float
        Line load before. [N/m]

    Examples
    --------
    >>> kept_line_load(0.5, 2800.0)
    1400.0
    """
    return kept * line_load_N_per_m


@law(
    unit="1",
    equation="k = k_1 * k_2",
    symbols={"k_1": "first", "k_2": "second"},
    source="shares of independent losses multiplied: common practice, no source",
)
def kept_share(first: Value, second: Value) -> Value:
    """Return the share kept after two losses. [1]

    Parameters
    ----------
    first, second : float
        Shares kept after each. [1]

    Examples
    --------
    >>> kept_share(0.7, 0.9)
    0.63
    """
    return first * second


@law(
    unit="1",
    equation="k = exp(x_w - x_d - t * s * sqrt(1 / n_w + 1 / n_d))",
    symbols={
        "x_w": "mean_log_after",
        "x_d": "mean_log_before",
        "t": "student_factor",
        "s": "sd_log",
        "n_w": "count_after",
        "n_d": "count_before",
    },
    source="two-sample t limit on the difference of mean logs, pooled scatter; any statistics text",
)
def ratio_kept_bound(
    mean_log_after: Value,
    mean_log_before: Value,
    student_factor: Value,
    sd_log: Value,
    count_after: Value,
    count_before: Value,
) -> Value:
    """Return a lower limit of the share of strength that conditioned coupons kept. [1]

    Parameters
    ----------
    mean_log_after, mean_log_before : float
        Mean natural logs of conditioned and of plain coupons. [1]
    student_factor : float
        Quantile of Student's t at the confidence asked. [1]
    sd_log : float
        Pooled standard deviation of the logs. [1]
    count_after, count_before : float
        Coupons of each kind. [1]

    Examples
    --------
    >>> float(ratio_kept_bound(12.8, 13.2, 1.86, 0.05, 5.0, 5.0))
    0.632
    """
    spread = sd_log * np.sqrt(1 / count_after + 1 / count_before)
    return np.exp(mean_log_after - mean_log_before - student_factor * spread)


@law(
    unit="Pa",
    equation="S = s * exp(k * v) / (h * w)",
    symbols={"s": "demand_Pa", "k": "factor", "v": "scatter", "h": "kept_hot", "w": "kept_wet"},
    source="tolerance bound turned round: CMH-17-1G 8.5.10, ISO 16269-6",
)
def mean_needed(demand_Pa: Value, factor: Value, scatter: Value, kept_hot: Value, kept_wet: Value) -> Value:
    """Return the mean that pull-offs must reach so that their lower bound carries a demand. [Pa]

    Parameters
    ----------
    demand_Pa : float
        Stress to be carried. [Pa]
    factor : float
        Tolerance factor k of the planned number of pulls. [1]
    scatter : float
        Standard deviation of log strength expected. [1]
    kept_hot, kept_wet : float
        Shares kept when hot and when wet. [1]

    Examples
    --------
    >>> float(mean_needed(140e3, 3.407, 0.05, 0.55, 0.70))
    431171.
    """
    return demand_Pa * np.exp(factor * scatter) / (kept_hot * kept_wet)
