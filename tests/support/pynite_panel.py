"""The panel of `calculix.py` in PyNiteFEA: rectangular plates, frame members without twist, springs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from Pynite import FEModel3D

from calculix import PANEL

STOP_N_per_m = 1e9  # a roof that hardly gives


def lifts(frame_N_m2: float) -> NDArray[np.float64]:
    """Return the lift of the springs' places, then of the places looked at. [m]"""
    panel = PANEL
    along, across = panel.cells
    model = _plate(panel.pressure_Pa)
    if frame_N_m2:
        second_moment_m4 = frame_N_m2 / panel.modulus_Pa
        # next to no area and no torsion constant: the profile only bends
        model.add_section("profile", 1e-9, second_moment_m4, second_moment_m4, 1e-14)
        runs = [((i, j), (i + 1, j)) for j in (0, across) for i in range(along)]
        runs += [((i, j), (i, j + 1)) for i in (0, along) for j in range(across)]
        for number, (start, end) in enumerate(runs):
            ends = (f"{node[0]},{node[1]}" for node in (start, end))
            model.add_member(f"profile {number}", *ends, "plate", "profile")
    model.analyze_linear(check_stability=False, sparse=True)
    places = (*panel.springs, *panel.looked_at)
    return np.array([float(model.nodes[f"{i},{j}"].DZ["Combo 1"]) for i, j in places])


def stopped(gap_m: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the pull of each spring and the force of each stop, pressed down over a roof at that gap. [N]

    A stop is a spring that takes compression alone, between a node and a support that stands a gap too low.
    """
    panel = PANEL
    along, across = panel.cells
    model = _plate(-panel.pressure_Pa)
    stops = [(i, j) for j in range(0, across + 1, across // 4) for i in range(0, along + 1, along // 4)]
    for i, j in stops:
        model.add_node(f"roof {i},{j}", *panel.place_m((i, j)), -1.0)
        model.def_support(f"roof {i},{j}", *[True] * 6)
        model.def_node_disp(f"roof {i},{j}", "DZ", -gap_m)
        model.add_spring(f"stop {i},{j}", f"roof {i},{j}", f"{i},{j}", STOP_N_per_m, comp_only=True)
    model.analyze(check_stability=False, sparse=True)

    def lift(node: tuple[int, int]) -> float:
        return float(model.nodes[f"{node[0]},{node[1]}"].DZ["Combo 1"])

    pulls = np.array([panel.spring_N_per_m * lift(node) for node in panel.springs])
    return pulls, np.array([STOP_N_per_m * max(0.0, -lift(node) - gap_m) for node in stops])


def _plate(pressure_Pa: float) -> FEModel3D:
    """Return the plate on its springs under even pressure."""
    panel = PANEL
    along, across = panel.cells
    model = FEModel3D()
    shear = panel.modulus_Pa / 2 / (1 + panel.poisson)
    model.add_material("plate", panel.modulus_Pa, shear, panel.poisson, 0.0)
    for j in range(across + 1):
        for i in range(along + 1):
            model.add_node(f"{i},{j}", *panel.place_m((i, j)), 0.0)
    for j in range(across):
        for i in range(along):
            corners = (f"{i},{j}", f"{i + 1},{j}", f"{i + 1},{j + 1}", f"{i},{j + 1}")
            model.add_plate(f"plate {i},{j}", *corners, panel.thickness_m, "plate")
            model.add_plate_surface_pressure(f"plate {i},{j}", pressure_Pa)
    for i, j in panel.springs:
        model.def_support_spring(f"{i},{j}", "DZ", panel.spring_N_per_m)
    model.def_support("0,0", True, True, False, False, False, True)
    model.def_support(f"{along},0", False, True, False, False, False, False)
    return model
