"""Tells the other tabs of a change: after whoever made it, one after another, and only those that somebody sees."""

from __future__ import annotations

import asyncio
import time
from typing import Protocol

from nicegui import background_tasks

OTHERS_WAIT_s = 0.25  # after the last change: whoever makes changes sees them first
MOST_WAIT_s = 2.0  # however fast the changes come
BREATH_s = 0.03  # between two tabs: what somebody does meanwhile comes in between


class Reader(Protocol):
    """A tab that may show something older than what is so."""

    @property
    def seen(self) -> bool:
        """Whether somebody can see it."""
        ...

    @property
    def behind(self) -> bool:
        """Whether it shows something older than what is so."""
        ...

    def refresh(self) -> None:
        """Show what is so now."""
        ...


class News:
    """The tabs that have not been told yet; one that nobody sees looks for itself when it is seen again."""

    def __init__(self) -> None:
        self._waiting: dict[Reader, None] = {}
        self._due = self._latest = 0.0
        self._task: asyncio.Task[None] | None = None

    def tell(self, reader: Reader) -> None:
        """Tell a tab soon; the one that was told longest ago comes first."""
        now = time.monotonic()
        if not self._waiting:
            self._latest = now + MOST_WAIT_s
        self._waiting[reader] = None
        self._due = min(now + OTHERS_WAIT_s, self._latest)
        if self._task is None or self._task.done():
            self._begin()

    def forget(self, reader: Reader) -> None:
        """Tell a tab nothing more: it is closed."""
        self._waiting.pop(reader, None)

    def _begin(self) -> None:
        self._task = background_tasks.create(self._next())

    async def _next(self) -> None:
        """Tell one tab; a task of its own for each, so that a fault in one keeps nothing from the others."""
        while (left := self._due - time.monotonic()) > 0.0:
            await asyncio.sleep(left)
        try:
            if self._waiting:
                reader = next(iter(self._waiting))
                del self._waiting[reader]
                if reader.seen and reader.behind:
                    reader.refresh()
                    await asyncio.sleep(BREATH_s)
        finally:
            if self._waiting:
                self._begin()
