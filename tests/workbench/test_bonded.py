"""The records of bonding, looking and happenings: what is kept, what stops, what settles."""

from __future__ import annotations

import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from bonded_jobs import GOOD, START, jpeg, lay_out, told
from staydown.assess import assess
from staydown.evidence.history import build_history
from staydown.foundation.errors import BadInput
from staydown.storage.logbook import Logbook
from staydown.workbench.bonding import record_bonding
from staydown.workbench.happened import GivenPhoto, read_photos
from staydown.workbench.happenings import WHATS, record_happening
from staydown.workbench.inspect import record_inspection
from staydown.workbench.open_job import JobFolder, open_job

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo, laid out once."""
    return lay_out(tmp_path_factory.mktemp("demo") / "job").folder


@pytest.fixture
def job(laid_out: Path, tmp_path: Path) -> JobFolder:
    """Return a copy of the demo, open."""
    shutil.copytree(laid_out, tmp_path / "job")
    return open_job(tmp_path / "job")


def again(job: JobFolder) -> JobFolder:
    """Return the job as it is now."""
    return open_job(job.folder)


def rules(error: pytest.ExceptionInfo[BadInput]) -> str:
    """Return every rule of a refusal."""
    return "; ".join(finding.rule for finding in error.value.findings)


def kinds(job: JobFolder) -> list[str]:
    """Return the kinds of entries beside the coupons."""
    return [event.kind for event in Logbook.read(job.folder).events() if event.kind != "coupon"]


@pytest.mark.by_hand
def test_a_good_bonding_starts_its_clock(job: JobFolder) -> None:
    """At room temperature the panel's first careful drive is a day on, its full load three."""
    done = record_bonding(job, "panel", (), GOOD, told())

    assert done.first_drive == START + DAY
    assert done.full == START + 3 * DAY
    assert len(done.feet) == 8
    (bonding,) = build_history(again(job).events).bondings
    assert (bonding.lot, bonding.expires, bonding.entry.by) == ("K7", "2027-03-31", "Ann")
    assert bonding.surface_K == pytest.approx(295.15)


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        ({"expires": "2026-07-05"}, "expired on 2026-07-05"),
        ({"surface_temperature": "8 degC"}, "too cold"),
        ({"surface_temperature": "45 degC"}, "too hot"),
        ({"surface_temperature": "14 degC", "air": "20 degC", "humidity": "60 %"}, "over the dew point"),
    ],
)
def test_a_stop_stops_and_going_on_stays_in_the_record(
    job: JobFolder, typed: dict[str, str], rule: str
) -> None:
    """Nothing is written without a note; with one the stop and the reason are in the entry for good."""
    with pytest.raises(BadInput, match="STOP") as error:
        record_bonding(job, "panel", (), GOOD | typed, told())

    assert rule in rules(error)
    assert "--going-on" in {finding.key for finding in error.value.findings}
    assert kinds(job) == []
    done = record_bonding(job, "panel", (), GOOD | typed, told(going_on="the crane leaves at noon"))
    assert rule in done.written.against[0]
    (bonding,) = build_history(again(job).events).bondings
    assert bonding.entry.going_on == "the crane leaves at noon"
    assert rule in bonding.entry.against[0]


@pytest.mark.by_hand
def test_three_kelvin_over_the_dew_point_are_enough(job: JobFolder) -> None:
    """20 degC at 60 % dew at 12.0 degC: 15.1 degC is 3.1 K over it, 14.9 degC is not."""
    air = {"air": "20 degC", "humidity": "60 %"}
    with pytest.raises(BadInput, match="dew point"):
        record_bonding(job, "panel", (), GOOD | air | {"surface_temperature": "14.9 degC"}, told())
    record_bonding(job, "panel", (), GOOD | air | {"surface_temperature": "15.1 degC"}, told())

    assert kinds(job) == ["bonding"]


def test_what_is_not_known_is_no_stop(job: JobFolder) -> None:
    """ "unknown" and nothing are the same, and are left out of the entry rather than made up."""
    record_bonding(job, "panel", (), {"lot": "K7", "humidity": "unknown"}, told())
    (event,) = again(job).events

    assert set(event.body) == {"when", "by", "item", "feet", "lot"}


