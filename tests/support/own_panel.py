"""The panel of `calculix.py` in our own plate."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calculix import PANEL
from staydown.spread.contact import stop
from staydown.spread.flexible import at_points, free_flexibility, grips, hold
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


def stopped(cells: tuple[int, int], gap_m: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the pull of each spring and the force of each of 25 stops, pressed down over a roof at that gap. [N]"""
    panel = PANEL
    grid = Grid(
        along=Line(side_m=panel.length_m, cells=cells[0]), across=Line(side_m=panel.width_m, cells=cells[1])
    )
    laminate = panel.modulus_Pa * panel.thickness_m**3 / 12 / (1 - panel.poisson**2)
    stiffness = Stiffness(laminate_Nm=laminate, poisson=panel.poisson, frame_N_m2=0.0, frame_twist_N_m2=0.0)
    held = np.array([panel.place_m(node) for node in panel.springs])
    feet = grips(grid, held, np.full(held.shape, POINT_m), framed=False)
    points = np.array([panel.place_m((i, j)) for j in range(0, 13, 3) for i in range(0, 25, 6)])
    nothing = np.zeros((grid.unknowns, 0))
    loaded = free_flexibility(grid, stiffness, feet, field(grid, 0.0, 0.0)[:, None], nothing, points)
    pushed = free_flexibility(grid, stiffness, feet, at_points(grid, points).T, nothing, points)
    springs = np.zeros((1, len(held), 6))
    springs[..., :3] = panel.spring_N_per_m
    position = np.concatenate([held, np.zeros((len(held), 1))], axis=-1)[None]
    mounts = (np.arange(len(held))[None], position, springs, 0.0)
    solved = hold(loaded, *mounts)
    force = -panel.pressure_Pa * panel.length_m * panel.width_m
    load = np.array([force, 0.0, 0.0, force, 0.0, 0.0, 0.0])[:, None]
    told = stop(pushed, mounts, (solved.on_mounts @ load, solved.lift @ load), gap_m)
    return told.on[0, :, 2, 0], told.roof[0, :, 0]
