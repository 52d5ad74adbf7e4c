"""Changes a TOML text key by key, with its comments and its order kept; what cannot be kept is refused."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

import tomlkit

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding

Plain = str | int | float | bool | list[str]
Small = Mapping[str, str | int | float]  # a table that is written on one line
Path = tuple[str | int, ...]  # tables of an array by their index from 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SetKey:
    """A key gets a value, or a small table."""

    path: Path
    value: Plain | Small


@dataclass(frozen=True, slots=True, kw_only=True)
class DropKey:
    """A key, or one table of an array, is taken away."""

    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class AddTable:
    """A table is added at the end of an array of tables."""

    path: Path
    values: Mapping[str, Plain]


Change = SetKey | DropKey | AddTable


def edit_toml(text: str, changes: Sequence[Change]) -> str:
    """Return the text after the changes.

    The writing library moves blocks in some layouts, so that its result is read again by the reader's own parser
    and refused where it says anything but the old content with the changes.

    Raises
    ------
    BadInput
        The changes cannot be written without spoiling the rest, or name a table that is not there.
    """
    if any(isinstance(change, AddTable) for change in changes) and not text.endswith("\n\n"):
        text += "\n" if text.endswith("\n") else "\n\n"  # a table that comes last stands apart
    wanted = tomllib.loads(text)
    document: Any = tomlkit.parse(text)
    for change in changes:
        _plainly(wanted, change)
        _kept(document, change)
    new = tomlkit.dumps(document)
    new = new.rstrip("\n") + "\n"
    try:
        same = tomllib.loads(new) == wanted
    except tomllib.TOMLDecodeError:
        same = False
    if not same:
        raise _refusal("", "this layout of the file cannot be changed from here", "change it in an editor")
    return new


def _plainly(tables: Any, change: Change) -> None:
    """Do a change on plain dictionaries: what the file must say afterwards."""
    home = _home(tables, change.path)
    last = change.path[-1]
    match change:
        case SetKey():
            home[last] = dict(change.value) if isinstance(change.value, Mapping) else deepcopy(change.value)
        case DropKey():
            del home[last]
            if isinstance(home, list) and not home:  # an array without tables is no longer in the text
                del _home(tables, change.path[:-1])[change.path[-2]]
        case AddTable():
            home.setdefault(last, []).append(dict(change.values))


def _kept(document: Any, change: Change) -> None:
    """Do a change on the document with its comments."""
    home = _home(document, change.path)
    last = change.path[-1]
    match change:
        case SetKey():
            home[last] = _on_one_line(change.value)
        case DropKey():
            del home[last]
            if isinstance(home, list) and not home:
                del _home(document, change.path[:-1])[change.path[-2]]
        case AddTable():
            table = tomlkit.table()
            for key, value in change.values.items():
                table.add(key, value)
            table.add(tomlkit.nl())
            if last not in home:
                home.append(last, tomlkit.aot())
            home[last].append(table)


def _on_one_line(value: Plain | Small) -> Any:
    if not isinstance(value, Mapping):
        return value
    table = tomlkit.inline_table()
    table.update(value)
    return table


def _home(tables: Any, path: Path) -> Any:
    """Return the table or array that holds the last part of a path; a table that is not there is made."""
    here = tables
    for number, part in enumerate(path[:-1]):
        after = path[number + 1]
        if isinstance(part, str) and part not in here and isinstance(after, str):
            here[part] = tomlkit.table() if hasattr(here, "as_string") else {}
        try:
            here = here[part]
        except (KeyError, IndexError):
            place = ".".join(str(one + 1) if isinstance(one, int) else one for one in path)
            raise _refusal(place, "is not in the job", "open the page again") from None
    return here


def _refusal(key: str, rule: str, hint: str) -> BadInput:
    return BadInput([Finding(file="job.toml", line=None, key=key, value="", rule=rule, hint=hint)])
