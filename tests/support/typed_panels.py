"""A panel as text, so that a change can be typed into it and read back; its coupons; its advice."""

from __future__ import annotations

from known_jobs import panel_coupons
from sample_jobs import HOUR_s, cards, hangs, pulls
from staydown.advice.change import Change
from staydown.advice.changes import Advice, advise
from staydown.assess import Assessment, Facts, assess
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Mode
from staydown.job.records import Job
from staydown.storage.edit_toml import AddTable, SetKey, edit_toml
from staydown.storage.read_job import read_job_text
from staydown.verdict.verdict import Word

TEXT = """format = 1
[job]
name = "Heron"
show = "{show}"
consequence = "medium"
[vehicle]
roof_length = "4.2 m"
roof_width = "1.75 m"
roof_height = "2.65 m"
surface = "gelcoat"
absorptance = 0.30
[travel]
cruise_speed = "95 km/h"
top_speed = "115 km/h"
headwind = "25 km/h"
crosswind = "35 km/h"
longest_leg = "2.5 h"
[climate]
coldest = "-15 degC"
hottest = "38 degC"
sun = "1000 W/m^2"
storm_gust = "110 km/h"
snow = "0.6 kPa"
[[tape]]
name = "grey foam"
kind = "acrylic foam tape"
thickness = "3 mm"
tension_modulus = "1.0 MPa"
shear_modulus = "0.35 MPa"
[[item]]
name = "forward panel"
kind = "other"
length = "1480 mm"
width = "670 mm"
thickness = "35 mm"
mass = "11.2 kg"
gap = "45 mm"
behind_roof_front = "1.1 m"
front_edge = "open"
material = "glass in aluminium frame"
sharp = false
tape = "grey foam"
"""
LINK = '[[item.link]]\npart = "{}"\nstrength = "6 kN"\nsource = "pulled two on the bench, the lower one"\n'
MOUNT = """[[item.mount]]
name = "{along} {across}"
behind = "{behind} mm"
left = "{left} mm"
pad = "{length} mm x 50 mm"
lever = "{lever} mm"
lever_direction = "across"
foot_thickness = "20 mm"
foot_material = "aluminium"
"""


def text_of(lever_mm: float, length_mm: float = 90, show: str = "metric", rows: int = 3) -> str:
    """Return the text of a panel on rows of two feet."""
    text = TEXT.format(show=show) + "".join(
        LINK.format(part) for part in ("item frame", "fastener", "bracket", "upper bond")
    )
    for along, behind in list(zip(("front", "second", "rear"), (120, 700, 1360), strict=True))[-rows:]:
        for across, left in (("left", 310), ("right", -310)):
            text += MOUNT.format(
                along=along, across=across, behind=behind, left=left, length=length_mm, lever=lever_mm
            )
    return text


def read(text: str) -> Job:
    """Return the job of a text that has no mistakes."""
    reading = read_job_text(text, "job.toml", cards())
    assert reading.job is not None, [finding.line_of_text() for finding in reading.findings]
    return reading.job


def facts(coupons: list[Coupon] | None = None) -> Facts:
    """Return cards and coupons."""
    return Facts(cards=cards(), coupons=tuple(panel_coupons() if coupons is None else coupons))


def typed_into(text: str, change: Change) -> str:
    """Return the job's text with a change typed into it, by the way that the page types it."""
    tables: dict[tuple[str | int, ...], dict[str, str | bool]] = {}
    sets = []
    mounts = len(read(text).item[0].mount)
    for key, value in change.typed:
        path = tuple(int(part) - 1 if part.isdigit() else part for part in key.split("."))
        if len(path) == 5 and path[2] == "mount" and int(path[3]) >= mounts:
            tables.setdefault(path[:4], {})[str(path[4])] = value
        else:
            sets.append(SetKey(path=path, value=value))
    added = [AddTable(path=path[:3], values=values) for path, values in sorted(tables.items(), key=str)]
    return edit_toml(text, [*sets, *added])


def word_of(text: str, coupons: list[Coupon] | None = None) -> Word:
    """Return the word on a job's text; a failing test then shows the word and not the whole assessment."""
    return assess(read(text), facts(coupons)).word


def of_text(text: str, coupons: list[Coupon] | None = None) -> tuple[Assessment, Advice]:
    """Return the assessment of a job's text and the advice on its first item."""
    told = facts(coupons)
    assessment = assess(read(text), told)
    return assessment, advise(assessment, told)[0]


def warm_coupons(warmest_K: float) -> list[Coupon]:
    """Return the panel's evidence with its hot tests made no warmer than this: the real foot, both modes."""
    found: list[Coupon] = []
    modes: tuple[Mode, ...] = ("tension", "shear")
    for mode in modes:
        for temperature_K, level in ((258.15, 1.6e6), (warmest_K, 1.2e6)):
            stresses = [level * part for part in (0.97, 0.99, 1.0, 1.02, 1.03)]
            found += pulls(stresses, temperature_K, "gelcoat", mode, foot="real")
        found += hangs([24 * HOUR_s] * 6, 0.45e6, warmest_K, "gelcoat", mode)
    return found
