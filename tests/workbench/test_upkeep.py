"""What is due, passports and their way to a next owner, sheets as PDF: the use cases, on a whole job."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pypdf
import pytest
from icalendar import Calendar

from bonded_jobs import GOOD, START, jpeg, lay_out, told
from staydown.assess import assess
from staydown.foundation.errors import BadInput
from staydown.making.guide import Mix, Weather
from staydown.storage.logbook import Logbook
from staydown.workbench.bonding import record_bonding
from staydown.workbench.happened import GivenPhoto
from staydown.workbench.happenings import record_happening
from staydown.workbench.inspect import record_inspection
from staydown.workbench.open_job import JobFolder, open_job
from staydown.workbench.passport import Passport, job_of_one, take_over, write_passports
from staydown.workbench.sheets import place_of, write_guides, write_tests
from staydown.workbench.upkeep import dates_of, removal_of, roadside_of, upkeep_of, write_ics

DAY = timedelta(days=1)
EVIL = '#strong[x] #import "evil" $x$ *bold* <script>alert(1)</script> \\u{1}'


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo with a bonded panel, a drive, a storm, a look and photos."""
    job = lay_out(tmp_path_factory.mktemp("demo") / "job")
    photo = GivenPhoto(of="front left/placed", content=jpeg((300, 200), place=True))
    record_bonding(job, "panel", (), GOOD, told(photos=(photo,), note=EVIL))
    record_happening(open_job(job.folder), "drive", "", (), {}, told(4 * DAY))
    record_happening(open_job(job.folder), "storm", "panel", (), {"gust": "70 mph"}, told(5 * DAY))
    readings = {"slip": ["rear left=0.3 mm"], "pull": ["front left=150 N"]}
    record_inspection(open_job(job.folder), "panel", readings, "22 degC", told(6 * DAY), edges_closed=True)
    return job.folder


@pytest.fixture
def job(lived: Path, tmp_path: Path) -> JobFolder:
    """Return a copy of it, open."""
    shutil.copytree(lived, tmp_path / "job")
    return open_job(tmp_path / "job")


def words_of(file: Path) -> str:
    """Return all words of a PDF on one line."""
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(file).pages).split())


def passport(job: JobFolder, tmp_path: Path) -> Passport:
    """Return the panel's passport, written."""
    (done,) = write_passports(job.folder, "panel", tmp_path / "out", "a4", START + 7 * DAY)
    return done


def test_what_is_due_and_its_calendar(job: JobFolder, tmp_path: Path) -> None:
    """A watched slip is read again in a month, a full look is due; both stand in the calendar with the dwell."""
    found = upkeep_of(job, START + 7 * DAY, "panel")
    (item,) = found.items
    slips = {look.foot: look.slip.grade for look in item.plan.feet}

    assert slips["rear left"] == "watch"
    assert {due.state for due in item.plan.dues} == {"later", "when reached"}
    assert item.full == START + 3 * DAY
    events = Calendar.from_ical(write_ics(found, tmp_path / "a.ics").read_bytes()).walk("VEVENT")
    assert len(events) == len(dates_of(found)) >= 3
    fresh = upkeep_of(job, START + timedelta(hours=1), "panel")
    whats = [date.what for date in dates_of(fresh)]
    assert "panel: first careful drive possible" in whats
    assert "panel: bond full: may be loaded" in whats


def test_a_roof_that_is_hot_allows_a_weaker_pull(job: JobFolder) -> None:
    """The temperature is typed at the door; what cannot be is refused."""
    cool = upkeep_of(job, START, "panel", "10 degC").items[0].pulls[0]
    hot = upkeep_of(job, START, "panel", None).items[0].pulls[0]

    assert cool.most_N > hot.most_N > 0.0
    with pytest.raises(BadInput, match="cannot be"):
        upkeep_of(job, START, "panel", "200 degC")


def test_the_roadside_answer_and_the_removal_card(job: JobFolder) -> None:
    """Both come from the job's own item; a foot that is not there is told."""
    answer = roadside_of(job, "panel", ["front left"])

    assert answer.lost == ("front left",)
    assert removal_of(job, "panel").surface.id == "painted_steel"
    with pytest.raises(BadInput, match="is not known"):
        roadside_of(job, "panel", ["front middle"])


