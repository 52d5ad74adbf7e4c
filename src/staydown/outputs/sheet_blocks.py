"""The pieces that sheets are made of: plain dictionaries and lists; every text in them is text and never markup."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from staydown.outputs.blocks import Block
from staydown.outputs.columns import clean

Size = Literal["large", "bench", "plain"]


def sheet(
    title: str, job: str, aside: str, foot: str, version: str, pages: Sequence[Sequence[Block]], size: Size
) -> dict[str, Any]:
    """Return a sheet: its titles and its pages, each a list of blocks."""
    return {
        "title": clean(title),
        "job": clean(job),
        "aside": clean(aside),
        "foot": clean(foot),
        "version": version,
        "language": "en",
        "size": size,
        "pages": [{"blocks": list(blocks)} for blocks in pages],
    }


def title(words: str) -> Block:
    """Return the title of a page."""
    return {"kind": "title", "text": clean(words)}


def words(text: str, style: str = "plain") -> Block:
    """Return a paragraph; style: "lead", "plain" or "note"."""
    return {"kind": "text", "text": clean(text), "style": style}


def stop(title: str, text: str) -> Block:
    """Return a framed sentence that nobody can overlook."""
    return {"kind": "stop", "title": clean(title), "text": clean(text)}


def step(number: int, text: str, stop_if: str = "", fill: Sequence[str] = ()) -> dict[str, Any]:
    """Return one step; fill: names of what is written down beside it."""
    return {
        "number": number,
        "text": clean(text),
        "stop": clean(stop_if),
        "fill": [clean(name) for name in fill],
    }


def steps(items: Sequence[dict[str, Any]]) -> Block:
    """Return steps, each with a box to tick."""
    return {"kind": "steps", "items": list(items)}


def table(
    title: str,
    columns: Sequence[tuple[str, str, float]],
    rows: Sequence[Sequence[str]],
    *,
    note: str = "",
    grid: bool = False,
) -> Block:
    """Return a table; grid: with lines and room to write in.

    Raises
    ------
    ValueError
        A row does not have one cell for each column.
    """
    told = [[clean(cell) for cell in row] for row in rows]
    if any(len(row) != len(columns) for row in told):
        raise ValueError(f"{title}: a row does not have {len(columns)} cells")
    heads = [{"head": head, "side": side, "share": share} for head, side, share in columns]
    return {
        "kind": "table",
        "title": clean(title),
        "columns": heads,
        "rows": told,
        "note": clean(note),
        "grid": grid,
    }


def facts(rows: Sequence[tuple[str, str]], title: str = "") -> Block:
    """Return names with their values, one a line."""
    return {
        "kind": "facts",
        "title": clean(title),
        "rows": [[clean(key), clean(value)] for key, value in rows],
    }


def listing(items: Sequence[str], title: str = "", *, tick: bool = False, small: bool = False) -> Block:
    """Return a list; tick: with a box before each."""
    return {
        "kind": "list",
        "title": clean(title),
        "items": [clean(item) for item in items],
        "tick": tick,
        "small": small,
    }


def drawing(text: str, alt: str) -> Block:
    """Return a drawing made of characters; alt: what it shows, in words."""
    lines = [line.rstrip() for line in text.strip("\n").splitlines()]
    return {"kind": "drawing", "text": "\n".join(lines), "alt": clean(alt)}


def fields(names: Sequence[str], title: str = "", across: int = 2) -> Block:
    """Return lines to write on, each with its name."""
    return {
        "kind": "fields",
        "title": clean(title),
        "names": [clean(name) for name in names],
        "across": across,
    }


def photos(items: Sequence[tuple[str, str]], title: str) -> Block:
    """Return pictures by their file in the job's folder, each with what it says; filled in where files are read."""
    return {
        "kind": "photos",
        "title": clean(title),
        "items": [{"file": file, "says": clean(says)} for file, says in items],
    }
