"""The units that staydown reads, and the spellings a person may use.

A spelling is looked up in the form `canonical` gives it: powers as `^2`, no spaces around a slash, products
with a space. What is not listed here is refused.
"""

from __future__ import annotations

import re

WATER_DENSITY_kg_per_m3 = 1000
# Fresh water, rounded up from 999.97 at 4 degC (IAPWS; value from memory). At 30 degC
# it is 0.4 % lighter.

# suffix -> expression of the unit library -> spellings; the first spelling is the one that hints use
SPELLINGS: dict[str, dict[str, str]] = {
    "m": {
        "millimetre": "mm, millimetre, millimetres, millimeter, millimeters",
        "centimetre": "cm, centimetre, centimetres, centimeter, centimeters",
        "metre": "m, metre, metres, meter, meters",
        "kilometre": "km",
        "micrometre": "µm, um",
        "inch": 'in, inch, inches, "',
        "foot": "ft, foot, feet, '",
        "yard": "yd, yard, yards",
        "mile": "mi, mile, miles",
        "mil": "mil, mils, thou",
    },
    "m2": {
        "millimetre ** 2": "mm^2, sq mm",
        "centimetre ** 2": "cm^2, sq cm",
        "metre ** 2": "m^2, sq m",
        "inch ** 2": "in^2, sq in",
        "foot ** 2": "ft^2, sq ft",
    },
    "m3": {
        "litre": "L, l, litre, litres, liter, liters",
        "millilitre": "mL, ml",
        "centimetre ** 3": "cm^3",
        "metre ** 3": "m^3",
        "us_gallon": "US gal, US gallon, US gallons",
        "imperial_gallon": "imp gal, imp. gal, imperial gallon, imperial gallons, UK gal",
    },
    "kg": {
        "kilogram": "kg, kilogram, kilograms, kilo, kilos",
        "gram": "g, gram, grams",
        "pound": "lb, lbs, pound, pounds",
        "ounce": "oz, ounce, ounces",
    },
    "s": {
        "second": "s, sec, second, seconds",
        "minute": "min, minute, minutes",
        "hour": "h, hr, hrs, hour, hours",
        "day": "d, day, days",
        "week": "week, weeks",
    },
    "N": {
        "newton": "N, newton, newtons",
        "kilonewton": "kN",
        "pound_force": "lbf",
        "ounce_force": "ozf",
        "kilogram_force": "kgf",
    },
    "Nm": {
        "newton * metre": "N m, Nm",
        "pound_force * foot": "lbf ft, ft lbf",
        "pound_force * inch": "lbf in, in lbf",
    },
    "Pa": {
        "pascal": "Pa, N/m^2",
        "hectopascal": "hPa",
        "kilopascal": "kPa, kN/m^2",
        "megapascal": "MPa, N/mm^2",
        "gigapascal": "GPa, kN/mm^2",
        "bar": "bar",
        "millibar": "mbar",
        "psi": "psi, lbf/in^2",
        "psf": "psf, lbf/ft^2",
    },
    "m_per_s": {
        "kilometre / hour": "km/h, kph, kmh, km/hr",
        "mile / hour": "mph, mi/h",
        "metre / second": "m/s",
        "foot / second": "ft/s, fps",
        "nautical_mile / hour": "kn, kt, kts, knot, knots",
    },
    "K": {
        "celsius": "degC, °C, deg C, C, celsius",
        "fahrenheit": "degF, °F, deg F, F, fahrenheit",
        "kelvin": "K, kelvin",
    },
    "W_per_m2": {"watt / metre ** 2": "W/m^2"},
    "N_per_m": {
        "newton / metre": "N/m",
        "newton / millimetre": "N/mm, kN/m",
        "newton / centimetre": "N/cm",
        "pound_force / inch": "lbf/in, lb/in",
        "pound_force / foot": "lbf/ft, lb/ft",
        "ounce_force / inch": "ozf/in, oz/in",
    },
    "rad": {"degree": "deg, °, degree, degrees", "radian": "rad"},
    "kg_per_m3": {
        "kilogram / metre ** 3": "kg/m^3",
        "gram / centimetre ** 3": "g/cm^3",
        "pound / foot ** 3": "lb/ft^3",
    },
    "one_per_K": {"1 / kelvin": "1/K", "1e-6 / kelvin": "ppm/K"},
    "K_m2_per_W": {"kelvin * metre ** 2 / watt": "K m^2/W"},
    "m_per_s2": {"metre / second ** 2": "m/s^2", "foot / second ** 2": "ft/s^2", "standard_gravity": "g"},
    "J_per_mol": {"joule / mole": "J/mol", "1000 * joule / mole": "kJ/mol"},
    "Pa_per_s": {"pascal / second": "Pa/s", "kilopascal / second": "kPa/s", "psi / second": "psi/s"},
    "m4": {"metre ** 4": "m^4", "millimetre ** 4": "mm^4", "inch ** 4": "in^4"},
    "N_per_m3": {"newton / metre ** 3": "N/m^3", "newton / millimetre ** 3": "N/mm^3"},
    "N_m2": {
        "newton * metre ** 2": "N m^2, Nm^2",
        "pound_force * inch ** 2": "lbf in^2",
        "pound_force * foot ** 2": "lbf ft^2",
    },
    "one_per_m": {"1 / metre": "1/m", "1 / inch": "1/in"},
    "Hz": {"1 / second": "Hz, hertz"},
    "kg_m2": {"kilogram * metre ** 2": "kg m^2", "pound * foot ** 2": "lb ft^2"},
    "m2_m": {"centimetre ** 2 * metre": "cm^2 m", "metre ** 3": "m^2 m"},
    "m2_per_Hz": {"metre ** 2 * second": "m^2/Hz", "millimetre ** 2 * second": "mm^2/Hz"},
    "m2_per_s3": {"metre ** 2 / second ** 3": "m^2/s^3"},
    "Nm_per_rad": {"newton * metre / radian": "N m/rad, Nm/rad"},
    "W_per_m2_K": {"watt / metre ** 2 / kelvin": "W/(m^2 K), W/m^2/K, W/m^2K"},
    "W_per_m_K": {"watt / metre / kelvin": "W/(m K), W/m/K, W/mK"},
    "J_per_m2_K": {
        "joule / metre ** 2 / kelvin": "J/(m^2 K), J/m^2/K, J/m^2K",
        "1000 * joule / metre ** 2 / kelvin": "kJ/(m^2 K), kJ/m^2/K, kJ/m^2K",
    },
    "Pa_s": {"pascal * second": "Pa s"},
    "m2_per_s": {"metre ** 2 / second": "m^2/s"},
}

