"""The panel of `calculix.py` in our own plate."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calculix import PANEL
from staydown.spread.flexible import free_flexibility, grips, hold
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid, Stiffness
from staydown.spread.pressure_field import field

POINT_m = 1e-6  # the other programs' springs stand on points


def lifts(cells: tuple[int, int], frame_N_m2: float) -> NDArray[np.float64]:
    """Return the lift of the springs' places, then of the places looked at. [m]"""
    panel = PANEL
    grid = Grid(
        along=Line(side_m=panel.length_m, cells=cells[0]), across=Line(side_m=panel.width_m, cells=cells[1])
    )
    stiffness = Stiffness(
        laminate_Nm=panel.modulus_Pa * panel.thickness_m**3 / 12 / (1 - panel.poisson**2),
        poisson=panel.poisson,
        frame_N_m2=frame_N_m2,
        frame_twist_N_m2=0.0,
    )
    held = np.array([panel.place_m(node) for node in panel.springs])
    looked_at = np.array([panel.place_m(node) for node in panel.looked_at])
    feet = grips(grid, held, np.full(held.shape, POINT_m), framed=False)
    even = field(grid, 0.0, 0.0)[:, None]
    flexibility = free_flexibility(grid, stiffness, feet, even, np.zeros((grid.unknowns, 0)), looked_at)
    springs = np.zeros((len(held), 6))
    springs[:, :3] = panel.spring_N_per_m
    position = np.concatenate([held, np.zeros((len(held), 1))], axis=-1)
    solved = hold(flexibility, np.arange(len(held)), position, springs, 0.0)
    force = panel.pressure_Pa * panel.length_m * panel.width_m
    load = np.array([force, 0.0, 0.0, force, 0.0, 0.0, 0.0])
    pulls = (solved.on_mounts @ load)[:, 2]
    return np.concatenate([pulls / panel.spring_N_per_m, solved.lift @ load])
