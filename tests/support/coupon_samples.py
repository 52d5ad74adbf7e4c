"""An invented class card and coupons for tests of the strength wing, in SI."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from staydown.evidence.coupon import Coupon, Result
from staydown.foundation.exposure import Exposure
from staydown.library.cards import Band, TapeClassCard

HOUR_s = 3600.0
ROOM_K = 296.15


def band(low: float, likely: float, high: float, unit: str = "1") -> Band:
    """Return a planning band."""
    return Band(
        low=low, likely=likely, high=high, unit=unit, basis="planning value", source="invented for tests"
    )


CARD = TapeClassCard(
    id="test tape",
    name="test tape",
    structural=True,
    why_not="",
    rigid=False,
    tension_modulus=band(0.5e6, 1e6, 2e6, "Pa"),
    shear_modulus=band(0.2e6, 0.35e6, 0.7e6, "Pa"),
    strength_1h_23C=band(60e3, 130e3, 300e3, "Pa"),
    slope=band(5.0, 9.0, 16.0),
    activation_energy=band(50e3, 80e3, 120e3, "J/mol"),
    scatter=band(0.2, 0.4, 0.8),
    coldest_K=233.15,
    hottest_K=363.15,
)


def coupon(
    result: Result, stress_Pa: float, lasted_s: float, temperature_K: float = ROOM_K, **more: Any
) -> Coupon:
    """Return a coupon of 25 mm x 25 mm in tension, unless told otherwise."""
    area_m2 = more.pop("area_m2", 625e-6)
    fields = {"name": f"{result} {stress_Pa:.6g} {lasted_s:.6g}", "tape": "test tape", "surface": "gelcoat"}
    fields |= {"mode": "tension"} | more
    return Coupon(
        result=result,
        load_N=stress_Pa * (area_m2 or 1.0),
        area_m2=area_m2,
        lasted_s=lasted_s,
        temperature_K=temperature_K,
        **fields,
    )


def lives(
    hours: Sequence[float], held: Sequence[float] = (), stress_Pa: float = 1.0, **more: Any
) -> list[Coupon]:
    """Return coupons that fell after so many hours under one stress, and others still holding."""
    fell = [coupon("fell", stress_Pa, h * HOUR_s, name=f"fell {i}", **more) for i, h in enumerate(hours)]
    return fell + [
        coupon("holding", stress_Pa, h * HOUR_s, name=f"held {i}", **more) for i, h in enumerate(held)
    ]


def pulls(stresses_Pa: Sequence[float], rate_Pa_per_s: float, **more: Any) -> list[Coupon]:
    """Return coupons pulled at one rate."""
    return [
        coupon("broke", stress, stress / rate_Pa_per_s, name=f"pull {i}", **more)
        for i, stress in enumerate(stresses_Pa)
    ]


def exposure(hours: float, temperature_K: float = ROOM_K) -> Exposure:
    """Return an exposure of so many hours."""
    return Exposure(lasts_s=hours * HOUR_s, temperature_K=temperature_K, season="hot")


# six hangs of 12 kg on 25 mm x 25 mm at 40 °C: four fell, one holds, one was spoiled by a slipped heat lamp
SIX_HANGS_STRESS_Pa = 188e3
SIX_HANGS = [
    *(
        coupon("fell", SIX_HANGS_STRESS_Pa, minutes * 60.0, 313.15, name=f"hang {minutes}")
        for minutes in (95.0, 140.0, 118.0, 162.0)
    ),
    coupon("holding", SIX_HANGS_STRESS_Pa, 170 * 60.0, 313.15, name="hang 170"),
    coupon("spoiled", SIX_HANGS_STRESS_Pa, 61 * 60.0, 313.15, name="hang 61", note="the heat lamp slipped"),
]