# spelling -> suffix -> expression of the unit library; lb/in is a line load, lb a mass
KNOWN: dict[str, dict[str, str]] = {}
for _suffix, _units in SPELLINGS.items():
    for _expression, _spellings in _units.items():
        for _spelling in _spellings.split(", "):
            KNOWN.setdefault(_spelling, {})[_suffix] = _expression

# well-meant units that would be read wrongly, and what to write instead
TRAPS = {
    **dict.fromkeys(
        ("gal", "gallon", "gallons"), "US or imperial? write US gal (3.785 L) or imp gal (4.546 L)"
    ),
    **dict.fromkeys(
        ("kg/m^2", "kg/cm^2", "lb/ft^2", "lb/in^2"),
        "a mass over an area: write its pressure (1 kg/m^2 weighs 0.00981 kPa, 1 lb/ft^2 weighs 1 psf)",
    ),
    **dict.fromkeys(
        ("Bft", "bft", "beaufort", "Beaufort"),
        "a Beaufort force is a band of speeds: write its upper end in km/h or mph",
    ),
    "kp": "write kgf",
    "t": "write kg",
}

# first unit, second unit, how many of the second make one of the first: 4 ft 10 in, 5 lb 8 oz, 2 h 30 min
COMPOUNDS = (("foot", "inch", 12), ("pound", "ounce", 16), ("hour", "minute", 60))

FRACTIONS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("\u00a0\u2007\u2009\u202f", " "),
        **{sign: f" {text}" for sign, text in FRACTIONS.items()},
        "\u2212": "-",
        "\u2044": "/",
        "\u2032": "'",
        "\u2019": "'",
        "\u2033": '"',
        "\u201d": '"',
        "\u03bc": "µ",
        "℃": "°C",
        "℉": "°F",
        "²": "^2",
        "³": "^3",
        "⁴": "^4",
        "·": "*",
        "⋅": "*",
    }
)  # fmt: skip


def plain(text: str) -> str:
    """Return the text with one spelling of each sign: spaces, minus, primes, powers, and ¼ as 1/4."""
    return " ".join(text.translate(_SIGNS).replace("''", '"').split())


def canonical(unit: str) -> str:
    """Return a unit as the lists here spell it; a full stop after it is dropped.

    Examples
    --------
    >>> canonical("W / m2"), canonical("N*m"), canonical("sq.  in")
    ('W/m^2', 'N m', 'sq in')
    """
    text = re.sub(r"\s*([/^])\s*", r"\1", unit.strip().rstrip("."))
    text = re.sub(r"\s*\*\s*(?=[A-Za-z])", " ", text.replace("sq.", "sq ").replace("**", "^"))
    return " ".join(re.sub(r"(?<=[A-Za-z])([234])(?![0-9])", r"^\1", text).split())
