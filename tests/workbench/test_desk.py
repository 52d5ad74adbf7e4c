"""A job on the desk: saved at once, undone, never overwriting what somebody else wrote unseen."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.assess import assess
from staydown.foundation.errors import BadInput
from staydown.outputs.answer_json import answer_json
from staydown.storage.edit_toml import AddTable, DropKey, SetKey
from staydown.workbench.desk import Answer, Desk
from staydown.workbench.edit_job import typed_by
from staydown.workbench.place_items import Spot, moved_job, moves, spot_of
from staydown.workbench.record import Seen, record_coupons

FOOT = "item.2.mount.1"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A job of our own on a desk."""
    van = Path(shutil.copytree(Path(__file__).parents[1] / "data" / "van", tmp_path / "van"))
    record_coupons(van, van / "coupons.csv", Seen(now=datetime(2026, 6, 1, tzinfo=UTC)))
    return Desk(van)


def set_speed(text: str) -> list[SetKey]:
    """Return the change of the cruising speed."""
    return [SetKey(path=("travel", "cruise_speed"), value=text)]


def told(answer: Answer) -> object:
    """Return all that an answer says."""
    return answer_json(answer.assessment, (), (), answer.findings)


def test_a_change_is_in_the_file_and_undo_restores_every_byte(desk: Desk) -> None:
    """Undo and redo go through the same texts, in the file too."""
    before = desk.file.read_bytes()
    desk.edit(set_speed("99 km/h"), "cruise speed")
    after = desk.file.read_bytes()

    assert b'cruise_speed = "99 km/h"' in after

    desk.undo()

    assert desk.file.read_bytes() == before

    desk.redo()

    assert desk.file.read_bytes() == after


def test_a_mistake_changes_nothing(desk: Desk) -> None:
    """A change that would make the job contradict itself is refused, and the file stays."""
    before = desk.file.read_bytes()
    with pytest.raises(BadInput):
        desk.edit(set_speed("200 km/h"), "cruise speed")

    assert desk.file.read_bytes() == before
    assert desk.undo_words == ""


def test_somebody_elses_change_is_a_conflict(desk: Desk) -> None:
    """What both changed is settled by a person; whichever is left can be brought back."""
    theirs = desk.file.read_text().replace('top_speed = "110 km/h"', 'top_speed = "115 km/h"')
    desk.file.write_text(theirs)
    desk.edit(set_speed("99 km/h"), "cruise speed")

    assert desk.file.read_text() == theirs
    assert desk.conflict is not None

    again = Desk(desk.file)  # the program ended before anybody settled it

    assert again.conflict is not None
    assert "99 km/h" in again.text

    again.keep_mine()

    assert "99 km/h" in desk.file.read_text()

    again.undo()

    assert desk.file.read_text() == theirs


def test_theirs_is_taken_and_mine_comes_back_by_undo(desk: Desk) -> None:
    """Taking over the file loses nothing either."""
    theirs = desk.file.read_text().replace('top_speed = "110 km/h"', 'top_speed = "115 km/h"')
    desk.file.write_text(theirs)
    desk.edit(set_speed("99 km/h"), "cruise speed")
    desk.take_theirs()

    assert desk.text == theirs

    desk.undo()

    assert "99 km/h" in desk.file.read_text()


@pytest.mark.independent
def test_the_short_way_answers_as_the_long_one(desk: Desk) -> None:
    """While a foot is dragged the answer is that of the whole calculation, and that of the saved file."""
    job = desk.answer().job
    there = spot_of(job, FOOT)
    spot = Spot(behind_m=there.behind_m + 0.02, left_m=there.left_m)
    short = desk.try_job(moved_job(job, FOOT, spot))
    whole = assess(moved_job(job, FOOT, spot), desk.answer().facts)

    assert answer_json(short, (), (), ()) == answer_json(whole, (), (), ())

    desk.edit(moves(job, desk.text, FOOT, spot), "move")
    saved = Desk(desk.file).answer()

    assert told(desk.answer()) == told(saved)


def test_what_is_tried_out_follows_the_job(desk: Desk) -> None:
    """The same change tried on another text is another answer, and nothing of it is saved."""
    before = desk.file.read_bytes()
    slow = desk.try_out(set_speed("70 km/h"))

    assert desk.try_out(set_speed("70 km/h")) is slow
    assert desk.file.read_bytes() == before

    desk.edit([SetKey(path=("travel", "top_speed"), value="95 km/h")], "top speed")
    again = desk.try_out(set_speed("70 km/h"))

    assert again.job.travel.top_speed_m_per_s < slow.job.travel.top_speed_m_per_s
    assert told(again) == told(Desk(desk.file).try_out(set_speed("70 km/h")))


def test_changes_are_told_as_they_are_typed(desk: Desk) -> None:
    """Old and new text of a key, a table that is added, one that is taken away."""
    told_now = typed_by(
        desk.text,
        [
            *set_speed("70 km/h"),
            SetKey(path=("item", 1, "mount", 0, "connection_height"), value="20 mm"),
            AddTable(path=("item", 1, "mount"), values={"name": "added left", "behind": "300 mm"}),
            DropKey(path=("item", 0)),
        ],
    )

    assert told_now == (
        "travel cruise speed: 70 km/h instead of 90 km/h",
        "item 2 mount 1 connection height: 20 mm",
        "one more item 2 mount: name added left, behind 300 mm",
        "item 1: taken away",
    )
