"""The few marks that drawings are made of, as SVG text; lengths in points, y downwards."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape

from staydown.pictures.style import FAMILY, HAIR, INK, PLAIN, STRONG, THIN, WHITE

Point = tuple[float, float]

HATCH_STEP = 2.6  # between hatching lines [pt]


def number(value: float) -> str:
    """Return a coordinate as short as two decimals allow."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def document(width: float, height: float, title: str, alt: str, marks: Iterable[str]) -> str:
    """Return a whole drawing with its title and description for a screen reader."""
    body = "".join(marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}pt" height="{number(height)}pt" '
        f'viewBox="0 0 {number(width)} {number(height)}" role="img" aria-label="{escape(title)}" '
        f'font-family="{escape(FAMILY)}" font-size="{number(PLAIN)}" fill="{INK}">'
        f"<title>{escape(title)}</title><desc>{escape(alt)}</desc>{body}</svg>"
    )


def text(
    x: float,
    y: float,
    words: str,
    *,
    size: float = PLAIN,
    anchor: str = "start",
    bold: bool = False,
    ink: str = INK,
    halo: bool = False,
) -> str:
    """Return a line of text; a halo of paper keeps it readable over a drawing."""
    side = "" if anchor == "start" else f' text-anchor="{anchor}"'
    weight = ' font-weight="600"' if bold else ""
    colour = "" if ink == INK else f' fill="{ink}"'
    words = escape(words)
    under = ""
    if halo:
        under = (
            f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}"{side}{weight} fill="{WHITE}" '
            f'stroke="{WHITE}" stroke-width="2.4" stroke-linejoin="round" aria-hidden="true">{words}</text>'
        )
    place = f'x="{number(x)}" y="{number(y)}" font-size="{number(size)}"'
    return f"{under}<text {place}{side}{weight}{colour}>{words}</text>"


def line(
    x1: float, y1: float, x2: float, y2: float, *, ink: str = INK, width: float = THIN, dash: str = ""
) -> str:
    """Return a straight line."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}" '
        f'stroke="{ink}" stroke-width="{number(width)}"{dashes}/>'
    )


def rect(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    fill: str = "none",
    ink: str = "none",
    stroke: float = THIN,
    radius: float = 0.0,
    dash: str = "",
) -> str:
    """Return a rectangle, filled, outlined or both."""
    round_ = f' rx="{number(radius)}"' if radius else ""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    outline = "" if ink == "none" else f' stroke="{ink}" stroke-width="{number(stroke)}"{dashes}'
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(max(width, 0.0))}" '
        f'height="{number(max(height, 0.0))}"{round_} fill="{fill}"{outline}/>'
    )


def polygon(
    points: Sequence[Point],
    *,
    fill: str = "none",
    ink: str = "none",
    stroke: float = THIN,
    closed: bool = True,
    opacity: float = 1.0,
) -> str:
    """Return a closed shape, or an open line through points. opacity: of its fill."""
    told = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    outline = (
        "" if ink == "none" else f' stroke="{ink}" stroke-width="{number(stroke)}" stroke-linejoin="round"'
    )
    through = "" if opacity >= 1.0 else f' fill-opacity="{number(opacity)}"'
    return f'<{"polygon" if closed else "polyline"} points="{told}" fill="{fill}"{through}{outline}/>'


def circle(
    x: float, y: float, radius: float, *, fill: str = "none", ink: str = "none", stroke: float = THIN
) -> str:
    """Return a circle."""
    outline = "" if ink == "none" else f' stroke="{ink}" stroke-width="{number(stroke)}"'
    return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" fill="{fill}"{outline}/>'


def arrow(x1: float, y1: float, x2: float, y2: float, *, ink: str = INK, width: float = STRONG) -> str:
    """Return an arrow from one point to another, its head at the second; nothing where they are one."""
    length = math.hypot(x2 - x1, y2 - y1)
    if length < 0.5:
        return ""
    along, across = (x2 - x1) / length, (y2 - y1) / length
    head = min(2.6 * width + 1.8, length)
    half = 0.42 * head
    neck = (x2 - along * head, y2 - across * head)
    shaft = line(x1, y1, x2 - along * head * 0.8, y2 - across * head * 0.8, ink=ink, width=width)
    tip = polygon(
        [
            (x2, y2),
            (neck[0] - across * half, neck[1] + along * half),
            (neck[0] + across * half, neck[1] - along * half),
        ],
        fill=ink,
    )
    return shaft + tip


def hatch(
    x: float, y: float, width: float, height: float, *, ink: str = INK, step: float = HATCH_STEP
) -> str:
    """Return hatching at 45 degrees, cut to a rectangle; lines of their own, so that no picture needs an id."""
    lines = []
    offset = step
    while offset < width + height:
        # the line runs from the left or bottom side to the top or right side
        x1, y1 = (x, y + offset) if offset <= height else (x + offset - height, y + height)
        x2, y2 = (x + offset, y) if offset <= width else (x + width, y + offset - width)
        lines.append(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}")
        offset += step
    return (
        f'<path d="{"".join(lines)}" stroke="{ink}" stroke-width="{number(HAIR + 0.15)}" fill="none"/>'
        if lines
        else ""
    )
