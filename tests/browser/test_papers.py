"""Papers of each item, fetched as a person fetches them; what cannot be made, and what is missing, said on the page."""

from __future__ import annotations

import tomllib
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from staydown.workbench.bonding import record_bonding
from staydown.workbench.happened import Told
from staydown.workbench.open_job import open_job
from web_server import Server, status_of

PANEL = "section[aria-label='panel: sheets to work by, and its passport']"


def fetched(page: Any, name: str) -> Path:
    """Return the file that a link brings."""
    with page.expect_download(timeout=60_000) as one:
        page.get_by_role("link", name=name).click()
    return Path(one.value.path())


def test_sheets_and_passport_are_fetched(server: Server, tab: Any) -> None:
    """Guide, bench sheet and passport come as files; the passport's gaps stand on the page."""
    page = tab(server.job("papers"))
    panel = page.locator(PANEL)
    expect(panel).to_contain_text("Every foot: no record of how it was bonded")
    expect(panel).to_contain_text("Left to be measured on the day")

    assert fetched(page, "Bonding guide of panel, PDF, A4").read_bytes().startswith(b"%PDF-")
    assert fetched(page, "Sheet for the bench of panel, PDF, US Letter").read_bytes().startswith(b"%PDF-")
    assert fetched(page, "Passport of panel, PDF, A4").read_bytes().startswith(b"%PDF-")
    with zipfile.ZipFile(fetched(page, "Passport of panel, archive")) as held:
        assert "passport.json" in held.namelist()


def test_what_was_measured_goes_into_the_guide(server: Server, tab: Any) -> None:
    """A value that cannot be is told at its field; one that stops the work is a stop on the page."""
    page = tab(server.job("papers"))
    page.get_by_text("Type it here").click()
    page.locator('[name="air"]').fill("warm")
    page.get_by_role("button", name="Use these in the bonding guides").click()
    field = page.locator(".field", has=page.locator('[name="air"]'))
    expect(field.locator(".error")).to_be_visible()
    page.locator('[name="air"]').fill("3 degC")
    page.locator('[name="surface_temperature"]').fill("2 degC")
    page.get_by_role("button", name="Use these in the bonding guides").click()
    expect(page.locator(PANEL).locator(".stop")).to_contain_text("Stop: the surface is")
    link = page.get_by_role("link", name="Bonding guide of panel, PDF, A4")

    assert "surface_temperature=2+degC" in str(link.get_attribute("href"))


def test_what_may_not_be_bonded_is_said(server: Server, tab: Any, job_folder: Path) -> None:
    """On a surface that nobody bonds to there is no guide, and the page says why."""
    file = job_folder / "job.toml"
    file.write_text(file.read_text().replace('surface = "painted_steel"', 'surface = "pvc_membrane"'))
    page = tab(server.job("papers"))
    expect(page.locator(PANEL)).to_contain_text("It cannot be made")
    expect(page.get_by_role("link", name="Bonding guide of panel, PDF, A4")).to_have_count(0)


def test_dates_go_into_a_calendar(server: Server, tab: Any, job_folder: Path) -> None:
    """Without a bonding nothing has a date, and the page says so; with one there is a calendar."""
    page = tab(server.job("papers"))
    dates = page.locator("section[aria-label='Dates: when something is due']")
    expect(dates).to_contain_text("Nothing has a date yet")
    record_bonding(open_job(job_folder), "panel", (), {}, Told(now=datetime.now(UTC)))
    page.reload()
    expect(dates).to_contain_text("panel: ")

    assert fetched(page, "due.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")


def test_a_passport_is_taken_over(server: Server, tab: Any, job_folder: Path, tmp_path: Path) -> None:
    """The next owner opens the archive of a passport: the item alone, NOT PROVEN until somebody has looked."""
    page = tab(server.job("papers"))
    with page.expect_download(timeout=60_000) as one:
        page.get_by_role("link", name="Passport of panel, archive").click()
    archive = tmp_path / "bought.zip"
    one.value.save_as(archive)
    other = tab(server.url)
    other.get_by_text("Or unpack an archive").click()
    other.get_by_label("Archive").set_input_files(archive)
    other.get_by_label("New folder for it").fill(str(tmp_path / "mine"))
    other.get_by_role("button", name="Unpack and open it").click()
    other.locator("svg.plan").wait_for()
    expect(other.locator("h1")).to_contain_text("NOT PROVEN")
    other.get_by_role("link", name="On the road").click()
    other.get_by_role("button", name="What was written down").click()
    expect(other.locator(".log")).to_contain_text("passport bought.zip")

    job = tomllib.loads((tmp_path / "mine" / "job.toml").read_text())
    assert [item["name"] for item in job["item"]] == ["panel"]
    assert (tmp_path / "mine" / "coupons.csv").exists()


def test_no_path_leads_out(module_server: Server) -> None:
    """Names that are none of the job's papers are refused."""
    for name in ("job.toml%00.pdf", "..%2Fjob.toml", "bonding-9-panel-a4.pdf", "logbook.sqlite"):
        assert status_of(module_server.job(f"paper/{name}")) == 404


@pytest.mark.parametrize("slug", ["", "papers"])
def test_a_page_can_be_printed(server: Server, tab: Any, slug: str) -> None:
    """Answer and papers have a button that prints them, and no button is on the paper."""
    page = tab(server.job(slug))
    page.evaluate("window.print = () => { window.printed = true; }")
    page.get_by_role("button", name="Print this page").click()

    assert page.evaluate("window.printed") is True
    page.emulate_media(media="print")
    expect(page.get_by_role("button", name="Print this page")).to_be_hidden()
