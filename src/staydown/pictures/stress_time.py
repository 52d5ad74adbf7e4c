"""Stress over time under load: coupons by what happened, belief, lower bound, what is proven, and the job's demands.

A Vega-Lite specification, one panel for each warmth. Shapes and fills tell things apart; colour only supports.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from staydown.pictures.picture import Picture
from staydown.pictures.style import (
    FONT,
    HOLD,
    HOLD_PALE,
    INK,
    PAGE,
    PLAIN,
    PULL,
    RULE,
    SMALL,
    SOFT,
    WASH,
    WHITE,
)

SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json"
HEIGHT = 150.0
AXIS = 34.0  # room for the axis beside a panel [pt]
GAP = 18.0
SHAPES = {"broke": "circle", "fell": "triangle-down", "holding": "triangle-right", "spoiled": "cross"}
RESULTS = {
    "broke": "broke in a pull",
    "fell": "fell",
    "holding": "still holding",
    "spoiled": "spoiled, not counted",
    "demand": "demand of the job",
}
TIMES = (
    (1.0, "1 s"),
    (60.0, "1 min"),
    (3600.0, "1 h"),
    (86400.0, "1 day"),
    (2.6e6, "1 month"),
    (3.16e7, "1 year"),
)
STRESSES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000)


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponPoint:
    """One coupon: how long (a pull counts its equal static life), at what stress, what happened, is it warm enough."""

    name: str
    lasts_s: float
    stress: float
    result: str
    speaks: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DemandPoint:
    """One case at its most stressed mount; words: its name, empty where it is not written beside it."""

    lasts_s: float
    stress: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Over time under load: belief from 5 to 95 % of the median bond, the lower bound, what is proven of it."""

    lasts_s: float
    low: float
    high: float
    bound: float | None
    proven: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One warmth. covered_s, inferred_s: up to how long under load tests cover it, and let infer it; 0 for not."""

    title: str
    coupons: tuple[CouponPoint, ...]
    curve: tuple[Curve, ...]
    demands: tuple[DemandPoint, ...]
    covered_s: float
    inferred_s: float


def stress_time(name: str, panels: Sequence[Panel], unit: str, alt: str) -> Picture:
    """Return the chart; stresses are in `unit` already."""
    width = (PAGE - AXIS - GAP * (len(panels) - 1)) / len(panels) - 6.0
    times = _span([t for p in panels for t in _times(p)], least=(0.5, 2.0e4))
    stresses = _span([s for p in panels for s in _stresses(p)], least=None)
    title = f"{name}: stress over time under load"
    spec: dict[str, Any] = {
        "$schema": SCHEMA,
        "background": WHITE,
        "padding": 2,
        "config": CONFIG,
        "spacing": GAP,
        "hconcat": [
            _panel(panel, width, unit if number == 0 else "", times, stresses)
            for number, panel in enumerate(panels)
        ],
    }
    return Picture(name="stress", title=title, alt=alt, width=PAGE, height=HEIGHT + 66.0, chart=spec)


CONFIG: dict[str, Any] = {
    "font": FONT,
    "text": {"font": FONT, "fontSize": SMALL, "fill": INK},
    "axis": {
        "labelFontSize": SMALL,
        "titleFontSize": PLAIN,
        "titleFontWeight": 400,
        "labelColor": INK,
        "titleColor": INK,
        "gridColor": "#e3e8eb",
        "gridWidth": 0.4,
        "domainColor": SOFT,
        "domainWidth": 0.6,
        "tickColor": SOFT,
        "tickWidth": 0.5,
        "tickSize": 3,
        "labelPadding": 2,
        "titlePadding": 5,
    },
    "legend": {
        "labelFontSize": SMALL,
        "labelColor": INK,
        "symbolStrokeColor": INK,
        "symbolFillColor": WHITE,
        "orient": "bottom",
        "title": None,
    },
    "title": {"fontSize": PLAIN, "fontWeight": 600, "anchor": "start", "color": INK, "offset": 5},
    "view": {"stroke": RULE, "strokeWidth": 0.5},
}


def _times(panel: Panel) -> list[float]:
    return [one.lasts_s for one in panel.coupons] + [one.lasts_s for one in panel.demands]


def _stresses(panel: Panel) -> list[float]:
    return [one.stress for one in panel.coupons] + [one.stress for one in panel.demands if one.stress > 0.0]


def _span(values: Sequence[float], least: tuple[float, float] | None) -> tuple[float, float]:
    low, high = min(values, default=1.0), max(values, default=1.0)
    if least is not None:
        low, high = min(low, least[0]), max(high, least[1])
    return low / 1.8, high * 1.8


def _panel(
    panel: Panel, width: float, unit: str, times: tuple[float, float], stresses: tuple[float, float]
) -> dict[str, Any]:
    low, high = stresses
    label = "||".join(f"(datum.value==={time:g}?'{words}':'')" for time, words in TIMES)
    x = {
        "type": "quantitative",
        "scale": {"type": "log", "domain": list(times), "nice": False},
        "axis": {
            "title": "time under load",
            "values": [t for t, _ in TIMES],
            "labelExpr": label,
            "grid": True,
        },
    }
    y = {
        "type": "quantitative",
        "scale": {"type": "log", "domain": list(stresses), "nice": False},
        "axis": {
            "title": f"stress, {unit}" if unit else None,
            "values": [value for value in STRESSES if low <= value <= high],
            "labels": bool(unit),
            "format": "~f",
        },
    }
    layers = [
        *_reach(panel, x, y, times, stresses),
        *_curves(panel, x, y, times, stresses),
        *_points(panel, x, y),
    ]
    return {"title": panel.title, "width": width, "height": HEIGHT, "layer": layers}


def _at(x: dict[str, Any], y: dict[str, Any]) -> dict[str, Any]:
    """Return where a row of data stands: time `t`, stress `s`."""
    return {"x": x | {"field": "t"}, "y": y | {"field": "s"}}


def _reach(
    panel: Panel,
    x: dict[str, Any],
    y: dict[str, Any],
    times: tuple[float, float],
    stresses: tuple[float, float],
) -> list[dict[str, Any]]:
    """Return the region that tests cover, and the edge of what they let infer."""
    layers: list[dict[str, Any]] = []
    top = stresses[1] / 1.07
    for until, words, fill in (
        (panel.covered_s, "covered by tests", WASH),
        (panel.inferred_s, "inferred", ""),
    ):
        if until <= times[0]:
            continue
        end = min(until, times[1])
        if fill:
            row = {"t": times[0], "t2": end, "s": stresses[0], "s2": stresses[1]}
            layers.append({
                "data": {"values": [row]},
                "mark": {"type": "rect", "color": fill},
                "encoding": {**_at(x, y), "x2": {"field": "t2"}, "y2": {"field": "s2"}},
            })  # fmt: skip
        if until < times[1] and (fill or until > panel.covered_s):
            layers.append({
                "data": {"values": [{"t": end, "w": f"{words} up to here", "s": top}]},
                "layer": [
                    {"mark": {"type": "rule", "color": SOFT, "strokeWidth": 0.6, "strokeDash": [] if fill else [3, 2]},
                     "encoding": {"x": x | {"field": "t"}}},
                    {"mark": {"type": "text", "align": "right", "dx": -3, "fontSize": SMALL, "color": SOFT,
                              "baseline": "top"},
                     "encoding": {**_at(x, y), "text": {"field": "w"}}},
                ],
            })  # fmt: skip
        elif fill:
            layers.append({
                "data": {"values": [{"t": times[0] * 1.3, "w": "all covered by tests", "s": top}]},
                "mark": {"type": "text", "align": "left", "fontSize": SMALL, "color": SOFT, "baseline": "top"},
                "encoding": {**_at(x, y), "text": {"field": "w"}},
            })  # fmt: skip
    return layers


def _curves(
    panel: Panel,
    x: dict[str, Any],
    y: dict[str, Any],
    times: tuple[float, float],
    stresses: tuple[float, float],
) -> list[dict[str, Any]]:
    inside = [one for one in panel.curve if times[0] <= one.lasts_s <= times[1]]
    if not inside:
        return []

    def clipped(value: float) -> float:
        return min(max(value, stresses[0]), stresses[1])

    band = [{"t": one.lasts_s, "s": clipped(one.low), "s2": clipped(one.high)} for one in inside]
    layers: list[dict[str, Any]] = [{
        "data": {"values": band},
        "mark": {"type": "area", "color": HOLD_PALE, "opacity": 0.75},
        "encoding": {**_at(x, y), "y2": {"field": "s2"}},
    }]  # fmt: skip
    for key, dash, wide in (("bound", [4, 2], 0.9), ("proven", [], 1.6)):
        rows = [
            {"t": one.lasts_s, "s": value}
            for one in inside
            if (value := getattr(one, key)) is not None and stresses[0] <= value <= stresses[1]
        ]
        layers.append({
            "data": {"values": rows},
            "mark": {"type": "line", "color": HOLD, "strokeWidth": wide, "strokeDash": dash},
            "encoding": _at(x, y),
        })  # fmt: skip
    return layers


def _points(panel: Panel, x: dict[str, Any], y: dict[str, Any]) -> list[dict[str, Any]]:
    shapes = {
        "field": "what",
        "type": "nominal",
        "scale": {"domain": list(RESULTS.values()), "range": [*SHAPES.values(), "diamond"]},
        "legend": {"symbolSize": 34, "columnPadding": 8},
    }
    layers = []
    for speaks in (False, True):
        rows = [
            {"t": one.lasts_s, "s": one.stress, "what": RESULTS[one.result]}
            for one in panel.coupons
            if one.speaks == speaks
        ]
        layers.append({
            "data": {"values": rows},
            "mark": {"type": "point", "size": 30, "filled": speaks, "color": INK, "fillOpacity": 1.0 if speaks else 0.0,
                     "stroke": INK if speaks else SOFT, "strokeWidth": 0.7, "opacity": 1.0},
            "encoding": {**_at(x, y), "shape": shapes},
        })  # fmt: skip
    rows = [
        {"t": one.lasts_s, "s": one.stress, "w": one.words, "what": RESULTS["demand"]}
        for one in panel.demands
        if one.stress > 0.0
    ]
    layers.append({
        "data": {"values": rows},
        "mark": {"type": "point", "size": 42, "filled": True, "color": PULL, "stroke": WHITE, "strokeWidth": 0.6,
                 "opacity": 1.0},
        "encoding": {**_at(x, y), "shape": shapes},
    })  # fmt: skip
    named = [row for row in rows if row["w"]]
    layers.append({
        "data": {"values": named},
        "mark": {"type": "text", "align": "left", "dx": 6, "fontSize": SMALL, "color": PULL, "fontWeight": 600},
        "encoding": {**_at(x, y), "text": {"field": "w"}},
    })  # fmt: skip
    return layers
