"""Newton's ascent on finite differences, for functions that take many points at once."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from staydown.strength.families import Array

_TRIES = np.array([1.0, 0.5, 0.2, 0.05, 0.01])


def ascend(
    function: Callable[[Array], Array],
    start: Array,
    steps: Array,
    *,
    rounds: int,
    close: float,
    least_curvature: float,
    longest: float,
) -> tuple[Array, Array, float]:
    """Return where a function peaks, its curvature there (minus the second derivatives) and its value.

    Parameters
    ----------
    function : callable
        Takes points, shape (points, dimensions), returns values, shape (points,).
    start, steps : array
        Where to begin; the step of the finite differences in each dimension.
    rounds : int
        At most so many steps of Newton.
    close : float
        Stop when the value rises by less.
    least_curvature : float
        Floor of the curvature's eigenvalues, in units of `steps`.
    longest : float
        Longest step, in units of `steps`.
    """
    d = start.size
    pairs = [(i, j) for i in range(d) for j in range(i)]
    unit = np.eye(d)
    moves = [np.zeros(d), *unit, *(-unit)]
    for i, j in pairs:
        moves += [unit[i] + unit[j], -unit[i] - unit[j]]
    stencil = np.array(moves) * steps
    z, here = start.astype(float), -np.inf
    curvature = np.eye(d)
    for _ in range(rounds):
        f = function(z + stencil)
        here = float(f[0])
        up, down = f[1 : d + 1], f[d + 1 : 2 * d + 1]
        gradient = (up - down) / 2.0
        curvature = -np.diag(up + down - 2.0 * here)
        for place, (i, j) in enumerate(pairs):
            both = f[2 * d + 1 + 2 * place] + f[2 * d + 2 + 2 * place]
            curvature[i, j] = curvature[j, i] = -(both - up[i] - down[i] - up[j] - down[j] + 2.0 * here) / 2.0
        values, vectors = np.linalg.eigh(curvature)
        values = np.maximum(values, least_curvature)
        step = vectors @ ((vectors.T @ gradient) / values)
        step = step * min(1.0, longest / max(float(np.linalg.norm(step)), 1e-300)) * steps
        tries = z + _TRIES[:, None] * step
        found = function(tries)
        best = int(np.argmax(np.where(np.isfinite(found), found, -np.inf)))
        if not found[best] > here + close:
            if found[best] > here:
                z, here = tries[best], float(found[best])
            break
        z, here = tries[best], float(found[best])
    curvature = (vectors * values) @ vectors.T / np.outer(steps, steps)
    return z, curvature, here
