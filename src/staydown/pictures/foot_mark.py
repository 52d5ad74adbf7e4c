"""How one foot is drawn: its outline, filled as far as it is used; the same mark in every picture."""

from __future__ import annotations

from staydown.pictures.style import HAIR, HOLD, INK, PULL, SMALL, STRONG, THIN, WHITE
from staydown.pictures.svg import hatch, line, rect, text

BEYOND = 0.16  # how far the fill of a foot over 100 % runs out of its outline, as a share of its side
KEY = (
    ("covered", 0.6, "used this far, covered by tests"),
    ("inferred", 0.6, "inferred from tests beside it"),
    ("none", None, "nothing proven"),
    ("covered", 1.3, "over 100 %"),
)


def foot(x: float, y: float, width: float, height: float, use: float | None, level: str) -> str:
    """Return the mark of a foot in a rectangle, filled along its longer side.

    use: share of what is proven; None or the level "none" leaves it empty with a dash. "inferred" is hatched; over
    100 % the fill runs out of a broken outline.
    """
    if use is None or level == "none":
        half = 0.22 * min(width, height)
        middle_x, middle_y = x + width / 2, y + height / 2
        dash = line(middle_x - half, middle_y, middle_x + half, middle_y, width=THIN)
        return rect(x, y, width, height, fill=WHITE, ink=INK) + dash
    filled_x, filled_y, filled_width, filled_height = x, y, width, height
    share = min(use, 1.0 + BEYOND)
    if width >= height:
        filled_width = width * share
    else:
        filled_height = height * share
        filled_y = y + height - filled_height
    ground = rect(x, y, width, height, fill=WHITE)
    ink = PULL if use > 1.0 else HOLD
    if level == "inferred":
        fill = hatch(filled_x, filled_y, filled_width, filled_height, ink=ink)
        fill += rect(filled_x, filled_y, filled_width, filled_height, ink=ink, stroke=HAIR)
    else:
        fill = rect(filled_x, filled_y, filled_width, filled_height, fill=ink)
    if use > 1.0:
        return ground + fill + rect(x, y, width, height, ink=INK, stroke=STRONG, dash="2.2 1.8")
    return ground + fill + rect(x, y, width, height, ink=INK)


def key(x: float, y: float, *, step: float, part: tuple[int, int] = (0, len(KEY))) -> str:
    """Return the key to the marks in a row, `step` points apart; part: from which of them to which."""
    marks = []
    for number, (level, use, words) in enumerate(KEY[part[0] : part[1]]):
        left = x + number * step
        marks.append(foot(left, y - 6.0, 14.0, 7.5, use, level))
        marks.append(text(left + 19.0, y, words, size=SMALL))
    return "".join(marks)
