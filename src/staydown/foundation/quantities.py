"""The quantities of the trade: SI unit, the suffix a name carries, and the units a person is shown.

Suffixes are read off names (`air_speed_m_per_s`); a name without one is a pure number. Conversions of
what a person *typed* live in `units.py`; here are only the fixed factors for showing a result.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import ceil, floor, isclose, log10
from typing import Literal

STANDARD_GRAVITY_m_per_s2 = 9.80665  # ISO 80000-3, exact by definition
ZERO_CELSIUS_K = 273.15  # ISO 80000-5, exact by definition


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A kind of number: name, SI unit, and (unit, factor, decimals) to show it in each system."""

    name: str
    unit: str
    metric: tuple[str, float, int]
    us: tuple[str, float, int]
    example: str


def _q(
    name: str, unit: str, metric: tuple[str, float, int], us: tuple[str, float, int], example: str
) -> Quantity:
    return Quantity(name=name, unit=unit, metric=metric, us=us, example=example)


_IN, _FT, _MI, _LB, _LBF = 0.0254, 0.3048, 1609.344, 0.45359237, 4.4482216152605

# suffix -> quantity; factors are exact by definition of the international yard and pound (1959)
QUANTITIES: dict[str, Quantity] = {
    "m": _q("length", "m", ("mm", 1e3, 0), ("in", 1 / _IN, 2), "120 mm or 4 3/4 in"),
    "m2": _q("area", "m2", ("cm²", 1e4, 1), ("in²", 1 / _IN**2, 2), "25 mm x 25 mm or 6 cm^2"),
    "m3": _q("volume", "m3", ("L", 1e3, 2), ("US gal", 1 / 3.785411784e-3, 2), "5 L"),
    "kg": _q("mass", "kg", ("kg", 1.0, 2), ("lb", 1 / _LB, 2), "11.2 kg or 24 lb"),
    "s": _q("time", "s", ("s", 1.0, 0), ("s", 1.0, 0), "2.5 h"),
    "N": _q("force", "N", ("N", 1.0, 0), ("lb", 1 / _LBF, 0), "1.8 kN or 400 lbf"),
    "Nm": _q("moment", "Nm", ("N m", 1.0, 1), ("lbf ft", 1 / (_LBF * _FT), 1), "3 N m"),
    "Pa": _q("pressure", "Pa", ("kPa", 1e-3, 1), ("psi", _IN**2 / _LBF, 1), "20 psi or 138 kPa"),
    "m_per_s": _q("speed", "m/s", ("km/h", 3.6, 0), ("mph", 3600 / _MI, 0), "95 km/h or 60 mph"),
    "K": _q("temperature", "K", ("°C", 1.0, 0), ("°F", 1.8, 0), "38 degC or 100 degF"),
    "W_per_m2": _q("irradiance", "W/m2", ("W/m²", 1.0, 0), ("W/m²", 1.0, 0), "1000 W/m^2"),
    "N_per_m": _q("line load", "N/m", ("N/mm", 1e-3, 2), ("lb/in", _IN / _LBF, 1), "30 N/mm or 170 lb/in"),
    "rad": _q("angle", "rad", ("°", 57.29577951308232, 1), ("°", 57.29577951308232, 1), "2 deg"),
    "kg_per_m3": _q("density", "kg/m3", ("kg/m³", 1.0, 3), ("lb/ft³", _FT**3 / _LB, 4), "1.2 kg/m^3"),
    "one_per_K": _q("thermal expansion", "1/K", ("10⁻⁶/K", 1e6, 1), ("10⁻⁶/°F", 1e6 / 1.8, 1), "23e-6 1/K"),
    "W_per_m2_K": _q("heat transfer", "W/m2K", ("W/m²K", 1.0, 1), ("W/m²K", 1.0, 1), "5 W/m^2/K"),
    "W_per_m_K": _q("thermal conductivity", "W/mK", ("W/mK", 1.0, 4), ("W/mK", 1.0, 4), "0.025 W/m/K"),
    "J_per_m2_K": _q(
        "heat capacity of an area", "J/m2K", ("kJ/m²K", 1e-3, 1), ("kJ/m²K", 1e-3, 1), "8 kJ/m^2/K"
    ),
    "Pa_s": _q("viscosity", "Pa s", ("µPa s", 1e6, 2), ("µPa s", 1e6, 2), "18e-6 Pa s"),
    "m2_per_s": _q("kinematic viscosity", "m2/s", ("mm²/s", 1e6, 2), ("mm²/s", 1e6, 2), "15e-6 m^2/s"),
    "K_m2_per_W": _q("sun factor", "K m2/W", ("K m²/W", 1.0, 3), ("K m²/W", 1.0, 3), "0.044 K m^2/W"),
    "m_per_s2": _q("acceleration", "m/s2", ("m/s²", 1.0, 2), ("ft/s²", 1 / _FT, 2), "9.81 m/s^2"),
    "J_per_mol": _q("activation energy", "J/mol", ("kJ/mol", 1e-3, 0), ("kJ/mol", 1e-3, 0), "80 kJ/mol"),
    "Pa_per_s": _q("stress rate", "Pa/s", ("kPa/s", 1e-3, 1), ("psi/s", _IN**2 / _LBF, 1), "10 kPa/s"),
    "m4": _q("second moment of area", "m4", ("mm⁴", 1e12, 0), ("in⁴", 1 / _IN**4, 4), "1e4 mm^4"),
    "N_per_m3": _q("bed stiffness", "N/m3", ("N/mm³", 1e-9, 3), ("lb/in³", _IN**3 / _LBF, 0), "1 N/mm^3"),
    "N_m2": _q(
        "bending stiffness",
        "Nm2",
        ("N m²", 1.0, 0),
        ("lbf in²", 1 / (_LBF * _IN**2), 0),
        "1400 N m^2",
    ),
    "one_per_m": _q("curvature", "1/m", ("1/m", 1.0, 4), ("1/in", _IN, 5), "0.1 1/m"),
    "Hz": _q("frequency", "Hz", ("Hz", 1.0, 1), ("Hz", 1.0, 1), "12 Hz"),
    "kg_m2": _q(
        "mass moment of inertia", "kgm2", ("kg m²", 1.0, 3), ("lb ft²", 1 / (_LB * _FT**2), 2), "1 kg m^2"
    ),
    "m2_m": _q("road roughness", "m2m", ("cm² m", 1e4, 2), ("cm² m", 1e4, 2), "2.56 cm^2 m"),
    "m2_per_Hz": _q(
        "spectrum of displacement", "m2/Hz", ("mm²/Hz", 1e6, 3), ("in²/Hz", 1 / _IN**2, 6), "1e-6 m^2/Hz"
    ),
    "m2_per_s3": _q(
        "spectrum of acceleration", "m2/s3", ("m²/s³", 1.0, 4), ("ft²/s³", 1 / _FT**2, 3), "1 m^2/s^3"
    ),
    "Nm_per_rad": _q(
        "rotational stiffness",
        "Nm/rad",
        ("N m/rad", 1.0, 0),
        ("lbf ft/rad", 1 / (_LBF * _FT), 0),
        "1 N m/rad",
    ),
}
PURE = _q("pure number", "1", ("", 1.0, 3), ("", 1.0, 3), "0.6")

