"""Writes the deck of a plate on springs for CalculiX, runs it where it is installed, reads it back."""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import dataclass, replace
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A plate of S8R shells under even pressure on springs along z. [m, Pa, N/m]

    springs, looked_at: columns and rows of nodes, counted in elements from a corner.
    """

    length_m: float
    width_m: float
    thickness_m: float
    modulus_Pa: float
    poisson: float
    cells: tuple[int, int]
    springs: tuple[tuple[int, int], ...]
    spring_N_per_m: float
    pressure_Pa: float
    looked_at: tuple[tuple[int, int], ...]

    def place_m(self, node: tuple[float, float]) -> tuple[float, float]:
        """Return where a node lies from the middle of the plate. [m]"""
        along, across = self.cells
        return (
            self.length_m * (node[0] / along - 0.5),
            self.width_m * (node[1] / across - 0.5),
        )


PANEL = Panel(
    length_m=1.2,
    width_m=0.6,
    thickness_m=3.2e-3,
    modulus_Pa=70e9,
    poisson=0.25,
    cells=(24, 12),
    springs=tuple((x, y) for x in (2, 9, 15, 22) for y in (0, 12)),
    spring_N_per_m=2e5,
    pressure_Pa=1000.0,
    looked_at=((12, 6), (12, 0), (0, 6), (0, 0)),
)

# the same plate in as many elements as the benchmark has cells
FINE = replace(
    PANEL,
    cells=(40, 24),
    springs=tuple((x, y) for x in (3, 15, 25, 37) for y in (0, 24)),
    looked_at=((20, 12), (20, 0), (0, 12), (0, 0)),
)


def deck(panel: Panel) -> str:
    """Return the whole input file."""
    along, across = panel.cells
    number: dict[tuple[int, int], int] = {}
    lines = ["** plate on springs, even pressure", "*NODE,NSET=NALL"]
    for j in range(2 * across + 1):
        for i in range(2 * along + 1):
            if i % 2 and j % 2:
                continue
            number[i, j] = len(number) + 1
            x, y = panel.place_m((i / 2, j / 2))
            lines.append(f"{number[i, j]},{x:.9g},{y:.9g},0.")
    element = 0
    lines.append("*ELEMENT,TYPE=S8R,ELSET=EPLATE")
    corners = ((0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1))
    for j in range(across):
        for i in range(along):
            element += 1
            nodes = [number[2 * i + a, 2 * j + b] for a, b in corners]
            lines.append(",".join(map(str, [element, *nodes])))
    lines.append("*ELEMENT,TYPE=SPRING1,ELSET=ESPRING")
    for i, j in panel.springs:
        element += 1
        lines.append(f"{element},{number[2 * i, 2 * j]}")
    lines += ["*MATERIAL,NAME=M", "*ELASTIC", f"{panel.modulus_Pa:.9g},{panel.poisson:.9g}"]
    lines += ["*SHELL SECTION,ELSET=EPLATE,MATERIAL=M", f"{panel.thickness_m:.9g}"]
    lines += ["*SPRING,ELSET=ESPRING", "3", f"{panel.spring_N_per_m:.6e}"]
    lines += ["*BOUNDARY", f"{number[0, 0]},1,2", f"{number[2 * along, 0]},2,2"]
    lines += ["*STEP", "*STATIC", "*DLOAD", f"EPLATE,P,{panel.pressure_Pa:.9g}"]
    wanted = [number[2 * i, 2 * j] for i, j in (*panel.springs, *panel.looked_at)]
    lines += ["*NSET,NSET=NOUT", *(f"{node}," for node in wanted), "*NODE PRINT,NSET=NOUT", "U", "*END STEP"]
    return "\n".join(lines) + "\n"


def installed() -> bool:
    """Return whether the program is on the path."""
    return shutil.which("ccx") is not None


def run(text: str, panel: Panel, folder: Path) -> list[float]:
    """Return the movement along z of the springs' nodes and of those looked at, in their order. [m]"""
    (folder / "panel.inp").write_text(text, encoding="ascii")
    subprocess.run(["ccx", "panel"], cwd=folder, check=True, capture_output=True, timeout=120)
    moved: dict[int, float] = {}
    for line in (folder / "panel.dat").read_text(encoding="ascii").splitlines():
        words = line.split()
        if len(words) == 4 and words[0].isdigit():
            moved[int(words[0])] = float(words[3])
    listed = [
        int(line.rstrip(",")) for line in text.split("*NSET,NSET=NOUT\n")[1].split("*NODE PRINT")[0].split()
    ]
    return [moved[node] for node in listed]
