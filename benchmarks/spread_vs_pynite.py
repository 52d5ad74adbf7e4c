"""The spread of 1,000 random layouts at once, against the same layouts one by one in PyNiteFEA.

Run: `python benchmarks/spread_vs_pynite.py [layouts]`. It prints the times, their ratio and the largest
difference of reactions: of forces over the layout's largest force, of moments over its largest moment.

A frame program knows no rigid item, only members: here one from the reference point to each mount, its
section set so that its end is as stiff as the stiffest spring of the layout times a factor. Too soft and the
item bends; too stiff and the springs drown in the round-off of the members. Only a window between agrees to
1e-6; the largest difference of 200 layouts over that factor, as this script prints it:

    factor      1e4    1e5    1e6    3e6    1e7    3e7    1e8    1e9    1e10
    difference  2e-4   2e-5   2e-6   7e-7   3e-7   2e-6   6e-6   3e-5   5e-4

The layouts stand around the item's centre, as mounts do; where they come near one line the window closes.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from Pynite import FEModel3D

from staydown.spread.rigid import reactions

Array = NDArray[np.float64]
MEMBER_FACTOR = 5e6  # inside the window below
FACTORS = (1e4, 1e5, 1e6, 3e6, 1e7, 3e7, 1e8, 1e9, 1e10)
KINDS = {"force": slice(0, 3), "moment": slice(3, 6)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Layouts:
    """Random layouts of three to eight mounts, filled up with mounts of no stiffness. [m, N/m, N m/rad, N, N m]"""

    position_m: Array
    stiffness: Array
    force_N: Array
    moment_Nm: Array

    def mounts(self, layout: int) -> int:
        """Return how many mounts the layout has."""
        return int(np.count_nonzero(self.stiffness[layout, :, 2]))


def random_layouts(count: int, seed: int) -> Layouts:
    """Return layouts of foam pads of unequal sizes under items of 0.3 to 2 m, half of them hinged."""
    generator = np.random.default_rng(seed)
    most = 8
    mounts = generator.integers(3, most + 1, (count, 1))
    turn = (np.arange(most) + generator.uniform(-0.3, 0.3, (count, most))) * 2 * np.pi / mounts
    half = generator.uniform(0.15, 1.0, (count, 1, 2)) * generator.uniform(0.5, 1.0, (count, most, 1))
    flat = np.stack([np.cos(turn), np.sin(turn)], axis=-1) * half
    height = generator.uniform(0.0, 0.1, (count, most, 1))
    length, width = generator.uniform(0.025, 0.12, (2, count, most))
    pull, shear = 1.0e6 * length * width / 1.1e-3, 0.35e6 * length * width / 1.1e-3
    clamped = np.arange(count)[:, None] % 2
    tilts = (clamped * pull * width**2 / 12, clamped * pull * length**2 / 12)
    twist = clamped * shear * (length**2 + width**2) / 12
    stiffness = np.stack([shear, shear, pull, *tilts, twist], axis=-1)
    stands = np.arange(most) < mounts
    return Layouts(
        position_m=np.concatenate([flat, height], axis=-1),
        stiffness=stiffness * stands[..., None],
        force_N=generator.normal(size=(count, 3)) * (200.0, 200.0, 1500.0),
        moment_Nm=generator.normal(size=(count, 3)) * 300.0,
    )


def together(layouts: Layouts) -> Array:
    """Return the force and moment on every mount of every layout, solved in one batch: (layout, mount, 6)."""
    pair = reactions(layouts.position_m, layouts.stiffness, layouts.force_N, layouts.moment_Nm)
    return np.concatenate(pair, axis=-1)


def in_frame_program(layouts: Layouts, layout: int, factor: float = MEMBER_FACTOR) -> Array:
    """Return the same for one layout from PyNiteFEA: stiff members to six springs at each mount."""
    model = FEModel3D()
    springs = layouts.stiffness[layout]
    stiffness = factor * float(springs.max())
    model.add_material("stiff", stiffness, stiffness, 0.0, 0.0)
    model.add_node("item", 0.0, 0.0, 0.0)
    names = [f"mount {number}" for number in range(layouts.mounts(layout))]
    for name, point, spring in zip(names, layouts.position_m[layout], springs, strict=False):
        model.add_node(name, *(float(x) for x in point))
        length = float(np.linalg.norm(point))
        # E A / l and E I / l^3 are then the same for every member, long or short
        model.add_section(name, length, length**3, length**3, length**3)
        model.add_member(f"to {name}", "item", name, "stiff", name)
        for freedom, value in zip(("DX", "DY", "DZ", "RX", "RY", "RZ"), spring, strict=True):
            if value > 0:
                model.def_support_spring(name, freedom, float(value))
    load = (*layouts.force_N[layout], *layouts.moment_Nm[layout])
    for direction, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), load, strict=True):
        model.add_node_load("item", direction, float(value))
    model.analyze_linear(check_stability=False, sparse=False)
    on_mounts = np.zeros(springs.shape)
    for row, name in enumerate(names):
        node = model.nodes[name]
        moved = [getattr(node, freedom)["Combo 1"] for freedom in ("DX", "DY", "DZ", "RX", "RY", "RZ")]
        on_mounts[row] = springs[row] * moved
    return on_mounts


def largest_difference(one: Array, other: Array) -> float:
    """Return the largest difference of reactions over the largest reaction of its kind in its layout."""
    worst = 0.0
    for part in KINDS.values():
        largest = np.abs(other[..., part]).max(axis=(-2, -1))
        difference = np.abs(one[..., part] - other[..., part]).max(axis=(-2, -1))
        worst = max(worst, float(np.max(difference[largest > 0] / largest[largest > 0])))
    return worst


def main(count: int) -> None:
    """Time both ways on the same layouts and print ratio and difference."""
    layouts = random_layouts(count, seed=1)
    together(layouts)
    start = time.perf_counter()
    ours = together(layouts)
    ours_s = time.perf_counter() - start
    start = time.perf_counter()
    theirs = np.stack([in_frame_program(layouts, layout) for layout in range(count)])
    theirs_s = time.perf_counter() - start
    print(f"{count} layouts at once: {ours_s * 1e3:.1f} ms; one by one in PyNiteFEA: {theirs_s:.2f} s")
    print(f"ratio {theirs_s / ours_s:.0f}; largest difference {largest_difference(ours, theirs):.1e}")
    few = random_layouts(min(count, 200), seed=1)
    for factor in FACTORS:
        rows = [in_frame_program(few, layout, factor) for layout in range(len(few.force_N))]
        print(f"members {factor:.0e} times as stiff: {largest_difference(together(few), np.stack(rows)):.0e}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