@pytest.mark.parametrize(
    ("item", "feet", "typed", "rule"),
    [
        ("pannel", (), {}, "is no item of the job"),
        ("", (), {}, "is no item of the job"),
        ("panel", ("front leftt",), {}, "is not known"),
        ("panel", (), {"expires": "31.3.2027"}, "is no day"),
        ("panel", (), {"air": "18"}, "has no unit"),
        ("panel", (), {"humidity": "160 %"}, "cannot be"),
        ("panel", (), {"press": "-5 N"}, "cannot be"),
        ("panel", (), {"lot": "x" * 500}, "is too long"),
    ],
)
def test_mistakes_are_findings(
    job: JobFolder, item: str, feet: tuple[str, ...], typed: dict[str, str], rule: str
) -> None:
    """What cannot be is told, and nothing is written."""
    with pytest.raises(BadInput) as error:
        record_bonding(job, item, feet, typed, told())

    assert rule in rules(error)
    assert kinds(job) == []


def test_the_future_and_a_clock_that_went_back_are_refused(job: JobFolder) -> None:
    """An entry cannot be of tomorrow, nor written before the last one was."""
    with pytest.raises(BadInput, match="lies in the future"):
        record_bonding(job, "panel", (), GOOD, told(at=START + DAY))
    record_bonding(job, "panel", (), GOOD, told())
    with pytest.raises(BadInput, match="clock went backwards"):
        record_bonding(again(job), "panel", (), GOOD, told(-HOUR))


def test_a_drive_before_its_time_stops(job: JobFolder) -> None:
    """Careful after a day, loaded after three; earlier only with a reason that stays."""
    record_bonding(job, "panel", (), GOOD, told())
    now = again(job)
    for after, careful, allowed in (
        (23 * HOUR, True, False),
        (25 * HOUR, False, False),
        (25 * HOUR, True, True),
        (73 * HOUR, False, True),
    ):
        if allowed:
            record_happening(now, "drive", "", (), {}, told(after), careful=careful)
        else:
            with pytest.raises(BadInput, match="driven before its bond may be"):
                record_happening(now, "drive", "", (), {}, told(after), careful=careful)
    assert kinds(job) == ["bonding", "happening", "happening"]


@pytest.mark.parametrize("what", [what for what in WHATS if what not in ("opened", "slipped", "let go")])
def test_every_happening_is_written_down(job: JobFolder, what: str) -> None:
    """Each word has its entry."""
    record_happening(job, what, "", (), {}, told())

    assert build_history(again(job).events).happenings[0].what == what


def test_a_foot_that_let_go_needs_its_name(job: JobFolder) -> None:
    """Which foot, of which item."""
    with pytest.raises(BadInput, match="is missing"):
        record_happening(job, "opened", "panel", (), {}, told())
    record_happening(job, "let go", "panel", ("rear left",), {"failure_pattern": "Coating"}, told())
    (happening,) = build_history(again(job).events).happenings

    assert (happening.feet, happening.failure_pattern) == (("rear left",), "coating")


def test_an_event_takes_the_word_and_a_look_gives_it_back(job: JobFolder) -> None:
    """A storm makes every item NOT PROVEN until all its feet were looked at; the other item stays open."""
    before = {item.item.name: item.verdict.word for item in assess(job.job, job.facts).items}
    record_bonding(job, "panel", (), GOOD, told())
    record_happening(again(job), "storm", "", (), {"gust": "70 mph"}, told(4 * DAY))
    after = assess(job.job, again(job).facts)

    assert set(before.values()) == {"GO WITH CONDITIONS"}
    assert {item.verdict.word for item in after.items} == {"NOT PROVEN"}
    part = record_inspection(
        again(job), "panel", {"gap": ["front left=0 mm"]}, None, told(5 * DAY), edges_closed=False
    )
    assert part.word == "NOT PROVEN"
    assert "nothing is said of the edges" in part.written.doubts[0]
    done = record_inspection(again(job), "panel", {}, "20 degC", told(6 * DAY), edges_closed=True)
    assert (done.word, done.unsettled) == ("GO WITH CONDITIONS", ())
    words = {item.item.name: item.verdict.word for item in assess(job.job, again(job).facts).items}
    assert words == {"antenna dome": "NOT PROVEN", "panel": "GO WITH CONDITIONS"}


