"""The edge to the two programs that draw: charts to SVG, the dossier to PDF. Nothing is fetched, nothing of the machine
gets in: the shipped face, no system fonts, no clock.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import as_file, files
from typing import Any, Literal

from staydown.outputs.blocks import figures_in, with_drawings

Paper = Literal["a4", "letter"]
FACES = ("SourceSans3-Regular.ttf", "SourceSans3-SemiBold.ttf")
MISSING = "\N{WHITE SQUARE}"  # for a letter that the shipped face lacks; a browser takes it from another face
LONGEST_WORD = 24
BREAK = "\N{ZERO WIDTH SPACE}"
NOT_WORDS = ("svg", "typeset", "kind", "hash")  # nothing to break in them


def draw_charts(model: Mapping[str, Any]) -> dict[str, Any]:
    """Return the model with every chart drawn: its `svg` filled, its specification gone."""
    charts = {
        id(block): chart_svg(block["chart"])
        for block in figures_in(model["blocks"])
        if block["chart"] is not None
    }
    return {**model, "blocks": with_drawings(model["blocks"], charts)}


def warm_up() -> None:
    """Make the drawer of charts ready; its first drawing takes a good part of a second, which other work can fill."""
    chart_svg({"data": {"values": []}, "mark": "point"})


def chart_svg(chart: Mapping[str, Any]) -> str:
    """Return a Vega-Lite specification as SVG, in the shipped face, without loading anything from outside."""
    import vl_convert

    with as_file(files("staydown.pictures").joinpath("fonts")) as fonts:
        vl_convert.register_font_directory(str(fonts))
        return str(vl_convert.vegalite_to_svg(dict(chart), allowed_base_urls=[]))


def pdf(model: Mapping[str, Any], paper: Paper) -> bytes:
    """Return a drawn dossier as PDF/UA-1, the same bytes for the same model."""
    return _set("dossier.typ", _printable(model), paper)


def sheet_pdf(model: Mapping[str, Any], paper: Paper, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """Return a sheet as PDF/UA-1, the same bytes for the same model. pictures: the photos that it names, by file."""
    photos = {_printable(name): list(content) for name, content in (pictures or {}).items()}
    return _set("sheets.typ", {**_printable(model), "photos": photos}, paper)


def _set(template: str, printable: Mapping[str, Any], paper: Paper) -> bytes:
    import typst

    told = json.dumps(printable, ensure_ascii=False)
    main = files("staydown.outputs").joinpath(template).read_bytes()
    with as_file(files("staydown.pictures").joinpath("fonts")) as fonts:
        shipped = typst.Fonts(include_system_fonts=False, font_paths=[str(fonts)])
        made: bytes = typst.compile(
            main,
            sys_inputs={"data": told, "paper": paper},
            font_paths=shipped,
            ignore_system_fonts=True,
            timestamp=0,
            pdf_standards="ua-1",
        )
    return made


def _printable(value: Any, *, words: bool = True) -> Any:
    """Return the model as the sheet can set it: a square for a letter that the face lacks, long words breakable."""
    if isinstance(value, str):
        return printable(value, words=words)
    if isinstance(value, Mapping):
        return {key: _printable(held, words=key not in NOT_WORDS) for key, held in value.items()}
    if isinstance(value, Sequence):
        return [_printable(held, words=words) for held in value]
    return value


def printable(text: str, *, words: bool) -> str:
    """Return a text as the sheet can set it; words: whether long ones may be broken.

    Examples
    --------
    >>> printable("front 屋", words=True), printable("x" * 30, words=True).count(BREAK)
    ('front □', 1)
    """
    have = letters()
    told = "".join(letter if ord(letter) in have or letter == "\n" else MISSING for letter in text)
    if not words:
        return told
    return " ".join(word if len(word) <= LONGEST_WORD else _broken(word) for word in told.split(" "))


def _broken(word: str) -> str:
    return BREAK.join(word[start : start + LONGEST_WORD] for start in range(0, len(word), LONGEST_WORD))


@cache
def letters() -> frozenset[int]:
    """Return the code points that every shipped face has."""
    tables = [files("staydown.pictures").joinpath("fonts", face).read_bytes() for face in FACES]
    return frozenset.intersection(*(code_points(table) for table in tables))


def code_points(font: bytes) -> frozenset[int]:
    """Return the code points of the basic plane that a TrueType font maps to a glyph (its `cmap`, format 4).

    Raises
    ------
    ValueError
        The font has no such table.
    """
    (tables,) = struct.unpack_from(">H", font, 4)
    entries = {
        font[at : at + 4]: struct.unpack_from(">I", font, at + 8)[0] for at in range(12, 12 + 16 * tables, 16)
    }
    cmap = entries[b"cmap"]
    (count,) = struct.unpack_from(">H", font, cmap + 2)
    for number in range(count):
        (offset,) = struct.unpack_from(">I", font, cmap + 4 + 8 * number + 4)
        start = cmap + offset
        if struct.unpack_from(">H", font, start)[0] == 4:
            return _segments(font, start)
    raise ValueError("no table of code points in format 4")


def _segments(font: bytes, start: int) -> frozenset[int]:
    segments = struct.unpack_from(">H", font, start + 6)[0] // 2
    ends = struct.unpack_from(f">{segments}H", font, start + 14)
    first = start + 16 + 2 * segments
    starts = struct.unpack_from(f">{segments}H", font, first)
    shifts = struct.unpack_from(f">{segments}H", font, first + 2 * segments)
    ranges_at = first + 4 * segments
    ranges = struct.unpack_from(f">{segments}H", font, ranges_at)
    found = set()
    for number, (low, high, shift, reach) in enumerate(zip(starts, ends, shifts, ranges, strict=True)):
        for code in range(low, min(high, 0xFFFE) + 1):
            glyph = code + shift
            if reach:
                place = ranges_at + 2 * number + reach + 2 * (code - low)
                (held,) = struct.unpack_from(">H", font, place)
                glyph = held + shift if held else 0
            if glyph & 0xFFFF:
                found.add(code)
    return frozenset(found)
