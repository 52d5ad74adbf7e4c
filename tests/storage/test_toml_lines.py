"""On which line each key of a TOML file stands: against random documents whose lines are known."""

from __future__ import annotations

import json
import tomllib
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from staydown.storage.toml_lines import Path, places_of

KEYS = st.sampled_from(["a", "b-c", "d_1", "2", "with space", 'q"uote', "dot.ted", "", "[x]", "ü", "#"])
SCALARS = st.one_of(
    st.integers(-(10**6), 10**6),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF, blacklist_characters="\x7f"), max_size=12),
)
VALUES = st.recursive(SCALARS, lambda inner: st.lists(inner, max_size=3), max_leaves=5)


class Writer:
    """Writes a document piece by piece and notes on which line each path was begun."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.text = ""
        self.lines: dict[Path, int] = {}

    @property
    def line(self) -> int:
        """Return the line that is being written, from 1."""
        return self.text.count("\n") + 1

    def key(self, name: str) -> str:
        """Return a key in one of its spellings."""
        quoted = json.dumps(name, ensure_ascii=self.draw(st.booleans()))
        plain = name.isascii() and name.replace("-", "a").replace("_", "a").isalnum()
        return name if plain and self.draw(st.booleans()) else quoted

    def value(self, value: Any, path: Path) -> None:
        """Write a value, lists on one line or on several, with comments between."""
        self.lines.setdefault(path, self.line)
        if isinstance(value, list):
            self.text += "["
            for index, one in enumerate(value):
                self.text += self.draw(st.sampled_from(["", " ", "\n  ", " # [a] = 'x'\n"]))
                self.value(one, (*path, index))
                self.text += self.draw(st.sampled_from([",", " ,", ", # ]\n", "\n,\n"]))
            self.text += self.draw(st.sampled_from(["]", "\n]", "# }\n]"]))
        elif isinstance(value, dict):
            self.text += "{ "
            for index, (name, one) in enumerate(value.items()):
                self.text += ", " if index else ""
                self.pair(name, one, path)
            self.text += " }"
        elif isinstance(value, str) and self.draw(st.booleans()) and "'" not in value:
            shape = self.draw(st.sampled_from(["'{}'", "'''{}'''", "'''\n{}'''", "'''it's {}''''"]))
            self.text += shape.format(value)
        elif isinstance(value, str):
            inner = json.dumps(value)[1:-1]
            shape = self.draw(st.sampled_from(['"{}"', '"""{}"""', '"""\n{}\\\n  """', '"""{}"" """']))
            self.text += shape.format(inner)
        else:
            self.text += json.dumps(value)

    def pair(self, name: str, value: Any, table: Path) -> None:
        """Write key = value."""
        path = (*table, name)
        self.lines.setdefault(path, self.line)
        self.text += f"{self.key(name)} = "
        self.value(value, path)


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, dict[Path, int]]:
    """Return a valid document and the line of each path in it."""
    writer = Writer(draw)
    pairs = st.dictionaries(KEYS, VALUES | st.dictionaries(KEYS, SCALARS, max_size=3), max_size=4)
    table: Path = ()
    for number in range(draw(st.integers(0, 5)) + 1):
        for name, value in draw(pairs).items():
            writer.pair(name, value, table)
            writer.text += draw(st.sampled_from(["\n", " # note = 1\n", "\n\n", "\r\n"]))
        head = draw(st.sampled_from(["table", "first of many", "next of many", "below", "end"]))
        if head == "end":
            break
        name = f"t{number}"
        if head == "below" and table:
            writer.lines[(*table, name)] = writer.line
            writer.text += (
                f"[{'.'.join(writer.key(part) for part in table if isinstance(part, str))}. {name} ]\n"
            )
            table = (*table, name)
        elif head == "next of many" and table and isinstance(table[-1], int):
            table = (*table[:-1], table[-1] + 1)
            writer.lines[table] = writer.line
            writer.text += f"[[{'.'.join(writer.key(part) for part in table if isinstance(part, str))}]]\n"
        elif head == "first of many":
            table = (name, 0)
            writer.lines[(name,)] = writer.lines[table] = writer.line
            writer.text += f"[[ {name} ]] # first\n"
        else:
            table = (name,)
            writer.lines[table] = writer.line
            writer.text += f"[{name}]\n"
    return writer.text, writer.lines


def paths_of(value: Any, path: Path = ()) -> set[Path]:
    """Return all paths of what tomllib read."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return {path, *(one for key, below in inner for one in paths_of(below, (*path, key)))}


@settings(max_examples=500, deadline=None)
@given(documents())
def test_every_path_is_found_on_its_line(document: tuple[str, dict[Path, int]]) -> None:
    """The paths are those that tomllib reads, each on the line where it was written."""
    text, lines = document
    places = places_of(text)

    assert set(places) | {()} == paths_of(tomllib.loads(text))
    assert {path: place.line for path, place in places.items()} == lines


def test_dotted_keys_and_subtables_without_a_head() -> None:
    """Dotted keys, a subtable before its table and an array of tables in a list are found."""
    text = 'a.b."c d" = 1\n[x.y]\nz = 2\n[x]\nw = 3\n[k]\nlist = [\n  { m = 1 },\n  { m = [2, 3] },\n]\n'
    lines = {path: place.line for path, place in places_of(text).items()}

    assert lines == {
        ("a",): 1,
        ("a", "b"): 1,
        ("a", "b", "c d"): 1,
        ("x",): 4,
        ("x", "y"): 2,
        ("x", "y", "z"): 3,
        ("x", "w"): 5,
        ("k",): 6,
        ("k", "list"): 7,
        ("k", "list", 0): 8,
        ("k", "list", 0, "m"): 8,
        ("k", "list", 1): 9,
        ("k", "list", 1, "m"): 9,
        ("k", "list", 1, "m", 0): 9,
        ("k", "list", 1, "m", 1): 9,
    }


def test_the_source_of_a_value_is_as_written() -> None:
    """The text of a value is kept as written, without the comment after it."""
    text = "a = 0.70 # seven tenths\nb = { low = 1, high = 2 }\nc = '''it's'''\nd = 0x1F\n"
    sources = {path: place.source for path, place in places_of(text).items() if len(path) == 1}

    assert sources == {("a",): "0.70", ("b",): "{ low = 1, high = 2 }", ("c",): "'''it's'''", ("d",): "0x1F"}
