"""How an item bends, bows and shakes, and how near it comes to the roof, as plain values in SI."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from staydown.assess import Mounted
from staydown.foundation.numbers import Number, at
from staydown.outputs.movement_trail import LIKELY, bowing_case, hardest_shaken
from staydown.spread.build_bow import BOWS_IN
from staydown.verdict.checks import HIGH

STIFFEST = 0


def bending_json(mounted: Mounted) -> dict[str, Any] | None:
    """Return what an item's bending changes; None where it is taken as rigid. At the high band."""
    flexible = mounted.demands.flexible
    if flexible is None:
        return None
    row = bowing_case(mounted)
    sag = np.asarray(flexible.sag.value)[:, HIGH, 0]
    lowest = int(sag.argmax())
    case = mounted.table.cases[lowest]
    return {
        "counted": flexible.counted,
        "balance_error": flexible.residual,
        "bow_m": _plain(flexible.bow, (row, HIGH, 0)),
        "most_sag": {
            "case": case.name,
            "season": case.exposure.season,
            "sag_m": float(sag[lowest]),
            "gap_closed": None
            if flexible.gap_closed is None
            else _plain(flexible.gap_closed, (lowest, HIGH, 0)),
        },
    }


def case_bending_json(mounted: Mounted, case: int) -> dict[str, Any] | None:
    """Return how a bending item moves in one case; None where it is rigid."""
    flexible = mounted.demands.flexible
    if flexible is None:
        return None
    return {
        "change": _plain(flexible.change, (case, HIGH, 0)),
        "lift_m": {
            place: _plain(flexible.lift, (case, HIGH, number)) for number, place in enumerate(flexible.places)
        },
        "sag_m": _plain(flexible.sag, (case, HIGH, 0)),
        "gap_closed": None if flexible.gap_closed is None else _plain(flexible.gap_closed, (case, HIGH, 0)),
        "roof_force_N": _plain(flexible.roof, (case, HIGH, 0)),
    }


def mount_bending_json(mounted: Mounted, case: int, mount: int) -> dict[str, float | None]:
    """Return what a bending item pulls at one mount, and in the hot soak what its bow pulls there."""
    flexible = mounted.demands.flexible
    told = {"bending_pull_N": None if flexible is None else _plain(flexible.pull, (case, HIGH, mount))}
    if mounted.table.cases[case].name == BOWS_IN:
        told["bow_pull_N"] = None if flexible is None else _plain(flexible.bow_pull, (case, HIGH, mount))
    return told


def shaking_json(mounted: Mounted) -> dict[str, Any]:
    """Return an item's natural frequencies, what roads and bumps do, where vortices meet it.

    At the high band, the softest item and tape, with the likely and the stiffest beside the lowest frequency; roads
    at the band that they shake most.
    """
    vibration, index = mounted.vibration, (0, HIGH, 0)
    return {
        "bends": vibration.bends,
        "lowest_frequency_Hz": _plain(vibration.lowest, index),
        "likely_lowest_frequency_Hz": _plain(vibration.lowest, (0, LIKELY, 0)),
        "stiffest_lowest_frequency_Hz": _plain(vibration.lowest, (0, STIFFEST, 0)),
        "motions": [
            {"name": name, "frequency_Hz": _plain(frequency, index)} for name, frequency in vibration.motions
        ],
        "bump_factor": _plain(vibration.bump_factor, index),
        "vortex_frequency_Hz": _plain(vibration.vortices, index),
        "flapping_frequency_Hz": _plain(vibration.flapping, index),
        "meeting_air_speed_m_per_s": _plain(vibration.meeting_speed, index),
        "roads": [
            {
                "class": road.road,
                "spectrum_m2_per_s3": _plain(road.spectrum, hardest_shaken(road)),
                "rms_m_per_s2": _plain(road.rms, hardest_shaken(road)),
                "peak_m_per_s2": _plain(road.peak, hardest_shaken(road)),
                "movement_rms_m": _plain(road.movement, hardest_shaken(road)),
            }
            for road in vibration.roads
        ],
    }


def _plain(number: Number, index: tuple[int, int, int]) -> float | None:
    value = at(number, index)
    return value if math.isfinite(value) else None