def test_a_passport_is_read_without_the_program(job: JobFolder, tmp_path: Path) -> None:
    """The sheet says how it was bonded, what happened and what is missing; markup of a person stays text."""
    done = passport(job, tmp_path)
    told_words = words_of(done.pdf)

    for wanted in (
        "bond passport",
        "K7",
        "Ann",
        "storm",
        "gust 113 km/h",
        "Missing",
        "cleaner",
        "How it comes off",
    ):
        assert wanted in told_words
    assert "#strong[x]" in told_words
    assert "<script>alert(1)</script>" in told_words
    assert any("photos (1 of 5)" in gap for gap in done.missing)
    assert any(page.images for page in pypdf.PdfReader(done.pdf).pages)


def test_the_same_passport_is_the_same_bytes(job: JobFolder, tmp_path: Path) -> None:
    """Written twice at one moment, PDF and archive are alike."""
    first = passport(job, tmp_path)
    before = first.pdf.read_bytes(), first.archive.read_bytes()
    again = passport(job, tmp_path)

    assert (again.pdf.read_bytes(), again.archive.read_bytes()) == before


def test_the_archive_holds_everything(job: JobFolder, tmp_path: Path) -> None:
    """JSON with the records as they were written, coupons that read again, the photos without their place."""
    with zipfile.ZipFile(passport(job, tmp_path).archive) as archive:
        names = archive.namelist()
        data = json.loads(archive.read("passport.json"))
        photo = archive.read(data["photos"][0])

    assert {"passport.json", "passport.pdf", "coupons.csv", data["photos"][0]} == set(names)
    assert [record["kind"] for record in data["records"]] == [
        "bonding",
        "happening",
        "happening",
        "inspection",
    ]
    assert data["answer"]["name"] == "panel"
    assert data["logbook"]["head"] == Logbook.read(job.folder).head().hash
    assert b"Exif" not in photo
    assert 'name = "antenna dome"' not in data["job_toml"]


def test_the_next_owner_takes_it_over(job: JobFolder, tmp_path: Path) -> None:
    """Job, records and photos come along, marked as told; nothing counts before the first look; coupons lie beside."""
    done = take_over(passport(job, tmp_path).archive, tmp_path / "mine", START + 30 * DAY)
    mine = open_job(tmp_path / "mine")
    (item,) = assess(mine.job, mine.facts).items

    assert (done.records, done.photos) == (4, 1)
    assert mine.coupons == ()
    assert done.coupons is not None
    assert done.coupons.is_file()
    assert item.verdict.because[0].startswith("must be looked at first: taken over on 2026-08-05")
    after = told(31 * DAY)
    looked = record_inspection(mine, "panel", {}, None, after, edges_closed=True)
    assert looked.unsettled == ()
    (again,) = write_passports(mine.folder, None, tmp_path / "out2", "a4", START + 32 * DAY)
    assert again.photos == 1
    assert "told by the passport of an earlier owner" in words_of(again.pdf)
    with pytest.raises(BadInput, match="never overwritten"):
        take_over(again.archive, tmp_path / "mine", START + 33 * DAY)


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"format": "staydown-passport-9"}, "has format"),
        ({"records": [{"kind": "coupon", "at": "x", "body": {}}]}, "cannot be understood: records"),
        (
            {"records": [{"kind": "bonding", "at": "x", "body": {"when": "yesterday"}}]},
            "cannot be understood: records",
        ),
        ({"records": "none"}, "cannot be understood: records"),
        ({"item": "box"}, "does not have its item"),
        ({"job_toml": "format = 1\n"}, "is missing"),
    ],
)
def test_a_passport_that_was_meddled_with(
    job: JobFolder, tmp_path: Path, change: dict[str, Any], rule: str
) -> None:
    """What is not as a passport has it is refused before anything is written."""
    with zipfile.ZipFile(passport(job, tmp_path).archive) as archive:
        data = json.loads(archive.read("passport.json")) | change
    (tmp_path / "p.json").write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(BadInput) as error:
        take_over(tmp_path / "p.json", tmp_path / "mine", START + 30 * DAY)

    assert any(rule in finding.rule for finding in error.value.findings)
    assert not (tmp_path / "mine").exists()


