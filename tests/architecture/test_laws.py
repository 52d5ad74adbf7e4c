"""Every law says its units, prints the equation that its code is, shows an example and names its source."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import staydown
from staydown.foundation.law import LAWS, Law
from staydown.foundation.quantities import QUANTITIES, quantity_of, suffix_of

FUNCTIONS = {
    name: getattr(np, name)
    for name in (
        *("sin", "cos", "tan", "arcsin", "arccos", "arctan", "arctan2", "sinh", "cosh", "tanh"),
        *("sqrt", "exp", "log", "log10", "abs", "minimum", "maximum", "hypot", "where", "sign", "pi"),
    )
}
# arithmetic, no facts of the world; every other number has a name or is printed in the equation
PLAIN_NUMBERS = {0, 1, 2, 3, 4, 0.5}
DRAWS = 600


def law_modules() -> list[str]:
    """Return every module of laws in the package."""
    found = pkgutil.walk_packages(staydown.__path__, "staydown.")
    return sorted(module.name for module in found if module.name.endswith("_laws"))


MODULES = law_modules()
for _module in MODULES:
    importlib.import_module(_module)
OURS = {name: pair for name, pair in sorted(LAWS.items()) if name.startswith("staydown.")}

each_law = pytest.mark.parametrize(("facts", "function"), list(OURS.values()), ids=list(OURS))


def plain(unit: str) -> str:
    """Return a unit in one spelling: `N m`, `N·m` and `Nm`, `m²` and `m2`, `-` and `1` are alike."""
    raised = str.maketrans("²³⁴", "234", " ·")
    written = unit.translate(raised).replace("^", "")
    return {"-": "1", "": "1"}.get(written, written)


def documented_units(function: Callable[..., Any]) -> dict[str, str]:
    """Return the unit in brackets of each parameter in a docstring's section of parameters."""
    text = inspect.cleandoc(function.__doc__ or "")
    section = re.search(r"^Parameters\n-+\n(.*?)(?=\n\n\w[^\n]*\n-+\n|\Z)", text, flags=re.S | re.M)
    units: dict[str, str] = {}
    names: list[str] = []
    for line in section[1].splitlines() if section else []:
        if not line.startswith(" "):
            names = [name.strip() for name in line.partition(" : ")[0].split(",")]
            units |= dict.fromkeys(names, "missing")
        for unit in re.findall(r"\[([^\]]*)\]", line) if line.startswith(" ") else []:
            units |= dict.fromkeys(names, unit)
    return units


def draw(name: str, generator: np.random.Generator, count: int) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return values that a parameter of this name can have; pure numbers below and above 1, some negative."""
    suffix = suffix_of(name)
    if suffix == "K":
        return generator.uniform(230.0, 370.0, count)
    if suffix:
        return generator.uniform(0.05, 60.0, count)
    small = generator.uniform(0.05, 0.95, count)
    wide = generator.uniform(-3.0, 12.0, count)
    return np.where(generator.random(count) < 0.7, small, wide)


def evaluate(facts: Law, values: dict[str, Any]) -> Any:
    """Return what the printed equation makes of values, by parameter."""
    _, _, right = facts.equation.partition(" = ")
    letters = {letter: values[parameter] for letter, parameter in facts.symbols.items()}
    code = compile(right, facts.name, "eval")
    return eval(code, {"__builtins__": {}} | FUNCTIONS | letters)


def numbers_in(tree: ast.AST) -> set[float]:
    """Return every number written in a piece of code, array indices apart."""
    indices = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.Subscript)
        for part in ast.walk(node.slice)
    }
    return {
        abs(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, (int, float))
        and not isinstance(node.value, bool)
        and id(node) not in indices
    }


def test_laws_were_found() -> None:
    """The walk over the package finds laws, and every law lives in a file of laws."""
    homes = {function.__module__ for _, function in OURS.values()}

    assert homes != set()
    assert homes <= set(MODULES)


@pytest.mark.parametrize("module", MODULES)
def test_a_file_of_laws_holds_only_laws(module: str) -> None:
    """Beside laws there are imports, named constants and helpers of the file's own."""
    tree = ast.parse(Path(str(importlib.import_module(module).__file__)).read_text(encoding="utf-8"))
    for node in tree.body[1:]:
        if isinstance(node, ast.FunctionDef):
            pinned = any(ast.unparse(decorator).startswith("law(") for decorator in node.decorator_list)

            assert pinned or node.name.startswith("_"), f"line {node.lineno}: {node.name} is no law"
        elif isinstance(node, (ast.Assign, ast.AnnAssign)):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names = [ast.unparse(target) for target in targets]

            assert all(name[0].isupper() or name[0] == "_" for name in names), f"line {node.lineno}: {names}"
        else:
            allowed = (ast.Import, ast.ImportFrom)

            assert isinstance(node, allowed) or ast.unparse(node).startswith("if TYPE_CHECKING"), node.lineno


