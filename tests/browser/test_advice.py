"""Single changes that turn the word: seen beside today's answer, taken over as they were told, brought back by Undo."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from staydown.advice.changes import Change, advise
from staydown.outputs.amounts import percent
from staydown.workbench.desk import Desk
from staydown.workbench.edit_job import value_at
from web_server import Server, wait_for

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


@pytest.fixture
def changes(turnable_folder: Path) -> tuple[Change, ...]:
    """The advice on the panel, asked for without a page."""
    answer = Desk(turnable_folder).answer()
    found = advise(answer.assessment, answer.facts)[1].changes

    assert len(found) >= 2
    return found


@pytest.fixture
def van(changes: tuple[Change, ...], server: Server) -> Server:
    """A workbench on that job."""
    return server


def look(page: Any) -> Any:
    """Ask for changes and return their buttons."""
    page.get_by_role("button", name="Look for changes").click()
    buttons = page.locator(".changes button")
    buttons.first.wait_for(timeout=60_000)
    return buttons


def row(page: Any, item: str = "panel") -> Any:
    """Return the line of an item where today's answer and the variant stand beside each other."""
    return page.locator(".trial tbody tr", has=page.get_by_role("rowheader", name=item, exact=True))


def job(folder: Path) -> dict[str, Any]:
    """Return the job as the file has it."""
    return tomllib.loads((folder / "job.toml").read_text())


def test_every_change_is_shown_beside_today(
    van: Server, tab: Any, turnable_folder: Path, changes: tuple[Change, ...]
) -> None:
    """Pressed, a change shows its word and its use beside today's; nothing is written; the next one is in reach."""
    page = tab(van.job())
    before = (turnable_folder / "job.toml").read_bytes()
    buttons = look(page)
    expect(buttons).to_have_count(len(changes))
    for number, change in enumerate(changes):
        buttons.nth(number).click()
        expect(page.locator(".trial h2")).to_contain_text(change.what)
        cells = row(page).locator("td")
        expect(cells.nth(0)).to_contain_text("NOT PROVEN, use 89 %")
        expect(cells.nth(1)).to_contain_text(f"{change.word}, use {percent(change.use)}")
        expect(row(page, "antenna dome").locator("td").nth(1)).not_to_contain_text("NOT PROVEN")
        expect(buttons.nth(number)).to_have_attribute("aria-pressed", "true")
        expect(page.locator("h1")).to_contain_text(change.word)

    assert (turnable_folder / "job.toml").read_bytes() == before

    page.get_by_role("button", name="Forget it").click()
    expect(page.locator(".trial")).to_have_count(0)
    expect(page.locator("h1")).to_contain_text("NOT PROVEN")
    expect(buttons.nth(len(changes) - 1)).to_be_focused()


@pytest.mark.parametrize("number", [0, 1, 2])
def test_a_change_is_taken_over_as_it_was_told(
    van: Server, tab: Any, turnable_folder: Path, changes: tuple[Change, ...], number: int
) -> None:
    """Every key that the change types is in the file, nothing else is; Undo brings every byte back."""
    page = tab(van.job())
    file = turnable_folder / "job.toml"
    before = file.read_bytes()
    look(page).nth(number).click()
    page.locator(".trial").get_by_text("What is typed into the job").click()
    expect(page.locator(".trial details li")).to_have_count(len(changes[number].typed))
    page.get_by_role("button", name="Take this over").click()
    expect(page.get_by_role("status").first).to_contain_text("Taken over and saved")
    text = file.read_text()
    was, now = before.decode().splitlines(), text.splitlines()

    assert {key: value_at(text, key) for key, _ in changes[number].typed} == dict(changes[number].typed)
    assert len(was) == len(now)
    assert sum(a != b for a, b in zip(was, now, strict=True)) == len(changes[number].typed)

    expect(page.locator("h1")).to_contain_text(changes[number].word)
    expect(page.locator(".trial")).to_have_count(0)
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_have_attribute("title", f"Undo: {changes[number].what}")
    undo.click()
    wait_for(lambda: file.read_bytes() == before)
    expect(page.locator("h1")).to_contain_text("NOT PROVEN")
    expect(page.locator(".changes button")).to_have_count(len(changes))


def test_a_change_is_found_tried_and_taken_over_by_keys(
    van: Server, tab: Any, turnable_folder: Path, changes: tuple[Change, ...]
) -> None:
    """The focus goes to what is tried out, from there to the button that saves it, then to the answer."""
    page = tab(van.job())
    page.get_by_role("button", name="Look for changes").focus()
    page.keyboard.press("Enter")
    first = page.locator(".changes button").first
    first.wait_for(timeout=60_000)
    expect(first).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator(".trial h2")).to_be_focused()
    for _ in range(6):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Take this over":
            break
    page.keyboard.press("Enter")
    wait_for(
        lambda: (
            value_at((turnable_folder / "job.toml").read_text(), changes[0].typed[0][0])
            == changes[0].typed[0][1]
        )
    )
    expect(page.locator("h1")).to_be_focused()
    expect(page.locator("h1")).to_contain_text(changes[0].word)


def test_a_change_is_tried_on_a_phone(
    van: Server, tab: Any, turnable_folder: Path, changes: tuple[Change, ...]
) -> None:
    """A thumb finds the variant on the screen after the press, and the two answers below each other."""
    page = tab(van.job(), **PHONE)
    look(page).nth(0).tap()
    heading = page.locator(".trial h2")
    expect(heading).to_be_in_viewport()
    expect(row(page)).to_contain_text(changes[0].word)
    cells = [row(page).locator("td").nth(number).bounding_box() for number in (0, 1)]

    assert cells[1]["y"] > cells[0]["y"] + cells[0]["height"] - 1
    assert page.evaluate("document.documentElement.scrollWidth") <= 390

    take = page.get_by_role("button", name="Take this over")

    assert take.bounding_box()["height"] >= 44

    take.tap()
    wait_for(lambda: job(turnable_folder)["item"][1]["mount"][0]["lever"] == changes[0].typed[0][1])


def test_a_trial_that_no_longer_fits_is_forgotten(van: Server, tab: Any, turnable_folder: Path) -> None:
    """Where another program takes the panel away meanwhile, the page says so and shows the job as it is."""
    page = tab(van.job())
    look(page).nth(0).click()
    page.locator(".trial").wait_for()
    file = turnable_folder / "job.toml"
    text = file.read_text()
    file.write_text(text[: text.index('[[item]]\nname = "panel"')])
    expect(page.get_by_role("alert")).to_contain_text("no longer fits the job", timeout=15_000)
    expect(page.locator("h1")).to_contain_text("GO WITH CONDITIONS")
    expect(page.locator(".trial")).to_have_count(0)