def test_a_photo_that_was_swapped(job: JobFolder, tmp_path: Path) -> None:
    """A picture that is not what its name stands for keeps the whole passport out."""
    out = io.BytesIO()
    with zipfile.ZipFile(passport(job, tmp_path).archive) as archive, zipfile.ZipFile(out, "w") as other:
        for name in archive.namelist():
            other.writestr(name, jpeg() if name.startswith("photos/") else archive.read(name))
    (tmp_path / "p.zip").write_bytes(out.getvalue())
    with pytest.raises(BadInput, match="is not the picture"):
        take_over(tmp_path / "p.zip", tmp_path / "mine", START + 30 * DAY)

    assert not (tmp_path / "mine").exists()


def test_a_job_of_one_item_keeps_its_comments(job: JobFolder) -> None:
    """The other items go, the rest of the file stays as it was typed."""
    text = (job.folder / "job.toml").read_text(encoding="utf-8")
    alone = job_of_one(text, [item.name for item in job.job.item], "panel")

    assert "frame" in alone
    assert "# " in alone
    assert 'name = "antenna dome"' not in alone
    assert alone.count("[[item]]") == 1


@pytest.mark.by_hand
def test_the_guide_says_what_the_laws_say(job: JobFolder, tmp_path: Path) -> None:
    """One page a phase; every foot with 15 psi on its pad, in newtons and pounds."""
    weather = Weather(air_K=291.15, humidity=0.6, surface_K=290.15)
    _, sheets = write_guides(job.folder, None, weather, Mix(), tmp_path / "out", "letter")
    texts = {sheet.item: words_of(sheet.file) for sheet in sheets}

    for item in job.job.item:
        force_N = 15 * 6894.757293168 * item.mount[0].pad.area_m2
        assert f"{force_N:.0f} N ({force_N / 4.4482216152605:.0f} lb)" in texts[item.name]
    assert "6.9 K (12.4 °F)" in texts["panel"]  # 17 degC over a dew point of 10.1 degC
    for wanted in ("STOP if:", "best before", "Mix the wipe.", "177 mL", "No drive before"):
        assert wanted in texts["panel"]
    titles = [page.extract_text() for page in pypdf.PdfReader(sheets[0].file).pages]
    assert len(titles) == 9
    assert "2. Abrade" in titles[3]


def test_a_surface_that_is_not_bonded_has_no_guide(job: JobFolder, tmp_path: Path) -> None:
    """Rubber gets its way out instead of a guide; so does a sealing tape."""
    file = job.folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    for old, new, rule in (
        ('surface = "painted_steel"', 'surface = "epdm"', "not bonded to"),
        ('kind = "acrylic foam tape"', 'kind = "butyl tape"', "no structure"),
    ):
        file.write_text(text.replace(old, new), encoding="utf-8")
        with pytest.raises(BadInput, match=rule):
            write_guides(job.folder, "panel", Weather(), Mix(), tmp_path / "out", "a4")
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput, match="cannot be mixed"):
        write_guides(job.folder, "panel", Weather(), Mix(share=0.7, stock_share=0.5), tmp_path / "out", "a4")
    with pytest.raises(BadInput, match="is no item"):
        write_guides(job.folder, "pannel", Weather(), Mix(), tmp_path / "out", "a4")
    assert not (tmp_path / "out").exists()


def test_the_bench_sheet_has_what_a_bench_needs(job: JobFolder, tmp_path: Path) -> None:
    """Without coupons there is a plan: cut list, jig, table, rule; with all of them there is none to write."""
    for name in ("logbook.sqlite", "logbook.head"):
        (job.folder / name).unlink()
    ((plan, file),) = write_tests(job.folder, "panel", tmp_path / "out", "a4")
    assert file is not None
    text = words_of(file)

    for wanted in ("Cut list, one to spare", "T1-1", "Passes when:", "aluminium", "Hang tests"):
        assert wanted in text
    hangs = [one for one in plan.steps if one.chosen.test.way == "hang"]
    assert ("US gal" in text) == bool(hangs)


def test_no_sheet_takes_the_place_of_another_item_s(job: JobFolder, tmp_path: Path) -> None:
    """Items whose names make one file name, or none, are told apart by their number."""
    names = ["板", "屋", "front panel", "front/panel", "rear"]
    items = tuple(job.job.item[0].model_copy(update={"name": name}) for name in names)
    named = replace(job, job=job.job.model_copy(update={"item": items}))
    files = [place_of(named, tmp_path, "bonding", name, ".pdf").name for name in names]

    assert files == [
        "bonding-1.pdf",
        "bonding-2.pdf",
        "bonding-3-front-panel.pdf",
        "bonding-4-front-panel.pdf",
        "bonding-rear.pdf",
    ]
