"""Every drawing of every sample job: well-formed, named, nothing cut off, to scale."""

from __future__ import annotations

import re
from functools import cache
from itertools import product
from xml.etree import ElementTree

import pytest

from sample_assessments import JOBS, assessed_job
from staydown.foundation.numbers import at
from staydown.outputs import dossier_pictures as pictures
from staydown.outputs.foot_section import foot_section, section_of
from staydown.outputs.matched_tests import matched_tests
from staydown.outputs.most_used import worst_in_tension
from staydown.outputs.roof_space import CORNERS, roof_space
from staydown.pictures.picture import Picture
from staydown.pictures.roof_plan import LEAST_FOOT
from staydown.pictures.style import PLAIN, text_width
from staydown.verdict.checks import HIGH

SVG = "{http://www.w3.org/2000/svg}"


@cache
def drawings(name: str) -> tuple[Picture, ...]:
    """Return every drawing that a dossier of a sample job shows."""
    assessment = assessed_job(name)
    made = [pictures.roof(assessment)]
    for number, corner in product(range(len(assessment.items)), CORNERS):
        for near, narrow in ((False, False), (True, False), (False, True), (True, True)):
            seen = roof_space(assessment, number, None, corner, near=near, narrow=narrow)
            made += [] if seen is None else [seen]
    for item in assessment.items:
        if item.mounted is None:
            continue
        found = worst_in_tension(item.mounted)
        made += [
            pictures.item_view(item, item.mounted, found, assessment.job.job.show),
            pictures.chain(item, item.mounted, assessment.job.job.show),
            matched_tests(assessment, item, item.mounted),
        ]
        if found.peak_Pa > 0.0:
            made.append(foot_section(item, item.mounted, found, assessment.job.job.show))
            made.append(pictures.falls(assessment, item, item.mounted, found))
    return tuple(made)


each_job = pytest.mark.parametrize("name", JOBS)


def spans(element: ElementTree.Element) -> tuple[float, float]:
    """Return from where to where a line of text runs."""
    words = element.text or ""
    size = float(element.get("font-size", PLAIN))
    wide = text_width(words, size, bold=element.get("font-weight") == "600")
    x = float(element.attrib["x"])
    start = {"start": x, "middle": x - wide / 2, "end": x - wide}[element.get("text-anchor", "start")]
    return start, start + wide


@each_job
def test_nothing_is_cut_off(name: str) -> None:
    """Every text of every drawing lies inside it, whatever names a person gave."""
    for drawn in drawings(name):
        root = ElementTree.fromstring(drawn.svg)
        for element in root.iter(f"{SVG}text"):
            start, end = spans(element)

            assert start >= -0.6, (drawn.name, element.text)
            assert end <= drawn.width + 0.6, (drawn.name, element.text)
            assert 0.0 <= float(element.attrib["y"]) <= drawn.height, (drawn.name, element.text)


@each_job
def test_every_drawing_says_what_it_shows(name: str) -> None:
    """Each has a title and an alternative text in a sentence, and no control characters."""
    for drawn in drawings(name):
        root = ElementTree.fromstring(drawn.svg)

        assert root.findtext(f"{SVG}title") == drawn.title != ""
        assert root.findtext(f"{SVG}desc") == drawn.alt
        assert drawn.alt.endswith(".")
        assert len(drawn.alt) > 20, drawn.name
        assert not re.search(r"[\x00-\x08\x0b-\x1f]", drawn.svg)


@pytest.mark.by_hand
def test_the_roof_is_to_scale() -> None:
    """Feet stand where the job says: by hand, distances on the sheet over distances on the roof are one scale."""
    assessment = assessed_job("long roof")
    drawn = pictures.roof(assessment)
    item = assessment.items[0].item
    boxes = list(ElementTree.fromstring(drawn.svg).iter(f"{SVG}rect"))
    roof, body = boxes[0], boxes[1]
    scale = float(roof.attrib["width"]) / assessment.job.vehicle.roof_length_m
    front = float(roof.attrib["x"])

    assert float(body.attrib["width"]) == pytest.approx(item.length_m * scale, abs=0.02)
    assert float(body.attrib["height"]) == pytest.approx(item.width_m * scale, abs=0.02)
    assert float(body.attrib["x"]) - front == pytest.approx(item.behind_roof_front_m * scale, abs=0.02)
    assert float(roof.attrib["height"]) == pytest.approx(
        assessment.job.vehicle.roof_width_m * scale, abs=0.02
    )
    for mount in item.mount:
        x = front + (item.behind_roof_front_m + mount.behind_m) * scale
        wide = max(mount.pad.length_m * scale, LEAST_FOOT)
        near = [box for box in boxes if abs(float(box.attrib["x"]) - (x - wide / 2)) < 0.02]

        assert near, mount.name


@each_job
@pytest.mark.independent
def test_the_section_shows_the_peak_that_decides(name: str) -> None:
    """The larger edge of the wedge is the peak tension of the worst foot, by another way; a bending foot's too."""
    for item in assessed_job(name).items:
        if item.mounted is None:
            continue
        found = worst_in_tension(item.mounted)
        cut = section_of(item.mounted, found.mount, found.case)
        edges = cut.profile or (cut.left_Pa, cut.right_Pa)
        edge = edges[0] if cut.left_pulled else edges[-1]

        assert edge == pytest.approx(found.peak_Pa, rel=1e-6)
        if not cut.profile:
            mean = at(item.mounted.demands.mean_tension, (found.case, HIGH, found.mount))
            assert (cut.left_Pa + cut.right_Pa) / 2 >= mean - 1e-6 * abs(found.peak_Pa)


@each_job
@pytest.mark.independent
def test_the_fall_of_the_demand_adds_up(name: str) -> None:
    """Cause by cause, factors, share and lever add up to the stress at the pad's edge."""
    from staydown.outputs.demand_causes import demand_falls

    assessment = assessed_job(name)
    for item in assessment.items:
        if item.mounted is None:
            continue
        found = worst_in_tension(item.mounted)
        if found.peak_Pa <= 0.0:
            continue
        *steps, whole = demand_falls(assessment, item, item.mounted, found)

        assert whole.high_Pa == pytest.approx(found.peak_Pa)
        assert sum(step.high_Pa for step in steps) == pytest.approx(found.peak_Pa, rel=0.006)
