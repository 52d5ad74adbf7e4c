"""Where on the item a load acts: the wind as a field that thins out from the windward edge, a hand as a palm.

The table of cases knows a resultant and its centre. Here it becomes a field with the same resultant and the
same centre: along and across it thins as a power of the distance to the lee edge, the power set by the
centre. A centre at the quarter of the side, as thin aerofoil theory has it, makes a parabola three times the
mean at the edge; a centre in the middle an even load. Common practice, no source: no field measured on a
moving roof was found.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.loads.load_case import BANDS, LoadPart
from staydown.spread.bending_laws import thinning_power
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid

Array = NDArray[np.float64]

PALM_m = 0.1  # a hand pushes on a palm's breadth; common practice, no source
_STEEPEST = 0.45  # share of the side: centres further out than this are pushes at an edge, no field
_DIGITS = 9  # centres that agree to this many digits of the side are one field


@dataclass(frozen=True, slots=True, kw_only=True)
class Fields:
    """Fields of force away from the roof, each by its centre: (fields, 2), over length and width from the middle.

    force_N: (fields, case, band), after factors.
    """

    centre: Array
    force_N: Array


def build_fields(sides_m: tuple[float, float], parts: Sequence[LoadPart], cases: int) -> Fields:
    """Return the fields of everything that lifts or presses an item of these sides in its cases."""
    places, forces = [], []
    for part in parts:
        force = _over(part.force[2].value, cases) * _over(part.factor.value, cases)
        if np.any(force):
            centre = np.stack([_over(number.value, cases) for number in part.at[:2]], axis=-1)
            places.append(np.round(centre / sides_m, _DIGITS))
            forces.append(force)
    if not places:
        return Fields(centre=np.zeros((0, 2)), force_N=np.zeros((0, cases, len(BANDS))))
    centres, which = np.unique(np.stack(places).reshape(-1, 2), axis=0, return_inverse=True)
    acts = which.reshape(len(places), cases, len(BANDS)) == np.arange(len(centres))[:, None, None, None]
    return Fields(centre=centres, force_N=np.where(acts, np.stack(forces), 0.0).sum(axis=1))


def field(grid: Grid, forward_share: float, left_share: float) -> Array:
    """Return the load on each unknown of a unit force whose centre is at these shares of length and width. [1]

    forward_share, left_share: centre from the middle, over the side, -1/2 to 1/2.
    """
    sides: list[Array]
    if max(abs(forward_share), abs(left_share)) > _STEEPEST:
        sides = [
            line.foot(np.array(share * line.side_m), np.array(PALM_m))[0]
            for line, share in ((grid.along, forward_share), (grid.across, left_share))
        ]
    else:
        sides = [_thinned(grid.along, forward_share), _thinned(grid.across, left_share)]
    return np.outer(sides[0], sides[1]).ravel()


def pressure_over_mean(share_forward: float, share_left: float, place: Array) -> Array:
    """Return the field's pressure over the mean pressure at places, shares of the sides, shape (..., 2). [1]"""
    ratio = np.ones(np.shape(place)[:-1])
    for axis, share in enumerate((share_forward, share_left)):
        power = float(thinning_power(abs(share)))
        to_lee = 0.5 + np.copysign(1.0, share) * place[..., axis]
        ratio *= (power + 1.0) * to_lee**power
    return ratio


def _thinned(line: Line, share: float) -> Array:
    return line.thinning(float(thinning_power(abs(share))), rear=share < 0)


def _over(value: float | Array, cases: int) -> Array:
    """Return a number of the table over (case, band)."""
    return np.broadcast_to(np.asarray(value, dtype=float), (cases, len(BANDS), 1))[..., 0]
