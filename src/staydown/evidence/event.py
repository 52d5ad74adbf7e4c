"""An entry of the logbook: what happened, when it was written down, in which order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One entry, never changed once written.

    seq: its row, counted from 1. at: when it was written down, UTC, `2026-05-01T08:30:00Z`.
    kind: `coupon`, `hang start`, `trip` and so on. body: what it says, in SI, keys with their unit.
    hash: ties it to all entries before it; empty for an entry that no logbook holds.
    """

    seq: int
    at: str
    kind: str
    body: Mapping[str, Any] = field(default_factory=dict)
    hash: str = ""
