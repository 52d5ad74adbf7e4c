"""How an item moves stands with the same numbers in the text, in the JSON and in what `explain` walks down."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
import pytest

from sample_jobs import PANEL, cards, job_of
from staydown.assess import Assessment, Facts, Mounted, assess
from staydown.foundation.quantities import shown
from staydown.job.written import Written
from staydown.outputs.amounts import amount, percent
from staydown.outputs.answer_json import answer_json
from staydown.outputs.answer_text import answer_text
from staydown.outputs.movement_text import fine
from staydown.outputs.trail import find_trail, trail_json, trail_text

OWN = {
    "item.0.laminate_bending_stiffness_Nm": 200.0,
    "item.0.frame_bending_stiffness_N_m2": 1400.0,
    "tape.0.tension_modulus_Pa": None,
}
HIGH = 2


@cache
def assessed(kind: str = "own") -> Assessment:
    """Return the sample panel without coupons: of typed stiffness, of its kind's, rigid, or low over the roof."""
    low = OWN | {"item.0.laminate_bending_stiffness_Nm": 60.0, "item.0.gap_m": 0.012}
    changes: dict[str, Any] = {"own": OWN, "kind": {}, "rigid": {"item.0.kind": None}, "low": low}[kind]
    return assess(job_of(PANEL, changes), Facts(cards=cards()))


def mounted_of(kind: str = "own") -> Mounted:
    """Return the numbers of the sample panel."""
    mounted = assessed(kind).items[0].mounted
    assert mounted is not None
    return mounted


@cache
def item_of(kind: str = "own") -> dict[str, Any]:
    """Return the item of the JSON answer after a round trip through text."""
    told = json.loads(json.dumps(answer_json(assessed(kind), (), (), ()), allow_nan=False))
    item: dict[str, Any] = told["items"][0]
    return item


def case_of(name: str, season: str, kind: str = "own") -> dict[str, Any]:
    """Return one case of the JSON answer."""
    (found,) = [c for c in item_of(kind)["cases"] if (c["name"], c["season"]) == (name, season)]
    return dict(found)


def explained(path: str, kind: str = "own") -> float:
    """Return the number at the top of a trail."""
    value = trail_json(find_trail(assessed(kind), f"forward panel/{path}"), Written())["number"]["value"]
    return float(value)


def text_of(kind: str = "own") -> str:
    """Return the answer as one line of text."""
    return " ".join(answer_text(assessed(kind), None).split())


@pytest.mark.independent
def test_lift_and_sag_are_the_same_everywhere() -> None:
    """Corners, sides and middle in every case; the largest lift and the deepest sag stand in the text."""
    flexible = mounted_of().demands.flexible
    assert flexible is not None
    lift = np.asarray(flexible.lift.value)[:, HIGH]
    row, place = np.unravel_index(lift.argmax(), lift.shape)
    case = mounted_of().table.cases[int(row)]
    told = case_of(case.name, case.exposure.season)["bending"]
    name = flexible.places[int(place)]
    most = item_of()["bending"]["most_sag"]
    deepest = case_of(most["case"], most["season"])["bending"]

    assert len(told["lift_m"]) == 9
    assert told["lift_m"][name] == lift.max()
    assert explained(f"{case.name}/{case.exposure.season}/all/lift of the {name}") == lift.max()
    assert f"at its {name}, by {fine(lift.max(), 'metric')}" in text_of()
    assert deepest["sag_m"] == most["sag_m"]
    assert explained(f"{most['case']}/{most['season']}/all/sag") == most["sag_m"]
    assert explained(f"{most['case']}/{most['season']}/all/share of the gap closed") == most["gap_closed"]
    assert most["gap_closed"] == pytest.approx(max(most["sag_m"], 0.0) / 0.045)
    assert f"by {fine(most['sag_m'], 'metric')}, {percent(most['gap_closed'])} of its gap" in text_of()


@pytest.mark.independent
def test_the_force_of_the_roof_is_the_same_everywhere() -> None:
    """A soft pane low over the roof in snow: what the roof carries, in text, warning, JSON and trail."""
    snow = case_of("snow", "cold", "low")["bending"]
    (rule,) = [f.rule for f in mounted_of("low").demands.findings if "touches the roof" in f.rule]

    assert snow["gap_closed"] > 1.0
    assert snow["roof_force_N"] > 0.0
    assert explained("snow/cold/all/force of the roof", "low") == snow["roof_force_N"]
    assert f"it touches the roof, which then carries up to {amount(snow['roof_force_N'], 'N', 'metric')}" in (
        text_of("low")
    )
    assert shown(snow["roof_force_N"], "N") in rule
    assert case_of("gust", "cold")["bending"]["roof_force_N"] == 0.0


@pytest.mark.independent
def test_what_bending_changes_is_the_same_everywhere() -> None:
    """Pull of each mount and change of the worst one, in the gust."""
    gust = case_of("gust", "cold")

    assert explained("gust/cold/all/change by bending") == gust["bending"]["change"]
    for mount in gust["mounts"]:
        assert explained(f"gust/cold/{mount['name']}/pull of the bending item") == mount["bending_pull_N"]
    assert item_of()["bending"]["counted"] is True
    assert "its own stiffness, counted" in text_of()


