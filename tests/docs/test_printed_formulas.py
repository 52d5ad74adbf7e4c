"""What a dossier prints is what the program computes: each formula is worked out again from its printed numbers."""

from __future__ import annotations

import ast
import math
from functools import cache
from typing import Any

import numpy as np
import pytest

from sample_assessments import JOBS, assessed_job
from staydown.foundation.numbers import SUM
from staydown.foundation.walk import laws_behind
from staydown.outputs.amounts import NOT_KNOWN
from staydown.outputs.dossier_formulas import digits, formula_pages
from staydown.outputs.printed_math import Setter, _equation, letter, mathml, typeset
from staydown.outputs.roof_text import item_rank
from staydown.outputs.used_formulas import used_formulas
from staydown.verdict.checks import HIGH

FUNCTIONS = {
    name: getattr(np, name)
    for name in (
        *("sin", "cos", "tan", "arcsin", "arccos", "arctan", "arctan2", "sinh", "cosh", "tanh"),
        *("sqrt", "exp", "log", "log10", "abs", "minimum", "maximum", "hypot", "where", "sign", "pi"),
    )
}
ORDINARY = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
WITH_MOUNTS = [name for name in JOBS if name not in ("no mounts", "no items")]


@cache
def printed(name: str) -> tuple[dict[str, Any], ...]:
    """Return every formula that the dossier of a sample job prints."""
    items = sorted(assessed_job(name).items, key=item_rank)
    return tuple(
        formula
        for block in formula_pages(items, "metric")
        if block["kind"] == "formulas"
        for group in block["groups"]
        for formula in group["formulas"]
    )


def number(shown: str) -> float:
    """Return what a printed value says."""
    digits_, _, power = shown.replace("−", "-").partition("×10")
    return float(digits_) * 10.0 ** int(power.translate(ORDINARY) or 0)


def known(formula: dict[str, Any]) -> bool:
    """Return whether every number of a printed formula is known."""
    return all(value["shown"] != NOT_KNOWN for value in (*formula["values"], formula["result"]))


def worked_out(equation: str, values: dict[str, float]) -> float:
    """Return the right side of a printed equation."""
    code = compile(equation.partition(" = ")[2], "printed", "eval")
    return float(eval(code, {"__builtins__": {}} | FUNCTIONS | values))


def magnitude(equation: str, values: dict[str, float]) -> float:
    """Return the largest product or summand on the right side, which rounding of the letters is measured against."""
    tree = ast.parse(equation.partition(" = ")[2], mode="eval").body
    sizes = []
    for node in ast.walk(tree):
        if isinstance(node, (ast.BinOp, ast.Call, ast.Name)):
            code = compile(ast.Expression(node), "part", "eval")
            with np.errstate(all="ignore"):
                value = (
                    eval(code, {"__builtins__": {}} | FUNCTIONS | values)
                    if not isinstance(node, ast.Name)
                    else 0.0
                )
            if isinstance(value, (int, float, np.floating)) and math.isfinite(value):
                sizes.append(abs(float(value)))
    return max(sizes, default=0.0)


@pytest.mark.independent
@pytest.mark.parametrize("name", WITH_MOUNTS)
def test_a_printed_formula_gives_the_printed_result(name: str) -> None:
    """Six printed digits in, the printed result out, to 1e-4 of the largest part of the formula."""
    with_equation = [formula for formula in printed(name) if "equation" in formula and known(formula)]

    assert len(with_equation) > 30
    for formula in with_equation:
        values = {value["letter"]: number(value["shown"]) for value in formula["values"]}
        again = worked_out(formula["equation"], values)
        result = number(formula["result"]["shown"])
        size = max(abs(result), magnitude(formula["equation"], values))

        assert again == pytest.approx(result, rel=1e-4, abs=1e-4 * size), formula


@pytest.mark.parametrize("name", ["panel", "sound"])
def test_every_letter_has_its_value(name: str) -> None:
    """No letter of a printed equation is left without a number, and none is printed that is not in it."""
    for formula in printed(name):
        if "equation" in formula:
            left, _, right = formula["equation"].partition(" = ")
            letters = {node.id for node in ast.walk(ast.parse(right)) if isinstance(node, ast.Name)} - set(
                FUNCTIONS
            )

            assert {value["letter"] for value in formula["values"]} == letters, formula["name"]
            assert formula["result"]["letter"] == left


