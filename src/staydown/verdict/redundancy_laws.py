"""Laws of what is left: how long it holds at its use, how much life a lost mount costs, at which speed it holds."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

_POWER_LAW = "power law of life: life falls with stress to the power m (Charles 1958)"
_WIND = "definition: wind loads go with the square of the air's speed"


@law(
    unit="s",
    equation="t = T / u**m",
    symbols={"T": "lasts_s", "u": "use", "m": "slope"},
    source=_POWER_LAW,
)
def life_at_use(lasts_s: Value, use: Value, slope: Value) -> Value:
    """Return how long a bond holds that is proven for a time and used to a share of what is proven. [s]

    It is the life of a bond at the lower bound, fresh: most last longer, and what was used before counts off.

    Parameters
    ----------
    lasts_s : float
        Time for which the strength is proven. [s]
    use : float
        Stress over what is proven for that time, above 0. [1]
    slope : float
        Exponent m of the power law of life. [1]

    Examples
    --------
    >>> life_at_use(9000.0, 1.5, 9.0)
    234.1
    """
    return lasts_s / use**slope


@law(
    unit="1",
    equation="k = (u_0 / u_1)**m",
    symbols={"u_0": "use_before", "u_1": "use_after", "m": "slope"},
    source=_POWER_LAW + "; n equal mounts that share alike leave ((n - 1)/n)**m",
)
def life_left_share(use_before: Value, use_after: Value, slope: Value) -> Value:
    """Return the life of the most used bond after a loss over its life before. [1]

    Parameters
    ----------
    use_before, use_after : float
        Its use before and after the loss, above 0. [1]
    slope : float
        Exponent m of the power law of life. [1]

    Examples
    --------
    >>> life_left_share(3.0, 4.0, 5.0)
    0.2373
    """
    return (use_before / use_after) ** slope


@law(
    unit="m/s",
    equation="v = V * sqrt(x)",
    symbols={"V": "air_speed_m_per_s", "x": "wind_share"},
    source=_WIND,
)
def air_speed_at_share(air_speed_m_per_s: Value, wind_share: Value) -> Value:
    """Return the speed of the air, wind included, at which the wind loads are a share of a case's. [m/s]

    Parameters
    ----------
    air_speed_m_per_s : float
        Speed of the air in the case. [m/s]
    wind_share : float
        Wind loads over the case's, 0 or more. [1]

    Examples
    --------
    >>> float(air_speed_at_share(38.0, 0.5))
    26.87
    """
    return air_speed_m_per_s * np.sqrt(wind_share)


@law(
    unit="m/s",
    equation="v_r = maximum(v - (V - R), 0)",
    symbols={"v": "limit_m_per_s", "V": "air_speed_m_per_s", "R": "road_speed_m_per_s"},
    source="definition: the wind of the case stays, the vehicle slows down",
)
def road_speed_at_limit(limit_m_per_s: Value, air_speed_m_per_s: Value, road_speed_m_per_s: Value) -> Value:
    """Return the road speed at which the air comes no faster than a limit, the case's wind blowing. [m/s]

    Parameters
    ----------
    limit_m_per_s : float
        Fastest air that still holds. [m/s]
    air_speed_m_per_s, road_speed_m_per_s : float
        Speeds of air and vehicle in the case. [m/s]

    Examples
    --------
    >>> float(road_speed_at_limit(27.0, 38.0, 29.0)), float(road_speed_at_limit(8.0, 38.0, 29.0))
    (18.0, 0.0)
    """
    return np.maximum(limit_m_per_s - (air_speed_m_per_s - road_speed_m_per_s), 0.0)
