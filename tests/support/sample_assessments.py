"""Invented jobs, assessed once each, for the texts and pictures that are made of them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from staydown.assess import Assessment, Facts, assess
from staydown.evidence.coupon import Coupon
from staydown.job.records import Job
from staydown.storage.read_cards import read_cards

LONG = "a front panel whose owner gave it a name that is a good deal longer than a line of eighty cells"


def corners(
    names: tuple[str, ...] = ("front left", "front right", "rear left", "rear right"),
) -> list[dict[str, Any]]:
    """Return four corner mounts of a panel 1480 mm x 670 mm."""
    places = [(0.12, 0.31), (0.12, -0.31), (1.36, 0.31), (1.36, -0.31)]
    return [mount(name, *place) for name, place in zip(names, places, strict=True)]


def mount(name: str, behind_m: float, left_m: float, **more: Any) -> dict[str, Any]:
    """Return a mount with a pad 80 mm x 50 mm and a lever across it."""
    own = {"name": name, "behind_m": behind_m, "left_m": left_m, "pad": {"length_m": 0.08, "width_m": 0.05}}
    # feet thick enough not to bend on their tape: bending feet have tests of their own
    stiff = {"foot_thickness_m": 0.04, "foot_material": "aluminium"}
    return own | {"lever_m": 0.004, "lever_direction": "across"} | stiff | more


def panel(name: str = "forward panel", **more: Any) -> dict[str, Any]:
    """Return a rigid panel on four corners."""
    own = {"name": name, "kind": "solar panel", "length_m": 1.48, "width_m": 0.67, "thickness_m": 0.035}
    own |= {
        "mass_kg": 11.2,
        "gap_m": 0.045,
        "behind_roof_front_m": 0.9,
        "front_edge": "open",
        "tape": "grey foam",
    }
    return own | {"material": "glass in aluminium frame", "sharp": False, "mount": corners()} | more


def puck(name: str = "puck", **more: Any) -> dict[str, Any]:
    """Return a small light item on one pad."""
    own = {
        "name": name,
        "length_m": 0.06,
        "width_m": 0.06,
        "thickness_m": 0.02,
        "mass_kg": 0.06,
        "gap_m": 0.0,
    }
    own |= {"behind_roof_front_m": 0.4, "front_edge": "sealed", "tape": "grey foam", "consequence": "low"}
    pad = mount("pad", 0.03, 0.0, pad={"length_m": 0.05, "width_m": 0.05}, lever_m=0.0)
    return own | {"sharp": False, "material": "abs", "mount": [pad]} | more


def job_of(items: list[dict[str, Any]], show: str = "metric", name: str = "Heron", **more: Any) -> Job:
    """Return a job with these items; more replaces or adds tables."""
    tables: dict[str, Any] = {
        "format": 1,
        "job": {"name": name, "consequence": "high", "show": show},
        "vehicle": {
            "roof_length_m": 4.2,
            "roof_width_m": 1.75,
            "roof_height_m": 2.65,
            "surface": "painted_steel",
        },
        "travel": {
            "cruise_speed_m_per_s": 95 / 3.6,
            "top_speed_m_per_s": 115 / 3.6,
            "headwind_m_per_s": 25 / 3.6,
            "longest_leg_s": 9000,
        },
        "climate": {
            "coldest_K": 258.15,
            "hottest_K": 311.15,
            "sun_W_per_m2": 1000,
            "storm_gust_m_per_s": 110 / 3.6,
            "snow_Pa": 600,
        },
        "tape": [{"name": "grey foam", "kind": "acrylic foam tape", "thickness_m": 1.1e-3}],
        "item": items,
    }
    return Job.model_validate(tables | more)


def pulls(surface: str = "painted_steel") -> tuple[Coupon, ...]:
    """Return pull-offs cold, warm and hot, hangs, and one coupon that went wrong."""

    def coupon(
        name: str, result: str, stress_Pa: float, lasted_s: float, celsius: float, **more: Any
    ) -> Coupon:
        own: dict[str, Any] = {"tape": "grey foam", "surface": surface, "mode": "tension", "area_m2": 625e-6}
        own |= {"failure_pattern": "cohesive", "foot": "real", "result": result} | more
        return Coupon(
            name=name, load_N=stress_Pa * 625e-6, lasted_s=lasted_s, temperature_K=celsius + 273.15, **own
        )

    made = []
    for celsius, level in ((-20.0, 1900e3), (23.0, 1250e3), (85.0, 640e3)):
        made += [
            coupon(f"p{celsius:.0f}-{number}", "broke", level * share, 60.0, celsius)
            for number, share in enumerate((0.98, 1.05, 0.95, 1.03, 0.97))
        ]
    made += [coupon(f"h{number}", "holding", 200e3, 36000.0, 88.0) for number in range(5)]
    made += [coupon(f"d{number}", "holding", 150e3, 9e5, -20.0) for number in range(3)]
    return (*made, coupon("baked", "spoiled", 300e3, 60.0, 85.0, note="the lamp slipped"))


def sound() -> tuple[Job, tuple[Coupon, ...]]:
    """Return a light item that everything is known of: links typed, pulls and hangs hot and cold, shear as well."""
    link = [
        {"part": part, "strength_N": 2000.0, "source": "pulled on the bench"}
        for part in ("item frame", "fastener", "bracket", "upper bond")
    ]
    pad = mount("pad", 0.06, 0.0, pad={"length_m": 0.11, "width_m": 0.11}, lever_m=0.0)
    item = puck(length_m=0.12, width_m=0.12, link=link, mount=[pad])
    gentle = {"low": 40.0, "likely": 40.0, "high": 40.0, "source": "nobody reaches it"}
    wet = [
        {
            "tape": "grey foam",
            "mode": mode,
            "condition": "wet",
            "temperature_K": 296.15,
            "kept": 0.8,
            "source": "own coupons, two weeks in water",
        }
        for mode in ("tension", "shear")
    ]
    made = []
    for mode in ("tension", "shear"):
        for celsius, level in ((-20.0, 1900e3), (23.0, 1250e3), (108.0, 500e3)):
            made += [
                Coupon(
                    name=f"{mode[0]}{celsius:.0f}-{number}",
                    tape="grey foam",
                    surface="painted_steel",
                    mode=mode,
                    result="broke",
                    load_N=level * share * 625e-6,
                    area_m2=625e-6,
                    lasted_s=60.0,
                    temperature_K=celsius + 273.15,
                    failure_pattern="cohesive",
                    foot="real",
                )
                for number, share in enumerate((0.98, 1.05, 0.95, 1.03, 0.97))
            ]
        made += [
            Coupon(
                name=f"{mode[0]}hang{number}",
                tape="grey foam",
                surface="painted_steel",
                mode=mode,
                result="holding",
                load_N=100e3 * 625e-6,
                area_m2=625e-6,
                lasted_s=1e6,
                temperature_K=381.15,
                foot="real",
            )
            for number in range(5)
        ]
    return job_of([item], planning={"handling_force": gentle}, ratio=wet), tuple(made)


JOBS: dict[str, Callable[[], tuple[Job, tuple[Coupon, ...]]]] = {
    "panel": lambda: (job_of([panel()]), pulls()),
    "panel in pounds": lambda: (job_of([panel()], "us"), pulls()),
    "no coupons": lambda: (job_of([panel()]), ()),
    "no mounts": lambda: (job_of([panel(mount=[])]), ()),
    "no items": lambda: (job_of([]), ()),
    "membrane": lambda: (job_of([panel(surface="epdm")]), ()),
    "puck": lambda: (job_of([puck()], "us"), pulls()),
    "sound": sound,
    "one mount": lambda: (job_of([panel(mount=[mount("only", 0.74, 0.0)])]), pulls()),
    "twelve mounts": lambda: (
        job_of(
            [
                panel(
                    mount=[mount(f"foot {n}", 0.1 + 0.4 * (n // 3), 0.31 - 0.31 * (n % 3)) for n in range(12)]
                )
            ]
        ),
        pulls(),
    ),
    "long names": lambda: (
        job_of(
            [panel(LONG, mount=corners((LONG, f"{LONG} too", "x" * 120, "屋根の前の左" * 12)))], name=LONG
        ),
        pulls(),
    ),
    "control characters": lambda: (job_of([panel("panel\x1b[2J\nGO")], name="Heron\r\nGO"), ()),
    "twelve items": lambda: (
        job_of(
            [panel("front"), panel("rear", behind_roof_front_m=2.5)]
            + [
                puck(f"puck {n}", behind_roof_front_m=0.1, left_of_centre_m=0.8 - 0.16 * n) for n in range(10)
            ],
            claim=[
                {
                    "tape": "grey foam",
                    "mode": "shear",
                    "kind": "held",
                    "load_N": 4.903325,
                    "area_m2": 4e-4,
                    "lasted_s": 259200.0,
                    "temperature_K": 296.15,
                    "source": "invented sheet, page 2",
                }
            ],
        ),
        pulls(),
    ),
    "long roof": lambda: (
        job_of(
            [panel(behind_roof_front_m=6.0)],
            vehicle={
                "roof_length_m": 12.0,
                "roof_width_m": 2.4,
                "roof_height_m": 3.4,
                "surface": "painted_steel",
            },
        ),
        (),
    ),
}


@cache
def assessed_job(name: str) -> Assessment:
    """Return one of the jobs, assessed; each only once."""
    job, coupons = JOBS[name]()
    return assess(job, Facts(cards=read_cards(), coupons=coupons, claims=job.claim))
