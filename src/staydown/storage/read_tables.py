"""The tables of a job file into records, whatever mistakes are in them, with a finding for each mistake.

What could not be read is blank in the record (nan, empty text), so that contradictions between the rest are
still found; nan compares as False with everything. Such a record never leaves `storage`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from staydown.foundation.errors import UnreadableValue
from staydown.foundation.findings import Finding
from staydown.foundation.nearest import nearest
from staydown.job.records import Record, Rectangle
from staydown.job.shape import FieldShape, fields_of, tables
from staydown.job.written import Typed
from staydown.library.cards import Cards
from staydown.storage.mend_toml import unread
from staydown.storage.read_planning import read_planning
from staydown.storage.read_value import UNKNOWN, listed, read_value, such_as
from staydown.storage.toml_lines import Path, Place

LONGEST_VALUE = 60
MOST_TABLES = 500  # of one array; a job is looked at by a person
AT_THE_TOP = "does not belong at the top of the file"

_Home = tuple[str, ...]  # the keys of a table of `tables()`; a misspelt table's path differs from its home


def dotted(path: Path) -> str:
    """Return a path as findings name it, tables of an array counted from 1: `item.1.mount.2.pad`."""
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in path)


class TableReader:
    """One reading of one file: collects findings and what was typed."""

    def __init__(self, file: str, places: Mapping[Path, Place], cards: Cards) -> None:
        self.file = file
        self.cards = cards
        self.typed: dict[str, Typed] = {}
        self.refused: dict[
            str, Typed
        ] = {}  # what could not be read: the place of a contradiction that is told of it
        self._places = places
        self._findings: list[Finding] = []
        self._renamed: dict[Path, Path] = {}  # where it stands -> where it belongs
        self._missing: list[tuple[Path, _Home, str, Finding]] = []
        self._misplaced: list[tuple[Path, tuple[_Home, ...], str]] = []
        self._unread = 0  # values on lines that were told before
        self._elsewhere = False  # while a table is read that stands where it does not belong

    @property
    def findings(self) -> list[Finding]:
        """Return all findings; a key that is missing because it stands in another table counts once."""
        missing = [one[3] for one in self._missing if not self._stands_elsewhere(*one[:3])]
        return self._findings + missing

    def record(self, home: _Home, table: Mapping[str, Any], path: Path) -> Record:
        """Return the record of a table; where anything in it is wrong, with blanks and unchecked.

        home: which table of a job it is. path: where it stands in the file.
        """
        record = tables()[home][0]
        before = self._mistakes
        fields = {field.key: field for field in fields_of(record)}
        given = self._keys(home, table, path, fields)
        values: dict[str, Any] = {}
        for key, field in fields.items():
            if key in given:
                value = self._value(field, (*home, key), *given[key])
                if value is not None or field.required:
                    values[field.name] = value
            elif field.required:
                self._miss(field, home, path)
                values[field.name] = _blank(field)
        return record(**values) if self._mistakes == before else record.model_construct(**values)

    @property
    def _mistakes(self) -> int:
        return len(self._findings) + len(self._missing) + self._unread

    def find(self, path: Path, rule: str, hint: str, value: Any = "") -> None:
        """Note a mistake at a path."""
        self._findings.append(self._finding(path, rule, hint, value))

    def type(self, path: Path, value: Any) -> None:
        """Keep what was typed at a path."""
        self.typed[dotted(self._meant(path))] = self._typed(path, value)

    def _typed(self, path: Path, value: Any) -> Typed:
        place = self._places.get(path)
        text = value if isinstance(value, str) else (place.source if place else str(value))
        return Typed(text=text, file=self.file, line=place.line if place else None)

    def _meant(self, path: Path) -> Path:
        """Return the path that was meant: the same, but for misspelt tables and wrong brackets."""
        for end in range(len(path), 0, -1):
            if path[:end] in self._renamed:
                return (*self._renamed[path[:end]], *path[end:])
        return path

    def source(self, path: Path) -> str:
        """Return the value at a path as it is written, on one line; empty for a table."""
        place = self._places.get(path)
        text = " ".join(place.source.split()) if place else ""
        return text if len(text) <= LONGEST_VALUE else f"{text[: LONGEST_VALUE - 3]}..."

    def _finding(self, path: Path, rule: str, hint: str, value: Any) -> Finding:
        at = path
        while at not in self._places and at:
            at = at[:-1]
        line = self._places[at].line if at in self._places else None
        shown = "" if unread(value) else value if isinstance(value, str) else self.source(path)
        if len(shown) > LONGEST_VALUE:
            shown = f"{shown[: LONGEST_VALUE - 3]}..."
        return Finding(file=self.file, line=line, key=dotted(path), value=shown, rule=rule, hint=hint)

    def _miss(self, field: FieldShape, home: _Home, path: Path) -> None:
        below = (*home, field.key)
        if below in tables():
            record, heading = tables()[below]
            hint = f"write {heading} and below it {', '.join(one.key for one in fields_of(record) if one.required)}"
        else:
            hint = "write format = 1 at the top" if field.key == "format" else such_as(field)
        finding = self._finding((*path, field.key), "is missing", hint, "")
        self._missing.append((path, home, field.key, finding))

    def _stands_elsewhere(self, path: Path, home: _Home, key: str) -> bool:
        """Return whether a missing key was found where it does not belong: that is one mistake, not two."""
        single = not any(isinstance(part, int) for part in path)
        return any(
            key == misplaced and home in homes and (single or at[: len(path)] == path)
            for at, homes, misplaced in self._misplaced
        )

    def _value(self, field: FieldShape, home: _Home, value: Any, path: Path) -> Any:
        if unread(value):
            self._unread += 1
            return (_blank_record(tables()[home][0]),) if field.kind == "records" else _blank(field)
        if field.kind in ("record", "records", "planning") and value == UNKNOWN and field.may_be_unknown:
            return None
        if field.kind == "planning":
            return read_planning(value, path, self.cards, self.find, self.type)
        if field.kind == "record":
            return self._table(home, value, path)
        if field.kind == "records":
            return self._array(home, value, path)
        try:
            read = read_value(field, value, self.cards)
        except UnreadableValue as error:
            self.find(path, error.rule, error.hint, value)
            self.refused[dotted(self._meant(path))] = self._typed(path, value)
            return _blank(field)
        if read is not None or field.required:  # "unknown" is the same as left out
            self.type(path, value)
        return read

    def _table(self, home: _Home, value: Any, path: Path) -> Record:
        record, heading = tables()[home]
        if isinstance(value, list) and value and isinstance(value[0], dict):
            self.find(path, "is written as one of several tables", f"write {heading}, once")
            self._renamed[(*path, 0)] = self._meant(path)
            return self.record(home, value[0], (*path, 0))
        if not isinstance(value, dict):
            inner = ", ".join(f"{one.key} = ..." for one in fields_of(record) if one.required)
            hint = f"write {heading} and its keys below it" if len(home) == 1 else f"write {{ {inner} }}"
            self.find(path, "is not a table", hint, value)
            return _blank_record(record)
        return self.record(home, value, path)

    def _array(self, home: _Home, value: Any, path: Path) -> tuple[Record, ...]:
        heading = tables()[home][1]
        if isinstance(value, dict):
            self.find(path, "is written as the only table", f"write {heading}, once for each")
            self._renamed[path] = (*self._meant(path), 0)
            return (self.record(home, value, path),)
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            self.find(path, "is not a table", f"write {heading} and its keys below it", value)
            return (_blank_record(tables()[home][0]),)
        if len(value) > MOST_TABLES:
            self.find(path, f"stands {len(value)} times", f"at most {MOST_TABLES} are read")
            return (_blank_record(tables()[home][0]),)
        return tuple(self.record(home, one, (*path, index)) for index, one in enumerate(value))

    def _keys(
        self, home: _Home, table: Mapping[str, Any], path: Path, fields: Mapping[str, FieldShape]
    ) -> dict[str, tuple[Any, Path]]:
        """Return value and path of each key, a misspelt one under the key that was meant."""
        given = {key: (value, (*path, key)) for key, value in table.items() if key in fields}
        for key, value in table.items():
            if key not in fields:
                meant = self._unknown_key(
                    home, (*path, key), value, [one for one in fields if one not in given]
                )
                if meant is not None:
                    given[meant] = (value, (*path, key))
                    self._renamed[(*path, key)] = (*self._meant(path), meant)
        return given

    def _unknown_key(self, here: _Home, path: Path, value: Any, free: list[str]) -> str | None:
        """Note a key that its table does not have; return the key of this table that was meant, if any."""
        key = str(path[-1])
        is_table = _is_table(value)
        if here:
            rule = f"is no {'table' if is_table else 'key'} of {tables()[here][1]}"
        else:
            rule = "is no table of a job" if is_table else AT_THE_TOP
        homes = tuple(home for home in _homes(key) if ((*home, key) in tables()) == is_table)
        close = nearest(key, free)
        if homes:
            self._misplaced.append((path, homes, key))
            belongs = _belongs(key, homes, here)
            self.find(path, rule, f"{belongs}, or did you mean {close}?" if close else belongs, value)
            self._read_elsewhere([*homes, *([here] if close else [])], (key, close), value, path)
            return None
        self.find(path, rule, _meant_or_known(key, close, here), value)
        return close

    def _read_elsewhere(
        self, homes: Sequence[_Home], keys: tuple[str, str | None], value: Any, path: Path
    ) -> None:
        """Note what is wrong in what stands elsewhere than it belongs, where every place for it would refuse it."""
        if unread(value):
            return
        if _is_table(value):
            if len(homes) == 1 and not self._elsewhere:
                self._elsewhere = True
                self._table_elsewhere((*homes[0], keys[0]), value, path)
                self._elsewhere = False
            return
        refusals = set()
        for home in homes:
            for field in fields_of(tables()[home][0]):
                if field.key in keys:
                    refusals.add(self._refusal(field, value))
        if len(refusals) == 1 and None not in refusals:
            ((rule, hint),) = (one for one in refusals if one is not None)
            self.find(path, rule, hint, value)

    def _table_elsewhere(self, home: _Home, value: Any, path: Path) -> None:
        if isinstance(value, dict):
            self.record(home, value, path)
        elif all(isinstance(one, dict) for one in value) and len(value) <= MOST_TABLES:
            for index, one in enumerate(value):
                self.record(home, one, (*path, index))

    def _refusal(self, field: FieldShape, value: Any) -> tuple[str, str] | None:
        if field.kind in ("record", "records", "planning"):
            return None
        try:
            read_value(field, value, self.cards)
        except UnreadableValue as error:
            return error.rule, error.hint
        return None


def _meant_or_known(key: str, close: str | None, here: _Home) -> str:
    """Return a hint for a key that is nowhere: the nearest here, the nearest elsewhere, or what is known here."""
    if close is not None:
        below = (*here, close)
        return f"did you mean {tables()[below][1] if below in tables() else close}?"
    known = [field.key for field in fields_of(tables()[here][0])]
    elsewhere = nearest(key, {field.key for record, _ in tables().values() for field in fields_of(record)})
    if elsewhere is None or elsewhere in known:
        return f"its keys are {', '.join(known)}"
    return f"did you mean {elsewhere} of {listed([tables()[home][1] for home in _homes(elsewhere)][:3])}?"


def _is_table(value: Any) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and any(isinstance(one, dict) for one in value)
    )


def _homes(key: str) -> tuple[_Home, ...]:
    """Return the tables that have a key."""
    return tuple(home for home, (record, _) in tables().items() if key in {f.key for f in fields_of(record)})


def _belongs(key: str, homes: tuple[_Home, ...], here: _Home) -> str:
    """Return where a key belongs, best the table that this one is part of."""
    as_table = [tables()[(*home, key)][1] for home in homes if (*home, key) in tables()]
    if as_table:
        return f"write {listed(as_table[:3])}"
    above = [home for home in homes if home == here[: len(home)]]
    if above:
        first = tables()[here[: len(above[-1]) + 1]][1]
        return f"belongs in {tables()[above[-1]][1]}, above its first {first}"
    return f"belongs in {listed([tables()[home][1] for home in homes[:3]])}"


def _blank(field: FieldShape) -> Any:
    """Return what stands for a value that could not be read."""
    match field.kind:
        case "number" | "hours" | "load" | "area":
            return math.nan
        case "rectangle":
            return Rectangle(length_m=math.nan, width_m=math.nan)
        case "text" | "choice":
            return ""
        case "choices" | "records":
            return ()
        case "record" if field.record is not None:
            return _blank_record(field.record)
        case _:
            return None


def _blank_record(record: type[Record]) -> Record:
    return record.model_construct(
        **{field.name: _blank(field) for field in fields_of(record) if field.required}
    )
