"""The record of how the feet of an item bend and touch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Number
from staydown.loads.load_case import BANDS

Array = NDArray[np.float64]
FootKind = Literal["rigid", "between", "flexible"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A flat foot on a curved roof: the gap it leaves, and the least tape that fills it. [m]"""

    gap: Number
    least_tape: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Feet:
    """The feet of one item; Numbers over (1, band, mount) or with axes of length one.

    modulus: of the layer under them, stiffened where the class keeps its volume [Pa]. rate: lambda [1/m]; counted: the
    same, 0 where a foot counts as rigid. number: lambda L [1]; kinds: at the high band. along: 1 where the lever lies
    along the vehicle. side, edge: sides of the pad along the lever and across it [m]. pulled: how far from the edge a
    long foot pulls; rigid_from: thickness from which a foot counts as rigid [m]. touching: share of each pad that
    touches. fits: None for a mount on a flat roof.
    """

    mounts: tuple[str, ...]
    kinds: tuple[FootKind, ...]
    modulus: Number
    rate: Number
    counted: Number
    number: Number
    along: Number
    side: Number
    edge: Number
    pulled: Number
    rigid_from: Number
    foot_modulus: Number
    thickness: Number
    touching: tuple[float, ...]
    fits: tuple[Fit | None, ...]

    @property
    def bends(self) -> bool:
        """Return whether any foot is judged by its bending, in any band."""
        return bool(np.any(np.asarray(self.counted.value) > 0.0))

    def over_bands(self, number: Number) -> Array:
        """Return one of the feet's numbers as an array over (band, mount)."""
        value = np.asarray(number.value, dtype=float)
        return np.broadcast_to(value, (1, len(BANDS), len(self.mounts))).reshape(len(BANDS), -1)

    def springs(self, bands: Sequence[int] | NDArray[np.int64]) -> FootBend:
        """Return what the peak of a pad needs of its foot, rows for some bands: (row, mount)."""
        rows = list(bands)
        return FootBend(
            rate_one_per_m=self.over_bands(self.counted)[rows],
            along=self.over_bands(self.along)[rows],
            side_m=self.over_bands(self.side)[rows],
            edge_m=self.over_bands(self.edge)[rows],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class FootBend:
    """Feet as plain arrays, each (row, mount): lambda that counts [1/m], lever along, side and edge [m]."""

    rate_one_per_m: Array
    along: Array
    side_m: Array
    edge_m: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Lap:
    """A pad as an overlap of foot and roof skin that both stretch; Numbers over (case, band, mount). [1]

    lag: small, the shear is even. factor: shear at the worse end over its mean, by the larger of two theories; other:
    at the other end. A foam is even; in a rigid adhesive the ends decide.
    """

    lag: Number
    stretched: Number
    bent: Number
    factor: Number
    other: Number
