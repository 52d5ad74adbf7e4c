"""The numbers that can be asked for on how an item bends, bows, shakes and comes near the roof."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from staydown.assess import Mounted
from staydown.foundation.numbers import Number
from staydown.loads.load_case import BANDS
from staydown.outputs.held_trail import Index, Named
from staydown.spread.build_bow import BOWS_IN
from staydown.spread.demands import FlexibleAnswer
from staydown.spread.vibration import RoadResponse, VibrationAnswer
from staydown.verdict.checks import HIGH

LIKELY = BANDS.index("likely")
SHAKING, ROUGHNESS = "shaking", "ISO 8608"


def movement_numbers(mounted: Mounted) -> Iterator[Named]:
    """Yield what stands for case, season, mount and quantity in the path of each number, and the number."""
    flexible = mounted.demands.flexible
    if flexible is not None:
        yield from _bending(mounted, flexible)
        yield from _bow(mounted, flexible)
    yield from _shaking(mounted.vibration)


def bowing_case(mounted: Mounted) -> int:
    """Return the row of the case in which the item bows: the hot soak."""
    return next(n for n, case in enumerate(mounted.table.cases) if case.name == BOWS_IN)


def _bending(mounted: Mounted, flexible: FlexibleAnswer) -> Iterator[Named]:
    whole: dict[str, Number] = {
        "change by bending": flexible.change,
        "sag": flexible.sag,
        "force of the roof": flexible.roof,
    }
    if flexible.gap_closed is not None:
        whole["share of the gap closed"] = flexible.gap_closed
    for number, case in enumerate(mounted.table.cases):
        if case.family == "soak" and case.name != BOWS_IN:
            continue
        head = (case.name, case.exposure.season)
        for quantity, value in whole.items():
            yield (*head, "all", quantity), value, (number, HIGH, 0)
        for place, name in enumerate(flexible.places):
            yield (*head, "all", f"lift of the {name}"), flexible.lift, (number, HIGH, place)
        for mount, name in enumerate(mounted.demands.mounts if case.family != "soak" else ()):
            yield (*head, name, "pull of the bending item"), flexible.pull, (number, HIGH, mount)


def _bow(mounted: Mounted, flexible: FlexibleAnswer) -> Iterator[Named]:
    row = bowing_case(mounted)
    case = mounted.table.cases[row]
    head = (case.name, case.exposure.season)
    yield (*head, "all", "bow of the longer side"), flexible.bow, (row, HIGH, 0)
    for mount, name in enumerate(mounted.demands.mounts):
        yield (*head, name, "pull by the bow"), flexible.bow_pull, (row, HIGH, mount)


def _shaking(vibration: VibrationAnswer) -> Iterator[Named]:
    head = (SHAKING, "all", "all")
    softest, likely = (0, HIGH, 0), (0, LIKELY, 0)
    yield (*head, "lowest frequency"), vibration.lowest, softest
    yield (*head, "likely lowest frequency"), vibration.lowest, likely
    for name, frequency in vibration.motions:
        yield (*head, f"frequency of {name}"), frequency, softest
    for quantity, number in (
        ("bump factor", vibration.bump_factor),
        ("vortex frequency", vibration.vortices),
        ("flapping frequency", vibration.flapping),
        ("air speed that vortices meet it at", vibration.meeting_speed),
    ):
        yield (*head, quantity), number, softest
    for road in vibration.roads:
        for quantity, number in road_numbers(road).items():
            yield (f"{ROUGHNESS} class {road.road}", "all", "all", quantity), number, hardest_shaken(road)


def hardest_shaken(road: RoadResponse) -> Index:
    """Return where in the bands a road shakes an item most: a softer item is not always shaken more."""
    return (0, int(np.asarray(road.peak.value)[0, :, 0].argmax()), 0)


def road_numbers(road: RoadResponse) -> dict[str, Number]:
    """Return what one class of road does, by its name."""
    return {
        "spectrum at the roof": road.spectrum,
        "rms acceleration": road.rms,
        "peak acceleration": road.peak,
        "rms movement": road.movement,
    }
