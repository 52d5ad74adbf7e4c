"""Laws of mixing a wipe from stock by volume."""

from __future__ import annotations

from staydown.foundation.law import law
from staydown.foundation.numbers import Value


@law(
    unit="m3",
    equation="V_s = V * c / c_s",
    symbols={"V": "volume_m3", "c": "share", "c_s": "stock_share"},
    source="balance of the alcohol; volumes of alcohol and water shrink by up to 3 % together",
)
def stock_volume(volume_m3: Value, share: Value, stock_share: Value) -> Value:
    """Return the volume of stock in a mix. [m³]

    Parameters
    ----------
    volume_m3 : float
        Volume wanted. [m³]
    share : float
        Alcohol in the mix, by volume. [1]
    stock_share : float
        Alcohol in the stock, by volume, at least as much. [1]

    Examples
    --------
    >>> stock_volume(0.001, 0.70, 0.99)
    0.0007071
    """
    return volume_m3 * share / stock_share


@law(
    unit="m3",
    equation="V_w = V - V_s",
    symbols={"V": "volume_m3", "V_s": "stock_m3"},
    source="balance of volumes, contraction left out: top up to the mark",
)
def water_volume(volume_m3: Value, stock_m3: Value) -> Value:
    """Return the water that fills a mix up. [m³]

    Parameters
    ----------
    volume_m3 : float
        Volume wanted. [m³]
    stock_m3 : float
        Stock in it. [m³]

    Examples
    --------
    >>> water_volume(0.001, 0.0007071)
    0.0002929
    """
    return volume_m3 - stock_m3
