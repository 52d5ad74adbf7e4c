"""The roof from a corner says what the assessment says, of one case, and is to scale along each axis."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from sample_assessments import assessed_job
from staydown.foundation.numbers import at
from staydown.outputs.amounts import amount, percent
from staydown.outputs.most_used import pick
from staydown.outputs.roof_space import ABOVE, CORNERS, roof_space
from staydown.outputs.sentences import worst_pull
from staydown.pictures.style import PULL, SOFT
from staydown.verdict.checks import HIGH

SVG = "{http://www.w3.org/2000/svg}"
JOB = "long roof"


def outlines(svg: str) -> list[list[tuple[float, float]]]:
    """Return the corners of every shape, in the order in which they are painted."""
    told = [one.attrib["points"] for one in ElementTree.fromstring(svg).iter(f"{SVG}polygon")]
    return [
        [(float(x), float(y)) for x, y in (pair.split(",") for pair in points.split())] for points in told
    ]


@pytest.mark.by_hand
@pytest.mark.parametrize("corner", CORNERS)
def test_length_and_width_are_on_one_scale(corner: str) -> None:
    """The roof's sides on the sheet, by hand: a length L lies sqrt(sin² a + cos² a sin² e) L long, a width likewise."""
    assessment = assessed_job(JOB)
    drawn = roof_space(assessment, 0, None, corner)
    assert drawn is not None
    turn, above = math.radians(CORNERS[corner]), math.radians(ABOVE)
    along = math.hypot(math.sin(turn), math.cos(turn) * math.sin(above))
    across = math.hypot(math.cos(turn), math.sin(turn) * math.sin(above))
    vehicle = assessment.job.vehicle
    found = []
    for points in outlines(drawn.svg):
        if len(points) == 4:
            sides = [math.dist(points[0], points[1]), math.dist(points[1], points[2])]
            found.append((sides[0] / along / vehicle.roof_length_m, sides[1] / across / vehicle.roof_width_m))
    one_scale = [pair for pair in found if pair[0] == pytest.approx(pair[1], rel=2e-3)]

    assert one_scale, "no shape with the sides of the roof"

    scale = one_scale[0][0]
    item = assessment.items[0].item
    mine = (item.length_m * along * scale, item.width_m * across * scale)
    tops = [
        (math.dist(points[0], points[1]), math.dist(points[1], points[2]))
        for points in outlines(drawn.svg)
        if len(points) == 4
    ]

    assert any(sides == pytest.approx(mine, abs=0.05) for sides in tops)


@pytest.mark.independent
@pytest.mark.parametrize("corner", CORNERS)
@pytest.mark.parametrize("name", ["panel", "panel in pounds", JOB])
def test_every_number_is_of_the_case_that_is_shown(corner: str, name: str) -> None:
    """Pull and use of every mount in every tenth case stand in the words; arrows go up where it is pulled."""
    assessment = assessed_job(name)
    assessed = assessment.items[0]
    mounted, system = assessed.mounted, assessment.job.job.show
    assert mounted is not None
    for case in (worst_pull(mounted).case, *range(0, len(mounted.table.cases), 10)):
        drawn = roof_space(assessment, 0, case, corner, near=True)
        assert drawn is not None
        pulled = pressed = 0
        for number, mount in enumerate(assessed.item.mount):
            force = at(mounted.demands.force[2], (case, HIGH, number))
            found = pick(mounted, case, number)
            verb = "pulls" if force > 0.0 else "presses"

            assert f"{mount.name} {verb} {amount(abs(force), 'N', system)}" in drawn.alt
            if found.use is not None and found.level != "none":
                assert f"use {percent(found.use)}" in drawn.alt
            pulled, pressed = pulled + (force > 0.0), pressed + (force <= 0.0)
        shafts = re.findall(
            r'<line [^>]*y1="([^"]+)"[^>]*y2="([^"]+)" stroke="([^"]+)" stroke-width="1.7"', drawn.svg
        )
        ups = [ink for start, end, ink in shafts if float(end) < float(start)]
        downs = [ink for start, end, ink in shafts if float(end) > float(start)]

        assert set(ups) <= {PULL}
        assert set(downs) <= {SOFT}
        assert len(ups) <= pulled
        assert len(downs) <= pressed


def test_another_case_is_another_picture() -> None:
    """What is switched is seen: the wind turns, and without wind none is drawn."""
    assessment = assessed_job(JOB)
    mounted = assessment.items[0].mounted
    assert mounted is not None
    cases = {row.name: number for number, row in enumerate(mounted.table.cases)}
    told = {
        name: roof_space(assessment, 0, cases[name]) for name in ("gust", "storm left", "storm rear", "snow")
    }
    alts = {name: drawn.alt for name, drawn in told.items() if drawn is not None}

    assert "comes from ahead." in alts["gust"]
    assert "comes from the left." in alts["storm left"]
    assert "comes from behind." in alts["storm rear"]
    assert "comes from" not in alts["snow"]
