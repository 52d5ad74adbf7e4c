"""Records of every kind through kill -9, and from two processes at once: nothing acknowledged is lost."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bonded_jobs import lay_out
from staydown.evidence.history import BONDING, HAPPENING, INSPECTION, build_history
from staydown.storage.logbook import Logbook
from staydown.storage.save_photo import read_photo
from staydown.workbench.open_job import open_job

WRITER = """
import sys
from datetime import UTC, datetime
from io import BytesIO
from PIL import Image
from staydown.evidence.history import BONDING, HAPPENING, INSPECTION
from staydown.workbench.happened import GivenPhoto, Told, write_entry
from staydown.workbench.open_job import open_job

folder, who, count = open_job(sys.argv[1]), sys.argv[2], int(sys.argv[3])
bodies = {
    BONDING: {"item": "panel", "feet": ["front left"], "lot": "K7"},
    INSPECTION: {"item": "panel", "gaps": {"front left": 0.0}, "slips": {"front left": 1e-4}},
    HAPPENING: {"what": "storm", "item": "panel"},
}
for number in range(count):
    for kind, body in bodies.items():
        out = BytesIO()
        Image.new("RGB", (40, 30), (number % 250, len(kind), len(who))).save(out, "PNG")
        photo = GivenPhoto(of="front left", content=out.getvalue())
        told = Told(now=datetime.now(UTC), by=who, note=str(number), photos=(photo,))
        event = write_entry(folder, kind, body, told, ()).event
        print(event.seq, event.kind, event.hash, event.body["photos"][0]["file"], flush=True)
"""


def writer(folder: Path, who: str, count: int) -> subprocess.Popen[str]:
    """Start a process that writes records of all kinds and says each that it was told is kept."""
    command = [sys.executable, "-c", WRITER, str(folder), who, str(count)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def said(process: subprocess.Popen[str]) -> dict[int, list[str]]:
    """Return what a process said it wrote, by row; a line that was cut by the kill does not count."""
    assert process.stdout is not None
    lines = [line for line in process.stdout.read().splitlines(keepends=True) if line.endswith("\n")]
    return {int(line.split()[0]): line.split()[1:] for line in lines}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a laid-out job."""
    return lay_out(tmp_path / "job").folder


def test_no_acknowledged_record_is_lost_to_kill_9(folder: Path) -> None:
    """Killed at random moments: every acknowledged record is there with its photo, whatever its kind."""
    dice = random.Random(13)
    acknowledged: dict[int, list[str]] = {}
    for turn in range(5):
        with writer(folder, f"turn {turn}", 100_000) as process:
            assert process.stdout is not None
            first = process.stdout.readline().split()
            acknowledged[int(first[0])] = first[1:]
            time.sleep(dice.uniform(0.0, 0.3))
            process.send_signal(signal.SIGKILL)
            acknowledged |= said(process)

            assert process.wait() == -signal.SIGKILL
    written = {event.seq: event for event in Logbook.read(folder).events()}

    assert Logbook.open(folder).verify().rows >= max(acknowledged)
    assert {kind for kind, _, _ in acknowledged.values()} == {BONDING, INSPECTION, HAPPENING}
    for seq, (kind, digest, photo) in acknowledged.items():
        assert (written[seq].kind, written[seq].hash) == (kind, digest)
        assert written[seq].body["photos"][0]["file"] == photo
        assert read_photo(folder, photo) != b""
    # no record that was written tells of a photo that is not there: photos go first
    for one in build_history(open_job(folder).events).entries:
        assert all((folder / photo.file).is_file() for photo in one.photos)


def test_two_shops_write_at_once(folder: Path) -> None:
    """Two processes record bonding, looks and storms at once: every entry, in one chain, none of them mixed."""
    with writer(folder, "one", 8) as one, writer(folder, "two", 8) as two:
        rows = said(one), said(two)
    history = build_history(open_job(folder).events)

    assert (one.returncode, two.returncode) == (0, 0)
    assert rows[0].keys() & rows[1].keys() == set()
    Logbook.read(folder).verify()
    for who in ("one", "two"):
        for records in (history.bondings, history.inspections, history.happenings):
            notes = [record.entry.note for record in records if record.entry.by == who]
            assert sorted(notes, key=int) == [str(number) for number in range(8)]