def test_a_wrong_digit_is_noticed() -> None:
    """The comparison can fail: with one value turned by a part in a thousand another result comes out."""
    formula = next(f for f in printed("panel") if f.get("equation", "").startswith("q = 0.5"))
    values = {value["letter"]: number(value["shown"]) for value in formula["values"]}
    values["v"] *= 1.001

    assert worked_out(formula["equation"], values) != pytest.approx(
        number(formula["result"]["shown"]), rel=1e-4
    )


class Back(Setter):
    """Sets an equation as the text it came from, brackets and all."""

    def symbol(self, letter: str, subscript: str, *, upright: bool) -> str:
        """Return the letters as they are printed, joined as in the source."""
        return f"{letter}_{subscript.replace(',', '_')}" if subscript else letter

    def number(self, digits: str, exponent: str) -> str:
        """Return a number."""
        return f"({digits} * 10.0**{exponent})" if exponent else digits

    def row(self, *pieces: str) -> str:
        """Return pieces beside each other."""
        return " ".join(pieces)

    def sign(self, sign: str) -> str:
        """Return an operator."""
        return {"·": "*", "−": "-", "=": "=", "≤": "<=", "≥": ">=", "≠": "!="}.get(sign, sign)

    def word(self, word: str) -> str:
        """Return the name of a function."""
        return {"max": "maximum", "min": "minimum", "ln": "log", "lg": "log10", ", ": ","}.get(word, word)

    def fraction(self, over: str, under: str) -> str:
        """Return a fraction: its bar holds both together."""
        return f"(({over}) / ({under}))"

    def power(self, base: str, exponent: str) -> str:
        """Return a power: the exponent is held together by standing high."""
        return f"{base}**({exponent})"

    def root(self, inner: str) -> str:
        """Return a root: its bar holds it together."""
        return f"sqrt({inner})"

    def bracketed(self, inner: str) -> str:
        """Return brackets."""
        return f"({inner})"

    def magnitude(self, inner: str) -> str:
        """Return bars."""
        return f"abs({inner})"

    def cases(self, rows: list[tuple[str, str]]) -> str:
        """Return cases."""
        (first, when), (second, _) = rows
        return f"where({when.removeprefix('if ').strip()}, {first}, {second})"


@pytest.mark.independent
@pytest.mark.parametrize("name", ["panel", "sound", "puck"])
def test_the_typeset_form_means_the_same(name: str) -> None:
    """Brackets, fractions and powers of the typeset form keep the value: it is set back to text and worked out."""
    for formula in printed(name):
        if "equation" not in formula or not known(formula):
            continue
        _, _, right = _equation(formula["equation"], Back()).partition(" = ")
        values = {value["letter"]: number(value["shown"]) for value in formula["values"]}
        shown = {letter(key): value for key, value in values.items()} | {"e": math.e}
        shown |= {letter(key): value for key, value in values.items()}
        code = compile(right.strip(), formula["name"], "eval")
        with np.errstate(all="ignore"):
            told = float(eval(code, {"__builtins__": {}} | FUNCTIONS | shown))

        assert told == pytest.approx(worked_out(formula["equation"], values), rel=1e-9, abs=1e-12), right


@pytest.mark.parametrize("name", ["panel"])
def test_both_pages_can_set_every_formula(name: str) -> None:
    """Each printed equation becomes MathML with all its letters, and source that holds no command."""
    for formula in printed(name):
        if "equation" in formula:
            assert mathml(formula["equation"]).startswith("<math ")
            assert "#" not in typeset(formula["equation"])


@pytest.mark.by_hand
def test_digits() -> None:
    """Six digits that count; by hand."""
    assert [digits(v) for v in (1234567.0, 0.000123456789, -0.5, 0.0, 500000.0)] == [
        "1.23457×10⁶",
        "0.000123457",
        "−0.5",
        "0",
        "500000",
    ]


@pytest.mark.parametrize("name", ["panel", "sound", "twelve mounts"])
def test_no_formula_of_the_answer_is_left_out(name: str) -> None:
    """Every law behind use, forces, temperatures and links is printed, found by the walk that `explain` takes."""
    mounted = assessed_job(name).items[0].mounted
    assert mounted is not None
    links = [link.link.strength for link in mounted.chain if link.link.strength is not None]
    answer = [mounted.checks.use, mounted.table.temperatures, *mounted.demands.force, *links]
    behind = laws_behind(*answer) - {SUM.name}
    shown = {used.law.name for used in used_formulas(mounted, (0, HIGH, 0))}

    assert len(behind) > 60
    assert behind - shown == set()
