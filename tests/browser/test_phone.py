"""On a phone every page stands within its width, and no word of a drawing is too small to read."""

from __future__ import annotations

from typing import Any

from web_server import Server

PAGES = ("", "details", "bond", "shop", "road", "planning", "papers", "/", "/phone")
LEAST_PX = 11.0  # of type on the screen; common practice, no source
SMALL_TYPE = """least => [...document.querySelectorAll('svg text')]
    .filter(one => one.checkVisibility() && one.textContent.trim())
    .map(one => {
        const seen = one.getScreenCTM();
        return [parseFloat(getComputedStyle(one).fontSize) * Math.hypot(seen.a, seen.b), one.textContent];
    }).filter(([size]) => size < least)"""
SIDEWAYS = """() => [...document.querySelectorAll('svg text')].filter(one => one.checkVisibility()).filter(one => {
        const words = one.getBoundingClientRect(), sheet = one.ownerSVGElement.getBoundingClientRect();
        return words.width && (words.left < sheet.left - 1 || words.right > sheet.right + 1);
    }).map(one => one.textContent)"""


def test_every_page_fits_a_phone(module_server: Server, tab: Any) -> None:
    """At 390 pixels, all that can be opened open: nothing scrolls sideways, no type under 11 pixels, no word cut."""
    drawn = 0
    for slug in PAGES:
        url = module_server.url + slug if slug.startswith("/") else module_server.job(slug)
        page = tab(url, viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
        page.wait_for_timeout(900)  # told that it is narrow, the page draws anew
        page.locator("details").evaluate_all("all => all.forEach(one => { one.open = true })")
        page.wait_for_timeout(200)
        wide, room = page.evaluate(
            "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
        )
        drawn += page.locator("svg text").count()

        assert wide <= room, slug
        assert page.evaluate(SMALL_TYPE, LEAST_PX) == [], slug
        assert page.evaluate(SIDEWAYS) == [], slug
        page.close()

    assert drawn > 100


def test_a_step_opens_its_trail_by_pointer_and_by_key(module_server: Server, tab: Any) -> None:
    """Pressing a step of the fall opens the trail that its button in the list under it opens."""
    page = tab(module_server.job(), viewport={"width": 390, "height": 844})
    page.wait_for_timeout(900)
    opened = []
    for by_key in (False, True):
        if by_key:
            page.get_by_text("The steps in numbers").click()
            step = page.get_by_role("button", name="peak tension, for lever and tipping")
            step.focus()
            page.keyboard.press("Enter")
        else:
            page.locator('[data-why$="/peak tension"]', has_text="lever and tipping").click()
        panel = page.locator(".why-panel")
        panel.locator("ul.trail").first.wait_for()
        opened.append(panel.inner_text())
        panel.get_by_role("button", name="Close").click()
        panel.wait_for(state="detached")

    assert "peak tension" in opened[0]
    assert opened[0] == opened[1]
