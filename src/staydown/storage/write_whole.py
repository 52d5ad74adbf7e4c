"""Writes a file whole or not at all: the old one stays until the new one is on the disk."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, its folder made where it is not there.

    Raises
    ------
    OSError
        It cannot be written; then nothing is left behind, and what stood there still stands.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        with open(beside, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, path)
    finally:
        beside.unlink(missing_ok=True)
