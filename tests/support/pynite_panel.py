"""The panel of `calculix.py` in PyNiteFEA: rectangular plates, frame members without twist, springs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from Pynite import FEModel3D

from calculix import PANEL


def lifts(frame_N_m2: float) -> NDArray[np.float64]:
    """Return the lift of the springs' places, then of the places looked at. [m]"""
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
            model.add_plate_surface_pressure(f"plate {i},{j}", panel.pressure_Pa)
    if frame_N_m2:
        second_moment_m4 = frame_N_m2 / panel.modulus_Pa
        # next to no area and no torsion constant: the profile only bends
        model.add_section("profile", 1e-9, second_moment_m4, second_moment_m4, 1e-14)
        runs = [((i, j), (i + 1, j)) for j in (0, across) for i in range(along)]
        runs += [((i, j), (i, j + 1)) for i in (0, along) for j in range(across)]
        for number, (start, end) in enumerate(runs):
            ends = (f"{node[0]},{node[1]}" for node in (start, end))
            model.add_member(f"profile {number}", *ends, "plate", "profile")
    for i, j in panel.springs:
        model.def_support_spring(f"{i},{j}", "DZ", panel.spring_N_per_m)
    model.def_support("0,0", True, True, False, False, False, True)
    model.def_support(f"{along},0", False, True, False, False, False, False)
    model.analyze_linear(check_stability=False, sparse=True)
    places = (*panel.springs, *panel.looked_at)
    return np.array([float(model.nodes[f"{i},{j}"].DZ["Combo 1"]) for i, j in places])
