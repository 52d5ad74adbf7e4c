"""Lays out the demo job: an invented rig, its coupons recorded, and the same job with one change."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime
from importlib.resources import files
from pathlib import Path

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.workbench.check import Checked, check_folder
from staydown.workbench.record import Seen, record_coupons

FILES = ("job.toml", "coupons.csv", "changed.toml")


@dataclass(frozen=True, slots=True, kw_only=True)
class Demo:
    """The demo's folder, its answer before and after the change, and the lines that were changed.

    changed: what stood there, what stands there now, how often.
    """

    folder: Path
    before: Checked
    after: Checked
    changed: tuple[tuple[str, str, int], ...]


def lay_out_demo(folder: Path, now: datetime) -> Demo:
    """Return the demo, laid out in a folder; one that holds it already is used as it is.

    Raises
    ------
    BadInput
        The folder holds something else.
    """
    texts = {
        name: files("staydown.library").joinpath("demo", name).read_text(encoding="utf-8") for name in FILES
    }
    foreign = [
        name
        for name, text in texts.items()
        if (folder / name).exists() and (folder / name).read_text(encoding="utf-8") != text
    ]
    if foreign or (folder.exists() and not folder.is_dir()):
        rule = f"holds another {foreign[0]}" if foreign else "is a file"
        hint = "name a new folder: staydown demo FOLDER"
        place = str(folder)
        raise BadInput([Finding(file=place, line=None, key="FOLDER", value=place, rule=rule, hint=hint)])
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        if not (folder / name).exists():
            (folder / name).write_text(text, encoding="utf-8")
    record_coupons(folder, folder / "coupons.csv", Seen(now=now))
    pairs = zip(texts["job.toml"].splitlines(), texts["changed.toml"].splitlines(), strict=True)
    changed = Counter((was, now) for was, now in pairs if was != now and not was.startswith("#"))
    return Demo(
        folder=folder,
        before=check_folder(folder / "job.toml"),
        after=check_folder(folder / "changed.toml"),
        changed=tuple((was, now, times) for (was, now), times in changed.items()),
    )
