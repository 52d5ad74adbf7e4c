"""From the plan of tests to an answer that changed: a card, a coupon hung by it, how it ended."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from staydown.workbench.check import open_and_assess
from staydown.workbench.record import Seen, list_records, record_coupons
from web_server import Server

PULLS_ALONE = 6  # lines of the coupons: their head and five pulls at room temperature


@pytest.fixture
def untested(job_folder: Path) -> Path:
    """That job with five pulls alone, so that much is worth testing."""
    for name in ("logbook.sqlite", "logbook.head"):
        (job_folder / name).unlink()
    csv = job_folder / "coupons.csv"
    csv.write_text("\n".join(csv.read_text().splitlines()[:PULLS_ALONE]) + "\n")
    record_coupons(job_folder, csv, Seen(now=datetime(2026, 6, 1, 12, tzinfo=UTC)))
    return job_folder


def slopes(folder: Path) -> list[float]:
    """Return for each item how strength is believed to fall with time: a small exponent falls fast."""
    items = open_and_assess(folder)[1].items
    beliefs = [one.mounted.capacity["tension"].belief for one in items if one.mounted is not None]
    return [belief.parameters()["slope"]["median"] for belief in beliefs]


@pytest.mark.parametrize("width", [1280, 390])
def test_a_test_goes_from_its_card_into_the_answer(untested: Path, tab: Any, width: int) -> None:
    """A card says load, bond, effort, gain and when to stop; its button fills the form; a fall changes the answer."""
    before = slopes(untested)
    server = Server(untested.parent, job="van")
    try:
        page = tab(server.job("bond"), viewport={"width": width, "height": 800})
        page.get_by_role("button", name="Show the plan of tests").click()
        expect(page.get_by_text("Weighing the tests")).to_be_visible()
        card = page.locator("li.card", has=page.get_by_role("button", name="Hang this")).first
        card.wait_for(timeout=60_000)
        for label in ("Make", "Load", "Bond at", "Takes", "Clears", "Stop early"):
            expect(card.locator("dt", has_text=label)).to_be_visible()
        expect(page.locator(".band[aria-label='Plan of tests']")).not_to_contain_text("staydown check")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")

        card.get_by_role("button", name="Hang this").click()
        expect(page.get_by_role("heading", name="Hang a coupon")).to_be_focused()
        expect(page.get_by_role("heading", name="Hang a coupon")).to_be_in_viewport()
        name = page.locator('form [name="name"]').input_value()
        filled = {
            one: page.locator(f'form [name="{one}"]').input_value() for one in ("load", "area", "temperature")
        }
        assert filled["load"].endswith(" kg")
        assert filled["load"].removesuffix(" kg") in card.inner_text()
        assert filled["area"] == "38 mm x 38 mm"

        page.get_by_role("button", name="It hangs from now").click()
        running = page.locator("section[aria-label='Hanging now']")
        expect(running).to_contain_text(name)
        expect(running).to_contain_text("planned to hang")
        expect(page.locator(".band[aria-label='Plan of tests']")).to_contain_text("1 coupon came to it")
        page.wait_for_timeout(2000)  # it must have hung for longer than the logbook tells apart
        page.get_by_role("button", name=f"{name} fell").click()
        page.get_by_role("button", name="I saw it fall just now").click()
        expect(page.locator("section[aria-label='Every test']")).to_contain_text(name)
        found = next(one for one in list_records(untested).coupons if one.name == name)

        assert found.coupon is not None
        assert found.coupon.result == "fell"
        assert found.typed["load"] == filled["load"]
        assert all(now < was for was, now in zip(before, slopes(untested), strict=True))

        page.get_by_role("button", name="Make the plan anew").click()
        expect(page.get_by_role("button", name="Make the plan anew")).to_have_count(0, timeout=60_000)
        expect(page.get_by_role("heading", name="Tests worth making")).to_be_visible()
        page.get_by_role("link", name="Answer", exact=True).click()
        expect(page.locator("#main")).to_contain_text("1 coupon tested as hot and as long")
    finally:
        server.stop()


def test_a_pull_is_filled_in_but_for_what_happened(server: Server, tab: Any) -> None:
    """The form of a planned pull has its bond, and neither load nor result."""
    page = tab(server.job("bond"))
    page.get_by_role("button", name="Show the plan of tests").click()
    pull = page.get_by_role("button", name="Pull this")
    pull.first.click(timeout=60_000)
    expect(page.get_by_role("heading", name="A finished test")).to_be_focused()

    assert page.locator('form [name="temperature"]').input_value() == "80 degC"
    assert page.locator('form [name="load"]').input_value() == ""
    assert page.locator('form [name="result"]').input_value() == ""
    link = page.get_by_role("link", name="Sheet for the bench of panel, PDF, A4")
    with page.expect_download(timeout=60_000) as fetched:
        link.click()
    assert Path(fetched.value.path()).read_bytes().startswith(b"%PDF-")
