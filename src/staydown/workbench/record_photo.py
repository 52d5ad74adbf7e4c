"""A photo of what was done or seen: kept in the job's folder, with an entry that says of what it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from staydown.storage.logbook import Logbook
from staydown.storage.save_photo import save_photo

PHOTO = "photo"


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """One photo: of what, its name in the job's folder, when it was written down."""

    of: str
    file: str
    at: str


def record_photo(folder: Path, of: str, content: bytes, now: datetime) -> Photo:
    """Keep a photo and write down of what it is: `coupon hot 1`, `mount front left`.

    Raises
    ------
    BadInput
        It is no picture, or too large.
    LogbookError
        The logbook cannot be written.
    """
    file = save_photo(folder, content)
    entry = (PHOTO, {"of": of, "file": file})
    (event,) = Logbook.open(folder).append_decided(lambda _: [entry], now)
    return Photo(of=of, file=file, at=event.at)


def photos_of(folder: Path) -> dict[str, tuple[Photo, ...]]:
    """Return the photos of a job by what they are of, in the order of the logbook."""
    found: dict[str, tuple[Photo, ...]] = {}
    for event in Logbook.read(folder).events():
        if event.kind == PHOTO:
            photo = Photo(of=event.body["of"], file=event.body["file"], at=event.at)
            found[photo.of] = (*found.get(photo.of, ()), photo)
    return found
