"""All that keeps an entry out of the logbook is told in one round: values, item, stops, moment, row to correct."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from bonded_jobs import GOOD, lay_out, told
from staydown.foundation.errors import BadInput
from staydown.storage.logbook import Logbook
from staydown.workbench.bonding import record_bonding
from staydown.workbench.happenings import record_happening
from staydown.workbench.inspect import record_inspection
from staydown.workbench.open_job import JobFolder
from staydown.workbench.record import Seen, end_hang, start_hang
from staydown.workbench.record_one import record_coupon

FUTURE = told().now + timedelta(days=3)


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> JobFolder:
    """Return the demo, open."""
    return lay_out(tmp_path_factory.mktemp("demo") / "job")


def keys(job: JobFolder, what: Callable[[], object]) -> list[str]:
    """Return the keys of all findings, after checking that nothing was written."""
    before = len(Logbook.read(job.folder).events())
    with pytest.raises(BadInput) as caught:
        what()

    assert len(Logbook.read(job.folder).events()) == before
    return [one.key for one in caught.value.findings]


@pytest.mark.parametrize(
    ("item", "feet", "typed", "expected"),
    [
        ("panel", ("frnt left",), {"press": "a lot"}, ["--foot", "--press"]),
        ("pannel", (), {"air": "warm"}, ["ITEM", "--air"]),
        # stops that the readable values call for come with the value that cannot be read
        ("panel", (), {"expires": "2026-01-01", "air": "warm"}, ["--air", "--expires", "--going-on"]),
        # 2 degC is under the dew point of that air too
        ("panel", (), {"surface_temperature": "2 degC", "held": "long"},
         ["--held", "--surface-temperature", "--humidity", "--going-on"]),
        ("pannel", (), {"expires": "2026-01-01"}, ["ITEM", "--expires", "--going-on"]),
    ],
)  # fmt: skip
def test_a_bonding(
    job: JobFolder, item: str, feet: tuple[str, ...], typed: dict[str, str], expected: list[str]
) -> None:
    """An unknown item, foot or value comes with what stops, and with a moment and a row that cannot be."""
    at = keys(job, lambda: record_bonding(job, item, feet, GOOD | typed, told()))
    more = keys(job, lambda: record_bonding(job, item, feet, GOOD | typed, told(at=FUTURE, corrects=999)))

    assert sorted(at) == sorted(expected)
    # by then another lot may have expired; the rest is the same
    assert {*expected, "--at", "--corrects"} <= set(more)


def test_a_row_to_correct_comes_with_the_stops(job: JobFolder) -> None:
    """Where all values can be read, the row that is no such entry stands beside the stop and the moment."""
    typed = GOOD | {"expires": "2026-01-01"}
    found = keys(job, lambda: record_bonding(job, "panel", (), typed, told(at=FUTURE, corrects=999)))

    assert sorted(found) == ["--at", "--corrects", "--expires", "--going-on"]


def test_a_look_and_a_happening(job: JobFolder) -> None:
    """A foot and a value that cannot be come with the moment; so does whose foot it was."""
    readings = {"slip": ["front left=wide"], "gap": ["nowhere=1 mm"]}
    looked = keys(
        job,
        lambda: record_inspection(job, "panel", readings, "hot", told(at=FUTURE), edges_closed=True),
    )
    missing = keys(job, lambda: record_happening(job, "let go", "", (), {"gust": "much"}, told(at=FUTURE)))
    whose = keys(job, lambda: record_happening(job, "strm", "pannel", ("x",), {"gust": "1 m"}, told()))

    assert sorted(looked) == ["--at", "--gap", "--roof", "--slip"]
    assert {"--gust", "--foot", "--at"} <= set(missing)
    assert sorted(whose) == ["--gust", "ITEM", "WHAT"]


def test_a_hanging_test_and_a_form(job: JobFolder) -> None:
    """A name that is taken comes with a load that cannot be; a test that does not hang with the missing reason."""
    name = Logbook.read(job.folder).coupons()[0].name
    tape = job.job.tape[0].name
    cells = {"name": name, "tape": tape, "surface": "gelcoat", "mode": "shear", "load": "5", "area": "6 cm^2",
             "temperature": "23 degC"}  # fmt: skip
    seen = Seen(now=told().now)
    hung = keys(job, lambda: start_hang(job.folder, cells, seen))
    form = keys(job, lambda: record_coupon(job.folder, {**cells, "result": "holding", "lasted": "2 h"}, seen))
    ended = keys(job, lambda: end_hang(job.folder, "nothing of that name", "spoiled", seen))

    assert {"name", "load"} <= set(hung)
    assert {"name", "load"} <= set(form)
    assert ended == ["--spoiled", "NAME"]


def test_no_logbook_is_made_by_a_mistake(tmp_path: Path) -> None:
    """A coupon with a mistake leaves an empty folder empty."""
    with pytest.raises(BadInput):
        start_hang(tmp_path, {"name": "H1", "load": "5"}, Seen(now=told().now))

    assert list(tmp_path.iterdir()) == []
