"""Contradictions and doubts of a job made in Python, at and beside each limit."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staydown.job.check_job import check_job
from staydown.job.records import Job, Mount, Rectangle
from staydown.job.written import Written
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import read_job_text

GOOD = (Path(__file__).parent.parent / "storage" / "bad_inputs" / "good.toml").read_text(encoding="utf-8")
_JOB = read_job_text(GOOD, "job.toml", read_cards()).job
assert _JOB is not None
JOB: Job = _JOB
PAD = Rectangle(length_m=0.08, width_m=0.05)


def with_item(**changes: Any) -> Job:
    """Return the good job with its item changed; the item is 1.2 m x 0.6 m on a roof of 4.0 m x 1.7 m."""
    return JOB.model_copy(update={"item": (JOB.item[0].model_copy(update=changes),)})


def with_mounts(*places: tuple[float, float]) -> Job:
    """Return the good job with mounts at places (behind, left), each with a pad of 80 mm x 50 mm."""
    mounts = [Mount(name=f"m{n}", behind_m=x, left_m=y, pad=PAD) for n, (x, y) in enumerate(places)]
    return with_item(mount=tuple(mounts))


def found(job: Job) -> list[tuple[str, str]]:
    """Return key and grade of each finding."""
    return [(finding.key, finding.grade) for finding in check_job(job, Written())]


def test_a_good_job_made_in_python_has_no_findings() -> None:
    """A sound job gives nothing, with what was typed or without it."""
    assert found(JOB) == []


def test_findings_without_a_file_name_the_usual_one() -> None:
    """A contradiction of a job that was never typed has no line and no text."""
    travel = JOB.travel.model_copy(update={"cruise_speed_m_per_s": 40.0})
    (finding,) = check_job(JOB.model_copy(update={"travel": travel}), Written())

    assert (finding.file, finding.line, finding.value) == ("job.toml", None, "")


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("place", "key"),
    [
        ((-0.0399, 0.0), None),  # half a pad is 0.04 m: it touches the outline still
        ((-0.0401, 0.0), "behind"),
        ((1.2399, 0.0), None),
        ((1.2401, 0.0), "behind"),
        ((0.6, 0.3249), None),  # half the item and half a pad: 0.3 + 0.025 m
        ((0.6, 0.3251), "left"),
        ((0.6, -0.3249), None),
        ((0.6, -0.3251), "left"),
    ],
)
def test_a_mount_may_stick_out_but_not_stand_apart(place: tuple[float, float], key: str | None) -> None:
    """A pad that touches the item's outline is allowed; one that does not is a contradiction."""
    assert found(with_mounts(place)) == ([(f"item.1.mount.1.{key}", "error")] if key else [])


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("other", "overlaps"),
    [
        ((0.58, 0.0), False),
        ((0.5798, 0.0), True),
        ((0.5, 0.05), False),
        ((0.5, -0.0498), True),
        ((0.55, 0.049), True),
    ],
)
def test_pads_may_touch_but_not_overlap(other: tuple[float, float], overlaps: bool) -> None:
    """Pads of 80 mm x 50 mm with their centres a side apart share an edge; closer in both directions they overlap."""
    expected = [("item.1.mount.2.behind", "error")] if overlaps else []

    assert found(with_mounts((0.5, 0.0), other)) == expected


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"behind_roof_front_m": 2.8}, []),  # 2.8 + 1.2 m: level with the rear edge of 4.0 m
        ({"behind_roof_front_m": 2.802}, [("item.1.behind_roof_front", "warning")]),
        ({"behind_roof_front_m": 2.87}, [("item.1.behind_roof_front", "error")]),  # rear pads end at 4.01 m
        ({"behind_roof_front_m": -0.05}, [("item.1.behind_roof_front", "warning")]),
        (
            {"behind_roof_front_m": -0.07},
            [("item.1.behind_roof_front", "error")],
        ),  # front pads begin at -0.01 m
        ({"left_of_centre_m": 0.55}, []),
        ({"left_of_centre_m": 0.57}, [("item.1.left_of_centre", "warning")]),
        (
            {"left_of_centre_m": -0.58},
            [("item.1.left_of_centre", "error")],
        ),  # right pads end at 0.855 m of 0.85 m
        ({"left_of_centre_m": None, "width_m": 1.72}, [("item.1.width", "warning")] * 2),
        (
            {"mount": (), "behind_roof_front_m": 3.45},
            [("item.1.behind_roof_front", "error")],
        ),  # middle at 4.05 m
    ],
)
def test_an_item_may_hang_over_but_not_lie_off_the_roof(
    changes: dict[str, Any], expected: list[tuple[str, str]]
) -> None:
    """An overhang is a doubt; a pad, or the middle of the item, without roof under it is a contradiction."""
    assert found(with_item(**changes)) == expected


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"lever_m": 0.025, "lever_direction": "across"}, []),
        ({"lever_m": -0.0251, "lever_direction": "across"}, [("lever", "warning")]),
        ({"lever_m": 0.04, "lever_direction": "along"}, []),
        ({"lever_m": 0.03, "lever_direction": None}, [("lever", "warning")]),  # the worse direction
        ({"lever_m": None, "lever_side": "given"}, [("lever_side", "error")]),
        ({"connection_height_m": 0.075}, []),  # gap 40 mm and thickness 35 mm
        ({"connection_height_m": 0.077}, [("connection_height", "error")]),
        ({"foot_thickness_m": 0.039}, []),
        ({"foot_thickness_m": 0.041}, [("foot_thickness", "error"), ("foot_thickness", "warning")]),
    ],
)
def test_levers_and_heights(changes: dict[str, Any], expected: list[tuple[str, str]]) -> None:
    """Levers end at the pad's edge, connections at the item's top, feet at the gap."""
    mount = JOB.item[0].mount[0].model_copy(update=changes)
    answers = found(with_item(mount=(mount, *JOB.item[0].mount[1:])))

    assert answers == [(f"item.1.mount.1.{key}", grade) for key, grade in expected]


