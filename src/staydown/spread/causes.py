"""What one cause alone puts on one mount: the same springs as the whole load, since the solve is linear."""

from __future__ import annotations

import numpy as np

from staydown.foundation.numbers import at
from staydown.job.records import Item, Tape
from staydown.library.cards import Cards
from staydown.loads.load_case import LoadPart
from staydown.spread.build_pads import build_pads
from staydown.spread.build_solutions import HIGH, build_solutions, lay_out
from staydown.spread.rigid import reaction_matrix


def pull_of_part(
    item: Item,
    place: str,
    tape: Tape,
    cards: Cards,
    part: LoadPart,
    solution: str,
    where: tuple[int, int],
) -> float | None:
    """Return the pull of one cause on one mount at the high band, its factor applied. [N]

    Parameters
    ----------
    item, place, tape, cards : Item, str, Tape, Cards
        As for `build_demands`.
    part : LoadPart
        The cause.
    solution : str
        Name of the solution that governs at that mount; None is returned for one of a bending item.
    where : (case, mount)
        Row of the load table, number of the mount.
    """
    case, mount = where
    pads = build_pads(item, place, cards.planning["lever"], cards.planning["skin_stiffness"])
    solutions = build_solutions(item, tape, cards.tapes[tape.kind], pads)
    if solution not in solutions.names:
        return None
    row = np.array([solutions.names.index(solution)])
    layout = lay_out(solutions, pads, tape.thickness_m, row, np.array([HIGH]))
    index = (case, HIGH, 0)
    factor = at(part.factor, index)
    force = np.array([factor * at(component, index) for component in part.force])
    arm = np.array([at(coordinate, index) for coordinate in part.at])
    load = np.concatenate([force, np.cross(arm, force)])
    matrix = reaction_matrix(layout.point, layout.springs)[0]
    return float((matrix[mount] @ load)[2])
