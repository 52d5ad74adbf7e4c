"""On the road with a phone: what to do now, what happened into the logbook, what that asks for."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from staydown.storage.logbook import Logbook
from staydown.workbench.bonding import record_bonding
from staydown.workbench.happened import Told
from staydown.workbench.open_job import open_job
from web_server import AXE, Server, a_picture, missing

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
EVIL = "<img src=x onerror=\"document.title='run'\">"


def entries(folder: Path) -> list[dict[str, Any]]:
    """Return the happenings of the logbook."""
    return [dict(one.body) for one in Logbook.read(folder).events() if one.kind == "happening"]


def test_the_roadside_question(server: Server, tab: Any, job_folder: Path) -> None:
    """Marked feet give an order in a sentence; what was seen goes on into the logbook."""
    page = tab(server.job("road"), **PHONE)
    page.get_by_role("button", name="panel", exact=True).tap()
    expect(page.get_by_role("button", name="What do I do now?")).to_be_disabled()
    page.get_by_role("button", name="front left", exact=True).tap()
    page.get_by_role("button", name="What do I do now?").tap()
    answer = page.get_by_role("region", name="What to do now")
    expect(answer.locator("h2")).to_be_focused()
    expect(answer).to_contain_text("Take it off and carry it inside")
    answer.get_by_text("How a foot comes off this surface").tap()
    expect(answer).to_contain_text("keep the heat moving")
    page.get_by_role("button", name="I cannot tell which").tap()
    expect(answer).to_contain_text("Do not drive with it")
    page.get_by_role("button", name="Begin again").tap()
    expect(answer).to_have_count(0)
    page.get_by_role("button", name="rear left", exact=True).tap()
    page.get_by_role("button", name="What do I do now?").tap()
    page.get_by_role("button", name="Write down: it opened").tap()
    expect(page.get_by_role("button", name="rear left", exact=True)).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".shop h2")).to_contain_text("Written down")
    expect(page.locator(".shop")).to_contain_text("Rear left opened at an edge")

    (entry,) = entries(job_folder)
    assert (entry["what"], entry["item"], entry["feet"]) == ("opened", "panel", ["rear left"])


def test_a_storm_is_written_down_and_corrected(server: Server, tab: Any, job_folder: Path) -> None:
    """Bad input is told at its field; then it is written, asks for a look, and can be corrected beside itself."""
    page = tab(server.job("road"), **PHONE)
    page.get_by_role("button", name="Something happened").tap()
    page.get_by_role("button", name="A storm").tap()
    page.locator('[name="gust"]').fill("fast")
    page.locator('[name="at"]').fill("yesterday")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".field", has=page.locator('[name="at"]')).locator(".error")).to_be_visible()
    page.locator('[name="at"]').fill("")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".field", has=page.locator('[name="gust"]')).locator(".error")).to_be_visible()

    assert entries(job_folder) == []

    page.locator('[name="gust"]').fill("70 mph")
    page.locator('[name="note"]').fill(EVIL)
    page.get_by_role("button", name="Write it down").tap()
    expect(page.get_by_role("status")).to_contain_text("Written down: storm")
    expect(page.locator(".shop")).to_contain_text("nobody has looked at every foot since")
    expect(page.get_by_role("link", name="Look at every foot")).to_be_visible()
    page.get_by_role("button", name="What was written down").tap()
    expect(page.locator(".log")).to_contain_text("<img src=x")
    page.get_by_role("button", name="Correct it").tap()
    expect(page.locator('[name="gust"]')).to_have_value("31.29 m/s")
    page.locator('[name="gust"]').fill("40 mph")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".shop h2")).to_contain_text("Written down")
    page.get_by_role("button", name="What was written down").tap()
    expect(page.locator(".log li.spoiled")).to_contain_text("corrected by row")

    assert len(entries(job_folder)) == 2
    assert page.title() != "run"


def test_too_early_a_drive_wants_a_reason(server: Server, tab: Any, job_folder: Path) -> None:
    """A drive before the bond may be driven is a stop; with the reason it is written down."""
    record_bonding(open_job(job_folder), "panel", (), {}, Told(now=datetime.now(UTC)))
    page = tab(server.job("road"), **PHONE)
    page.get_by_role("button", name="Something happened").tap()
    page.get_by_role("button", name="A drive", exact=True).tap()
    expect(page.locator('[name="going_on"]')).to_have_count(0)
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".shop .stop").first).to_contain_text("panel was driven before its bond may be")
    page.locator('[name="going_on"]').fill("moved it off a ferry")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.get_by_role("status")).to_contain_text("Written down: drive")

    assert entries(job_folder)[0]["going_on"] == "moved it off a ferry"


def test_a_foot_that_let_go_must_be_named(server: Server, tab: Any, job_folder: Path) -> None:
    """Without its foot it is told; with it and a photo it is in the list."""
    page = tab(server.job("road"), **PHONE)
    page.get_by_role("button", name="Something happened").tap()
    page.get_by_role("button", name="A foot let go").tap()
    page.get_by_role("button", name="panel", exact=True).tap()
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".shop .stop")).to_contain_text("which foot let go")
    page.get_by_role("button", name="front right", exact=True).tap()
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".shop h2")).to_contain_text("Written down")
    form = page.locator("form.photo")
    form.locator("input[type=file]").set_input_files(
        {"name": "x.jpg", "mimeType": "image/jpeg", "buffer": a_picture()}
    )
    form.get_by_role("button", name="Keep the photo").tap()
    page.locator("h1").wait_for()
    page.get_by_role("button", name="What was written down").tap()
    expect(page.locator(".log").get_by_role("link", name="photo 1")).to_be_visible()

    assert entries(job_folder)[0]["feet"] == ["front right"]


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_on_the_way(server: Server, tab: Any, theme: str) -> None:
    """Choice, form with a mistake, what it asks for, the list: no violation on any, nothing sticks out of a phone."""
    if not AXE.exists():
        missing("axe-core")
    page = tab(server.job("road"), color_scheme=theme, **PHONE)
    page.evaluate(AXE.read_text())

    def check(step: str) -> None:
        found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")

        assert [(step, one["id"], one["nodes"][0]["html"][:120]) for one in found["violations"]] == []
        assert page.evaluate("document.documentElement.scrollWidth") <= 390

    page.get_by_role("button", name="Something happened").tap()
    page.get_by_role("button", name="A storm").wait_for()
    check("kinds")
    page.get_by_role("button", name="A storm").tap()
    page.locator('[name="gust"]').fill("fast")
    page.get_by_role("button", name="Write it down").tap()
    page.locator(".error").wait_for()
    check("form")
    page.locator('[name="gust"]').fill("70 mph")
    page.get_by_role("button", name="Write it down").tap()
    page.get_by_role("link", name="Look at every foot").wait_for()
    check("asked")
    page.get_by_role("button", name="What was written down").tap()
    page.locator(".log li").first.wait_for()
    check("list")


def test_it_is_done_with_the_keyboard_alone(server: Server, tab: Any) -> None:
    """Marked and asked with keys; the answer is where the keys are."""
    page = tab(server.job("road"))
    page.get_by_role("button", name="rear right", exact=True).focus()
    page.keyboard.press("Space")
    expect(page.get_by_role("button", name="rear right", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    for _ in range(2):
        page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="What do I do now?")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("region", name="What to do now").locator("h2")).to_be_focused()


def test_the_page_that_is_open_is_seen_in_the_head(server: Server, tab: Any) -> None:
    """On a phone the row of pages is moved so that the present one is in sight."""
    page = tab(server.job("papers"), **PHONE)
    link = page.get_by_role("link", name="Papers")
    expect(link).to_be_in_viewport()
