"""Text into SI: accepted spellings, refusals in their words, and factors against other sources."""

from __future__ import annotations

import ast
import math
import subprocess
import sys
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import write_unit_scales
from staydown.foundation.errors import StaydownError, UnreadableValue
from staydown.foundation.quantities import QUANTITIES
from staydown.foundation.unit_names import SPELLINGS
from staydown.foundation.unit_scales import SCALES
from staydown.foundation.units import (
    parse_area,
    parse_fastener,
    parse_load,
    parse_quantity,
    parse_rectangle,
    reads_as,
)

# the unit library's own list and names: another hand wrote these factors than ours
LIBRARY = pint.UnitRegistry()
NAMES = {
    "us_gallon": "gallon",
    "mil": "thou",
    "psf": "(pound_force / foot ** 2)",
    "celsius": "delta_degC",
    "fahrenheit": "delta_degF",
}


def said(text: str, suffix: str) -> str:
    """Return the refusal of a text, or an empty text where it is read."""
    try:
        parse_quantity(text, suffix)
    except UnreadableValue as error:
        return str(error)
    return ""


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("text", "suffix", "value"),
    [
        ("120 mm", "m", 0.12),
        ("35mm", "m", 0.035),
        (" 58 1/4 in ", "m", 58.25 * 0.0254),
        ("58¼ in", "m", 58.25 * 0.0254),
        ("58-1/4 in", "m", 58.25 * 0.0254),
        ("-58 1/4 in", "m", -58.25 * 0.0254),
        ("3/8 in", "m", 0.375 * 0.0254),
        ("⅜ in", "m", 0.375 * 0.0254),
        ('1 3/8"', "m", 1.375 * 0.0254),
        ("1⅜″", "m", 1.375 * 0.0254),
        ("4 ft 10 in", "m", 58 * 0.0254),
        ("4ft10in", "m", 58 * 0.0254),
        ("4'10 1/2\"", "m", 58.5 * 0.0254),
        ("4'10½\"", "m", 58.5 * 0.0254),
        ("4'-10 1/2\"", "m", 58.5 * 0.0254),
        ("4′ 10″", "m", 58 * 0.0254),
        ("-4 ft 6 in", "m", -54 * 0.0254),
        ("45 mil", "m", 45 * 25.4e-6),
        ("2 thou", "m", 2 * 25.4e-6),
        ("−5 mm", "m", -0.005),
        ("1.2e3 mm", "m", 1.2),
        (".5 m", "m", 0.5),
        ("5 ft.", "m", 5 * 0.3048),
        ("5\u00a0mm", "m", 0.005),
        ("-10 degC", "K", 263.15),
        ("-10°C", "K", 263.15),
        ("14 °F", "K", 263.15),
        ("14 degF", "K", 263.15),
        ("212 F", "K", 373.15),
        ("300 K", "K", 300.0),
        ("0 degC", "K", 273.15),
        ("138 kPa", "Pa", 138e3),
        ("1.0 MPa", "Pa", 1e6),
        ("20 psi", "Pa", 20 * 4.4482216152605 / 0.0254**2),
        ("20 lbf/in2", "Pa", 20 * 4.4482216152605 / 0.0254**2),
        ("144 psf", "Pa", 4.4482216152605 / 0.0254**2),
        ("0.6 N/mm^2", "Pa", 6e5),
        ("0.6 N / mm²", "Pa", 6e5),
        ("1.2 bar", "Pa", 1.2e5),
        ("36 km/h", "m_per_s", 10.0),
        ("60 mph", "m_per_s", 26.8224),
        ("10 kn", "m_per_s", 18520 / 3600),
        ("10 ft/s", "m_per_s", 3.048),
        ("2.5 h", "s", 9000.0),
        ("2 h 30 min", "s", 9000.0),
        ("90 min", "s", 5400.0),
        ("3 days", "s", 259200.0),
        ("24 lb", "kg", 24 * 0.45359237),
        ("16 lb 8 oz", "kg", 16.5 * 0.45359237),
        ("1.8 kN", "N", 1800.0),
        ("400 lbf", "N", 400 * 4.4482216152605),
        ("10 kgf", "N", 98.0665),
        ("30 N/mm", "N_per_m", 3e4),
        ("1 lbf/in", "N_per_m", 4.4482216152605 / 0.0254),
        ("1 lb/in", "N_per_m", 4.4482216152605 / 0.0254),
        ("1 oz/in", "N_per_m", 4.4482216152605 / 16 / 0.0254),
        ("1000 W/m2", "W_per_m2", 1000.0),
        ("180 deg", "rad", math.pi),
        ("90°", "rad", math.pi / 2),
        ("6 cm^2", "m2", 6e-4),
        ("1 sq in", "m2", 0.0254**2),
        ("23 ppm/K", "one_per_K", 23e-6),
        ("23e-6 1/K", "one_per_K", 23e-6),
        ("0.8 g", "m_per_s2", 0.8 * 9.80665),
        ("70 %", "", 0.7),
        ("3/4", "", 0.75),
        ("1e3", "", 1000.0),
    ],
)
def test_spellings_of_the_trade(text: str, suffix: str, value: float) -> None:
    """Each spelling is read: the exact factors stand in the test (yard and pound of 1959, ISO 80000-3)."""
    assert parse_quantity(text, suffix) == pytest.approx(value, rel=1e-15, abs=0)


