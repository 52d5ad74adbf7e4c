"""No page has a violation that axe knows, in either theme; a phone shows every page without scrolling sideways."""

from __future__ import annotations

from typing import Any

import pytest

from web_server import AXE, Server, missing

PAGES = ("", "details", "bond", "shop", "road", "planning", "papers")


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("slug", [*PAGES, "/", "/phone"])
def test_axe_finds_nothing(module_server: Server, tab: Any, theme: str, slug: str) -> None:
    """Zero violations of the rules of axe-core, best practices among them."""
    if not AXE.exists():
        missing("axe-core")
    url = module_server.url + slug if slug.startswith("/") else module_server.job(slug)
    page = tab(url, color_scheme=theme)
    page.wait_for_timeout(500)
    if slug == "":
        page.locator('svg.plan [data-place="item.2.mount.1"]').click()
        page.wait_for_timeout(400)
    if slug == "bond":
        page.get_by_role("button", name="Hang a coupon").click()
        page.wait_for_timeout(300)
    if slug == "road":
        page.get_by_role("button", name="I cannot tell which").click()
        page.wait_for_timeout(400)
    if slug == "planning":
        page.locator("summary").first.wait_for()
        page.locator("details").evaluate_all("all => all.forEach(one => { one.open = true })")
        page.get_by_role("button", name="Use my own: gust_factor").click()
        page.locator('[name="likely"]').wait_for()
    page.evaluate(AXE.read_text())
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")

    assert [(one["id"], one["nodes"][0]["html"][:120]) for one in found["violations"]] == []


@pytest.mark.parametrize("slug", PAGES)
def test_a_phone_shows_it_whole(module_server: Server, tab: Any, slug: str) -> None:
    """At 390 pixels nothing sticks out sideways, and what is pressed is large enough for a thumb."""
    page = tab(
        module_server.job(slug), viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    page.wait_for_timeout(500)
    wide = page.evaluate("document.documentElement.scrollWidth")
    small = page.evaluate(
        "[...document.querySelectorAll('#main button:not(.why, .quiet), #main input:not([type=file]), #main select')]"
        ".filter(one => one.offsetParent && one.getBoundingClientRect().height < 32).map(one => one.outerHTML)"
    )

    assert wide <= 390
    assert small == []


def test_the_keyboard_reaches_everything(module_server: Server, tab: Any) -> None:
    """Tab goes from the skip link over the head to the roof's things, each with a name."""
    page = tab(module_server.job())
    page.locator("svg.plan .thing").first.wait_for()
    seen = []
    for _ in range(40):
        page.keyboard.press("Tab")
        seen.append(
            page.evaluate(
                "(document.activeElement.getAttribute('aria-label') || document.activeElement.textContent).trim()"
            )
        )

    assert seen[0] == "To the page"
    assert any("front left of panel" in one for one in seen)
    assert all(seen)
