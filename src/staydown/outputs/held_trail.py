"""The numbers that can be asked for beside the cases: lost mounts, tethers, tape and screw at one mount."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from staydown.assess import Mounted
from staydown.foundation.numbers import Number
from staydown.verdict.unzip_trail import unzip_numbers

Index = tuple[int, int, int]
Named = tuple[tuple[str, str, str, str], Number, Index]  # (case, season, mount, quantity), number, where


def held_numbers(mounted: Mounted) -> Iterator[Named]:
    """Yield what stands for case, season, mount and quantity in the path of each number, and the number."""
    for name, who, numbers, index in (
        *_lost(mounted),
        *_tethers(mounted),
        *_shared(mounted),
        *_feet(mounted),
    ):
        for quantity, number in numbers.items():
            if number is not None:
                yield (name, "all", who, quantity), number, index


Group = tuple[str, str, dict[str, Number | None], Index]


def _lost(mounted: Mounted) -> Iterator[Group]:
    for rest in (*mounted.redundancy.singles, *mounted.redundancy.pairs):
        numbers = {
            "air speed": rest.air_speed,
            "road speed": rest.road_speed,
            "warning time": rest.warning,
            "life left": rest.life_left,
        }
        yield "lost mount", " and ".join(rest.lost), {"use": rest.trail}, rest.index
        yield "lost mount", " and ".join(rest.lost), numbers, (0, 0, 0)


def _feet(mounted: Mounted) -> Iterator[Group]:
    fits = zip(mounted.demands.mounts, mounted.demands.feet.fits, strict=True)
    for name, fit in fits:
        if fit is not None:
            numbers: dict[str, Number | None] = {
                "gap under the foot": fit.gap,
                "least tape thickness": fit.least_tape,
            }
            yield "curved roof", name, numbers, (0, 0, 0)
    unzip = mounted.unzip
    if unzip is not None:
        for step in unzip.steps:
            opened = f"{1e3 * step.opened_m:.0f} mm opened"
            yield opened, unzip.mount, unzip_numbers(unzip.opening, step), (0, 0, 0)


def _tethers(mounted: Mounted) -> Iterator[Group]:
    retention = mounted.retention
    yield "tether", "all", {"steady load": retention.steady}, retention.index
    most = int(np.argmax(np.asarray(retention.least_slack.value)))
    yield "tether", "all", {"least slack": retention.least_slack}, (0, 0, most)
    proposal = retention.proposal
    yield (
        "tether",
        "would do",
        {
            "slack": proposal.slack,
            "snatch load": proposal.snatch,
            "line needed": proposal.line_needed,
            "anchor needed": proposal.anchor_needed,
        },
        retention.index,
    )
    for tether in retention.tethers:
        numbers = {
            "snatch load": tether.snatch,
            "line needed": tether.line_needed,
            "line use": tether.line_use,
            "anchor needed": tether.anchor_needed,
            "anchor use": tether.anchor_use,
            "most slack": tether.most_slack,
        }
        yield "tether", f"tether {tether.number}", numbers, retention.index


def _shared(mounted: Mounted) -> Iterator[Group]:
    for shared in mounted.shared:
        numbers = {
            "screw share": shared.share,
            "screw strength": shared.screw,
            "tape strength": shared.tape,
            "strength together": shared.together,
        }
        yield "tape and screw", shared.mount, numbers, (0, 0, 0)
