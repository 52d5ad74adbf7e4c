"""The stress-time chart: a valid specification that shows every coupon, every demand, the bound of the belief."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import vl_convert

from sample_assessments import assessed_job
from staydown.foundation.exposure import Mode
from staydown.outputs.stress_time_chart import stress_panels, stress_time_of
from staydown.pictures.picture import Picture
from staydown.pictures.stress_time import RESULTS, SHAPES, CouponPoint, Curve, DemandPoint, Panel, stress_time
from staydown.workbench.desk import Desk
from staydown.workbench.record import Seen, record_coupons
from staydown.workbench.render import chart_svg

PANEL = Panel(
    title="hot",
    coupons=(
        CouponPoint(name="a", lasts_s=1.0, stress=300.0, result="broke", speaks=True),
        CouponPoint(name="b", lasts_s=7200.0, stress=150.0, result="fell", speaks=True),
        CouponPoint(name="c", lasts_s=90000.0, stress=120.0, result="holding", speaks=False),
        CouponPoint(name="d", lasts_s=60.0, stress=90.0, result="spoiled", speaks=False),
    ),
    curve=tuple(
        Curve(
            lasts_s=10.0**n, low=200.0 - 20.0 * n, high=300.0 - 20.0 * n, bound=150.0 - 10.0 * n, proven=None
        )
        for n in range(6)
    ),
    demands=(
        DemandPoint(lasts_s=3.0, stress=91.0, words="gust"),
        DemandPoint(lasts_s=9000.0, stress=40.0, words=""),
    ),
    covered_s=5.0e4,
    inferred_s=5.0e5,
)


def rows(chart: Any, key: str) -> list[dict[str, Any]]:
    """Return every row of data in a specification that has a key."""
    found = []
    if isinstance(chart, dict):
        found += [row for row in chart.get("values", []) if isinstance(row, dict) and key in row]
        for held in chart.values():
            found += rows(held, key)
    elif isinstance(chart, (list, tuple)):
        for held in chart:
            found += rows(held, key)
    return found


def chart_of(name: str) -> Picture:
    """Return the chart of a sample job's first item in tension."""
    assessment = assessed_job(name)
    drawn = stress_time_of(assessment, assessment.items[0], "tension")
    assert drawn is not None
    return drawn


def test_every_result_has_a_shape_of_its_own() -> None:
    """What happened can be read in grey: by shape, not by colour."""
    assert len(set(SHAPES.values())) == len(SHAPES) == len(RESULTS) - 1


def test_all_points_are_drawn() -> None:
    """Coupons by result and all demands stand in the specification at their time and stress."""
    chart = stress_time("bond", [PANEL], "kPa", "alt").chart
    told = [(row["t"], row["s"], row["what"]) for row in rows(chart, "what")]

    assert set(told) == set(
        [(one.lasts_s, one.stress, RESULTS[one.result]) for one in PANEL.coupons]
        + [(one.lasts_s, one.stress, RESULTS["demand"]) for one in PANEL.demands]
    )


def test_the_chart_can_be_drawn_alone() -> None:
    """It becomes SVG in the shipped face without any outside address; its words are text."""
    drawn = chart_svg(stress_time("bond", [PANEL, PANEL], "kPa", "alt").chart or {})
    words = {one.text for one in ElementTree.fromstring(drawn).iter("{http://www.w3.org/2000/svg}text")}

    assert {"time under load", "stress, kPa", "gust", "1 min", "covered by tests up to here"} <= words
    assert "Source Sans 3" in drawn
    assert "http" not in drawn.replace("http://www.w3.org/", "")


def test_outside_data_is_refused() -> None:
    """A specification that asks for an address is not drawn."""
    asks = {"data": {"url": "https://example.org/x.csv"}, "mark": "point", "encoding": {"x": {"field": "a"}}}
    with pytest.raises(ValueError, match=r"example\.org"):
        vl_convert.vegalite_to_svg(asks, allowed_base_urls=[])


@pytest.mark.independent
def test_the_curves_are_the_belief() -> None:
    """The bound on the chart is the belief's own where nothing cuts it, and never above it."""
    assessment = assessed_job("sound")
    mounted = assessment.items[0].mounted
    assert mounted is not None
    chart = chart_of("sound").chart or {}
    belief = mounted.capacity["tension"].belief
    content = float(mounted.content.value)
    for panel in chart["hconcat"]:
        warm_K = next(
            case.exposure.temperature_K
            for case in mounted.table.cases
            if panel["title"].startswith(case.exposure.season) and case.family not in ("soak", "snow")
        )
        curve = next(
            layer["data"]["values"]
            for layer in panel["layer"]
            if layer.get("mark", {}).get("type") == "line" and layer["mark"]["strokeDash"]
        )
        pairs = tuple((row["t"], warm_K) for row in curve)
        own = belief.strength_quantile(pairs, content, 0.05) / 1e3

        assert len(curve) > 5
        assert np.all(np.array([row["s"] for row in curve]) <= own * (1 + 1e-6))


def test_there_is_no_chart_without_coupons() -> None:
    """Where nothing was tested nothing is drawn."""
    assessment = assessed_job("no coupons")

    assert stress_time_of(assessment, assessment.items[0], "tension") is None


@pytest.mark.parametrize("mode", ["tension", "shear"])
def test_no_faint_demand_stretches_the_scale(tmp_path: Path, mode: Mode) -> None:
    """Of a demand under a thousandth of the largest nothing is drawn: the drawn ones span three powers at most."""
    van = Path(shutil.copytree(Path(__file__).parents[1] / "data" / "van", tmp_path / "van"))
    record_coupons(van, van / "coupons.csv", Seen(now=datetime(2026, 6, 1, tzinfo=UTC)))
    assessment = Desk(van).answer().assessment
    for item in assessment.items:
        found = stress_panels(assessment, item, mode)
        assert found is not None
        for panel in found[0]:
            told = [one.stress for one in panel.demands if one.stress > 0.0]

            assert len(told) >= 3
            assert max(told) <= 1000.0 * min(told)
