"""Which jobs were open lately on this machine: a small file of paths, so that a page finds its job again."""

from __future__ import annotations

import json
import os
from pathlib import Path

from staydown.storage.write_whole import write_whole

MOST = 12


def state_file() -> Path:
    """Return where the list is kept: in the person's own state folder."""
    base = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(base) / "staydown" / "recent.json"


def read_recent() -> tuple[Path, ...]:
    """Return the job files that were open lately and are still there, the latest first; empty without a list."""
    try:
        content = json.loads(state_file().read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return ()  # a list that cannot be read only costs the convenience of it
    paths = content.get("jobs", []) if isinstance(content, dict) else []
    return tuple(Path(path) for path in paths if isinstance(path, str) and Path(path).is_file())[:MOST]


def note_recent(file: Path) -> None:
    """Put a job file at the head of the list."""
    kept = [str(file), *(str(path) for path in read_recent() if path != file)][:MOST]
    target = state_file()
    try:
        write_whole(target, json.dumps({"jobs": kept}).encode("utf-8"))
    except OSError:
        return  # a home that cannot be written to is no reason not to open a job
