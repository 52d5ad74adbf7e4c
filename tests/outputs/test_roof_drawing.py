"""The drawing of the roof is to scale, keeps left and front, and loses no mount."""

from __future__ import annotations

import pytest

from staydown.outputs.roof_drawing import DrawnItem, DrawnMount, draw_roof


def item(
    name: str, behind_m: float, left_m: float, length_m: float, width_m: float, *mounts: DrawnMount
) -> DrawnItem:
    """Return an item to draw."""
    return DrawnItem(
        name=name, behind_m=behind_m, left_m=left_m, length_m=length_m, width_m=width_m, mounts=tuple(mounts)
    )


def foot(behind_m: float, left_m: float, label: str) -> DrawnMount:
    """Return a mount to draw."""
    return DrawnMount(name="foot", behind_m=behind_m, left_m=left_m, label=label)


PANEL = item(
    "panel",
    0.9,
    0.0,
    1.5,
    0.75,
    foot(1.05, 0.3, "11"),
    foot(1.05, -0.3, "22"),
    foot(2.25, 0.3, "33"),
    foot(2.25, -0.3, "44"),
)


def place(lines: tuple[str, ...], text: str) -> tuple[int, float]:
    """Return row and middle column of a text."""
    row = next(number for number, line in enumerate(lines) if text in line)
    return row, lines[row].index(text) + (len(text) - 1) / 2


@pytest.mark.by_hand
def test_sizes_are_true_to_half_a_cell() -> None:
    """Roof and panel have as many columns as width over scale, and half as many rows a metre."""
    drawing = draw_roof(4.2, 1.8, [PANEL])
    column = drawing.column_m
    top = next(n for n, line in enumerate(drawing.lines) if "┌" in line)
    bottom = next(n for n, line in enumerate(drawing.lines) if "└" in line)
    box = drawing.lines[top]

    assert len(drawing.lines) - 1 == pytest.approx(4.2 / (2 * column), abs=0.5)
    assert len(drawing.lines[0]) - 1 == pytest.approx(1.8 / column, abs=0.5)
    assert box.index("┐") - box.index("┌") == pytest.approx(0.75 / column, abs=1.0)
    assert bottom - top == pytest.approx(1.5 / (2 * column), abs=1.0)
    assert top == pytest.approx(0.9 / (2 * column), abs=0.5)


@pytest.mark.by_hand
def test_front_is_up_and_left_is_left() -> None:
    """Seen from above with the front at the top, the vehicle's left is the picture's left."""
    drawing = draw_roof(4.2, 1.8, [PANEL])
    (row_1, column_1), (row_2, column_2) = place(drawing.lines, "[11]"), place(drawing.lines, "[22]")
    (row_3, column_3), (row_4, _) = place(drawing.lines, "[33]"), place(drawing.lines, "[44]")
    wide = len(drawing.lines[0]) - 1

    assert row_1 == row_2 < row_3 == row_4
    assert column_1 == column_3 < column_2
    assert column_1 == pytest.approx((0.9 - 0.3) / drawing.column_m, abs=1.0)
    assert column_1 + column_2 == pytest.approx(wide, abs=1.5)
    assert "front" in drawing.lines[0]


@pytest.mark.parametrize("count", [1, 2, 5, 12, 30])
def test_no_mount_is_lost(count: int) -> None:
    """Each mount shows its use, or a letter of its own, or its item is named as left out."""
    rail = item(
        "rail", 0.5, 0.0, 3.0, 0.2, *(foot(0.6 + 2.8 * n / count, 0.0, f"{n + 100}!") for n in range(count))
    )
    pair = item("box", 0.2, 0.5, 0.2, 0.2, foot(0.3, 0.5, "7"), foot(0.32, 0.5, "8"))
    drawing = draw_roof(4.2, 1.8, [rail, pair])
    picture = "\n".join(drawing.lines)
    letters = list(drawing.keys.values())

    assert len(set(letters)) == len(letters)
    for number, drawn in enumerate((rail, pair)):
        for index, mount in enumerate(drawn.mounts):
            found = drawing.keys.get((number, index), mount.label)
            assert number in drawing.left_out or found in picture


def test_labels_that_would_touch_become_letters() -> None:
    """Two marks that do not fit beside each other are letters, one for each mount, at their places."""
    close = item("box", 1.0, 0.0, 0.5, 0.6, foot(1.2, 0.15, "137?!"), foot(1.2, -0.15, "44-"))
    drawing = draw_roof(4.2, 1.8, [close])

    assert drawing.keys == {(0, 0): "a", (0, 1): "b"}
    assert place(drawing.lines, "a")[0] == next(n for n, line in enumerate(drawing.lines) if "a   b" in line)


@pytest.mark.parametrize(
    ("length_m", "width_m"), [(0.9, 1.0), (4.2, 1.75), (7.5, 2.3), (13.0, 2.5), (2.0, 2.6)]
)
def test_the_drawing_keeps_to_its_sheet(length_m: float, width_m: float) -> None:
    """No roof needs more columns or rows than allowed, with items that overhang it as well."""
    far = item(
        "awning", length_m - 0.5, -width_m / 2, 1.0, 0.4, foot(length_m + 0.3, -width_m / 2 - 0.1, "5")
    )
    drawing = draw_roof(length_m, width_m, [PANEL, far], columns=40, rows=30)

    assert max(map(len, drawing.lines)) <= 40
    assert len(drawing.lines) <= 30


def test_a_long_roof_is_cut_short_and_says_so() -> None:
    """What is left out before and behind the items is told, and adds up with what is drawn."""
    panel = item("panel", 6.0, 0.0, 1.5, 0.75, foot(6.1, 0.3, "1"))
    drawing = draw_roof(12.0, 2.4, [panel])
    drawn_m = (len(drawing.lines) - 1) * 2 * drawing.column_m

    assert drawing.lines[0].startswith("~")
    assert drawing.lines[-1].startswith("~")
    assert drawing.front_m + drawn_m + drawing.rear_m == pytest.approx(12.0, abs=drawing.column_m)


def test_a_short_roof_is_drawn_whole() -> None:
    """Nothing is hidden where the whole roof fits."""
    drawing = draw_roof(4.2, 1.8, [PANEL])

    assert (drawing.front_m, drawing.rear_m) == (0.0, 0.0)
    assert drawing.lines[0][0] == "╭"
    assert drawing.lines[-1][-1] == "╯"


def test_small_items_are_squares_with_their_number() -> None:
    """What is too small for a box is a square; among several items it carries its number or a letter."""
    bare = item("dot", 0.5, 0.5, 0.03, 0.03)
    drawing = draw_roof(4.2, 1.8, [PANEL, bare])

    assert "■" in "".join(drawing.lines)
    assert drawing.tags == (1,)
    assert "#2" in "".join(drawing.lines)


def test_a_roof_without_items_is_an_outline() -> None:
    """An empty roof is drawn, with nothing on it."""
    drawing = draw_roof(4.2, 1.8, [])

    assert set("".join(drawing.lines[1:-1])) == {"│", " "}
