"""Writes down what the roof went through: storms, branches, drives, feet that let go; a drive before its time stops."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any, get_args

from staydown.assess import assess
from staydown.evidence.coupon import FAILURE_PATTERNS
from staydown.evidence.history import BREAKS, DRIVES, HAPPENING, What
from staydown.workbench.bonding import clock_of, last_pressed, needed_for
from staydown.workbench.bonding_words import Reader, moment_text
from staydown.workbench.happened import (
    Stop,
    Told,
    Written,
    done,
    feet_of,
    history_of,
    item_told,
    write_entry,
)
from staydown.workbench.open_job import JobFolder

WHATS: tuple[str, ...] = get_args(What)


def record_happening(
    folder: JobFolder,
    what: str,
    item_name: str,
    feet: Sequence[str],
    typed: Mapping[str, str | None],
    told: Told,
    *,
    careful: bool = False,
) -> Written:
    """Write down what happened.

    Parameters
    ----------
    folder : JobFolder
        The opened job.
    what : str
        One of WHATS.
    item_name, feet : str, sequence of str
        Where it happened; empty is the whole roof. A foot that let go needs both.
    typed : mapping
        Texts: gust, failure_pattern.
    told : Told
        Who, when, photos.
    careful : bool
        A first careful drive: slow, short, no motorway.

    Raises
    ------
    BadInput
        A value cannot be, or it was driven before the bond may be and nobody said why.
    """
    reader = Reader()
    kind = reader.one_of("WHAT", what, WHATS)
    pattern = (typed.get("failure_pattern") or "").strip()
    if pattern:
        pattern = reader.one_of("--failure-pattern", pattern, FAILURE_PATTERNS)
    gust = reader.quantity("--gust", typed.get("gust"), "m_per_s", 0.0, 120.0)
    item = item_told(reader, folder, item_name) if item_name or kind in BREAKS else None
    named = feet_of(reader, item, feet, "--foot") if item is not None and feet else ()
    if kind in BREAKS and not feet:
        reader.wrong("--foot", "", "is missing", f"which foot {kind}?")
    if feet and item is None and not item_name and kind not in BREAKS:
        reader.wrong("--item", "", "is missing", "whose foot?")
    done(reader, folder, HAPPENING, told, ())
    body: dict[str, Any] = {
        "what": kind,
        "item": "" if item is None else item.name,
        "feet": list(named),
        "gust_m_per_s": gust,
        "careful": careful or None,
        "failure_pattern": pattern,
    }
    stops = _too_early(folder, item_name, told, careful=careful) if kind in DRIVES else []
    return write_entry(folder, HAPPENING, body, told, stops)


def _too_early(folder: JobFolder, only: str, told: Told, *, careful: bool) -> list[Stop]:
    """Return a stop for every item whose bond has not dwelt long enough for this drive."""
    history = history_of(folder)
    stops = []
    assessment = None
    for item in folder.job.item:
        if only and item.name != only:
            continue
        bonding = last_pressed(history, item.name, [mount.name for mount in item.mount])
        if bonding is None:
            continue
        assessment = assessment or assess(folder.job, folder.facts)
        clock = clock_of(folder, bonding, needed_for(folder, item.name, assessment))
        wait_s = clock.first_drive_s if careful else clock.full_s
        end = bonding.entry.when + timedelta(seconds=wait_s)
        if told.when < end:
            allowed = "careful drive" if careful else "full load"
            rule = f"{item.name} was driven before its bond may be: {allowed} from {moment_text(end)}"
            only_careful = "until then only a first careful drive, told as one, where the clock allows it"
            hint = clock.why if careful else only_careful
            stops.append(Stop(key="drive", value=item.name, rule=rule, hint=hint))
    return stops
