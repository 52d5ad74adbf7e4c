"""One look for every picture: few inks that stay apart in grey, one face, sizes in points.

Hue only supports. What pulls is brown and solid, what holds is blue-green; a use is told by how far an outline is
filled, what is inferred by hatching, what is not known by an empty outline with a dash.
"""

from __future__ import annotations

from staydown.pictures.glyph_widths import BOLD, REGULAR, WIDE

FONT = "Source Sans 3"
FAMILY = f"'{FONT}', sans-serif"

INK = "#17232d"  # text, outlines
SOFT = "#53616d"  # second text: 6.3 to 1 on white
RULE = "#aab5bd"  # thin rules, the roof
WASH = "#eff3f5"  # a surface behind things
HOLD = "#2b6777"  # what holds: use, bounds
HOLD_PALE = "#c5dbe0"  # belief, the part of a bar that is lost
PULL = "#9a4a1c"  # what pulls: loads, demands
PULL_PALE = "#ecd2bd"
WHITE = "#ffffff"

SMALL, PLAIN, LARGE = 6.8, 7.8, 9.5  # sizes of type in a picture [pt]
HAIR, THIN, STRONG = 0.4, 0.7, 1.4  # widths of lines [pt]
PAGE = 490.0  # width of a full picture [pt]; half a page is HALF
HALF = 236.0
PHONE = 184.0  # width of a picture for a phone: its smallest type is then read at 12 pixels or more [pt]


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a text runs in the shipped face. [pt]

    Examples
    --------
    >>> text_width("0000", 10.0)
    19.9
    """
    table = BOLD if bold else REGULAR
    return size * sum(table.get(letter, WIDE) for letter in text) / 1000.0


def fitted(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """Return a text cut with … to a room in points; empty where not even one letter fits."""
    if text_width(text, size, bold=bold) <= room:
        return text
    while text and text_width(text + "…", size, bold=bold) > room:
        text = text[:-1]
    return text.rstrip() + "…" if text.strip() else ""


def folded(text: str, room: float, size: float, most: int, *, bold: bool = False) -> list[str]:
    """Return a text in at most `most` lines that fit a room in points; the last is cut with … where more is left."""
    lines: list[str] = []
    words = text.split()
    while words and len(lines) < most:
        line = words.pop(0)
        while words and text_width(f"{line} {words[0]}", size, bold=bold) <= room:
            line += " " + words.pop(0)
        if len(lines) == most - 1 and words:
            line = " ".join([line, *words])
        lines.append(fitted(line, room, size, bold=bold))
    return lines
