"""The marks of a drawing: well-formed, inside their bounds, a person's text stays text."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from staydown.pictures import svg
from staydown.pictures.foot_mark import BEYOND, foot
from staydown.pictures.style import HOLD, PULL, WHITE

NAMESPACE = "{http://www.w3.org/2000/svg}"


def marks_of(drawn: str) -> list[ElementTree.Element]:
    """Return the elements of some marks."""
    return list(ElementTree.fromstring(f"<g>{drawn}</g>"))


def test_a_document_names_itself() -> None:
    """A screen reader finds a title and a description, in which markup is text."""
    whole = svg.document(
        100.0, 50.0, "<b>roof</b>", "5 < 6 & more", [svg.text(1.0, 9.0, "<script>x</script>")]
    )
    root = ElementTree.fromstring(whole)

    assert root.get("role") == "img"
    assert root.findtext(f"{NAMESPACE}title") == "<b>roof</b>"
    assert root.findtext(f"{NAMESPACE}desc") == "5 < 6 & more"
    assert [one.text for one in root.iter(f"{NAMESPACE}text")] == ["<script>x</script>"]
    assert root.find(f".//{NAMESPACE}script") is None


@pytest.mark.independent
@pytest.mark.parametrize(("width", "height"), [(20.0, 8.0), (8.0, 20.0), (10.0, 10.0), (1.0, 1.0)])
def test_hatching_stays_in_its_rectangle(width: float, height: float) -> None:
    """Every line of hatching runs at 45 degrees from one side to another and never out of the rectangle."""
    drawn = svg.hatch(5.0, 7.0, width, height)
    for x1, y1, x2, y2 in re.findall(r"M(\S+) (\S+)L([\d.]+) ([\d.]+)", drawn):
        xs, ys = (float(x1), float(x2)), (float(y1), float(y2))

        assert 5.0 - 0.011 <= min(xs) <= max(xs) <= 5.0 + width + 0.011
        assert 7.0 - 0.011 <= min(ys) <= max(ys) <= 7.0 + height + 0.011
        assert abs(xs[1] - xs[0]) == pytest.approx(abs(ys[1] - ys[0]), abs=0.03)


def test_an_arrow_ends_where_it_points() -> None:
    """The tip of an arrow is its second point; a point alone has no arrow."""
    tip = marks_of(svg.arrow(0.0, 0.0, 30.0, 40.0))[-1]

    assert str(tip.get("points")).split(" ")[0] == "30,40"
    assert svg.arrow(1.0, 1.0, 1.0, 1.0) == ""


@pytest.mark.by_hand
@pytest.mark.parametrize("use", [0.0, 0.25, 0.73, 1.0])
def test_a_foot_is_filled_as_far_as_it_is_used(use: float) -> None:
    """The filled part of the longer side is the use; by hand: use x side."""
    filled = [
        mark for mark in marks_of(foot(0.0, 0.0, 40.0, 10.0, use, "covered")) if mark.get("fill") == HOLD
    ]

    assert [float(str(mark.get("width"))) for mark in filled] == [pytest.approx(40.0 * use, abs=0.005)]
    assert [float(str(mark.get("height"))) for mark in filled] == [10.0]


def test_marks_differ_without_colour() -> None:
    """Inferred is hatched, nothing proven is empty with a dash, over 100 % runs out of a broken outline."""
    inferred = foot(0.0, 0.0, 40.0, 10.0, 0.5, "inferred")
    none = marks_of(foot(0.0, 0.0, 40.0, 10.0, None, "none"))
    over = marks_of(foot(0.0, 0.0, 40.0, 10.0, 1.7, "covered"))

    assert "<path" in inferred
    assert HOLD not in [mark.get("fill") for mark in marks_of(inferred)]
    assert [mark.tag for mark in none] == ["rect", "line"]
    assert none[0].get("fill") == WHITE
    assert [mark.get("width") for mark in over if mark.get("fill") == PULL] == [
        svg.number(40.0 * (1.0 + BEYOND))
    ]
    assert over[-1].get("stroke-dasharray")
