"""What heat does stands in the JSON mount by mount, and every number of it can be walked down."""

from __future__ import annotations

from typing import Any

import pytest

from sample_jobs import PANEL, cards, job_of, pulls, row_of
from staydown.advice.assumptions import with_end
from staydown.assess import Assessment, Facts, assess
from staydown.job.written import Written
from staydown.outputs.answer_json import answer_json
from staydown.outputs.trail import find_trail, trail_text


def assessed(changes: dict[str, Any] | None = None) -> Assessment:
    """Return the sample panel assessed without coupons, its second mount beside the panel."""
    return assess(job_of(PANEL, {"item.0.mount.1.left_m": -0.36, **(changes or {})}), Facts(cards=cards()))


def case_of(name: str, season: str) -> dict[str, Any]:
    """Return one case of the JSON answer."""
    cases = answer_json(assessed(), (), (), ())["items"][0]["cases"]
    (found,) = [case for case in cases if (case["name"], case["season"]) == (name, season)]
    return dict(found)


def test_each_mount_carries_its_own_bond_temperature() -> None:
    """Under the item warmer than beside it; the case shows the warmest."""
    case = case_of("gust", "hot")
    temperatures = [mount["bond_temperature_K"] for mount in case["mounts"]]

    assert temperatures[0] > temperatures[1]
    assert case["bond_temperature_K"] == max(temperatures)


def test_what_explains_a_case_has_its_unit_in_its_key() -> None:
    """Heat transfer and boundary layer at cruise; the curve at departure; item and longest foot in the soak."""
    cruise, departure, soak = (
        case_of("cruise", "hot"),
        case_of("departure", "hot"),
        case_of("hot soak", "hot"),
    )

    assert 20.0 < cruise["heat_transfer_to_the_wind_W_per_m2_K"] < 150.0
    assert 0.0 < cruise["boundary_layer_at_the_front_edge_m"] < 0.2
    assert 0.0 < cruise["pressure_share_in_the_boundary_layer"] <= 1.0
    curve = [departure["mounts"][0][f"cooled_after_{minutes}_min_K"] for minutes in (1, 2, 5, 10)]
    assert curve == sorted(curve, reverse=True)
    assert departure["mounts"][0]["time_constant_s"] > 0.0
    assert soak["item_temperature_K"] > soak["mounts"][0]["bond_temperature_K"]
    assert soak["mounts"][0]["longest_foot_m"] > 0.0
    assert soak["mounts"][0]["equivalent_temperature_of_the_day_K"] < soak["mounts"][0]["bond_temperature_K"]


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("forward panel/cruise/hot/front left/bond temperature", "travel.cruise_speed"),
        ("forward panel/cruise/hot/front left/bond temperature", "roof_heat_capacity"),
        ("forward panel/gust/hot/front left/bond temperature", "sun.under_item"),
        ("forward panel/gust/hot/front right/bond temperature", "sun.bare_roof"),
        ("forward panel/gust/cold/front right/bond temperature", "sky_below_air_night"),
        ("forward panel/departure/hot/rear left/cooled after 5 min", "cooled_temperature"),
        ("forward panel/hot soak/hot/all/sol-air temperature", "vehicle.absorptance"),
        ("forward panel/hot soak/hot/front left/longest foot", "thermal_strain_limit"),
        ("forward panel/gust/hot/all/boundary layer at the front edge", "item.1.behind_roof_front"),
    ],
)
def test_the_trail_goes_down_to_what_was_typed_or_planned(path: str, words: str) -> None:
    """`explain` names the law on the way and the place where each number came from."""
    text = trail_text(find_trail(assessed(), path), Written())

    assert words in " ".join(text.split())


def test_a_coupon_ten_kelvin_too_cool_covers_the_cooler_mount_only() -> None:
    """Pulls at 345 K: the bare roof at 351 K is covered, the pad under the item at 366 K is not."""
    coupons = [
        *pulls([2.0e6, 2.1e6, 2.05e6, 2.2e6, 1.95e6], 345.0, "gelcoat"),
        *pulls([2.0e6, 2.1e6, 2.05e6, 2.2e6, 1.95e6], 345.0, "gelcoat", mode="shear"),
    ]
    job = job_of(PANEL, {"item.0.mount.1.left_m": -0.36})
    assessment = assess(job, Facts(cards=cards(), coupons=tuple(coupons)))
    mounted = assessment.items[0].mounted
    assert mounted is not None
    row = row_of(mounted.table, "gust", "hot")

    assert mounted.checks.level(row, 1) == "covered"
    assert mounted.checks.level(row, 0) == "inferred"


def test_the_colour_is_an_assumption_that_can_be_weighed() -> None:
    """The card's end is put in the place of its band; another roof's temperature follows it."""
    assessment = assessed({"vehicle.absorptance": None, "vehicle.roof_colour": "dark grey"})
    paler = with_end(assessment.cards, assessment.items[0], "colour dark grey", 0.2)
    assert paler is not None
    band = paler.colours["dark grey"].absorptance

    assert (band.low, band.likely, band.high) == (0.2, 0.2, 0.2)
    again = assess(assessment.job, Facts(cards=paler)).items[0].mounted
    first = assessment.items[0].mounted
    assert again is not None
    assert first is not None
    assert again.table.soak.roof_hot.value.max() < first.table.soak.roof_hot.value.max()  # type: ignore[union-attr]
