"""The guide in the shop: a thumb, times that go on without the page, stop points, the clock of the bond."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from staydown.evidence.history import build_history
from staydown.storage.logbook import Logbook
from staydown.workbench.guide_steps import TIMER, begin_run, runs_of
from web_server import AXE, Server, missing, wait_for

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
QUICK = '\n[planning]\npress_hold = "1 s"\n'


def begin(page: Any, surface: str = "19 degC", air: str = "20 degC") -> None:
    """Begin to bond the panel."""
    item = page.get_by_role("button", name="panel", exact=True)
    item.tap()
    expect(item).to_have_attribute("aria-pressed", "true")
    for key, text in {"surface_temperature": surface, "air": air, "humidity": "50 %"}.items():
        page.locator(f'[name="{key}"]').fill(text)
    page.get_by_role("button", name="Begin").tap()
    page.get_by_role("button", name="End the work without a bond").wait_for()


def step(page: Any) -> str:
    """Return what the page says of the step."""
    return str(page.locator(".shop .soft").first.inner_text())


def work_to(page: Any, name: str) -> None:
    """Press Done until a button is there."""
    wanted = page.get_by_role("button", name=name).first
    for _ in range(40):
        if wanted.count():
            return
        before = step(page)
        page.get_by_role("button", name="Done", exact=True).tap()
        wait_for(lambda before=before: bool(wanted.count()) or step(page) != before)  # type: ignore[misc]
    raise AssertionError(f"{name} never came")


def test_the_guide_goes_on_after_a_reload_and_ends_in_a_clock(
    server: Server, tab: Any, job_folder: Path
) -> None:
    """Times are waited for or a reason is typed; all of it is there after a reload and in the record of the bond."""
    file = job_folder / "job.toml"
    file.write_text(file.read_text().replace("\n[[tape]]", f"{QUICK}\n[[tape]]", 1))
    page = tab(server.job("shop"), **PHONE)
    begin(page)
    done = page.get_by_role("button", name="Done", exact=True)
    work_to(page, "Start: primer dries")
    expect(done).to_have_count(0)
    page.get_by_role("button", name="Start: primer dries").tap()
    expect(page.locator(".timer .clock").first).to_have_text(r"4:59")
    at = step(page)
    expect(done).to_have_count(0)
    page.reload()
    page.locator("h1").wait_for()
    # the address names nothing: the page opens where the work is
    expect(page.locator(".shop .soft").first).to_have_text(at)
    expect(page.locator("button", has=page.locator(".at-work"))).to_have_text("panelguide at work")
    expect(page.locator(".timer .clock")).to_have_count(2)
    page.get_by_role("button", name="Go on all the same").tap()
    page.get_by_role("button", name="Go on with this reason").tap()
    expect(page.locator(".error")).to_contain_text("reason")
    page.locator('[name="note"]').fill("the system asks for no primer")
    page.get_by_role("button", name="Go on with this reason").tap()
    work_to(page, "Start: hold front left")
    expect(done).to_have_count(0)
    holds = page.get_by_role("button", name="Start: hold")
    for left in range(holds.count() - 1, -1, -1):
        holds.first.tap()
        expect(holds).to_have_count(left)
    # the page offers Done by itself when the last clock is over
    expect(done).to_be_visible()
    work_to(page, "Bonded: start the clock")
    page.locator('[name="press"]').fill("unknown")
    page.get_by_role("button", name="Bonded: start the clock").tap()
    for key in ("lot", "expires", "by"):
        expect(page.locator(".field", has=page.locator(f'[name="{key}"]')).locator(".error")).to_be_visible()
    for key, text in {"lot": "A2291", "expires": "2039-01-31", "by": "rk"}.items():
        page.locator(f'[name="{key}"]').fill(text)
    page.get_by_role("button", name="Bonded: start the clock").tap()
    expect(page.get_by_role("status").first).to_contain_text("Do not drive before")
    expect(page.locator(".timer").first).to_contain_text("Do not drive before")
    was = page.locator(".timer .clock").first.inner_text()
    page.goto(server.job("shop") + "?item=panel&part=due")
    page.locator(".timer .clock").first.wait_for()

    assert page.locator(".timer .clock").first.inner_text()[:3] == was[:3]
    (bonding,) = build_history(Logbook.read(job_folder).events()).bondings
    assert bonding.entry.going_on == "step primer: the system asks for no primer"
    assert "primer dries" in bonding.entry.against[0]
    assert (bonding.lot, bonding.not_known, bonding.held_s) == ("A2291", ("press",), 1.0)


def test_too_cold_and_not_measured_want_a_reason(server: Server, tab: Any) -> None:
    """On a cold roof every step says stop until somebody says why; what nobody measured is asked for at the wipe."""
    page = tab(server.job("shop"), **PHONE)
    begin(page, surface="2 degC", air="")
    expect(page.locator(".shop .stop", has_text="too cold")).to_be_visible()
    before = step(page)
    done = page.get_by_role("button", name="Done", exact=True)
    expect(done).to_have_count(0)
    page.get_by_role("button", name="Go on all the same").tap()
    page.locator('[name="note"]').fill("warmed it with a lamp")
    page.get_by_role("button", name="Go on with this reason").tap()
    expect(page.locator(".shop .soft").first).not_to_have_text(before)
    # the reason stands for the whole work, and the warning stays
    expect(done).to_be_visible()
    expect(page.locator(".shop .stop", has_text="warmed it with a lamp")).to_be_visible()
    work_to(page, "Use what I measured")
    expect(done).to_have_count(0)
    expect(page.locator(".shop .stop", has_text="air temperature was not measured")).to_be_visible()
    page.locator('[name="air"]').fill("mild")
    page.get_by_role("button", name="Use what I measured").tap()
    expect(page.locator(".error")).to_be_visible()
    page.locator('[name="air"]').fill("4 degC")
    page.get_by_role("button", name="Use what I measured").tap()
    # measured anew: too cold wants its reason anew
    expect(page.locator(".shop .stop", has_text="was not measured")).to_have_count(0)
    expect(page.get_by_role("button", name="Go on all the same")).to_be_visible()
    expect(done).to_have_count(0)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_second_tab_and_a_window_that_is_over(
    server: Server, tab: Any, job_folder: Path, theme: str
) -> None:
    """A tab that is behind writes nothing and loses no word; after the primer's time the surface is made anew."""
    weather = {"surface_temperature": "20 degC", "air": "21 degC", "humidity": "50 %"}
    begin_run(job_folder, "panel", weather, datetime.now(UTC) - timedelta(hours=3))
    page = tab(server.job("shop"), color_scheme=theme, **PHONE)
    expect(page.get_by_role("button", name="panel guide at work")).to_have_attribute("aria-pressed", "true")
    other = tab(server.job("shop"), context=page.context)
    page.get_by_role("button", name="It is not as it should be").tap()
    page.locator('[name="note"]').fill("grey cloth, washed again")
    first = step(other)
    other.get_by_role("button", name="Done", exact=True).click()
    expect(other.locator(".shop .soft").first).not_to_have_text(first)
    page.get_by_role("button", name="Go on with this reason").tap()
    expect(page.locator(".shop .stop").first).to_contain_text("not written: grey cloth, washed again")
    run = runs_of(job_folder)["panel"]

    assert len(run.done) == 1
    assert run.passed == ()

    page.reload()
    work_to(page, "Start: primer dries")
    long_ago = {"run": run.seq, "item": "panel", "what": "primer dries", "lasts_s": -1.0}
    over = long_ago | {"what": "bond within", "lasts_s": -60.0}
    Logbook.open(job_folder).append_decided(lambda _: [(TIMER, long_ago), (TIMER, over)], datetime.now(UTC))
    page.reload()
    page.get_by_role("button", name="Done", exact=True).tap()
    anew = page.get_by_role("button", name="Make the surface anew")
    expect(page.locator(".shop .stop", has_text="bond within")).to_be_visible()
    expect(page.get_by_role("button", name="Done", exact=True)).to_have_count(0)
    if not AXE.exists():
        missing("axe-core")
    page.evaluate(AXE.read_text())
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")

    assert [(one["id"], one["nodes"][0]["html"][:120]) for one in found["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390

    anew.tap()
    expect(anew).to_have_count(0)
    expect(page.locator("h2.step")).to_be_focused()
    work_to(page, "Start: primer dries")
    page.get_by_role("button", name="End the work without a bond").tap()
    page.get_by_role("button", name="Yes, end it").tap()
    expect(page.get_by_role("button", name="Begin")).to_be_visible()


def test_feet_are_looked_at(server: Server, tab: Any) -> None:
    """What is seen at a foot is written down; a value that cannot be is told."""
    page = tab(server.job("shop") + "?item=panel&part=look", **PHONE)
    page.locator('[name="slip.0"]').fill("a bit")
    page.get_by_role("button", name="Write down what I saw").tap()
    expect(page.locator(".shop .stop").first).to_be_visible()
    page.locator('[name="slip.0"]').fill("0.1 mm")
    page.locator('[name="roof"]').fill("20 degC")
    page.locator('[name="closed"]').select_option("true")
    page.get_by_role("button", name="Write down what I saw").tap()
    expect(page.get_by_role("status").first).to_contain_text("Written down")