@pytest.mark.by_hand
@pytest.mark.parametrize(
    ("mount", "item", "expected"),
    [
        ({"foot_thickness_m": 0.0399}, {}, None),  # 39.9 + 1.1 = 41.0 mm of 40 mm, to a millimetre
        ({"foot_thickness_m": 0.03991}, {}, "error"),
        ({"foot_thickness_m": 0.0401}, {}, "error"),
        ({"foot_thickness_m": 0.0401, "behind_m": 0.0395}, {}, "error"),  # half a mm of 80 mm before the edge
        ({"foot_thickness_m": 0.0401, "behind_m": 0.0385}, {}, "warning"),
        ({"foot_thickness_m": 0.0401, "left_m": 0.2765}, {}, "warning"),  # 0.3015 of 0.3 m
        ({"foot_thickness_m": 0.0399, "left_m": 0.2765}, {}, None),
        ({"foot_thickness_m": 0.0401, "connection_height_m": 0.0401}, {}, "warning"),
        ({"foot_thickness_m": 0.0401, "connection_height_m": 0.040}, {}, "error"),
        ({"foot_thickness_m": 0.0401}, {"nose_up_rad": 0.01}, None),  # 12 mm more at one end
        ({"foot_thickness_m": 0.005}, {"gap_m": 0.0, "front_edge": "sealed"}, "warning"),
        ({"foot_thickness_m": 0.0351}, {"gap_m": 0.0, "front_edge": "sealed"}, "error"),
        ({}, {"gap_m": 0.0, "front_edge": "sealed"}, None),
    ],
)
def test_a_foot_stands_between_roof_and_item(
    mount: dict[str, Any], item: dict[str, Any], expected: str | None
) -> None:
    """A gap of 40 mm holds foot and tape of 1.1 mm; beside the item, or held above its underside, is a doubt."""
    feet = (JOB.item[0].mount[0].model_copy(update=mount), *JOB.item[0].mount[1:])
    findings = check_job(with_item(**item, mount=feet), Written())
    grades = [
        one.grade
        for one in findings
        if one.key == "item.1.mount.1.foot_thickness" and "usual is" not in one.rule
    ]

    assert grades == ([expected] if expected else [])


