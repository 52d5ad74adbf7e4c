"""The guide in the shop: a thumb, times that go on without the page, stop points, the clock of the bond."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from web_server import Server, wait_for

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


def begin(page: Any, surface: str = "19 degC") -> None:
    """Begin to bond the panel."""
    page.get_by_role("button", name="panel", exact=True).tap()
    for key, text in {"surface_temperature": surface, "air": "20 degC", "humidity": "50 %"}.items():
        page.locator(f'[name="{key}"]').fill(text)
    page.get_by_role("button", name="Begin").tap()
    page.get_by_role("button", name="End the work without a bond").wait_for()


def step(page: Any) -> str:
    """Return what the page says of the step."""
    return str(page.locator(".shop .soft").first.inner_text())


def test_the_guide_goes_on_after_a_reload_and_ends_in_a_clock(server: Server, tab: Any) -> None:
    """Steps and times are there after a reload; the bond that is written down starts the clock to the first drive."""
    page = tab(server.job("shop"), **PHONE)
    begin(page)
    for _ in range(30):
        if page.get_by_role("button", name="Start: hold").count():
            break
        before = step(page)
        page.get_by_role("button", name="Done").tap()
        expect(page.locator(".shop .soft").first).not_to_have_text(before)
    page.get_by_role("button", name="Start: hold").tap()
    page.locator(".timer .clock").wait_for()
    at = step(page)
    page.reload()
    page.locator("h1").wait_for()
    page.get_by_role("button", name="panel", exact=True).tap()
    expect(page.locator(".shop .soft").first).to_have_text(at)
    expect(page.locator(".timer .clock")).to_be_visible()
    while page.get_by_role("button", name="Done").count():
        before = step(page)
        page.get_by_role("button", name="Done").tap()
        gone = page.get_by_role("button", name="Bonded: start the clock")
        wait_for(lambda before=before, gone=gone: bool(gone.count()) or step(page) != before)  # type: ignore[misc]
    page.locator('[name="lot"]').fill("A2291")
    page.locator('[name="by"]').fill("rk")
    page.get_by_role("button", name="Bonded: start the clock").tap()
    expect(page.get_by_role("status")).to_contain_text("Do not drive before")
    expect(page.locator(".timer").first).to_contain_text("Do not drive before")
    was = page.locator(".timer .clock").first.inner_text()
    page.reload()
    page.locator("h1").wait_for()
    page.get_by_role("button", name="What is due").tap()
    page.get_by_role("button", name="panel", exact=True).tap()

    assert page.locator(".timer .clock").first.inner_text()[:3] == was[:3]


def test_too_cold_is_a_stop_that_wants_a_reason(server: Server, tab: Any) -> None:
    """On a cold roof every step says stop; going on takes a typed reason."""
    page = tab(server.job("shop"), **PHONE)
    begin(page, surface="2 degC")
    expect(page.locator(".stop").first).to_contain_text("Stop")
    before = step(page)
    expect(page.get_by_role("button", name="Done", exact=True)).to_have_count(0)
    page.get_by_role("button", name="It is not as it should be").tap()
    page.get_by_role("button", name="Go on with this reason").tap()
    expect(page.locator(".error")).to_contain_text("reason")
    page.locator('[name="note"]').fill("warmed it with a lamp")
    page.get_by_role("button", name="Go on with this reason").tap()
    expect(page.locator(".shop .soft").first).not_to_have_text(before)
    # the reason stands for the whole work, and the warning stays
    expect(page.get_by_role("button", name="Done", exact=True)).to_be_visible()
    expect(page.locator(".stop").first).to_contain_text("Stop")


def test_feet_are_looked_at(server: Server, tab: Any) -> None:
    """What is seen at a foot is written down; a value that cannot be is told."""
    page = tab(server.job("shop"), **PHONE)
    page.get_by_role("button", name="Look at it").tap()
    page.get_by_role("button", name="panel", exact=True).tap()
    page.locator('[name="slip.0"]').fill("a bit")
    page.get_by_role("button", name="Write down what I saw").tap()
    expect(page.locator(".shop .stop").first).to_be_visible()
    page.locator('[name="slip.0"]').fill("0.1 mm")
    page.locator('[name="roof"]').fill("20 degC")
    page.locator('[name="closed"]').select_option("true")
    page.get_by_role("button", name="Write down what I saw").tap()
    expect(page.get_by_role("status")).to_contain_text("Written down")
