"""The logbook through kill -9, and with two processes at once."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from staydown.storage.logbook import Logbook

WRITER = """
import sys
from datetime import UTC, datetime
from staydown.storage.logbook import Logbook
folder, who, count = sys.argv[1], sys.argv[2], int(sys.argv[3])
book = Logbook.open(folder)
for number in range(count):
    if number % 3 == 2:
        body = {"who": who, "n": number}
        events = book.append_many([("trip", body), ("pair", body)], datetime.now(UTC))
    else:
        events = (book.append("trip", {"who": who, "n": number}, datetime.now(UTC)),)
    for event in events:
        print(event.seq, event.hash, flush=True)
"""


def writer(folder: Path, who: str, count: int) -> subprocess.Popen[str]:
    """Start a process that appends and says each entry that it was told is kept."""
    command = [sys.executable, "-c", WRITER, str(folder), who, str(count)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def said(process: subprocess.Popen[str]) -> dict[int, str]:
    """Return what a process said it wrote: row -> hash; a line that was cut by the kill does not count."""
    assert process.stdout is not None
    lines = [line for line in process.stdout.read().splitlines(keepends=True) if line.endswith("\n")]
    return {int(line.split()[0]): line.split()[1] for line in lines}


def test_nothing_acknowledged_is_lost_to_kill_9(tmp_path: Path) -> None:
    """Eight writers are killed at random moments: every entry they acknowledged is there, the chain closes."""
    dice = random.Random(8)
    acknowledged: dict[int, str] = {}
    for turn in range(8):
        with writer(tmp_path, f"turn {turn}", 100_000) as process:
            assert process.stdout is not None
            first = process.stdout.readline().split()
            acknowledged[int(first[0])] = first[1]
            time.sleep(dice.uniform(0.0, 0.08))
            process.send_signal(signal.SIGKILL)
            acknowledged |= said(process)

            assert process.wait() == -signal.SIGKILL
        written = {event.seq: event for event in Logbook.read(tmp_path).events()}
        assert {seq: written[seq].hash for seq in acknowledged} == acknowledged
        for seq, event in written.items():  # what went in as one is there as one
            after = written.get(seq + 1)
            assert (event.kind == "trip" and event.body["n"] % 3 == 2) == (
                after is not None and after.kind == "pair"
            )
    assert len(acknowledged) > 8
    assert Logbook.open(tmp_path).verify().rows >= max(acknowledged)


def test_two_processes_lose_nothing(tmp_path: Path) -> None:
    """Two processes that make the logbook and append to it at once write every entry, in one chain."""
    with writer(tmp_path, "one", 60) as one, writer(tmp_path, "two", 60) as two:
        rows = said(one), said(two)
    events = Logbook.read(tmp_path).events()

    assert (one.returncode, two.returncode) == (0, 0)
    assert Logbook.read(tmp_path).verify().rows == len(events) == 160
    assert rows[0].keys() & rows[1].keys() == set()
    for who in ("one", "two"):
        trips = [event.body["n"] for event in events if event.body["who"] == who and event.kind == "trip"]
        assert trips == list(range(60))


def test_reading_while_another_writes_never_sees_damage(tmp_path: Path) -> None:
    """A reader beside a busy writer always sees a whole logbook, and it only grows."""
    with writer(tmp_path, "busy", 120) as process:
        assert process.stdout is not None
        process.stdout.readline()
        seen = [0]
        while process.poll() is None:
            seen.append(len(Logbook.read(tmp_path).events()))
            assert seen[-1] >= seen[-2]

    assert process.returncode == 0
    assert len(seen) > 5
    assert len(Logbook.read(tmp_path).events()) == 160
