"""Sets the printed equation of a law for a page: as MathML for a browser, as mathematics for the typesetter.

Both are made from the one text that a test evaluates against the code, so that no formula is typed twice.
"""

from __future__ import annotations

import ast
from html import escape

GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "epsilon": "ε",
    "eta": "η",
    "theta": "θ",
    "kappa": "κ",
    "lambda": "λ",
    "mu": "μ",
    "nu": "ν",
    "xi": "ξ",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "psi": "ψ",
    "omega": "ω",
    "Phi": "Φ",
}
COMPARED = {ast.Lt: "<", ast.LtE: "≤", ast.Gt: ">", ast.GtE: "≥", ast.Eq: "=", ast.NotEq: "≠"}
SUM, PRODUCT, POWER, ATOM = 1, 2, 3, 4  # how tightly a piece binds


class Setter:
    """How each piece of an equation is written; one for every kind of page."""

    def symbol(self, letter: str, subscript: str, *, upright: bool) -> str:
        """Return a letter with its subscript."""
        raise NotImplementedError

    def number(self, digits: str, exponent: str) -> str:
        """Return a number, its power of ten apart."""
        raise NotImplementedError

    def row(self, *pieces: str) -> str:
        """Return pieces beside each other."""
        raise NotImplementedError

    def sign(self, sign: str) -> str:
        """Return an operator."""
        raise NotImplementedError

    def word(self, word: str) -> str:
        """Return a word or the name of a function."""
        raise NotImplementedError

    def fraction(self, over: str, under: str) -> str:
        """Return a fraction."""
        raise NotImplementedError

    def power(self, base: str, exponent: str) -> str:
        """Return a power."""
        raise NotImplementedError

    def root(self, inner: str) -> str:
        """Return a square root."""
        raise NotImplementedError

    def bracketed(self, inner: str) -> str:
        """Return something in brackets."""
        raise NotImplementedError

    def magnitude(self, inner: str) -> str:
        """Return something between bars."""
        raise NotImplementedError

    def cases(self, rows: list[tuple[str, str]]) -> str:
        """Return values, each with its condition."""
        raise NotImplementedError


class MathML(Setter):
    """Presentation MathML, which browsers set by themselves."""

    def symbol(self, letter: str, subscript: str, *, upright: bool) -> str:
        """Return a letter with its subscript."""
        variant = " mathvariant='normal'" if upright else ""
        base = f"<mi{variant}>{escape(letter)}</mi>"
        return f"<msub>{base}<mi mathvariant='normal'>{escape(subscript)}</mi></msub>" if subscript else base

    def number(self, digits: str, exponent: str) -> str:
        """Return a number, its power of ten apart."""
        if not exponent:
            return f"<mn>{digits}</mn>"
        return f"<mn>{digits}</mn><mo>·</mo><msup><mn>10</mn><mn>{exponent.replace('-', '−')}</mn></msup>"

    def row(self, *pieces: str) -> str:
        """Return pieces beside each other."""
        return f"<mrow>{''.join(pieces)}</mrow>"

    def sign(self, sign: str) -> str:
        """Return an operator."""
        return f"<mo>{escape(sign)}</mo>"

    def word(self, word: str) -> str:
        """Return a word or the name of a function."""
        return f"<mtext>{escape(word)}</mtext>"

    def fraction(self, over: str, under: str) -> str:
        """Return a fraction."""
        return f"<mfrac>{self.row(over)}{self.row(under)}</mfrac>"

    def power(self, base: str, exponent: str) -> str:
        """Return a power."""
        return f"<msup>{self.row(base)}{self.row(exponent)}</msup>"

    def root(self, inner: str) -> str:
        """Return a square root."""
        return f"<msqrt>{inner}</msqrt>"

    def bracketed(self, inner: str) -> str:
        """Return something in brackets."""
        return self.row(self.sign("("), inner, self.sign(")"))

    def magnitude(self, inner: str) -> str:
        """Return something between bars."""
        return self.row(self.sign("|"), inner, self.sign("|"))

    def cases(self, rows: list[tuple[str, str]]) -> str:
        """Return values, each with its condition."""
        told = "".join(f"<mtr><mtd>{value}</mtd><mtd>{when}</mtd></mtr>" for value, when in rows)
        return self.row(self.sign("{"), f"<mtable columnalign='left'>{told}</mtable>")


class Typeset(Setter):
    """Source of the typesetter's mathematics; its words stand in quotes, so that nothing in it is a command."""

    def symbol(self, letter: str, subscript: str, *, upright: bool) -> str:
        """Return a letter with its subscript."""
        base = f'upright("{letter}")' if upright else " ".join(letter)  # Δ and its letter are two
        return f'{base}_"{subscript}"' if subscript else base

    def number(self, digits: str, exponent: str) -> str:
        """Return a number, its power of ten apart."""
        return f"{digits} dot.op 10^({exponent})" if exponent else digits

    def row(self, *pieces: str) -> str:
        """Return pieces beside each other."""
        return " ".join(pieces)

    def sign(self, sign: str) -> str:
        """Return an operator."""
        return {"·": "dot.op", "−": "-"}.get(sign, sign)

    def word(self, word: str) -> str:
        """Return a word or the name of a function."""
        return f'"{word}"'

    def fraction(self, over: str, under: str) -> str:
        """Return a fraction."""
        return f"frac({over}, {under})"

    def power(self, base: str, exponent: str) -> str:
        """Return a power."""
        return f"{base}^({exponent})"

    def root(self, inner: str) -> str:
        """Return a square root."""
        return f"sqrt({inner})"

    def bracketed(self, inner: str) -> str:
        """Return something in brackets."""
        return f"({inner})"

    def magnitude(self, inner: str) -> str:
        """Return something between bars."""
        return f"abs({inner})"

    def cases(self, rows: list[tuple[str, str]]) -> str:
        """Return values, each with its condition."""
        return f"cases({', '.join(f'{value} & {when}' for value, when in rows)})"


