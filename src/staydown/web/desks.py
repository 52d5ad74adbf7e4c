"""The jobs that are open in this program, each under a short key that its pages have in their address."""

from __future__ import annotations

import hashlib
from pathlib import Path

from staydown.storage.recent_jobs import note_recent, read_recent
from staydown.web.news import News
from staydown.web.uploads import Uploads
from staydown.workbench.desk import Desk


class Desks:
    """All desks; one that was open before the program was started again is found by its key."""

    def __init__(self) -> None:
        self._open: dict[str, Desk] = {}
        self.uploads = Uploads()
        self.news = News()

    def open(self, place: Path) -> str:
        """Open a job and return its key.

        Raises
        ------
        BadInput
            There is no job.
        OSError, UnicodeDecodeError
            It cannot be read.
        """
        desk = Desk(place)
        key = key_of(desk.file)
        if key not in self._open:
            self._open[key] = desk
            note_recent(desk.file)
        return key

    def find(self, key: str) -> Desk | None:
        """Return the desk of a key, None where no such job was open lately."""
        if key not in self._open:
            for file in read_recent():
                if key_of(file) == key:
                    self.open(file)
        return self._open.get(key)

    @property
    def all(self) -> dict[str, Desk]:
        """Return the open desks by key."""
        return dict(self._open)


def key_of(file: Path) -> str:
    """Return the key of a job file: always the same for the same path."""
    return hashlib.sha256(str(file).encode()).hexdigest()[:10]
