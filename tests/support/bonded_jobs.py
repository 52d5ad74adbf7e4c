"""A whole invented job in a folder, with what happened to it, for tests of the use cases that write records."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from sample_assessments import JOBS
from staydown.assess import Assessment, Facts, assess
from staydown.storage.read_cards import read_cards
from staydown.storage.write_whole import write_whole
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.happened import Told
from staydown.workbench.open_job import JobFolder, open_job

START = datetime(2026, 7, 6, 10, 0, tzinfo=UTC)
GOOD = {
    "lot": "K7",
    "expires": "2027-03-31",
    "surface_temperature": "22 degC",
    "air": "23 degC",
    "humidity": "50 %",
    "dwell_temperature": "23 degC",
}


@cache
def stiff(name: str) -> Assessment:
    """Return a sample job assessed with feet so thick that they do not bend."""
    job, coupons = JOBS[name]()
    items = [
        item.model_copy(
            update={
                "mount": tuple(
                    mount.model_copy(update={"foot_thickness_m": 0.035, "foot_material": "aluminium"})
                    for mount in item.mount
                )
            }
        )
        for item in job.item
    ]
    thick = job.model_copy(update={"item": tuple(items)})
    return assess(thick, Facts(cards=read_cards(), coupons=coupons, claims=job.claim))


def lay_out(folder: Path) -> JobFolder:
    """Return the demo's changed job, laid out and open; its coupons are recorded."""
    demo = lay_out_demo(folder, START - timedelta(days=30)).folder
    write_whole(demo / "job.toml", (demo / "changed.toml").read_bytes())
    return open_job(demo)


def told(after: timedelta = timedelta(), **more: Any) -> Told:
    """Return who and when, some time after the start."""
    return Told(now=START + after, by="Ann", **more)


def jpeg(
    size: tuple[int, int] = (60, 40), *, place: bool = False, colour: tuple[int, int, int] = (90, 30, 30)
) -> bytes:
    """Return a small JPEG; place: with the position where it was taken in it."""
    from PIL import Image

    picture = Image.new("RGB", size, colour)
    exif = Image.Exif()
    if place:
        exif.get_ifd(0x8825).update({1: "N", 2: (52.0, 30.0, 0.0), 3: "E", 4: (13.0, 24.0, 0.0)})
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()
