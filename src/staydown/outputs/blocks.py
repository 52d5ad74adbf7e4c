"""The pieces that a dossier is made of: plain dictionaries and lists, which a page and a sheet of paper both set.

Every text in them is text: whoever sets a block escapes it. What a person typed is cleaned of control characters here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from staydown.outputs.columns import clean
from staydown.pictures.picture import Picture

Block = dict[str, Any]


def heading(words: str, level: int = 1, aside: str = "") -> Block:
    """Return a heading; aside: what stands at its right end."""
    return {"kind": "heading", "level": level, "text": clean(words), "aside": clean(aside)}


def paragraph(words: str, style: str = "plain") -> Block:
    """Return a paragraph; style: "plain", "note" or "fine"."""
    return {"kind": "text", "text": clean(words), "style": style}


def listing(items: Sequence[str], title: str = "", *, numbered: bool = False, small: bool = False) -> Block:
    """Return a list with its title."""
    return {
        "kind": "list",
        "title": title,
        "items": [clean(item) for item in items],
        "numbered": numbered,
        "small": small,
    }


def table(
    title: str,
    columns: Sequence[tuple[str, str, float]],
    rows: Sequence[Sequence[str]],
    *,
    note: str = "",
    ruled: bool = False,
) -> Block:
    """Return a table.

    Parameters
    ----------
    title : str
        What it shows; also what a screen reader says.
    columns : sequence of (head, side, share)
        side: "left" or "right"; share of the width, 0 for as wide as needed.
    rows : sequence of sequences of str
        One text a column.
    note : str
        Under the table.
    ruled : bool
        A rule under every row, with room to write by hand.

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
        "title": title,
        "columns": heads,
        "rows": told,
        "note": clean(note),
        "ruled": ruled,
    }


def facts(rows: Sequence[tuple[str, str]], title: str = "") -> Block:
    """Return names with their values, one a line."""
    return {"kind": "facts", "title": title, "rows": [[clean(key), clean(value)] for key, value in rows]}


def figure(picture: Picture, caption: str = "") -> Block:
    """Return a picture with its caption; a chart is drawn where files are written."""
    return {
        "kind": "figure",
        "name": picture.name,
        "title": clean(picture.title),
        "alt": clean(picture.alt),
        "width": picture.width,
        "height": picture.height,
        "svg": picture.svg,
        "chart": picture.chart,
        "caption": clean(caption),
    }


def beside(left: Sequence[Block], right: Sequence[Block], share: float = 0.5) -> Block:
    """Return two columns; share: of the width that the left one takes."""
    return {"kind": "beside", "left": list(left), "right": list(right), "share": share}


def kept_together(blocks: Sequence[Block]) -> Block:
    """Return blocks that a page break does not part."""
    return {"kind": "together", "blocks": list(blocks)}


def figures_in(blocks: Sequence[Block]) -> list[Block]:
    """Return every figure in some blocks, those inside others as well."""
    found: list[Block] = []
    for block in blocks:
        if block["kind"] == "figure":
            found.append(block)
        for key in ("blocks", "left", "right"):
            found += figures_in(block.get(key, []))
    return found


def with_drawings(blocks: Sequence[Block], drawn: Mapping[int, str]) -> list[Block]:
    """Return blocks with their charts drawn.

    Parameters
    ----------
    blocks : sequence of Block
        Any blocks.
    drawn : mapping
        SVG by the `id` of the figure's block.
    """
    made = []
    for block in blocks:
        inside: Block = {
            key: with_drawings(block[key], drawn) for key in ("blocks", "left", "right") if key in block
        }
        if block["kind"] == "figure":
            inside = {"svg": drawn.get(id(block), block["svg"]), "chart": None}
        made.append({**block, **inside})
    return made
