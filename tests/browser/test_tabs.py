"""Several tabs, several programs, and a server that dies: nothing is lost and nobody overwrites anybody unseen."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from web_server import Server, wait_for


def speed(folder: Path) -> str:
    """Return the cruising speed as the file has it."""
    return str(tomllib.loads((folder / "job.toml").read_text())["travel"]["cruise_speed"])


def type_speed(page: Any, text: str) -> None:
    """Type a cruising speed on the page of details."""
    field = page.locator('[data-place="travel.cruise_speed"]')
    field.fill(text)
    field.press("Enter")


def test_two_tabs_show_the_same_job(server: Server, tab: Any, job_folder: Path) -> None:
    """What is changed in one tab stands in the other at once."""
    one = tab(server.job("details"))
    other = tab(server.job(), context=one.context)
    before = other.locator(".second").inner_text()
    type_speed(one, "108 km/h")
    wait_for(lambda: speed(job_folder) == "108 km/h")
    other.get_by_role("button", name="antenna dome: ").click()
    expect(other.get_by_role("button", name="Undo")).to_be_enabled()
    other.get_by_role("button", name="Undo").click()
    expect(one.locator('[data-place="travel.cruise_speed"]')).to_have_value("90 km/h")

    assert speed(job_folder) == "90 km/h"
    assert before


@pytest.mark.parametrize("width", [1280, 390])
def test_undo_and_redo_say_what_they_did(server: Server, tab: Any, job_folder: Path, width: int) -> None:
    """What was taken back, and what was done again, is told in sight of the button, on a phone too."""
    page = tab(server.job("details"), viewport={"width": width, "height": 800})
    type_speed(page, "108 km/h")
    wait_for(lambda: speed(job_folder) == "108 km/h")
    told = page.locator(".notice")
    page.get_by_role("button", name="Undo").click()
    expect(told).to_have_text("Taken back: cruise speed to 108 km/h. Redo does it again.")
    expect(told).to_be_in_viewport()

    assert speed(job_folder) == "90 km/h"

    page.get_by_role("button", name="Redo").click()
    expect(told).to_have_text("Done again: cruise speed to 108 km/h. Undo takes it back.")

    assert speed(job_folder) == "108 km/h"


COVERED = """hidden => {
    Object.defineProperty(document, 'visibilityState', {configurable: true, get: () => hidden ? 'hidden' : 'visible'});
    document.dispatchEvent(new Event('visibilitychange'));
}"""  # what a browser with a screen says of a tab behind another


def test_a_tab_that_nobody_sees_is_told_when_it_is_seen(server: Server, tab: Any, job_folder: Path) -> None:
    """A tab behind another costs nothing at an edit, a tab beside it is told; come forward, both say the same."""
    one = tab(server.job("details"))
    beside = tab(server.job("details"), context=one.context)
    behind = tab(server.job("details"), context=one.context)
    opened = tab(server.job("details"), context=one.context)
    behind.evaluate(COVERED, True)
    opened.evaluate(COVERED, True)
    type_speed(one, "97 km/h")
    wait_for(lambda: speed(job_folder) == "97 km/h")
    field = '[data-place="travel.cruise_speed"]'
    expect(beside.locator(field)).to_have_value("97 km/h")
    beside.wait_for_timeout(1000)

    assert [other.locator(field).input_value() for other in (behind, opened)] == ["90 km/h"] * 2

    behind.evaluate(COVERED, False)
    expect(behind.locator(field)).to_have_value("97 km/h")
    type_speed(behind, "96 km/h")
    expect(one.locator(field)).to_have_value("96 km/h")
    opened.evaluate(COVERED, False)
    expect(opened.locator(field)).to_have_value("96 km/h")


def test_a_file_changed_elsewhere_is_taken_over(server: Server, tab: Any, job_folder: Path) -> None:
    """An editor's change shows by itself where nothing was changed here."""
    page = tab(server.job("details"))
    file = job_folder / "job.toml"
    file.write_text(file.read_text().replace('cruise_speed = "90 km/h"', 'cruise_speed = "88 km/h"'))
    expect(page.locator('[data-place="travel.cruise_speed"]')).to_have_value("88 km/h")


def test_a_conflict_is_shown_and_settled(server: Server, tab: Any, job_folder: Path) -> None:
    """Where both changed the file nothing is overwritten until somebody chooses; the other text can be had back."""
    page = tab(server.job("details"))
    file = job_folder / "job.toml"
    theirs = file.read_text().replace('top_speed = "110 km/h"', 'top_speed = "120 km/h"')
    page.evaluate("0")
    file.write_text(theirs)
    type_speed(page, "93 km/h")  # before the look at the disk, or after it: then there is no conflict
    conflict = page.get_by_text("changed by another program while you changed it here")
    wait_for(lambda: conflict.count() == 1 or speed(job_folder) == "93 km/h")
    if conflict.count() == 0:
        assert tomllib.loads(file.read_text())["travel"]["top_speed"] == "120 km/h"
        return

    assert file.read_text() == theirs

    page.get_by_role("button", name="Keep what I did here").click()
    wait_for(lambda: speed(job_folder) == "93 km/h")
    page.get_by_role("button", name="Undo").click()
    wait_for(lambda: file.read_text() == theirs)


def test_a_killed_server_loses_nothing(server: Server, tab: Any, job_folder: Path, watch: Any) -> None:
    """A change is in the file when the server is killed; started again, the same tab goes on."""
    watch.allowed += ["WebSocket", "ERR_CONNECTION_REFUSED", "Failed to load resource"]
    page = tab(server.job("details"))
    type_speed(page, "94 km/h")
    wait_for(lambda: speed(job_folder) == "94 km/h")
    page.evaluate("document.documentElement.dataset.before = '1'")
    server.kill()
    server.start()
    # the tab comes back by itself, with the page made anew
    expect(page.locator("html[data-before]")).to_have_count(0, timeout=20_000)
    expect(page.locator('[data-place="travel.cruise_speed"]')).to_have_value("94 km/h", timeout=20_000)
    page.wait_for_load_state("networkidle")
    type_speed(page, "95 km/h")
    wait_for(lambda: speed(job_folder) == "95 km/h")
