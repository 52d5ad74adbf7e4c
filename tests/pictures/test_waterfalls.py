"""Both falls stand on one scale, step on step."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from staydown.pictures.style import HOLD, HOLD_PALE, PULL
from staydown.pictures.waterfalls import Fall, Falls, waterfalls

RECT = "{http://www.w3.org/2000/svg}rect"
DEMAND = (
    ("uplift", 60.0, False),
    ("weight", -10.0, False),
    ("lever", 50.0, False),
    ("at the edge", 100.0, True),
)
STRENGTH = (("pulls", 300.0, True), ("bound", 200.0, True), ("wet", 150.0, True))


def falls(
    demand: tuple[tuple[str, float, bool], ...], strength: tuple[tuple[str, float, bool], ...]
) -> Falls:
    """Return falls from words, values and whether they are sums."""

    def told(steps: tuple[tuple[str, float, bool], ...]) -> tuple[Fall, ...]:
        return tuple(Fall(words=w, value_Pa=v, shown=f"{v:.0f}", whole=whole) for w, v, whole in steps)

    return Falls(
        name="front",
        demand_title="Where it comes from",
        strength_title="What is left",
        demand=told(demand),
        strength=told(strength),
        unit="kPa",
        missing="",
        alt="alt",
    )


def bars(fill: str) -> list[tuple[float, float]]:
    """Return start and width of every bar of one fill."""
    root = ElementTree.fromstring(waterfalls(falls(DEMAND, STRENGTH)).svg)
    return [
        (float(one.attrib["x"]), float(one.attrib["width"]))
        for one in root.iter(RECT)
        if one.get("fill") == fill
    ]


@pytest.mark.by_hand
def test_bars_are_on_one_scale() -> None:
    """A bar's width over its value is the same on both sides; by hand, from the last bar of each."""
    demand, strength = bars(PULL)[-1], bars(HOLD)[-1]

    assert demand[1] / 100.0 == pytest.approx(strength[1] / 150.0, rel=1e-3)
    assert bars(HOLD_PALE)[0][1] / 300.0 == pytest.approx(strength[1] / 150.0, rel=1e-3)


@pytest.mark.by_hand
def test_each_step_starts_where_the_last_one_ended() -> None:
    """By hand: uplift from 0 to 60, weight back to 50, lever from 50 to 100."""
    uplift, lever, whole = bars(PULL)
    unit = whole[1] / 100.0

    assert uplift[1] == pytest.approx(60.0 * unit, abs=0.02)
    assert lever[0] == pytest.approx(whole[0] + 50.0 * unit, abs=0.02)
    assert lever[0] + lever[1] == pytest.approx(whole[0] + whole[1], abs=0.03)


def test_nothing_proven_is_said() -> None:
    """Without strength the other side says so instead of staying silent."""
    empty = falls(DEMAND, ())
    drawn = waterfalls(
        Falls(
            name=empty.name,
            demand_title=empty.demand_title,
            strength_title="What the tests showed",
            demand=empty.demand,
            strength=(),
            unit="kPa",
            missing="Nothing of yours says what is left.",
            alt="alt",
        )
    )

    assert "Nothing of yours says" in drawn.svg
