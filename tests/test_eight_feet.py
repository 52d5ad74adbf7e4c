"""One rig from few coupons to enough: a panel on eight feet, everything known but the bond."""

from __future__ import annotations

from typing import Any

from sample_jobs import PANEL, HOUR_s, cards, changed, hangs, job_of, pulls
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.coupon import Coupon

SOAKED = "21 d in water at 23 degC"
ROOM_K, HOT_K, FREEZER_K = 296.15, 358.15, 255.15


def rig() -> dict[str, Any]:
    """Return a panel of 1.5 x 0.7 m and 11 kg on eight feet of 80 x 50 mm, 12 mm of aluminium, high consequence."""
    mounts = [
        {
            "name": f"{row} {side}",
            "behind_m": behind,
            "left_m": left,
            "pad": {"length_m": 0.08, "width_m": 0.05},
            "lever_m": 0.0,
            "foot_thickness_m": 0.012,
            "foot_material": "aluminium",
            "fastener": {"text": "M6 A2-70", "size": "M6", "strength_class": "A2-70"},
        }
        for row, behind in (("front", 0.10), ("second", 0.50), ("third", 1.00), ("rear", 1.40))
        for side, left in (("left", 0.30), ("right", -0.30))
    ]
    links = [
        {"part": part, "strength_N": 4000.0, "source": "pulled on the bench, nothing moved"}
        for part in ("item frame", "bracket", "upper bond")
    ]
    item = {
        "length_m": 1.5,
        "width_m": 0.7,
        "thickness_m": 0.035,
        "mass_kg": 11.0,
        "mount": mounts,
        "link": links,
        "sharp": False,
        "frame_bending_stiffness_N_m2": 3500.0,
        "frame_torsion_stiffness_N_m2": 1000.0,
        "laminate_bending_stiffness_Nm": 400.0,
    }
    new: dict[str, Any] = {f"item.0.{key}": value for key, value in item.items()}
    new |= {"tape.0.thickness_m": 2e-3, "vehicle.surface": "painted_steel"}
    return changed(PANEL, new)


def made(level_Pa: float, temperature_K: float, count: int, conditioned: str | None = None) -> list[Coupon]:
    """Return pulls of the real foot around a level, 4 % of scatter."""
    parts = [0.96, 0.98, 1.0, 1.02, 1.04][:count]
    stresses = [level_Pa * part for part in parts]
    return pulls(stresses, temperature_K, "painted_steel", foot="real", conditioned=conditioned)


def first_ten() -> list[Coupon]:
    """Return five pulls at room temperature and five hot hangs, lightly loaded."""
    return [
        *made(1.6e6, ROOM_K, 5),
        *hangs([24 * HOUR_s] * 5, 0.18e6, HOT_K, "painted_steel"),
    ]


def answered(coupons: list[Coupon]) -> Assessment:
    """Return the assessment of the rig with these coupons."""
    return assess(job_of(rig()), Facts(cards=cards(), coupons=tuple(coupons)))


def test_ten_are_not_enough() -> None:
    """Five pulls at 23 degC and five hangs are NOT PROVEN, and hot and cold pulls are named as the next."""
    verdict = answered(first_ten()).items[0].verdict
    word = verdict.word

    assert word == "NOT PROVEN"
    pulls_named = [text for text in verdict.find_out if "pull-offs" in text]
    assert any("or hotter" in text for text in pulls_named)
    assert any("or colder" in text for text in pulls_named)


def test_about_twenty_are_enough() -> None:
    """With hot and cold pulls and soaked ones, some twenty coupons reach GO WITH CONDITIONS."""
    coupons = [
        *first_ten(),
        *made(0.95e6, HOT_K, 4),
        *made(1.9e6, FREEZER_K, 3),
        *made(1.45e6, ROOM_K, 4, conditioned=SOAKED),
    ]
    word = answered(coupons).word

    assert len(coupons) <= 21
    assert word == "GO WITH CONDITIONS"