@pytest.mark.independent
def test_the_bow_is_the_same_everywhere() -> None:
    """Height of the bow and the most that holding it down pulls."""
    soak = case_of("hot soak", "hot")
    pulls = {mount["name"]: mount["bow_pull_N"] for mount in soak["mounts"]}
    most = max(pulls, key=lambda name: pulls[name])

    assert explained("hot soak/hot/all/bow of the longer side") == item_of()["bending"]["bow_m"]
    assert all(explained(f"hot soak/hot/{name}/pull by the bow") == pull for name, pull in pulls.items())
    assert f"would bow by {fine(item_of()['bending']['bow_m'], 'metric')}" in text_of()
    assert f"pulls {amount(pulls[most], 'N', 'metric')} at {most}" in text_of()


@pytest.mark.independent
def test_shaking_is_the_same_everywhere() -> None:
    """Lowest frequency, six motions, bump, roads, vortices: one number each in text, JSON and trail."""
    shaking = item_of()["shaking"]
    numbers = {
        "lowest frequency": shaking["lowest_frequency_Hz"],
        "likely lowest frequency": shaking["likely_lowest_frequency_Hz"],
        "bump factor": shaking["bump_factor"],
        "vortex frequency": shaking["vortex_frequency_Hz"],
        "flapping frequency": shaking["flapping_frequency_Hz"],
        "air speed that vortices meet it at": shaking["meeting_air_speed_m_per_s"],
        **{f"frequency of {motion['name']}": motion["frequency_Hz"] for motion in shaking["motions"]},
    }

    assert len(shaking["motions"]) == 6
    assert {name: explained(f"shaking/all/all/{name}") for name in numbers} == numbers
    assert (
        shaking["lowest_frequency_Hz"]
        < shaking["likely_lowest_frequency_Hz"]
        < shaking["stiffest_lowest_frequency_Hz"]
    )
    for road in shaking["roads"]:
        path = f"ISO 8608 class {road['class']}/all/all"
        assert explained(f"{path}/peak acceleration") == road["peak_m_per_s2"]
        assert explained(f"{path}/rms acceleration") == road["rms_m_per_s2"]
        assert explained(f"{path}/rms movement") == road["movement_rms_m"]
        assert explained(f"{path}/spectrum at the roof") == road["spectrum_m2_per_s3"]
        assert f"{road['class']} {shown(road['peak_m_per_s2'], 'm/s2')}" in text_of()
    lowest, likely = (shown(numbers[name], "Hz") for name in ("lowest frequency", "likely lowest frequency"))
    assert f"at {lowest} or faster, likely {likely}" in text_of()
    assert f"leave its edge at {shown(numbers['vortex frequency'], 'Hz')}" in text_of()


def test_a_warned_road_shows_the_number_that_can_be_asked_for() -> None:
    """The class of road in the warning has the peak of the JSON answer."""
    peaks = {road["class"]: road["peak_m_per_s2"] for road in item_of()["shaking"]["roads"]}
    (rule,) = [f.rule for f in mounted_of().vibration.findings if "ISO 8608" in f.rule]
    warned = next(name for name in peaks if f"class {name} " in rule)

    assert shown(peaks[warned], "m/s2") in rule


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("snow/cold/all/lift of the middle", "item.1.laminate_bending_stiffness"),
        ("gust/cold/all/sag", "tape.1.thickness"),
        ("snow/cold/all/force of the roof", "item.1.gap"),
        ("gust/cold/all/sag", "acrylic foam tape.tension_modulus"),
        ("gust/cold/front left/pull of the bending item", "travel.top_speed"),
        ("gust/cold/all/change by bending", "rigid_pull"),
        ("hot soak/hot/front left/pull by the bow", "hotter_top"),
        ("hot soak/hot/all/bow of the longer side", "shallow arc"),
        ("shaking/all/all/frequency of heaving", "item.1.mass"),
        ("shaking/all/all/air speed that vortices meet it at", "bubble_length"),
        ("ISO 8608 class C/all/all/rms movement", "travel.cruise_speed"),
    ],
)
def test_each_goes_down_to_what_was_typed_or_planned(path: str, words: str) -> None:
    """The trail of each names law and source, and where its inputs were written."""
    text = trail_text(find_trail(assessed(), f"forward panel/{path}"), Written())

    assert words in " ".join(text.split())


def test_of_a_kind_is_shown_and_not_counted_and_a_rigid_item_says_so() -> None:
    """By kind alone the answer says that it is not counted; without a kind there is nothing on bending."""
    assert item_of("kind")["bending"]["counted"] is False
    assert "usual for its kind, shown and not counted" in text_of("kind")
    assert item_of("rigid")["bending"] is None
    assert item_of("rigid")["cases"][0]["bending"] is None
    assert item_of("rigid")["shaking"]["bends"] is False
    assert "it is taken as rigid" in text_of("rigid")