@pytest.mark.published
@pytest.mark.parametrize(
    ("text", "suffix", "value", "digits"),
    [
        # NIST SP 811 (2008), Appendix B.8: values as printed there, from memory; 7 digits unless exact
        ("1 psi", "Pa", 6.894757e3, 7),
        ("1 psf", "Pa", 4.788026e1, 7),
        ("1 lbf", "N", 4.448222, 7),
        ("1 kgf", "N", 9.80665, 7),
        ("1 mil", "m", 2.54e-5, 7),
        ("1 mph", "m_per_s", 4.4704e-1, 7),
        ("1 kn", "m_per_s", 5.144444e-1, 7),
        ("1 lbf/in", "N_per_m", 1.751268e2, 7),
        ("1 oz", "kg", 2.834952e-2, 7),
        ("1 US gal", "m3", 3.785412e-3, 7),
        ("1 imp gal", "m3", 4.54609e-3, 7),
        ("1 lb/ft^3", "kg_per_m3", 1.601846e1, 7),
    ],
)
def test_factors_as_printed(text: str, suffix: str, value: float, digits: int) -> None:
    """Factors agree with the table of NIST SP 811 to its printed digits."""
    assert parse_quantity(text, suffix) == pytest.approx(value, rel=0.5 * 10.0 ** (1 - digits))


EXPRESSIONS = [
    (suffix, expression, names.split(", ")[0])
    for suffix, units in SPELLINGS.items()
    for expression, names in units.items()
]


def si_of(suffix: str) -> str:
    """Return a suffix as an expression of the library: m_per_s -> 1 * meter / second."""
    names = {"m": "meter", "N": "newton", "K": "kelvin", "s": "second", "one": "1", "Nm": "newton * meter"}
    above, _, below = suffix.partition("_per_")
    products = []
    for side in (above, below):
        factors = [part.rstrip("234") for part in side.split("_") if part]
        powers = [part[len(factor) :] or "1" for part, factor in zip(side.split("_"), factors, strict=False)]
        products.append(
            " * ".join(f"({names.get(f, f)}) ** {p}" for f, p in zip(factors, powers, strict=True)) or "1"
        )
    return f"({products[0]}) / ({products[1]})"


