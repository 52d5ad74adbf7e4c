"""Lost mounts, second retention, tape and screw in the JSON answer and in what can be asked for by `explain`."""

from __future__ import annotations

import json
from typing import Any

import pytest

from answers import assessed, first
from known_jobs import known_panel, panel_coupons
from sample_jobs import PANEL, PUCK, puck_coupons
from staydown.assess import Assessment
from staydown.outputs.answer_json import answer_json
from staydown.outputs.trail import find_trail, trails

TETHER: dict[str, Any] = {
    "material": "wire rope",
    "stiffness_N_per_m": None,
    "slack_m": 0.01,
    "breaking_strength_N": 9e3,
    "anchor": "eye bolt",
    "anchor_kind": None,
    "anchor_strength_N": None,
}


def item_of(assessment: Assessment) -> dict[str, Any]:
    """Return the first item's answer after a round trip through text."""
    told = json.loads(json.dumps(answer_json(assessment, [], [], []), allow_nan=False))
    item: dict[str, Any] = told["items"][0]
    return item


def test_lost_mounts_of_the_answer() -> None:
    """Each single loss and the worst pairs, with use, mount, speed and time; the order and content beside."""
    assessment = assessed(known_panel(), {}, panel_coupons())
    item, redundancy = item_of(assessment), first(assessment).redundancy
    singles = [loss for loss in item["lost_mounts"] if len(loss["lost"]) == 1]
    keys = {
        "lost",
        "rest_use",
        "worst_mount",
        "holds",
        "speed_m_per_s",
        "air_speed_m_per_s",
        "warning_time_s",
    }

    assert [loss["lost"] for loss in singles] == [[name] for name in first(assessment).demands.mounts]
    assert all(keys <= set(loss) for loss in item["lost_mounts"])
    assert singles[0]["rest_use"] == redundancy.singles[0].use
    assert item["redundancy"]["redundant"] is False
    assert item["redundancy"]["content"] == 0.99
    assert [step["mount"] for step in item["redundancy"]["unzipping"]] == [s.mount for s in redundancy.order]


def test_what_is_not_known_is_null() -> None:
    """Without coupons nothing of the rest is known, and one mount leaves no other to name."""
    (loss, *_) = item_of(assessed(known_panel()))["lost_mounts"]
    (only,) = item_of(assessed(PUCK, {}, puck_coupons()))["lost_mounts"]

    assert (loss["rest_use"], loss["holds"], loss["speed_m_per_s"], loss["warning_time_s"]) == (None,) * 4
    assert (only["worst_mount"], only["rest_use"], only["holds"]) == (None, None, False)


def test_retention_of_the_answer() -> None:
    """Loads, what is needed and what is there for each tether; unknown strengths are null and not enough."""
    item = item_of(assessed(PANEL, {"item.0.tether": [TETHER]}))
    retention, (tether,) = item["retention"], item["retention"]["tethers"]

    assert retention["ok"] is False
    assert retention["tethers_wanted"] == 2
    assert retention["steady_N"] > 1000.0
    assert (tether["ok"], tether["independent"], tether["anchor_strength_N"]) == (False, False, None)
    assert tether["stiffness_N_per_m"] == 1500e3
    assert tether["breaking_strength_needed_N"] > tether["snatch_N"] > retention["steady_N"]
    assert retention["would_do"]["anchor_strength_needed_N"] == pytest.approx(
        2 * retention["would_do"]["snatch_N"]
    )


@pytest.mark.by_hand
def test_steps_of_an_edge_that_opens() -> None:
    """Each width with what holds, what is handed on and what the other mounts need; the pulls sum to one load."""
    assessment = assessed(known_panel(), {}, panel_coupons())
    unzip = item_of(assessment)["unzip"]
    for step in unzip["steps"]:
        (again, *_) = [
            one for one in unzip["steps"] if (one["case"], one["season"]) == (step["case"], step["season"])
        ]

        assert sum(step["pulls_N"]) == pytest.approx(sum(again["pulls_N"]), rel=1e-6)
        assert step["bonded_share"] == pytest.approx(1.0 - step["opened_m"] / 0.08)
        assert step["other"]["mount"] != unzip["mount"]
        assert step["other"]["use"] > 0.0
    assert unzip["lost"] is True
    assert unzip["rests_m"] is None
    assert unzip["rest_use"] in [rest["rest_use"] for rest in item_of(assessment)["lost_mounts"]]


def test_no_mounts_no_rest() -> None:
    """An item without mounts has none of it."""
    item = item_of(assessed(PANEL, {"item.0.mount": []}))

    assert (item["redundancy"], item["lost_mounts"], item["retention"], item["shared_pulls"]) == (
        None,
        [],
        None,
        [],
    )


@pytest.mark.parametrize(
    "what",
    [
        "forward/lost mount/all/front left/use",
        "forward/lost mount/all/front left/road speed",
        "forward/lost mount/all/front left/warning time",
        "forward/tether/all/all/steady load",
        "forward/tether/all/all/least slack",
        "forward/tether/all/tether 1/snatch load",
        "forward/tether/all/would do/line needed",
    ],
)
def test_every_number_can_be_asked_for(what: str) -> None:
    """The numbers of what is left and of tethers have a path of their own, as any other."""
    assessment = assessed(known_panel(), {"item.0.tether": [TETHER]}, panel_coupons())

    assert find_trail(assessment, what).path.lower().startswith("forward panel/")
    assert len({trail.path for trail in trails(assessment)}) == len(list(trails(assessment)))
