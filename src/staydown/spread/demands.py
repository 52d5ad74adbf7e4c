"""The record of what each mount carries."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.findings import Finding
from staydown.foundation.numbers import Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """What the item puts on each mount, +z away from the roof; Numbers over (case, band, mount).

    force [N] and moment about the pad's centre [N m]: three components each, from the solution with the
    largest peak tension at that mount, so mounts may come from different solutions and need not sum.
    solution: index into `solutions` (their names, such as "clamped", "hinged, all levers forward").
    mean_tension, peak_tension, shear [Pa]; line_load [N/m]: tension over the pad's side across the lever.
    residual: largest relative error of force and moment balance over all solutions.
    """

    mounts: tuple[str, ...]
    solutions: tuple[str, ...]
    solution: NDArray[np.int64]
    force: tuple[Number, Number, Number]
    moment: tuple[Number, Number, Number]
    mean_tension: Number
    peak_tension: Number
    shear: Number
    line_load: Number
    residual: float
    findings: tuple[Finding, ...] = ()
