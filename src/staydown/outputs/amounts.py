"""Says amounts as people read them: newtons and pounds, no more digits than mean something, use with its mark."""

from __future__ import annotations

import math

from staydown.foundation.quantities import quantity_with_unit, shown
from staydown.loads.load_case import LoadCase
from staydown.strength.evidence_level import Level

NOT_KNOWN = "not known"
ONLY_ONE_SEASON = ("snow", "soak")  # their names say the season already
MOST_PERCENT = 999.0  # beyond it nobody reads the figure


def _digits(value: float, unit: str, system: str) -> int | None:
    """Return digits after the point: three that count for small forces and stresses, none that pretend."""
    if unit not in ("N", "Pa"):
        return None
    quantity = quantity_with_unit(unit)
    _, factor, _ = quantity.metric if system == "metric" else quantity.us
    size = abs(value * factor)
    if unit == "N":
        return 0 if size >= 10.0 else 1
    return 0 if size >= 100.0 else 1 if size >= 1.0 else 2


def one(value: float, unit: str, system: str) -> str:
    """Return an amount in one system.

    Examples
    --------
    >>> one(412.3, "N", "metric"), one(4.1, "N", "us"), one(169e3, "Pa", "metric")
    ('412 N', '0.9 lb', '169 kPa')
    """
    return shown(value, unit, system, _digits(value, unit, system)) if math.isfinite(value) else NOT_KNOWN


def amount(value: float, unit: str, system: str) -> str:
    """Return an amount in both systems, the person's own first.

    Examples
    --------
    >>> amount(412.3, "N", "metric"), amount(169e3, "Pa", "us")
    ('412 N (93 lb)', '24.5 psi (169 kPa)')
    """
    if not math.isfinite(value):
        return NOT_KNOWN
    mine, other = one(value, unit, system), one(value, unit, other_system(system))
    return mine if mine == other else f"{mine} ({other})"


def bare(value: float, unit: str, system: str) -> str:
    """Return an amount in one system without its unit, for a table whose head says it."""
    return one(value, unit, system).split(" ")[0] if math.isfinite(value) else "-"


def bare_pair(value: float, unit: str, system: str) -> str:
    """Return an amount in both systems without units: `412 (93)`."""
    if not math.isfinite(value):
        return "-"
    return f"{bare(value, unit, system)} ({bare(value, unit, other_system(system))})"


def units_of(unit: str, system: str) -> str:
    """Return the units that `bare_pair` leaves out: `N (lb)`."""
    quantity = quantity_with_unit(unit)
    labels = (quantity.metric[0], quantity.us[0])
    mine, other = labels if system == "metric" else labels[::-1]
    return mine if mine == other else f"{mine} ({other})"


def in_other(unit: str, system: str) -> str:
    """Return what one of the person's units is in the other system, for a table that has room for one alone.

    Examples
    --------
    >>> in_other("Pa", "us"), in_other("Pa", "metric")
    ('1 psi is 6.89 kPa', '1 kPa is 0.145 psi')
    """
    quantity = quantity_with_unit(unit)
    mine, other = quantity.metric, quantity.us
    if system == "us":
        mine, other = other, mine
    return f"1 {mine[0]} is {other[1] / mine[1]:.3g} {other[0]}"


def length(value_m: float, system: str) -> str:
    """Return a length in both systems, to the millimetre and to the inch (tenths for short ones).

    Examples
    --------
    >>> length(1.48, "metric"), length(0.075, "us")
    ('1480 mm (58 in)', '3.0 in (75 mm)')
    """
    digits = 0 if value_m >= 0.254 else 1
    told = {"metric": shown(value_m, "m", "metric", 0), "us": shown(value_m, "m", "us", digits)}
    return f"{told[system]} ({told[other_system(system)]})"


def other_system(system: str) -> str:
    """Return the other of the two systems of units."""
    return "us" if system == "metric" else "metric"


def percent(use: float | None) -> str:
    """Return a share as a person reads it.

    Examples
    --------
    >>> percent(0.734), percent(None), percent(250.0)
    ('73 %', 'not known', 'over 999 %')
    """
    if use is None or math.isnan(use):
        return NOT_KNOWN
    return f"over {MOST_PERCENT:.0f} %" if 100 * use > MOST_PERCENT else f"{bare_percent(use)} %"


def bare_percent(use: float | None) -> str:
    """Return a share in per cent without the sign: `73`, `<1` for the smallest, `-` where it is not known.

    A share just over the whole never reads as 100.
    """
    if use is None or math.isnan(use):
        return "-"
    if 100 * use > MOST_PERCENT:
        return f">{MOST_PERCENT:.0f}"
    if 0.0 < use < 0.005:
        return "<1"
    return f"{math.ceil(100 * use) if 1.0 < use < 1.005 else 100 * use:.0f}"


def percent_pair(likely: float | None, high: float | None) -> str:
    """Return the use at the likely and the high band: `41 / 73`."""
    return f"{bare_percent(likely)} / {bare_percent(high)}"


def mark(use: float | None, level: Level) -> str:
    """Return the marks of a use: `?` inferred, `-` nothing proven, `!` over the whole.

    Examples
    --------
    >>> mark(0.4, "covered"), mark(0.4, "inferred"), mark(1.4, "inferred"), mark(None, "none")
    ('', '?', '?!', '-')
    """
    if use is None or math.isnan(use) or level == "none":
        return "-"
    return ("?" if level == "inferred" else "") + ("!" if use > 1.0 else "")


def marked(use: float | None, level: Level) -> str:
    """Return a use in per cent with its marks: `73?`, `137!`, `-`."""
    sign = mark(use, level)
    return sign if sign == "-" else bare_percent(use) + sign


def case_name(case: LoadCase) -> str:
    """Return a case as a person says it: `gust, hot`."""
    return case.name if case.family in ONLY_ONE_SEASON else f"{case.name}, {case.exposure.season}"
