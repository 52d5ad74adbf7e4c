"""A remark on a job before its place in a file is known."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.foundation.findings import Grade


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """What contradicts (error) or is doubtful (warning) at a dotted key: `item.1.mount.2.pad`."""

    key: str
    rule: str
    hint: str
    grade: Grade = "error"
