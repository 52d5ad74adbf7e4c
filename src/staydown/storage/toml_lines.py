"""On which line does each key of a TOML file stand, and how was its value written?"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_QUOTED_KEY = re.compile(r'"(?:[^"\\]|\\.)*"|' + r"'[^']*'")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?:"{0,2}(?!"))|' + r"'''.*?'''(?:'{0,2}(?!'))|" + _QUOTED_KEY.pattern, re.DOTALL
)
_SCALAR = re.compile(r"[^,\]}#\r\n]*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a key or a table stands: its line, counted from 1, and the text of a value as written."""

    line: int
    source: str


def places_of(text: str) -> Mapping[Path, Place]:
    """Return the place of every table, key and array element of a valid TOML document.

    Paths hold keys and, for tables of an array and elements of a list, their index from 0. The document must
    have been read by tomllib before: what is not valid TOML is not noticed here.

    Examples
    --------
    >>> places_of('[a]\\nb = "5 mm" # wide')[("a", "b")]
    Place(line=2, source='"5 mm"')
    """
    return _Scanner(text).places


class _Scanner:
    """One walk over the text; `at` is the next character to look at."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.places: dict[Path, Place] = {}
        self._starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self._tables_of: dict[Path, int] = {}  # arrays of tables: how many so far
        table: Path = ()
        while self._skip(_BLANK) < len(text):
            if text[self.at] == "[":
                table = self._header()
            else:
                self._key_and_value(table)

    def _skip(self, pattern: re.Pattern[str]) -> int:
        match = pattern.match(self.text, self.at)
        self.at = match.end() if match else self.at
        return self.at

    def _note(self, path: Path, start: int, source: str = "") -> None:
        if path not in self.places:
            self.places[path] = Place(line=bisect_right(self._starts, start), source=source)

    def _header(self) -> Path:
        start = self.at
        many = self.text.startswith("[[", start)
        self.at += 2 if many else 1
        path: Path = ()
        keys = self._keys()
        for key in keys[:-1]:
            path = self._newest((*path, key))
            self._note(path, start)
        path = (*path, keys[-1])
        if many:
            self._note(path, start)
            self._tables_of[path] = self._tables_of.get(path, 0) + 1
            path = self._newest(path)
        self.places.pop(path, None)  # a table named only by its subtable so far stands here
        self._note(path, start)
        self.at = self.text.index("]", self.at) + (2 if many else 1)
        return path

    def _newest(self, path: Path) -> Path:
        """Return the path of the newest table of an array, or the path itself where it is no array."""
        count = self._tables_of.get(path)
        return path if count is None else (*path, count - 1)

    def _keys(self) -> list[str]:
        keys: list[str] = []
        while True:
            self._skip(_SPACE)
            match = _BARE_KEY.match(self.text, self.at)
            if match is not None:
                keys.append(match[0])
            else:
                match = _QUOTED_KEY.match(self.text, self.at)
                assert match is not None
                keys.append(str(tomllib.loads(f"key = {match[0]}")["key"]))
            self.at = match.end()
            self._skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return keys
            self.at += 1

    def _key_and_value(self, table: Path) -> None:
        start = self.at
        keys = self._keys()
        for end in range(1, len(keys)):
            self._note((*table, *keys[:end]), start)
        self.at = self.text.index("=", self.at) + 1
        self._skip(_SPACE)
        self._value((*table, *keys), start)

    def _value(self, path: Path, start: int) -> None:
        """Walk over one value; `start` is where its key, or the element itself, begins."""
        begin = self.at
        self._note(path, start)
        if self.text[begin] == "[":
            self._inside(path, "]")
        elif self.text[begin] == "{":
            self._inside(path, "}")
        else:
            self._skip(_STRING if self.text[begin] in "\"'" else _SCALAR)
        source = self.text[begin : self.at].rstrip()
        self.places[path] = Place(line=self.places[path].line, source=source)

    def _inside(self, path: Path, close: str) -> None:
        self.at += 1
        count = 0
        while True:
            self._skip(_BLANK)
            if self.text[self.at] == close:
                break
            if self.text[self.at] == ",":
                self.at += 1
            elif close == "}":
                self._key_and_value(path)
            else:
                self._value((*path, count), self.at)
                count += 1
        self.at += 1
