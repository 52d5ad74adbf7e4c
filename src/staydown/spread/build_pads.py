"""Builds what the solve needs of the pads: sizes, places, levers and heights, each with its source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.numbers import Number, choose, definition, derive, typed
from staydown.job.records import Item, Mount
from staydown.library.cards import PlanningValue
from staydown.loads.load_case import BANDS
from staydown.spread import pad_laws as laws

Array = NDArray[np.float64]

ON_RIB = definition(float("inf"), "N/m", "on a rib the roof does not give; taken too where nobody knows")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pads:
    """The pads of one item; Numbers over (1, band, mount) or with axes of length one. [m], area [m²]

    length, width: along and across the vehicle. forward, left: centre of the pad from the item's centre.
    lever_along, lever_across: length of the lever if it lies that way, its side still open.
    height: connection above the pad. edge: side of the pad across the lever, the one that would peel.
    skin: stiffness of the roof under each foot [N/m], None where no foot is known to stand on bare skin.
    """

    names: tuple[str, ...]
    length: Number
    width: Number
    area: Number
    forward: Number
    left: Number
    lever_along: Number
    lever_across: Number
    height: Number
    edge: Number
    skin: Number | None

    def over_bands(self, number: Number) -> Array:
        """Return one of the pads' numbers as an array over (band, mount)."""
        value: Array = np.asarray(number.value, dtype=float)
        return np.broadcast_to(value, (1, len(BANDS), len(self.names))).reshape(len(BANDS), -1)


def build_pads(item: Item, item_place: str, lever_card: PlanningValue, skin_card: PlanningValue) -> Pads:
    """Return the pads of an item; levers left out take their share of the pad's side, band by band.

    Parameters
    ----------
    item : Item
        With at least one mount.
    item_place : str
        Dotted key of the item, such as `item.1`.
    lever_card : PlanningValue
        Lever over the pad's side, for mounts whose lever nobody typed.
    skin_card : PlanningValue
        Stiffness of the roof's skin, for mounts that stand between ribs; softest in the high band, where
        feet on ribs then carry for them.
    """
    places = [f"{item_place}.mount.{number}" for number in range(1, len(item.mount) + 1)]
    mounts = list(zip(item.mount, places, strict=True))
    # where only part of a pad touches, that part is the pad
    keys = [f"{place}.{'contact' if mount.contact else 'pad'}" for mount, place in mounts]
    lengths = [typed(m.touching.length_m, "m", key) for m, key in zip(item.mount, keys, strict=True)]
    widths = [typed(m.touching.width_m, "m", key) for m, key in zip(item.mount, keys, strict=True)]
    share = choose([lever_card.end(end) for end in ("low", "likely", "high")], axis=1)
    length, width = choose(lengths, axis=2), choose(widths, axis=2)
    behind = choose([typed(mount.behind_m, "m", f"{place}.behind") for mount, place in mounts], axis=2)
    gap = typed(item.gap_m, "m", f"{item_place}.gap")
    return Pads(
        names=tuple(mount.name for mount in item.mount),
        length=length,
        width=width,
        area=derive(laws.pad_area, pad_length_m=length, pad_width_m=width),
        forward=derive(
            laws.forward_of_centre,
            item_length_m=typed(item.length_m, "m", f"{item_place}.length"),
            behind_front_edge_m=behind,
        ),
        left=choose([typed(mount.left_m, "m", f"{place}.left") for mount, place in mounts], axis=2),
        lever_along=_levers(mounts, share, length, lengths),
        lever_across=_levers(mounts, share, width, widths),
        height=choose(
            [
                gap
                if mount.connection_height_m is None
                else typed(mount.connection_height_m, "m", f"{place}.connection_height")
                for mount, place in mounts
            ],
            axis=2,
        ),
        edge=choose([_edge(*row) for row in zip(item.mount, lengths, widths, strict=True)], axis=2),
        skin=_skin(item.mount, skin_card),
    )


def _levers(
    mounts: Sequence[tuple[Mount, str]], share: Number, side: Number, sides: Sequence[Number]
) -> Number:
    if all(mount.lever_m is None for mount, _ in mounts):
        return derive(laws.lever_of_share, share=share, pad_side_m=side)
    return choose(
        [
            derive(laws.lever_of_share, share=share, pad_side_m=own)
            if mount.lever_m is None
            else typed(mount.lever_m, "m", f"{place}.lever")
            for (mount, place), own in zip(mounts, sides, strict=True)
        ],
        axis=2,
    )


def _skin(mounts: Sequence[Mount], card: PlanningValue) -> Number | None:
    if all(mount.under != "skin" for mount in mounts):
        return None
    skin = choose([card.end(end) for end in ("high", "likely", "low")], axis=1)
    return choose([skin if mount.under == "skin" else ON_RIB for mount in mounts], axis=2)


def lever_lies_along(mount: Mount) -> bool:
    """Return whether a mount's lever lies along the vehicle; along the longer side where nobody knows."""
    if mount.lever_direction is None:
        return mount.touching.length_m >= mount.touching.width_m
    return mount.lever_direction == "along"


def _edge(mount: Mount, length: Number, width: Number) -> Number:
    return width if lever_lies_along(mount) else length