@pytest.mark.oracle
@pytest.mark.independent
@pytest.mark.parametrize(("suffix", "expression", "spelling"), EXPRESSIONS)
def test_every_unit_agrees_with_the_library_s_own_list(suffix: str, expression: str, spelling: str) -> None:
    """Size and dimension of each unit are those of the unit library's default list (pint), within 1e-12."""
    theirs = LIBRARY.parse_expression(" ".join(NAMES.get(word, word) for word in expression.split()))
    if suffix == "K":
        ours = parse_quantity(f"301 {spelling}", "K") - parse_quantity(f"300 {spelling}", "K")
    else:
        ours = parse_quantity(f"1 {spelling}", suffix)

    assert ours == pytest.approx(
        (theirs / LIBRARY.parse_expression(si_of(suffix))).to("").magnitude, rel=1e-12
    )


@pytest.mark.oracle
@pytest.mark.independent
@given(st.integers(-1000, 100_000), st.sampled_from(["degC", "degF", "K"]))
def test_temperatures_agree_with_the_library(tenths: int, unit: str) -> None:
    """Offsets of temperatures are those of the unit library's default list (pint)."""
    theirs = LIBRARY.Quantity(tenths / 10, unit).to("K").magnitude
    if theirs < 0:
        assert "absolute zero" in said(f"{tenths / 10} {unit}", "K")
    else:
        assert parse_quantity(f"{tenths / 10} {unit}", "K") == pytest.approx(theirs, rel=1e-12)


def test_every_quantity_can_be_typed_in_every_spelling() -> None:
    """Each quantity has units, and each spelling listed is read as one of its quantity."""
    assert set(SPELLINGS) == set(QUANTITIES)
    for suffix, units in SPELLINGS.items():
        for spelling in ", ".join(units.values()).split(", "):
            assert parse_quantity(f"300 {spelling}", suffix) > 0


def test_hints_show_values_that_are_read() -> None:
    """Every example of a quantity is itself read as that quantity."""
    for suffix, quantity in QUANTITIES.items():
        for example in quantity.example.split(" or "):
            parse = {"N": parse_load, "m2": parse_area}.get(
                suffix, lambda text, s=suffix: parse_quantity(text, s)
            )

            assert parse(example) > 0


@given(
    st.fractions(min_value=Fraction(1, 1000), max_value=10**6, max_denominator=10**4),
    st.sampled_from(EXPRESSIONS),
)
def test_there_and_back(value: Fraction, unit: tuple[str, str, str]) -> None:
    """A value written in a unit and read is the exact product, rounded once: doubling it doubles the result."""
    suffix, _, spelling = unit
    decimal = f"{float(value):.12g}"
    if suffix == "K" or "e" in decimal:
        return
    one, number = parse_quantity(f"1 {spelling}", suffix), parse_quantity(f"{decimal} {spelling}", suffix)

    assert number / one == pytest.approx(float(decimal), rel=1e-15)
    assert parse_quantity(f"{Fraction(decimal) * 2} {spelling}", suffix) == 2 * number


@given(st.integers(0, 40), st.integers(0, 11), st.integers(0, 31))
def test_feet_inches_and_fractions_add_up(feet: int, inches: int, parts: int) -> None:
    """Feet, inches and fractions give the same length as the sum in inches."""
    total = Fraction(feet * 12 + inches) + Fraction(parts, 32)
    expected = float(total * Fraction("0.0254"))

    assert parse_quantity(f"{feet} ft {inches} {parts}/32 in", "m") == expected
    assert parse_quantity(f"{feet}'{inches} {parts}/32\"", "m") == expected
    assert parse_quantity(f"{feet * 12 + inches} {parts}/32 in", "m") == expected


@given(st.text(max_size=100), st.sampled_from([*QUANTITIES, ""]))
def test_any_text_is_read_or_refused(text: str, suffix: str) -> None:
    """Any text gives a finite number or a refusal with a rule."""
    for parse in (lambda one: parse_quantity(one, suffix), parse_load, parse_area):
        result: object = ""
        try:
            result = parse(text)
        except UnreadableValue as error:
            result = error.rule
        assert result if isinstance(result, str) else math.isfinite(result)


