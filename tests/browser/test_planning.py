"""Planning values in the browser: what each does, one's own in its place, undone, told where it is wrong."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from web_server import Server, wait_for

NAME = "uplift.open.near_edge"
EVIL = "<img src=x onerror=\"document.title='run'\">"


def planning(folder: Path) -> dict[str, Any]:
    """Return the job's own planning values."""
    found: dict[str, Any] = tomllib.loads((folder / "job.toml").read_text()).get("planning", {})
    return found


def ask(page: Any, name: str = NAME) -> None:
    """Open the form of a value."""
    page.get_by_role("button", name=f"Use my own: {name}").click()
    page.locator('[name="likely"]').wait_for()


def test_a_value_is_replaced_and_brought_back(server: Server, tab: Any, job_folder: Path) -> None:
    """What moves the answer stands first; one's own value is saved, weighed beside it, undone, taken back."""
    page = tab(server.job("planning"))
    moving = page.locator("section[aria-label='What moves the answer most']")
    expect(moving.locator("li h3").first).to_contain_text("Uplift coefficient")
    expect(moving.locator("li").first).to_contain_text("at its low end")
    ask(page)
    page.locator('[name="likely"]').fill("0.7")
    page.locator('[name="source"]').fill(f"pressure taps {EVIL}")
    page.get_by_role("button", name="Use this value").click()
    own = page.locator("section[aria-label='Your own values']")
    expect(own).to_contain_text("pressure taps <img")
    expect(own).to_contain_text("The library has 0.6 / 0.9 / 1.2")
    expect(own).to_contain_text("with the library's 116 %")
    wait_for(lambda: planning(job_folder)[NAME]["high"] == 0.7)
    page.get_by_role("button", name="Undo").click()
    expect(own).to_contain_text("None yet")

    assert planning(job_folder) == {}

    page.get_by_role("button", name="Redo").click()
    page.get_by_role("button", name=f"Back to the library's: {NAME}").click()
    expect(own).to_contain_text("None yet")

    assert planning(job_folder) == {}
    assert page.title() != "run"


def test_bad_input_says_place_rule_and_value(server: Server, tab: Any, job_folder: Path) -> None:
    """Each mistake stands as a sentence at its field, over what was typed; the file stays as it is."""
    before = (job_folder / "job.toml").read_text()
    page = tab(server.job("planning"))
    ask(page)
    page.locator('[name="low"]').fill("12 km/h")
    page.locator('[name="likely"]').fill("much")
    page.locator('[name="high"]').fill("1,2")
    page.get_by_role("button", name="Use this value").click()
    for end, value in (("low", "12 km/h"), ("likely", "much"), ("high", "1,2")):
        field = page.locator(".field", has=page.locator(f'[name="{end}"]'))
        expect(field.locator(".error")).to_have_text(re.compile(r"[A-Z][^?]*[.?]"))
        expect(field.locator(".error")).not_to_contain_text("planning.")
        expect(field.locator("input")).to_have_value(value)
    for end, value in (("low", "0.9"), ("likely", "0.5"), ("high", "1")):
        page.locator(f'[name="{end}"]').fill(value)
    page.get_by_role("button", name="Use this value").click()
    expect(page.locator("form p.error").first).to_contain_text("not in rising order")

    assert (job_folder / "job.toml").read_text() == before


def test_what_is_read_is_shown_while_it_is_typed(server: Server, tab: Any) -> None:
    """A duration is read back before it is saved; nonsense is told at once."""
    page = tab(server.job("planning"))
    page.locator("summary").first.wait_for()
    page.locator("details").evaluate_all("all => all.forEach(one => { one.open = true })")
    ask(page, "snow_duration")
    field = page.locator(".field", has=page.locator('[name="likely"]'))
    page.locator('[name="likely"]').fill("168 h")
    expect(field.locator(".echo")).to_contain_text("7 days")
    page.locator('[name="likely"]').fill("168 parsecs")
    expect(field.locator(".error")).to_contain_text("parsecs")


def test_it_is_done_with_the_keyboard_alone(server: Server, tab: Any, job_folder: Path) -> None:
    """Open, type, save: Enter and Tab are enough."""
    page = tab(server.job("planning"))
    button = page.get_by_role("button", name=f"Use my own: {NAME}")
    button.focus()
    page.keyboard.press("Enter")
    page.locator('[name="likely"]').focus()
    page.keyboard.type("0.8")
    page.keyboard.press("Enter")
    wait_for(lambda: planning(job_folder) == {NAME: 0.8})


def test_another_tab_sees_it(server: Server, tab: Any) -> None:
    """A value replaced in one tab is in the answer of the other."""
    one = tab(server.job("planning"))
    other = tab(server.job(), context=one.context)
    use = other.locator(".numbers dd").first
    before = use.inner_text()
    ask(one)
    one.locator('[name="likely"]').fill("0.3")
    one.get_by_role("button", name="Use this value").click()
    expect(use).not_to_have_text(before)
