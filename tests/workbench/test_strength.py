"""`strength` leads with the load that is hottest and longest for a bond, whatever it pulls."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.cli.main import run
from staydown.loads.load_case import exposures
from staydown.storage.write_whole import write_whole
from staydown.strength.bound_at import bounds_at
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.strength import StrengthAnswer, strength_of


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the demo's job."""
    return lay_out_demo(tmp_path_factory.mktemp("demo") / "job", datetime(2026, 6, 1, tzinfo=UTC)).folder


def changed(job: Path, folder: Path, *changes: tuple[str, str]) -> Path:
    """Return a copy of the job with some of its lines changed."""
    text = (job / "job.toml").read_text(encoding="utf-8")
    for pattern, by in changes:
        text, count = re.subn(pattern, by, text, flags=re.M)
        assert count, pattern
    for name in ("logbook.sqlite", "logbook.head"):
        write_whole(folder / name, (job / name).read_bytes())
    write_whole(folder / "job.toml", text.encode("utf-8"))
    return folder


def leads(answer: StrengthAnswer) -> list[tuple[float, float, str | None]]:
    """Return how long, how hot and in which case each belief is told first."""
    return [
        (told.lead.lasts_s, told.lead.temperature_K, lead.case)
        for told, lead in zip(answer.beliefs, answer.leads, strict=True)
    ]


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """Return what the command printed."""
    with pytest.raises(SystemExit) as end:
        run(["strength", *words])
    assert end.value.code == 0
    return capsys.readouterr().out


@pytest.mark.independent("every load of the job asked one by one")
def test_no_load_of_the_job_has_less_proven_than_the_lead(job: Path) -> None:
    """Of all exposures under a load the lead's bound is the least; heat alone is no load."""
    answer = strength_of(job)
    met = {
        (one.lasts_s, one.temperature_K)
        for item in answer.assessment.items
        if item.mounted is not None
        for case, row in zip(item.mounted.table.cases, exposures(item.mounted.table), strict=True)
        if case.family != "soak"
        for one in row
    }
    asked, slopes = answer.asked, answer.slopes

    assert len(answer.beliefs) == 2
    for told, slope in zip(answer.beliefs, slopes, strict=True):
        bounds = bounds_at(
            told.belief,
            tuple(met),
            asked.content,
            asked.confidence,
            slope=slope,
            coldest_K=asked.coldest_K,
            reach=asked.reach,
        )

        assert (told.lead.lasts_s, told.lead.temperature_K) in met
        assert told.lead.bound.stress_Pa == min(bound.stress_Pa for bound in bounds)


def test_the_lead_does_not_know_the_pull(job: Path, tmp_path: Path) -> None:
    """A far heavier item with far longer levers pulls more and is told at the same point: the demand is not seen."""
    heavy = changed(
        job, tmp_path, (r'^mass = ".*?"', 'mass = "40 kg"'), (r'^lever = ".*?"', 'lever = "39 mm"')
    )

    assert leads(strength_of(heavy)) == leads(strength_of(job))


def test_the_sentence_says_which_case_it_is(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Text and JSON name item and case; the bound of 90 % is told apart from what an item alone on its mounts needs."""
    text = " ".join(printed(capsys, str(job)).split())
    answer = json.loads(printed(capsys, str(job), "--json"))
    lead = answer["beliefs"][0]["lead"]

    assert lead["case"] == "antenna dome, departure, hot"
    assert (
        "Hottest and longest in this job, whatever pulls: antenna dome, departure, hot. For 10 min at 87 °C"
        in text
    )
    assert lead["lasts_s"] == 600.0
    assert any(
        (point["lasts_s"], point["temperature_K"]) == (lead["lasts_s"], lead["temperature_K"])
        for point in answer["beliefs"][0]["curve"]
    )
    assert "`check` asks for 99 %: `--content 0.99` shows it" in text
    assert "asks for" not in printed(capsys, str(job), "--content", "0.99")


def test_the_first_point_that_is_asked_for_leads(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever asks for points gets the first of them first."""
    out = printed(capsys, str(job), "--at", "6 h, 45 degC", "--at", "1 h, 80 degC")

    assert "For 6 h at 45 °C (113 °F)" in out.split("Coupons:")[0]
    assert "Hottest" not in out


def test_a_bond_that_no_item_has_says_so(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Coupons on another surface than the roof's are told, with the hardest of the usual points, and as such."""
    other = changed(job, tmp_path, (r'^surface = ".*?"', 'surface = "gelcoat"'))
    text = " ".join(printed(capsys, str(other)).split())

    assert leads(strength_of(other))[0][2] is None
    assert (
        "No item of the job is on this tape and surface: this is the hardest of the points below. For 24 h at"
        in text
    )


def test_who_reads_us_units_gets_no_metric_table(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Chart, curve, parameters and coupons are in one system; the sentences have both."""
    us = changed(job, tmp_path, (r'^show = "metric"', 'show = "us"'))
    out = printed(capsys, str(us))
    tables = [line for line in out.splitlines() if not re.search(r"\(.*(?:kPa|°C).*\)", line)]

    assert "held for 1 h at 73 °F" in out
    assert "psi" in out
    assert [line for line in tables if re.search(r"\d (?:kPa|°C)|in kPa", line)] == []