@pytest.mark.parametrize(
    ("text", "suffix", "message"),
    [
        ("120", "m_per_s", 'has no unit; a speed is needed (which: "120 km/h" or "120 mph"?)'),
        ("38", "K", 'has no unit; a temperature is needed (which: "38 degC" or "38 degF"?)'),
        (
            "4.2",
            "m",
            'has no unit; a length is needed (which: "4.2 mm", "4.2 in", "4.2 m" or "4.2 ft"?)',
        ),
        ("12,5 mm", "m", "has a comma between digits; the decimal sign is a point (write 12.5 mm)"),
        (
            "1,480 mm",
            "m",
            "has a comma between digits; the decimal sign is a point "
            "(write 1480 mm or 1.480 mm, whichever you mean)",
        ),
        ("6 ft 2", "m", "the last number has no unit (write 6 ft 2 in)"),
        ("4 ft 12 in", "m", "12 in beside ft must be below 12 (write it in one unit)"),
        ("4.5 ft 10 in", "m", "is more than one number with its unit (write one value, such as 120 mm or 4 3/4 in)"),
        ("12 PSI", "Pa", 'unit "PSI" is not known (did you mean "psi"?)'),
        ("12 kpa", "Pa", 'unit "kpa" is not known (did you mean "kPa"?)'),
        ("80 mp", "m_per_s", 'unit "mp" is not known (did you mean "mph"?)'),
        ("80 in", "m_per_s", "is a length; a speed is needed (such as 95 km/h or 60 mph)"),
        ("20 lb/in^2", "Pa", 'unit "lb/in^2" is not read (a mass over an area: write its pressure '
         "(1 kg/m^2 weighs 0.00981 kPa, 1 lb/ft^2 weighs 1 psf))"),
        ("nan m", "m", "is not a finite number (such as 120 mm or 4 3/4 in)"),
        ("-inf m", "m", "is not a finite number (such as 120 mm or 4 3/4 in)"),
        ("1e999 m", "m", "is too large for a number ('1e999 m' has too many digits)"),
        ("9**9**9 m", "m", "is more than one number with its unit (write one value, such as 120 mm or 4 3/4 in)"),
        ("3 mm ± 0.1 mm", "m", "is more than one number with its unit (write one value, such as 120 mm or 4 3/4 in)"),
        ("finger-width", "m", "does not begin with a number (such as 120 mm or 4 3/4 in)"),
        ("Unknown", "m", 'does not begin with a number (did you mean "unknown"?)'),
        ("5 mm\u0663", "m", 'unit "mm\u0663" is not known (did you mean "mm"?)'),
        ("\u0665 mm", "m", "does not begin with a number (such as 120 mm or 4 3/4 in)"),
        ("1_000 mm", "m", "is more than one number with its unit (write one value, such as 120 mm or 4 3/4 in)"),
        ("0x10 mm", "m", "is more than one number with its unit (write one value, such as 120 mm or 4 3/4 in)"),
        ("20 over", "m_per_s", 'unit "over" is not known (such as 95 km/h or 60 mph)'),
        ("-460 degF", "K", "is below absolute zero (such as 38 degC or 100 degF)"),
    ],
)  # fmt: skip
def test_refusals_in_their_words(text: str, suffix: str, message: str) -> None:
    """Each trap is refused with what would be right."""
    assert said(text, suffix) == message


