"""The text of a job file as tables although it has slips of TOML: what else is wrong is told with them.

A line with a slip is read as it was meant, or its value is left unread. Where neither can be done, the slips that were
found until there stand alone: what stands below the line can no longer be told apart.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import Any

# a lone surrogate: no file can hold it, so nobody can have typed it
UNREAD = "\udcff"
MOST_SLIPS = 60
MOST_SIGNS = 3_000_000  # read over all attempts; tomllib begins anew after each slip

_PLACE_IN_MESSAGE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_KEY = r"\s*([A-Za-z0-9_.-]+)"
_UNQUOTED = re.compile(_KEY + r"\s*=\s*([^\s\"'\[{#][^\"'#]*?)\s*(?:#.*)?$")
_INCH_SIGN = re.compile(_KEY + r"\s*=\s*\"([^\"]*)\"\"\s*(?:#.*)?$")
_NO_SIGN = re.compile(_KEY + r"\s+(\"[^\"]*\")\s*(?:#.*)?$")
_ANY_VALUE = re.compile(_KEY + r"\s*=")
_KEYS_OF_TOMLLIB = re.compile(r"\('([^)]*?)',?\)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """What is not TOML on a line (None where it is told of no line): the line as it stands, rule, hint."""

    line: int | None
    content: str
    rule: str
    hint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """The tables, None where the text cannot be read further; the text they were read from, line by line as given."""

    tables: dict[str, Any] | None
    text: str
    slips: tuple[Slip, ...]


def mend_toml(text: str) -> Mended:
    """Return what a text holds as TOML, and all slips in it that can be told apart.

    Examples
    --------
    >>> found = mend_toml('gap = 40 mm\\nmass = 9 kg')
    >>> [slip.line for slip in found.slips], found.tables
    ([1, 2], {'gap': '40 mm', 'mass': '9 kg'})
    """
    slips: list[Slip] = []
    lines = text.split("\n")
    done: set[int] = set()
    for _ in range(max(1, min(MOST_SLIPS, MOST_SIGNS // (len(text) + 1)))):
        mended = "\n".join(lines)
        try:
            return Mended(tables=tomllib.loads(mended), text=mended, slips=tuple(slips))
        except tomllib.TOMLDecodeError as error:
            slip = _slip(str(error), lines)
        except RecursionError:
            hint = "a job has tables in tables twice at most"
            slip = Slip(line=None, content="", rule="is nested too deeply", hint=hint)
        except ValueError as error:  # a whole number of thousands of digits
            slip = Slip(line=None, content="", rule="has a value that cannot be read", hint=str(error))
        if slip.line in done:  # mending did not help: what is wrong began above
            break
        if UNREAD not in slip.content and not _undecoded(slip.content):
            slips.append(slip)
        line = None if slip.line is None else _mended(lines[slip.line - 1], slip.rule)
        if slip.line is None or line is None:
            break
        lines[slip.line - 1] = line
        done.add(slip.line)
    return Mended(tables=None, text="\n".join(lines), slips=tuple(slips))


def unread(value: Any) -> bool:
    """Return whether a value stands on a line that could not be read, which was told already."""
    if isinstance(value, list):
        return any(unread(one) for one in value if not isinstance(one, dict))
    return isinstance(value, str) and _undecoded(value)


def _undecoded(text: str) -> bool:
    return any("\ud800" <= sign <= "\udfff" for sign in text)


_TWICE = "is not TOML: a key is given twice"


def _mended(line: str, rule: str) -> str | None:
    """Return a line as it was meant, or without its value; None where that cannot be told."""
    inches, unquoted, no_sign = _INCH_SIGN.match(line), _UNQUOTED.match(line), _NO_SIGN.match(line)
    key = _ANY_VALUE.match(line)
    if rule == _TWICE:
        return "" if key else None
    if inches:
        return f'{inches[1]} = "{inches[2]} in"'
    if unquoted:
        value = unquoted[2].replace("\\", "\\\\")
        return f'{unquoted[1]} = "{value}"'
    if no_sign:
        return f"{no_sign[1]} = {no_sign[2]}"
    return f'{key[1]} = "{UNREAD}"' if key else None


def _slip(message: str, lines: list[str]) -> Slip:
    """Return a syntax error of TOML with its line and, where it is the usual slip, the cure."""
    place = _PLACE_IN_MESSAGE.search(message)
    line = int(place[1]) if place and place[1] else len("\n".join(lines).rstrip("\n").split("\n"))
    content = lines[line - 1].strip()
    hint = f"column {place[2]}" if place and place[2] else "at the end of the file"
    rule = _KEYS_OF_TOMLLIB.sub(lambda keys: keys[1].replace("', '", "."), _PLACE_IN_MESSAGE.sub("", message))
    unquoted, inches = _UNQUOTED.match(content), _INCH_SIGN.match(content)
    if inches:
        hint = f'write {inches[1]} = "{inches[2]} in"'
    elif unquoted and not message.startswith("Cannot overwrite"):
        hint = f'write {unquoted[1]} = "{unquoted[2]}"'
    if rule == r"Illegal character '\n'":
        rule = "a text in quotes must end on its line"
    if rule == "Cannot overwrite a value":
        rule = "a key is given twice"
    return Slip(line=line, content=content, rule=f"is not TOML: {rule[:1].lower()}{rule[1:]}", hint=hint)
