"""The panel of `calculix.py` in scikit-fem: the same element assembled by a general-purpose library, with a frame."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from calculix import PANEL


def lifts(cells: tuple[int, int], frame_N_m2: float) -> NDArray[np.float64]:
    """Return the lift of the springs' places, then of the places looked at. [m]"""
    from scipy.sparse.linalg import spsolve
    from skfem import Basis, BilinearForm, ElementQuadBFS, LinearForm, MeshQuad
    from skfem.helpers import dd, ddot

    panel = PANEL
    stiffness = panel.modulus_Pa * panel.thickness_m**3 / 12 / (1 - panel.poisson**2)
    mesh = MeshQuad.init_tensor(
        np.linspace(-panel.length_m / 2, panel.length_m / 2, cells[0] + 1),
        np.linspace(-panel.width_m / 2, panel.width_m / 2, cells[1] + 1),
    )
    basis = Basis(mesh, ElementQuadBFS())

    def plate(u: Any, v: Any, w: Any) -> Any:
        one, two = dd(u), dd(v)
        sums = (one[0, 0] + one[1, 1]) * (two[0, 0] + two[1, 1])
        return stiffness * ((1 - panel.poisson) * ddot(one, two) + panel.poisson * sums)

    def beam(u: Any, v: Any, w: Any) -> Any:
        along = np.array([-w.n[1], w.n[0]])
        one, two = (np.einsum("i...,ij...,j...->...", along, dd(part), along) for part in (u, v))
        return frame_N_m2 * one * two

    matrix = BilinearForm(plate).assemble(basis)
    if frame_N_m2:
        matrix = matrix + BilinearForm(beam).assemble(basis.boundary())
    load = LinearForm(lambda v, w: panel.pressure_Pa * v).assemble(basis)
    places = np.array([panel.place_m(node) for node in (*panel.springs, *panel.looked_at)]).T
    probes = basis.probes(places).tocsr()
    held = probes[: len(panel.springs)]
    moved = spsolve((matrix + panel.spring_N_per_m * held.T @ held).tocsc(), load)
    found: NDArray[np.float64] = probes @ moved
    return found
