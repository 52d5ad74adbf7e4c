"""Writes a file whole or not at all: the old one stays until the new one is on the disk."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, its folder made where it is not there; what others may do with it stays as it was.

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
        if path.exists():
            os.chmod(beside, path.stat().st_mode & 0o777)
        os.replace(beside, path)
    finally:
        beside.unlink(missing_ok=True)
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Make the new name durable where the system lets a folder be synced."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
