"""Columns keep their width whatever is put into them."""

from __future__ import annotations

import pytest

from staydown.outputs.columns import Column, cells, clean, cut, headline, listed, side_by_side, table, wrap

TEXTS = (
    "",
    "front left",
    "It pulls 412 N (93 lb), 169 kPa (24.5 psi) at the pad's edge for 2.5 h at 93 °C (199 °F). " * 4,
    "x" * 300,
    "屋根の前の左 " * 30,
    "a\tb\nc\x1b[31m " * 20,
)


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("width", [12, 40, 80])
def test_wrapped_lines_fit_and_lose_nothing(text: str, width: int) -> None:
    """No line is wider than asked, and the letters are all there in their order."""
    lines = wrap(text, width, first="  - ")

    assert max(cells(line) for line in lines) <= width
    assert "".join("".join(lines).split()) == "-" + "".join(clean(text).split())


def test_a_number_stays_with_its_unit() -> None:
    """A line never ends between a number and its unit, nor between a value and its twin in the other system's unit."""
    text = "It pulls 412 N (93 lb), 169 kPa (24.5 psi) for 2.5 h at 82 °C (180 °F), 73 % of what is proven."
    for width in range(24, 81):
        for line in wrap(text, width)[:-1]:
            assert not line[-1].isdigit(), line


def test_what_a_person_typed_cannot_move_the_cursor() -> None:
    """Control characters, line breaks and direction marks are gone."""
    assert clean("a\x1b[2J\r\nb\u202ec\u200f") == "a[2J bc"


def test_a_headline_sets_its_word_at_the_right_edge() -> None:
    """The word ends at the width; a long left text runs on below it."""
    short, *none = headline("Heron / forward panel", "NOT PROVEN", 80)
    long = headline("Heron / " + "forward " * 20, "NO", 80)

    assert none == []
    assert short.endswith("  NOT PROVEN")
    assert cells(short) == 80
    assert long[0].endswith("  NO")
    assert len(long) > 1
    assert max(map(cells, long)) == 80


@pytest.mark.parametrize("name", ["front left", "x" * 90, "屋根" * 30, "a b c d e f g " * 9])
def test_a_table_keeps_its_width_and_every_cell(name: str) -> None:
    """Flexible columns give way until the table fits; figures stay on one line."""
    columns = (
        Column(head="mount", flexible=True),
        Column(head="pull\nN (lb)", right=True),
        Column(head="use"),
    )
    lines = table(columns, [(name, "412 (93)", "73"), ("rear", "9.5 (2.1)", "-")], 48)

    assert max(map(cells, lines)) <= 48
    assert "412 (93)" in lines[3]
    assert "".join(line[2:].split("  ")[0] for line in lines[3:-1]).replace(" ", "") == name.replace(" ", "")


def test_columns_of_a_table_stand_below_each_other() -> None:
    """Right-hand columns end at the same cell in the head and in every row."""
    columns = (
        Column(head="mount", flexible=True),
        Column(head="N", right=True),
        Column(head="use", right=True),
    )
    head, rule, *rows = table(columns, [("a", "1", "5"), ("屋根", "1000", "137 !")], 40)

    assert {cells(line) for line in (head, rule, *rows)} == {cells(rule)}


def test_blocks_side_by_side_keep_their_places() -> None:
    """The right block starts at one cell, also below the end of the left one."""
    lines = side_by_side(["ab", "屋根"], ["x", "y", "z"], gap=3)

    assert lines == ["ab     x", "屋根   y", "       z"]


def test_a_cut_text_says_that_it_was_cut() -> None:
    """A shortened text ends in a sign and takes no more room than allowed."""
    assert cut("forward panel", 13) == "forward panel"
    assert cut("forward panel", 12) == "forward pan…"
    assert cells(cut("屋根" * 20, 11)) <= 11


def test_a_list_counts_where_order_matters() -> None:
    """Numbered items count from one and hang behind their number."""
    assert listed(["one two", "three"], 12, indent=2, numbered=True) == ["  1. one two", "  2. three"]
    assert listed(["one two", "three"], 11, indent=2) == ["  - one two", "  - three"]
    assert listed(["one two"], 9, indent=2) == ["  - one", "    two"]
