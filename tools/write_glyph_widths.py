"""Write src/staydown/pictures/glyph_widths.py: how wide each letter of the shipped face runs.

Needs fontTools, which the dev tier brings; run it when a font file changes.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from fontTools.ttLib import TTFont

PICTURES = Path(__file__).parents[1] / "src" / "staydown" / "pictures"
PAGE = PICTURES / "glyph_widths.py"
FACES = {"REGULAR": "SourceSans3-Regular.ttf", "BOLD": "SourceSans3-SemiBold.ttf"}
LETTERS = [*range(0x20, 0x7F), *range(0xA0, 0x180), *range(0x370, 0x400)]
LETTERS += [ord(letter) for letter in "–—‘’“”•…′″⁰¹²³⁴⁵⁶⁷⁸⁹⁻−×·→←↑↓≤≥±≈√∞½¼¾⅓⅔⅛☐✓"]
WIDE, IN_A_ROW = 1000, 12
HEAD = '''"""How wide letters run in the shipped face, in thousandths of the size. By tools/write_glyph_widths.py."""

from __future__ import annotations

WIDE = {wide}  # a letter that the table lacks: as wide as it is high, as most such are
'''


def widths(font: TTFont) -> dict[str, int]:
    """Return the advance of each letter that a face has, in thousandths of its size."""
    names, advances = font.getBestCmap(), font["hmtx"]
    scale = 1000 / font["head"].unitsPerEm
    codes = dict.fromkeys(code for code in LETTERS if code in names)
    return {chr(code): round(advances[names[code]][0] * scale) for code in sorted(codes)}


def quoted(letters: list[str]) -> str:
    """Return letters as a string of the source, in the form that the formatter leaves alone."""
    text = "".join(letters)
    inside = ascii(text.replace("'", ""))[1:-1] if '"' in text else json.dumps(text)[1:-1]
    return f"'{inside}'" if '"' in text else f'"{inside}"'


def page() -> str:
    """Return the whole module."""
    parts = [HEAD.format(wide=WIDE)]
    for name, file in FACES.items():
        by_width: dict[int, list[str]] = {}
        for letter, width in widths(TTFont(PICTURES / "fonts" / file)).items():
            by_width.setdefault(width, []).append(letter)
        rows = [
            f"        ({width}, {quoted(letters[start : start + IN_A_ROW])}),"
            for width, letters in sorted(by_width.items())
            for start in range(0, len(letters), IN_A_ROW)
        ]
        body = "\n".join(rows)
        head = f"{name} = {{\n    letter: width\n    for width, letters in (\n"
        parts.append(f"{head}{body}\n    )\n    for letter in letters\n}}\n")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stderr.write(f"wrote {PAGE}\n")