def mathml(equation: str) -> str:
    """Return an equation as one MathML element, its plain text as what a screen reader may fall back to.

    Examples
    --------
    >>> mathml("q = v")
    "<math aria-label='q = v'><mrow><mi>q</mi><mo>=</mo><mi>v</mi></mrow></math>"
    """
    return f"<math aria-label='{escape(equation, quote=True)}'>{_equation(equation, MathML())}</math>"


def typeset(equation: str) -> str:
    """Return an equation as source of the typesetter's mathematics.

    Examples
    --------
    >>> typeset("q = 0.5 * rho * v**2")
    'q = 0.5 dot.op ρ dot.op v^(2)'
    """
    return _equation(equation, Typeset())


def letter(name: str) -> str:
    """Return a symbol's name as it is printed in a line of text: `rho` as ρ, `C_up` as C_up.

    Examples
    --------
    >>> letter("rho"), letter("sigma_m"), letter("dT")
    ('ρ', 'σ_m', 'ΔT')
    """
    base, _, subscript = name.partition("_")
    told = _base(base)
    return f"{told}_{subscript}" if subscript else told


def _base(base: str) -> str:
    if base in GREEK:
        return GREEK[base]
    if len(base) == 2 and base[0] == "d" and base[1].isupper():
        return f"Δ{base[1]}"
    return base


def _equation(equation: str, setter: Setter) -> str:
    left, _, right = equation.partition(" = ")
    tree = ast.parse(right, mode="eval").body
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant):
            node.kind = ast.get_source_segment(right, node)  # as written: 5e5 stays 5e5
    return setter.row(_symbol(left, setter), setter.sign("="), _piece(tree, setter)[0])


def _symbol(name: str, setter: Setter) -> str:
    base, _, subscript = name.partition("_")
    told = _base(base)
    upright = len(told) > 1 and not told.startswith("Δ")
    return setter.symbol(told, subscript.replace("_", ","), upright=upright)


def _piece(node: ast.expr, setter: Setter) -> tuple[str, int]:
    """Return a piece of an equation and how tightly it binds."""
    if isinstance(node, ast.Constant):
        digits, _, exponent = str(node.kind).partition("e")
        return setter.number(digits, exponent.lstrip("+").replace("-0", "-")), (PRODUCT if exponent else ATOM)
    if isinstance(node, ast.Name):
        return _symbol(node.id, setter), ATOM
    if isinstance(node, ast.UnaryOp):
        return setter.row(setter.sign("−"), _held(node.operand, PRODUCT, setter)), PRODUCT
    if isinstance(node, ast.Compare):
        sign = COMPARED[type(node.ops[0])]
        left, right = _piece(node.left, setter)[0], _piece(node.comparators[0], setter)[0]
        return setter.row(left, setter.sign(sign), right), SUM
    if isinstance(node, ast.BinOp):
        return _joined(node, setter)
    if isinstance(node, ast.Call):
        return _called(node, setter)
    raise ValueError(f"the printed equations know nothing like {ast.dump(node)}")


def _held(node: ast.expr, least: int, setter: Setter) -> str:
    """Return a piece, in brackets where it binds more loosely than what stands around it."""
    told, binds = _piece(node, setter)
    return told if binds >= least else setter.bracketed(told)


def _joined(node: ast.BinOp, setter: Setter) -> tuple[str, int]:
    if isinstance(node.op, (ast.Add, ast.Sub)):
        minus = isinstance(node.op, ast.Sub)
        right = _held(node.right, PRODUCT if minus else SUM, setter)
        return setter.row(_piece(node.left, setter)[0], setter.sign("−" if minus else "+"), right), SUM
    if isinstance(node.op, ast.Mult):
        left, right = _held(node.left, PRODUCT, setter), _held(node.right, PRODUCT, setter)
        return setter.row(left, setter.sign("·"), right), PRODUCT
    if isinstance(node.op, ast.Div):
        return setter.fraction(_piece(node.left, setter)[0], _piece(node.right, setter)[0]), PRODUCT
    if isinstance(node.op, ast.Pow):
        return setter.power(_held(node.left, ATOM, setter), _piece(node.right, setter)[0]), POWER
    raise ValueError(f"the printed equations know no operator {type(node.op).__name__}")


def _called(node: ast.Call, setter: Setter) -> tuple[str, int]:
    name = ast.unparse(node.func)
    inner = [_piece(argument, setter)[0] for argument in node.args]
    if name == "sqrt":
        return setter.root(inner[0]), ATOM
    if name == "abs":
        return setter.magnitude(inner[0]), ATOM
    if name == "hypot":
        squares = [
            setter.power(_held(argument, ATOM, setter), setter.number("2", "")) for argument in node.args
        ]
        return setter.root(setter.row(squares[0], setter.sign("+"), squares[1])), ATOM
    if name == "exp":
        return setter.power(_symbol("e", setter), inner[0]), POWER
    if name == "where":
        rows = [(inner[1], setter.row(setter.word("if "), inner[0])), (inner[2], setter.word("else"))]
        return setter.cases(rows), SUM
    shown = {"maximum": "max", "minimum": "min", "log": "ln", "log10": "lg"}.get(name, name)
    comma = setter.word(", ")
    told = inner[0]
    for argument in inner[1:]:
        told = setter.row(told, comma, argument)
    return setter.row(setter.word(shown), setter.bracketed(told)), ATOM