@pytest.mark.parametrize(
    ("anchor", "kind", "expected"),
    [
        ("roof rail screw", "mechanical", []),
        ("Front-Left", "mechanical", [("item.1.tether.1.anchor", "error")]),  # a mount of the item
        ("panel", "mechanical", [("item.1.tether.1.anchor", "error")]),
        ("plate on white foam", "mechanical", [("item.1.tether.1.anchor", "warning")]),  # a tape of the job
        ("glued pad", "mechanical", [("item.1.tether.1.anchor", "warning")]),
        ("seat belt anchorage", "mechanical", []),
        ("glued pad", "bonded", []),  # said as it is: the verdict answers it
        ("front left", None, []),
    ],
)
def test_an_anchor_is_not_the_bond(anchor: str, kind: str | None, expected: list[tuple[str, str]]) -> None:
    """What is called mechanical and is the item or its mount contradicts itself; what reads as bonded is a doubt."""
    tether = JOB.item[0].tether[0].model_copy(update={"anchor": anchor, "anchor_kind": kind})

    assert found(with_item(tether=(tether,))) == expected


def test_two_tethers_want_two_anchors() -> None:
    """One anchor named twice is a doubt, told at the second tether."""
    tether = JOB.item[0].tether[0]
    other = tether.model_copy(update={"anchor": "door hinge bolt"})

    assert found(with_item(tether=(tether, tether))) == [("item.1.tether.2.anchor", "warning")]
    assert found(with_item(tether=(tether, other))) == []


@pytest.mark.by_hand
def test_items_may_be_stacked_but_not_share_their_room() -> None:
    """One item above another is allowed; at one height the second is a doubt."""
    item = JOB.item[0].model_copy(
        update={"name": "above", "gap_m": 0.075}
    )  # 40 mm gap and 35 mm thickness below
    beside = JOB.item[0].model_copy(update={"name": "beside", "behind_roof_front_m": 2.2})
    within = JOB.item[0].model_copy(update={"name": "within", "behind_roof_front_m": 2.0})

    assert found(JOB.model_copy(update={"item": (*JOB.item, item, beside)})) == []
    assert found(JOB.model_copy(update={"item": (*JOB.item, within)})) == [
        ("item.2.behind_roof_front", "warning")
    ]


def test_calm_air_and_equal_speeds_are_fine() -> None:
    """No wind, and a cruise at top speed, contradict nothing."""
    travel = JOB.travel.model_copy(
        update={"headwind_m_per_s": 0.0, "cruise_speed_m_per_s": JOB.travel.top_speed_m_per_s}
    )
    climate = JOB.climate.model_copy(update={"coldest_K": JOB.climate.hottest_K})

    assert found(JOB.model_copy(update={"travel": travel, "climate": climate})) == []


@given(st.lists(st.tuples(st.floats(0.1, 1.1), st.floats(-0.2, 0.2)), min_size=2, max_size=6))
def test_overlaps_do_not_depend_on_the_order_of_mounts(places: list[tuple[float, float]]) -> None:
    """Whether any pads overlap is the same forwards and backwards, and as the distances of their centres say."""
    forwards, backwards = found(with_mounts(*places)), found(with_mounts(*reversed(places)))
    apart = all(
        abs(a[0] - b[0]) >= 0.08 - 1e-4 or abs(a[1] - b[1]) >= 0.05 - 1e-4
        for n, a in enumerate(places)
        for b in places[:n]
    )

    assert bool(forwards) == bool(backwards)
    assert apart == (not forwards)
