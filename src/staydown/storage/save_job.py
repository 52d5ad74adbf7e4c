"""Saves a job.toml over an older one: whole or not at all, and only over the text that the writer knows."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from staydown.storage.read_job import JOB_FILE, LARGEST_FILE
from staydown.storage.write_whole import write_whole


@dataclass(frozen=True, slots=True, kw_only=True)
class OnDisk:
    """The text of a job file and what tells it from any other text."""

    text: str
    mark: str


class ChangedOnDisk(Exception):
    """Somebody else wrote the file; `there` is what it says now, None where it is gone."""

    def __init__(self, there: OnDisk | None) -> None:
        self.there = there
        super().__init__("the job file was changed by somebody else")


def job_file(place: Path) -> Path:
    """Return the job file of a folder, or the file itself."""
    return place / JOB_FILE if place.is_dir() else place


def mark_of(text: str) -> str:
    """Return the mark of a text: the same only for the same text."""
    return hashlib.sha256(text.encode()).hexdigest()


def read_text(file: Path) -> OnDisk | None:
    """Return what a job file says, None where it is not there; its line ends are kept.

    Raises
    ------
    OSError, UnicodeDecodeError
        It cannot be read as text.
    """
    try:
        with file.open("rb") as stream:
            text = stream.read(LARGEST_FILE + 1).decode("utf-8")
    except FileNotFoundError:
        return None
    return OnDisk(text=text, mark=mark_of(text))


def save_text(file: Path, text: str, known: str | None) -> OnDisk:
    """Write a text over the one with the mark `known` (None: over whatever is there), and return it.

    A reader sees the old text or the new one, and a power cut leaves one of them.

    Raises
    ------
    ChangedOnDisk
        The file says something else by now, or is gone.
    OSError
        It cannot be written.
    """
    there = read_text(file)
    if known is not None and (there is None or there.mark != known):
        raise ChangedOnDisk(there)
    write_whole(file, text.encode())
    return OnDisk(text=text, mark=mark_of(text))
