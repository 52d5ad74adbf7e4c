"""The chain from the item's frame to the roof's skin: which link is known, by what, and how strong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import CouponGroup
from staydown.foundation.exposure import Mode
from staydown.foundation.numbers import Number

Part = Literal["item frame", "fastener", "bracket", "upper bond", "lower bond", "coating", "skin"]
PARTS: tuple[Part, ...] = ("item frame", "fastener", "bracket", "upper bond", "lower bond", "coating", "skin")
BELOW_REAL_FOOT: tuple[Part, ...] = ("upper bond", "lower bond", "coating", "skin")
BELOW_SMALL_PAD: tuple[Part, ...] = ("lower bond", "coating", "skin")
SAME_FOOT = 1.0 / 3.0  # areas within this of each other count as one foot; common practice, no source
LEAST_PULLS = 3  # the same count as for a tolerance bound: fewer say nothing about a population


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainLink:
    """One link at one mount: its strength where it is known apart, and by what it is known. [N]

    by_bond: it was loaded together with the bond in the pull-offs, so the bond's use is its use.
    """

    mount: str
    part: Part
    strength: Number | None
    known_by: str
    by_bond: bool = False

    @property
    def known(self) -> bool:
        """Return whether anything is known of this link."""
        return self.by_bond or self.strength is not None


def parts_pulled(groups: Mapping[Mode, CouponGroup], pads_m2: Sequence[float]) -> dict[Part, str]:
    """Return the links that pull-offs on this surface have loaded, each with what pulled it.

    At least three pull-offs in tension or with a lever, on this surface, not spoiled; the upper bond is among
    them only where the real foot was pulled: a coupon as large as one of the item's pads, within a third.

    Parameters
    ----------
    groups : mapping
        Coupons of the tape on the surface, by mode.
    pads_m2 : sequence of float
        Areas of the item's pads. [m²]
    """
    pulls = [coupon for mode in ("tension", "cleavage") for coupon in _pulled(groups.get(mode))]
    known: dict[Part, str] = {}
    if len(pulls) >= LEAST_PULLS:
        known |= dict.fromkeys(BELOW_SMALL_PAD, f"{len(pulls)} pull-offs on this surface")
    real = sum(
        coupon.foot == "real"
        and coupon.area_m2 is not None
        and any(abs(coupon.area_m2 / pad - 1.0) <= SAME_FOOT for pad in pads_m2)
        for coupon in pulls
    )
    if real >= LEAST_PULLS:
        known |= dict.fromkeys(BELOW_REAL_FOOT, f"{real} pull-offs of the real foot on this surface")
    return known


def _pulled(group: CouponGroup | None) -> list[Coupon]:
    if group is None:
        return []
    return [coupon for coupon in (*group.valid, *group.conditioned) if coupon.result == "broke"]


def build_chain(
    mounts: Mapping[str, Mapping[Part, tuple[Number | None, str]]], pulled: Mapping[Part, str]
) -> tuple[ChainLink, ...]:
    """Return every link of every mount.

    Parameters
    ----------
    mounts : mapping
        For each mount the links that somebody typed: part -> (strength [N] or None, known by).
    pulled : mapping
        The links that pull-offs have loaded, from `parts_pulled`.
    """
    links = []
    for mount, typed_links in mounts.items():
        for part in PARTS:
            strength, known_by = typed_links.get(part, (None, "unknown"))
            by_bond = part in pulled
            if strength is None and by_bond:
                known_by = pulled[part]
            links.append(
                ChainLink(mount=mount, part=part, strength=strength, known_by=known_by, by_bond=by_bond)
            )
    return tuple(links)
