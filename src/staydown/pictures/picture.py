"""The record of a picture: what a page needs to show it, and what a screen reader says in its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One picture: either a drawing (SVG text) or a chart (a Vega-Lite specification). width, height: in points.

    name: short, for a file. title: what it is. alt: what it shows, with its numbers.
    """

    name: str
    title: str
    alt: str
    width: float
    height: float
    svg: str = ""
    chart: Mapping[str, Any] | None = None
