"""A panel with everything known, for tests: larger pads, every link of the chain, coupons for every case."""

from __future__ import annotations

from typing import Any

from sample_jobs import PANEL, HOUR_s, changed, hangs, pulls
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Mode


def panel_coupons() -> list[Coupon]:
    """Return evidence for every case of the panel: cold and hot pulls of the real foot, hot hangs, both modes."""
    found: list[Coupon] = []
    modes: tuple[Mode, ...] = ("tension", "shear")
    for mode in modes:
        for temperature_K, level in ((258.15, 1.6e6), (356.15, 1.2e6)):
            stresses = [level * part for part in (0.97, 0.99, 1.0, 1.02, 1.03)]
            found += pulls(stresses, temperature_K, "gelcoat", mode, foot="real")
        found += hangs([24 * HOUR_s] * 6, 0.45e6, 356.15, "gelcoat", mode)
    return found


def known_panel(**changes: Any) -> dict[str, Any]:
    """Return the panel on larger pads of a thicker tape, with every link of its chain known."""
    pads = {f"item.0.mount.{n}.pad": {"length_m": 0.09, "width_m": 0.08} for n in range(4)}
    links = [
        {"part": part, "strength_N": 6000.0, "source": "pulled two on the bench, the lower one"}
        for part in ("item frame", "fastener", "bracket", "upper bond")
    ]
    known: dict[str, Any] = {"tape.0.thickness_m": 3e-3, "item.0.link": links, "item.0.sharp": False}
    known["job.consequence"] = "medium"  # four feet are not redundant, which is no proof at high consequence
    return changed(PANEL, pads | known | changes)