def test_a_pull_over_its_limit_stops(job: JobFolder) -> None:
    """More than does no harm is not written down as if it were nothing."""
    record_bonding(job, "panel", (), GOOD, told())
    now = again(job)
    with pytest.raises(BadInput, match=r"over the .* that do no harm"):
        record_inspection(
            now, "panel", {"pull": ["front left=2 kN"]}, "20 degC", told(DAY), edges_closed=True
        )
    hard = told(DAY, going_on="the scale slipped")
    done = record_inspection(now, "panel", {"pull": ["front left=2 kN"]}, "20 degC", hard, edges_closed=True)

    assert done.word == "NOT PROVEN"
    assert "front left was pulled with 2000 N" in done.unsettled[0]
    gentle = {"pull": ["front left=150 N"], "slip": ["front left=0.1 mm"]}
    good = record_inspection(again(job), "panel", gentle, "20 degC", told(2 * DAY), edges_closed=True)
    assert good.word == "GO WITH CONDITIONS"


@pytest.mark.parametrize(
    ("readings", "rule"),
    [
        ({"slip": ["0.4 mm"]}, "names no foot"),
        ({"slip": ["front=0.4 mm"]}, "is not known"),
        ({"slip": ["front left=0.4"]}, "has no unit"),
        ({"slip": ["front left="]}, "has no value"),
        ({"gap": ["front left=-1 mm"]}, "cannot be"),
        ({"gap": ["front left=1 mm", "front left=2 mm"]}, "is there twice"),
        ({"pull": ["front left=hard"]}, "does not begin with a number"),
    ],
)
def test_readings_that_cannot_be(job: JobFolder, readings: dict[str, list[str]], rule: str) -> None:
    """Every reading needs its foot and its unit."""
    with pytest.raises(BadInput) as error:
        record_inspection(job, "panel", readings, None, told(), edges_closed=False)

    assert rule in rules(error)
    assert kinds(job) == []


def test_a_correction_stands_for_the_row_it_names(job: JobFolder) -> None:
    """Both entries stay; only the right one counts; a row of another kind cannot be corrected."""
    record_bonding(job, "panel", (), GOOD, told())
    wrong = record_inspection(
        again(job), "panel", {"gap": ["front left=10 mm"]}, None, told(HOUR), edges_closed=True
    )
    row = wrong.written.event.seq
    with pytest.raises(BadInput, match="is no inspection entry"):
        record_inspection(again(job), "panel", {}, None, told(2 * HOUR, corrects=row - 1), edges_closed=True)
    right = record_inspection(again(job), "panel", {}, None, told(2 * HOUR, corrects=row), edges_closed=True)

    assert wrong.word == "NOT PROVEN"
    assert right.word == "GO WITH CONDITIONS"
    assert kinds(job) == ["bonding", "inspection", "inspection"]


def test_photos_are_kept_beside_the_record(job: JobFolder, tmp_path: Path) -> None:
    """A photo says of which foot and stage it is; one that is no picture keeps the whole entry out."""
    (tmp_path / "a=b.jpg").write_bytes(jpeg(place=True))
    feet = [mount.name for mount in job.job.item[1].mount]
    given = read_photos([f"front left/placed={tmp_path}/a=b.jpg", f"{tmp_path}/a=b.jpg"], feet)
    record_bonding(job, "panel", (), GOOD, told(photos=given))
    (bonding,) = build_history(again(job).events).bondings

    assert [photo.of for photo in bonding.entry.photos] == ["front left/placed", ""]
    assert all((job.folder / photo.file).is_file() for photo in bonding.entry.photos)
    bad = told(HOUR, photos=(GivenPhoto(of="", content=b"<script>"),))
    with pytest.raises(BadInput, match="is no picture"):
        record_happening(again(job), "storm", "", (), {}, bad)
    assert kinds(job) == ["bonding"]