@each_law
def test_a_law_names_its_unit_and_source(facts: Law, function: Callable[..., Any]) -> None:
    """The first sentence ends with the unit of the result, the source is named, no value has a default."""
    first = (function.__doc__ or "").splitlines()[0]
    parameters = inspect.signature(function).parameters.values()

    assert first.startswith("Return ")
    assert plain(re.findall(r"\[([^\]]*)\]", first)[-1]) == plain(facts.unit), first
    assert plain(facts.unit) in {plain(quantity.unit) for quantity in QUANTITIES.values()} | {"1"}
    assert facts.source.strip() != ""
    assert all(parameter.default is parameter.empty for parameter in parameters)
    assert all(
        parameter.kind not in (parameter.VAR_KEYWORD, parameter.VAR_POSITIONAL) for parameter in parameters
    )


@each_law
def test_the_words_carry_the_units_of_the_names(facts: Law, function: Callable[..., Any]) -> None:
    """Each parameter is explained with the unit that its name's suffix stands for."""
    expected = {name: plain(quantity_of(name).unit) for name in inspect.signature(function).parameters}
    actual = {name: plain(unit) for name, unit in documented_units(function).items()}

    assert actual == expected


@each_law
def test_a_law_shows_an_example(facts: Law, function: Callable[..., Any]) -> None:
    """A law shows a value; a procedure may name the published example that its test works through instead."""
    words = function.__doc__ or ""

    assert ("Examples\n" in words and ">>> " in words) or (facts.method and "published" in words)


@each_law
def test_printed_equation_is_the_code(facts: Law, function: Callable[..., Any]) -> None:
    """The equation that the report prints gives what the code gives, for scalars and for arrays."""
    if facts.method:
        assert facts.symbols == {}, "a procedure prints no letters"
        return
    parameters = list(inspect.signature(function).parameters)
    generator = np.random.default_rng(sum(map(ord, facts.name)))
    values = {name: draw(name, generator, DRAWS) for name in parameters}
    with np.errstate(all="ignore"):
        expected = np.broadcast_to(evaluate(facts, values), (DRAWS,))
        actual = np.broadcast_to(function(**values), (DRAWS,))
        one_by_one = np.flatnonzero(np.isfinite(expected) & np.isfinite(actual))
        singles = [
            float(function(**{name: float(values[name][i]) for name in parameters})) for i in one_by_one[:20]
        ]
    finite = np.isfinite(expected) & np.isfinite(actual)

    assert sorted(facts.symbols.values()) == sorted(parameters), "each parameter has one letter"
    assert np.count_nonzero(finite) >= DRAWS // 20, "too few draws lie where the equation has a value"
    assert np.unique(expected[finite]).size > 1 or not parameters
    np.testing.assert_allclose(
        actual[finite], expected[finite], rtol=1e-9, atol=1e-12 * np.abs(expected[finite]).max()
    )
    np.testing.assert_allclose(singles, expected[one_by_one[:20]], rtol=1e-9, atol=1e-12)


@each_law
def test_no_orphan_numbers(facts: Law, function: Callable[..., Any]) -> None:
    """A number inside a law is printed in its equation, has a name with a source, or is plain arithmetic."""
    tree = ast.parse(inspect.getsource(function)).body[0]
    assert isinstance(tree, ast.FunctionDef)
    written = numbers_in(ast.Module(body=tree.body[1:], type_ignores=[]))
    printed = numbers_in(ast.parse(facts.equation.partition(" = ")[2])) if facts.equation else set()

    assert written - printed - PLAIN_NUMBERS == set()


def test_the_comparison_sees_a_wrong_sign() -> None:
    """The comparison can fail: with one sign of a printed equation turned, another value comes out."""
    right, _ = OURS["staydown.strength.tolerance_laws.lower_bound_of_logs"]
    wrong = replace(right, equation=right.equation.replace(" - ", " + "))
    values = {"mean_log": 2.0, "sd_log": 0.5, "factor": 3.0}

    assert evaluate(right, values) == 0.5
    assert evaluate(wrong, values) == 3.5
