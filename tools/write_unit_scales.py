"""Write src/staydown/foundation/unit_scales.py: what takes a number of each unit to SI, exactly.

Needs the unit library (pint), which the dev tier brings; run it when a unit is added.
"""

from __future__ import annotations

import sys
from fractions import Fraction
from pathlib import Path
from typing import Any

import pint

from staydown.foundation.unit_names import SPELLINGS

PAGE = Path(__file__).parents[1] / "src" / "staydown" / "foundation" / "unit_scales.py"

# One line a unit, as the unit library reads it; factors are exact by definition where no source is named:
# international yard and pound (1959), litre (CGPM 1964), standard gravity (ISO 80000-3), US gallon 231 in^3,
# imperial gallon (UK Weights and Measures Act 1985), international nautical mile (1929).
DEFINITIONS = """
metre = [length]
second = [time]
kilogram = [mass]
kelvin = [temperature]
radian = [angle]
mole = [substance]
kilometre = 1000 * metre
centimetre = 0.01 * metre
millimetre = 0.001 * metre
micrometre = 1e-6 * metre
inch = 0.0254 * metre
foot = 12 * inch
yard = 3 * foot
mile = 1760 * yard
mil = 0.001 * inch
nautical_mile = 1852 * metre
litre = 0.001 * metre ** 3
millilitre = 0.001 * litre
us_gallon = 231 * inch ** 3
imperial_gallon = 4.54609 * litre
gram = 0.001 * kilogram
pound = 0.45359237 * kilogram
ounce = pound / 16
minute = 60 * second
hour = 60 * minute
day = 24 * hour
week = 7 * day
degree = 0.01745329251994329576923690768489 * radian
celsius = kelvin; offset: 273.15
fahrenheit = 5 / 9 * kelvin; offset: 459.67 * 5 / 9
standard_gravity = 9.80665 * metre / second ** 2
newton = kilogram * metre / second ** 2
kilonewton = 1000 * newton
pound_force = pound * standard_gravity
ounce_force = ounce * standard_gravity
kilogram_force = kilogram * standard_gravity
pascal = newton / metre ** 2
hectopascal = 100 * pascal
kilopascal = 1000 * pascal
megapascal = 1e6 * pascal
gigapascal = 1e9 * pascal
bar = 100000 * pascal
millibar = 100 * pascal
psi = pound_force / inch ** 2
psf = pound_force / foot ** 2
joule = newton * metre
watt = joule / second
""".strip().splitlines()

HEAD = '''"""What takes a number of each unit to SI: factor and offset, exact. By tools/write_unit_scales.py."""

from __future__ import annotations

SCALES = {
'''


def registry() -> Any:
    """Return the unit library with these definitions and no others, exact."""
    found: Any = pint.UnitRegistry(None, non_int_type=Fraction)
    for line in DEFINITIONS:
        found.define(line)
    return found


def scale(units: Any, expression: str) -> tuple[Fraction, Fraction]:
    """Return factor and offset that take a number of a unit to SI, exactly."""
    one = units.parse_expression(expression)
    zero = units.Quantity(Fraction(0), one.units)
    at_one, at_zero = (Fraction(quantity.to_base_units().magnitude) for quantity in (one, zero))
    return at_one - at_zero, at_zero


def page() -> str:
    """Return the whole module."""
    units = registry()
    expressions = dict.fromkeys(expression for each in SPELLINGS.values() for expression in each)
    rows = []
    for expression in expressions:
        factor, offset = scale(units, expression)
        rows.append(f'    "{expression}": ("{factor}", "{offset}"),\n')
    return f"{HEAD}{''.join(rows)}}}\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stderr.write(f"wrote {PAGE}\n")
