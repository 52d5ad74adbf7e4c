"""One look: the widths are those of the shipped face, the inks stay apart in grey, texts are cut to their room."""

from __future__ import annotations

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont

from staydown.pictures import glyph_widths, style
from write_glyph_widths import FACES, page, widths

FONTS = files("staydown.pictures").joinpath("fonts")


def luminance(ink: str) -> float:
    """Return the relative luminance of a colour (WCAG 2.2, definition). [1]"""
    parts = [int(ink[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours (WCAG 2.2, definition). [1]"""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.independent
@pytest.mark.parametrize(("name", "face"), FACES.items())
def test_the_widths_are_those_of_the_face(name: str, face: str) -> None:
    """The table that pictures measure with is what a font library reads from the shipped file."""
    font = TTFont(FONTS.joinpath(face))

    assert getattr(glyph_widths, name) == widths(font)


def test_the_table_is_not_stale() -> None:
    """The module is what the tool writes."""
    written = files("staydown.pictures").joinpath("glyph_widths.py").read_text(encoding="utf-8")

    assert written == page()


def test_the_face_may_be_shipped() -> None:
    """Its licence lies beside it and is named in NOTICE, and the face allows embedding."""
    licence = FONTS.joinpath("OFL.txt").read_text(encoding="utf-8")

    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    for face in FACES.values():
        assert TTFont(FONTS.joinpath(face))["OS/2"].fsType == 0


def test_figures_are_as_wide_as_each_other() -> None:
    """Numbers under each other stand in columns."""
    for table in (glyph_widths.REGULAR, glyph_widths.BOLD):
        assert len({table[digit] for digit in "0123456789"}) == 1


@pytest.mark.published
@pytest.mark.parametrize("ink", [style.INK, style.SOFT, style.HOLD, style.PULL])
def test_text_can_be_read(ink: str) -> None:
    """WCAG 2.2, success criterion 1.4.3: text has a contrast of at least 4.5 to 1; known: the number, from memory."""
    assert contrast(ink, style.WHITE) >= 4.5
    assert contrast(ink, style.WASH) >= 4.5


def test_fills_stay_apart_in_grey() -> None:
    """What is filled, what is left and what is merely shaded differ in lightness, not in hue alone."""
    filled = [luminance(style.HOLD), luminance(style.HOLD_PALE), luminance(style.WHITE)]

    assert filled == sorted(filled)
    assert contrast(style.HOLD, style.HOLD_PALE) >= 3.0
    assert contrast(style.PULL, style.PULL_PALE) >= 3.0


@pytest.mark.parametrize("words", ["front left", "", "x" * 200, "屋根の前の左", "a b c d e f g h i j k"])
@pytest.mark.parametrize("room", [0.0, 12.0, 80.0])
def test_a_fitted_text_fits(words: str, room: float) -> None:
    """A text cut to a room is no wider, and uncut where it fits."""
    shown = style.fitted(words, room, 8.0)

    assert style.text_width(shown, 8.0) <= room or shown == ""
    assert (shown == words) == (style.text_width(words, 8.0) <= room) or words == ""


def test_a_folded_text_keeps_its_words() -> None:
    """Folding breaks between words, and only the last line is cut."""
    words = "the quick brown fox jumps over the lazy dog"
    lines = style.folded(words, 60.0, 8.0, 9)

    assert " ".join(lines) == words
    assert all(style.text_width(line, 8.0) <= 60.0 for line in lines)
    assert style.folded(words, 60.0, 8.0, 2)[-1].endswith("…")
