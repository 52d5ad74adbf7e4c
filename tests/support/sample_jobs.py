"""Invented jobs and coupons for tests, built in SI; a test changes what it is about by the field's own place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import deepcopy
from functools import cache
from typing import Any

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Mode
from staydown.job.records import Job
from staydown.library.cards import Cards
from staydown.loads.build_cases import build_cases
from staydown.loads.load_case import CaseTable, LoadPart
from staydown.storage.read_cards import read_cards
from staydown.verdict.standing import rate_consequence

KMH_m_per_s = 1 / 3.6
HOUR_s = 3600.0

PANEL: dict[str, Any] = {
    "format": 1,
    "job": {"name": "Heron", "consequence": "high"},
    "vehicle": {
        "roof_length_m": 4.2,
        "roof_width_m": 1.75,
        "roof_height_m": 2.65,
        "surface": "gelcoat",
        "absorptance": 0.30,
    },
    "travel": {
        "cruise_speed_m_per_s": 95 * KMH_m_per_s,
        "top_speed_m_per_s": 115 * KMH_m_per_s,
        "headwind_m_per_s": 25 * KMH_m_per_s,
        "crosswind_m_per_s": 35 * KMH_m_per_s,
        "longest_leg_s": 2.5 * HOUR_s,
    },
    "climate": {
        "coldest_K": 258.15,
        "hottest_K": 311.15,
        "sun_W_per_m2": 1000.0,
        "storm_gust_m_per_s": 110 * KMH_m_per_s,
        "snow_Pa": 600.0,
    },
    "tape": [
        {
            "name": "grey foam",
            "kind": "acrylic foam tape",
            "thickness_m": 1.1e-3,
            "tension_modulus_Pa": 1.0e6,
            "shear_modulus_Pa": 0.35e6,
        }
    ],
    "item": [
        {
            "name": "forward panel",
            "kind": "solar panel",
            "length_m": 1.48,
            "width_m": 0.67,
            "thickness_m": 0.035,
            "mass_kg": 11.2,
            "gap_m": 0.045,
            "behind_roof_front_m": 0.9,
            "front_edge": "open",
            "material": "glass in aluminium frame",
            "tape": "grey foam",
            "mount": [
                {
                    "name": f"{along} {across}",
                    "behind_m": behind,
                    "left_m": left,
                    "pad": {"length_m": 0.08, "width_m": 0.05},
                    "lever_m": 0.012,
                    "lever_direction": "across",
                    "foot_thickness_m": 0.012,
                }
                for along, behind in (("front", 0.12), ("rear", 1.36))
                for across, left in (("left", 0.31), ("right", -0.31))
            ],
        }
    ],
}

PUCK: dict[str, Any] = {
    "format": 1,
    "job": {"name": "Wren", "consequence": "low"},
    "vehicle": {
        "roof_length_m": 4.2,
        "roof_width_m": 1.75,
        "roof_height_m": 2.65,
        "surface": "painted_steel",
        "absorptance": 0.30,
    },
    "travel": {
        "cruise_speed_m_per_s": 26.0,
        "top_speed_m_per_s": 32.0,
        "headwind_m_per_s": 9.0,
        "crosswind_m_per_s": 9.0,
        "longest_leg_s": 2.5 * HOUR_s,
        "altitude_m": 0.0,
    },
    "climate": {
        "coldest_K": 263.15,
        "hottest_K": 308.15,
        "sun_W_per_m2": 900.0,
        "storm_gust_m_per_s": 30.0,
    },
    "tape": [
        {
            "name": "grey foam",
            "kind": "acrylic foam tape",
            "thickness_m": 1.1e-3,
            "tension_modulus_Pa": 1.0e6,
            "shear_modulus_Pa": 0.35e6,
        }
    ],
    "ratio": [
        {
            "tape": "grey foam",
            "mode": mode,
            "condition": "wet",
            "temperature_K": 296.15,
            "kept": 0.9,
            "source": "five coupons after 14 days in water, against five dry",
        }
        for mode in ("tension", "shear")
    ],
    "item": [
        {
            "name": "position puck",
            "kind": "antenna dome",
            "length_m": 0.066,
            "width_m": 0.066,
            "thickness_m": 0.018,
            "mass_kg": 0.06,
            "gap_m": 0.0,
            "behind_roof_front_m": 1.6,
            "front_edge": "sealed",
            "material": "abs",
            "sharp": False,
            "tape": "grey foam",
            "link": [
                {"part": part, "strength_N": 2500.0, "source": "pulled two on the bench, the lower one"}
                for part in ("item frame", "fastener", "bracket", "upper bond")
            ],
            "mount": [
                {
                    "name": "pad",
                    "behind_m": 0.033,
                    "left_m": 0.0,
                    "pad": {"length_m": 0.064, "width_m": 0.064},
                    "lever_m": 0.0,
                    "foot_material": "aluminium",
                    "connection_height_m": 0.0,
                }
            ],
        }
    ],
}


@cache
def cards() -> Cards:
    """Return the card library."""
    return read_cards()


def changed(base: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """Return a copy of a job's tables with values set by place, such as `item.0.mount.2.lever_m`."""
    tables = deepcopy(dict(base))
    for place, value in changes.items():
        *way, last = place.split(".")
        at: Any = tables
        for step in way:
            at = at[int(step)] if isinstance(at, list) else at.setdefault(step, {})
        if isinstance(at, list):
            at[int(last)] = value
        else:
            at[last] = value
    return tables