_BY_LENGTH = sorted(QUANTITIES, key=len, reverse=True)


@cache
def suffix_of(name: str) -> str:
    """Return the unit suffix that a name carries, empty for a pure number.

    Examples
    --------
    >>> suffix_of("air_speed_m_per_s"), suffix_of("coefficient")
    ('m_per_s', '')
    """
    for suffix in _BY_LENGTH:
        if name == suffix or name.endswith("_" + suffix):
            return suffix
    return ""


@cache
def quantity_of(name: str) -> Quantity:
    """Return the quantity that a name's suffix stands for."""
    suffix = suffix_of(name)
    return QUANTITIES[suffix] if suffix else PURE


def key_of(name: str) -> str:
    """Return the name without its unit suffix: the key that a job file uses.

    Examples
    --------
    >>> key_of("cruise_speed_m_per_s")
    'cruise_speed'
    """
    suffix = suffix_of(name)
    return name[: -len(suffix) - 1] if suffix else name


_BY_UNIT = {quantity.unit: quantity for quantity in QUANTITIES.values()} | {"1": PURE}


_SUFFIX_OF_UNIT = {quantity.unit: suffix for suffix, quantity in QUANTITIES.items()} | {"1": ""}


def suffix_with_unit(unit: str) -> str:
    """Return the suffix of names whose SI unit this is, empty for a pure number.

    Examples
    --------
    >>> suffix_with_unit("W/m2K")
    'W_per_m2_K'
    """
    return _SUFFIX_OF_UNIT[unit]


