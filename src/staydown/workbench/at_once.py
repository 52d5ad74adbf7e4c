"""Two calculations that know nothing of each other, at once: the second in a process of its own where that is safe."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable
from typing import Any, TypeVar

First = TypeVar("First")
Second = TypeVar("Second")


def at_once(first: Callable[[], First], second: Callable[[], Second]) -> tuple[First, Second]:
    """Return what two pure calculations make.

    Where a copy of this process costs next to nothing and can be had safely (Linux, a second core, no threads) the
    second one runs in it; elsewhere one after the other. What goes wrong there is done again here, and raised here.

    Parameters
    ----------
    first, second : callable
        Without arguments and effects; what the second returns can be pickled.
    """
    if not can_copy():
        return first(), second()
    from multiprocessing import get_context

    context = get_context("fork")
    receiving, sending = context.Pipe(duplex=False)
    copy = context.Process(target=_tell, args=(second, sending), daemon=True)
    copy.start()
    sending.close()
    made = first()
    try:
        (told,) = receiving.recv()
    except EOFError:
        told = second()
    copy.join()
    return made, told


def can_copy() -> bool:
    """Return whether a copy of this process is safe, and would have a core to run on."""
    return sys.platform == "linux" and threading.active_count() == 1 and len(os.sched_getaffinity(0)) > 1


def _tell(work: Callable[[], Any], sending: Any) -> None:
    """Send what some work makes; nothing where it fails, which the caller then finds out for itself."""
    try:
        sending.send((work(),))
    except Exception:  # noqa: BLE001, the caller does the work again and raises what it raises
        os._exit(1)