def test_a_refusal_is_ours_and_a_value_error() -> None:
    """A refusal can be caught as an error of this program and as ValueError."""
    with pytest.raises(StaydownError) as caught:
        parse_quantity("fast", "m_per_s")

    assert isinstance(caught.value, ValueError)


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("text", "newton"),
    [
        ("1.8 kN", 1800.0),
        ("28 lbf", 28 * 4.4482216152605),
        ("28 lb", 28 * 4.4482216152605),
        ("0.5 kg", 0.5 * 9.80665),
        ("12 L water", 12 * 9.80665),
        ("12 litres of water", 12 * 9.80665),
        ("5 US gal water", 5 * 231 * 0.0254**3 * 1000 * 9.80665),
        ("5 imp gal water", 5 * 4.54609e-3 * 1000 * 9.80665),
        ("5 lb 8 oz", 5.5 * 4.4482216152605),
    ],
)
def test_loads(text: str, newton: float) -> None:
    """A load is a force, or the weight of a mass or of water (1000 kg/m³) at standard gravity."""
    assert parse_load(text) == pytest.approx(newton, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("12", 'has no unit; a load is needed (which: "12 kg", "12 lb" or "12 N"?)'),
        ("12 L", "is a volume; a load is needed (a volume of what? such as 1.8 kN, 25 lb or 12 L water)"),
        (
            "5 gal water",
            'unit "gal" is not read (US or imperial? write US gal (3.785 L) or imp gal (4.546 L))',
        ),
        ("5 m", "is a length; a load is needed (such as 1.8 kN, 25 lb or 12 L water)"),
    ],
)
def test_what_is_no_load(text: str, message: str) -> None:
    """A bare number, a volume of nothing, gallons of two countries and a length are no loads."""
    with pytest.raises(UnreadableValue) as caught:
        parse_load(text)

    assert str(caught.value) == message


@pytest.mark.by_hand
def test_rectangles_and_areas() -> None:
    """Rectangles keep their order, areas multiply exactly."""
    assert parse_rectangle("80 mm x 2 in") == (0.08, 0.0508)
    assert parse_rectangle('2 1/2" X 3"') == (0.0635, 0.0762)
    assert parse_rectangle("80mm×50mm") == (0.08, 0.05)
    assert parse_area("25 mm x 25 mm") == 625e-6
    assert parse_area("1 in x 1 in") == parse_area("1 in^2") == 645.16e-6


def test_fasteners() -> None:
    """A fastener is a screw by size and class, a size alone, or a strength."""
    assert parse_fastener("M6 A2-70") == ("M6", "A2-70", None)
    assert parse_fastener("M5 8.8") == ("M5", "8.8", None)
    assert parse_fastener("M8") == ("M8", None, None)
    assert parse_fastener("400 lbf") == (None, None, pytest.approx(400 * 4.4482216152605))
    with pytest.raises(UnreadableValue, match="neither a screw nor a strength"):
        parse_fastener("wood screw")


@pytest.mark.by_hand
def test_what_was_read_is_echoed_in_both_systems() -> None:
    """Three digits that count, in both systems."""
    assert reads_as(124.0, "N") == "124 N (27.9 lb)"
    assert reads_as(45 * 25.4e-6, "m") == "1.14 mm (0.0450 in)"
    assert reads_as(263.15, "K") == "-10.0 °C (14.0 °F)"
    assert reads_as(1000.0, "W/m2") == "1000 W/m²"


def test_the_unit_library_is_never_loaded() -> None:
    """Reading a value and refusing one load no unit library: its answers stand in a table."""
    code = (
        "import sys; from staydown.foundation.units import parse_quantity as p\n"
        "try: p('fast', 'm')\nexcept ValueError: pass\n"
        "p('1 mm', 'm'); print('pint' in sys.modules)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert ran.stdout.split() == ["False"]


@pytest.mark.oracle
@pytest.mark.independent
def test_the_table_of_units_is_what_the_library_makes_of_their_definitions() -> None:
    """The scales are fresh: the unit library (pint) works them out anew from about fifty definitions."""
    found = ast.literal_eval(write_unit_scales.page().partition("SCALES = ")[2])

    assert found == SCALES
    assert len(write_unit_scales.DEFINITIONS) < 70