def quantity_with_unit(unit: str) -> Quantity:
    """Return the quantity whose SI unit this is."""
    return _BY_UNIT[unit]


def shown(value: float, unit: str, system: str = "metric", decimals: int | None = None) -> str:
    """Return an SI value as a person reads it: `412 N`, `169.0 kPa`, `82 °C`; temperatures in K are shifted.

    Parameters
    ----------
    value : float
        The value in the SI unit named next.
    unit : str
        An SI unit of QUANTITIES.
    system : str
        "metric" or "us".
    decimals : int or None
        Digits after the point; None takes the quantity's own.

    Examples
    --------
    >>> shown(412.0, "N"), shown(412.0, "N", "us"), shown(355.15, "K")
    ('412 N', '93 lb', '82 °C')
    """
    quantity = quantity_with_unit(unit)
    label, factor, own = quantity.metric if system == "metric" else quantity.us
    number = value * factor
    if unit == "K":
        number = value - ZERO_CELSIUS_K if system == "metric" else value * 1.8 - 459.67
    text = f"{number:.{own if decimals is None else decimals}f}"
    if float(text) == 0.0:
        text = text.lstrip("-")
    return f"{text} {label}".rstrip()


def both(value: float, unit: str, first: str = "metric") -> str:
    """Return a value in both systems, the person's own first: `412 N (93 lb)`."""
    other = "us" if first == "metric" else "metric"
    one, two = shown(value, unit, first), shown(value, unit, other)
    return one if one == two else f"{one} ({two})"


Way = Literal["nearest", "up", "down"]


def _whole(count: float, way: Way) -> int:
    """Return the whole count to the side that is asked for; what is whole but for the last bits stays."""
    near = round(count)
    if way == "nearest" or isclose(count, near, rel_tol=1e-9):
        return near
    return ceil(count) if way == "up" else floor(count)


def rounded(value: float, unit: str, first: str = "metric", way: Way = "nearest", digits: int = 3) -> str:
    """Return a value in both systems, no finer than it means something, each rounded to the side that is asked for.

    A least strength goes up, a largest slack down: what is bought by the rounded figure is right in either system.

    Parameters
    ----------
    value : float
        The value in the SI unit named next; no temperature.
    unit : str
        An SI unit of QUANTITIES, but K.
    first : str
        "metric" or "us".
    way : str
        "nearest", "up" or "down".
    digits : int
        Digits that count; never finer than the quantity is shown.

    Examples
    --------
    >>> rounded(7151.2, "N", way="up"), rounded(0.0053, "m", "us", "up", 2), rounded(6e4, "N/m", way="down")
    ('7160 N (1610 lb)', '0.21 in (6 mm)', '60 N/mm (342 lb/in)')
    """
    quantity = quantity_with_unit(unit)
    told = {}
    for system, (label, factor, finest) in (("metric", quantity.metric), ("us", quantity.us)):
        number = value * factor
        size = floor(log10(abs(number))) if number else 0
        decimals = min(finest, digits - 1 - size)
        text = f"{_whole(number * 10.0**decimals, way) / 10.0**decimals:.{max(decimals, 0)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
        told[system] = f"{text} {label}"
    other = "us" if first == "metric" else "metric"
    return told[first] if told[first] == told[other] else f"{told[first]} ({told[other]})"


_YEAR_s = 365.25 * 86400.0
# (seconds, name, least count of it to be used)
_SPANS = (
    (_YEAR_s, "years", 2.0),
    (_YEAR_s / 12.0, "months", 3.0),
    (86400.0, "days", 2.0),
    (3600.0, "h", 1.0),
    (60.0, "min", 1.0),
)


def lasting(seconds: float) -> str:
    """Return a duration in the largest unit that keeps it readable: `3 s`, `10 min`, `2.5 h`, `7 days`.

    Examples
    --------
    >>> lasting(3.0), lasting(600.0), lasting(9000.0), lasting(604800.0), lasting(31557600.0)
    ('3 s', '10 min', '2.5 h', '7 days', '12 months')
    >>> lasting(2.0e8)
    '6.34 years'
    """
    for size, label, least in _SPANS:
        if seconds >= size * least:
            count = seconds / size
            return f"{count:.3g} {label}" if count < 1000.0 else f"{float(f'{count:.2g}'):,.0f} {label}"
    return f"{seconds:.3g} s"