def job_of(base: Mapping[str, Any], changes: Mapping[str, Any] | None = None) -> Job:
    """Return the job of some tables with changes by place."""
    return Job.model_validate(changed(base, changes or {}))


def own(value: float) -> dict[str, Any]:
    """Return a planning value of one's own, for `planning`: all three ends alike."""
    return {"low": value, "likely": value, "high": value, "source": "scenario"}


def table_of(base: Mapping[str, Any], changes: Mapping[str, Any] | None = None) -> CaseTable:
    """Return the cases of a job's first item, with the library's planning values."""
    job = job_of(base, changes)
    consequence, _ = rate_consequence(job, job.item[0], cards().planning)
    return build_cases(job, job.item[0], "item.1", consequence, cards())


def part_of(table: CaseTable, name: str) -> LoadPart:
    """Return the one part of this name."""
    (part,) = [part for part in table.parts if part.name == name]
    return part


def row_of(table: CaseTable, name: str, season: str = "cold") -> int:
    """Return the index of a case by name and season."""
    (row,) = [n for n, case in enumerate(table.cases) if (case.name, case.exposure.season) == (name, season)]
    return row


def over(value: Any, table: CaseTable, mounts: int = 1) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return a Number's value over (case, band, mount)."""
    return np.broadcast_to(np.asarray(value.value, dtype=float), (len(table.cases), 3, mounts))


def _coupon(
    name: str, surface: str, mode: Mode, stress_Pa: float, temperature_K: float, **more: Any
) -> Coupon:
    area = 0.038**2
    told: dict[str, Any] = {"area_m2": area, "load_N": stress_Pa * area, "temperature_K": temperature_K}
    return Coupon(name=f"{mode} {name}", tape="grey foam", surface=surface, mode=mode, **told | more)


def pulls(
    stresses_Pa: Sequence[float], temperature_K: float, surface: str, mode: Mode = "tension", **more: Any
) -> list[Coupon]:
    """Return straight pull-offs of ten seconds, of 38 mm squares, broken in the tape unless told otherwise."""
    told: dict[str, Any] = {"result": "broke", "lasted_s": 10.0, "failure_pattern": "cohesive"}
    return [
        _coupon(f"pull {temperature_K:.0f} K {n}", surface, mode, stress, temperature_K, **told | more)
        for n, stress in enumerate(stresses_Pa, start=1)
    ]


def hangs(
    lasted_s: Sequence[float],
    stress_Pa: float,
    temperature_K: float,
    surface: str,
    mode: Mode = "tension",
    **more: Any,
) -> list[Coupon]:
    """Return hang tests at one stress; still holding unless told otherwise."""
    return [
        _coupon(
            f"hang {temperature_K:.0f} K {n}",
            surface,
            mode,
            stress_Pa,
            temperature_K,
            **{"lasted_s": lasted, "result": "holding"} | more,
        )
        for n, lasted in enumerate(lasted_s, start=1)
    ]


def puck_coupons() -> list[Coupon]:
    """Return evidence that covers every case of the puck: cold and hot pulls, hot hangs that fell, both modes."""
    surface, fell = "painted_steel", (30e3, 34e3, 37e3, 41e3, 46e3)
    modes: tuple[tuple[Mode, float], ...] = (("tension", 1.0), ("shear", 0.8))
    fallen: dict[str, Any] = {"result": "fell", "failure_pattern": "cohesive"}
    found = []
    for mode, share in modes:
        for temperature_K, level in ((263.15, 1250e3), (296.15, 1050e3), (350.15, 850e3)):
            stresses = [share * level * part for part in (0.97, 0.99, 1.0, 1.02, 1.03)]
            found += pulls(stresses, temperature_K, surface, mode, foot="real")
        found += hangs(fell, share * 250e3, 350.15, surface, mode, **fallen)
    return found
