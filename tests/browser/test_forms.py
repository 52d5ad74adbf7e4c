"""Every field of the details takes what is right, says what is wrong, and keeps user text as text."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from web_server import Server, wait_for

FREE = ("name", "note", "source", "material", "anchor", "covers")  # any words will do there


def test_bad_input_is_refused_in_every_field(server: Server, tab: Any, job_folder: Path) -> None:
    """Nonsense in any field that reads a value is answered at that field, and the file stays as it is."""
    page = tab(server.job("details"))
    before = (job_folder / "job.toml").read_text()
    page.locator("details").evaluate_all("all => all.forEach(one => { one.open = true })")
    page.wait_for_timeout(500)
    homes = ("job.", "vehicle.", "travel.", "climate.", "tape.1.", "item.2.mount.1.")
    wanted = [f'input[data-place^="{home}"]' for home in homes]
    fields = page.locator(", ".join([*wanted, 'input[data-place^="item.2."]:not([data-place*="mount"])']))
    places = fields.evaluate_all("all => all.map(one => one.dataset.place)")
    tried = [place for place in places if place.rpartition(".")[2] not in FREE]

    assert len(tried) > 40

    for place in tried:
        field = page.locator(f'[data-place="{place}"]')
        field.fill("12 parsecs")
        field.press("Enter")
    for place in tried:
        box = page.locator(".field", has=page.locator(f'[data-place="{place}"]'))
        expect(box.locator(".error"), place).to_be_visible()

    assert (job_folder / "job.toml").read_text() == before


def test_a_required_field_may_not_be_emptied(server: Server, tab: Any, job_folder: Path) -> None:
    """A value that must be given cannot be taken away, and no button offers to."""
    page = tab(server.job("details"))
    field = page.locator('[data-place="vehicle.roof_length"]')
    field.fill("")
    field.press("Enter")
    box = page.locator(".field", has=field)
    expect(box.locator(".error")).to_contain_text("Must be given")

    assert box.get_by_role("button").count() == 0


def test_dont_know_says_what_it_costs(server: Server, tab: Any, job_folder: Path) -> None:
    """A value that nobody knows is noted as unknown, with what that does to the answer, and Undo brings it back."""
    page = tab(server.job())
    page.locator('svg.plan [data-place="item.2.mount.1"]').click()
    page.get_by_role("button", name="Don't know: lever", exact=True).click()
    box = page.locator(".field", has=page.locator('[data-place="item.2.mount.1.lever"]'))
    expect(box.locator(".echo")).to_contain_text("not known.")
    wait_for(lambda: 'lever = "unknown"' in (job_folder / "job.toml").read_text())
    page.get_by_role("button", name="Undo").click()
    wait_for(lambda: 'lever = "unknown"' not in (job_folder / "job.toml").read_text())


def test_the_details_keep_the_cost_of_dont_know_in_sight(server: Server, tab: Any, job_folder: Path) -> None:
    """In the details the field stays where it was, with the cost at it and in the notice, outside every fold."""
    page = tab(server.job("details"))
    page.locator('[data-place="vehicle.roof_colour"]').wait_for()
    page.get_by_role("button", name="Don't know: roof colour", exact=True).click()
    field = page.locator('[data-place="vehicle.roof_colour"]')
    expect(page.locator(".field", has=field).locator(".echo")).to_contain_text("not known. ")
    expect(field).to_be_visible()
    expect(page.get_by_role("status")).to_contain_text("Roof colour: not known. ")
    page.reload()
    page.locator("h1").wait_for()
    expect(field).to_be_hidden()  # later it is one of those that are folded away


def test_two_values_that_contradict_are_refused(server: Server, tab: Any, job_folder: Path) -> None:
    """A cruising speed above the top speed is refused with the rule that it breaks."""
    page = tab(server.job("details"))
    field = page.locator('[data-place="travel.cruise_speed"]')
    field.fill("119 km/h")
    field.press("Enter")
    expect(page.locator(".field", has=field).locator(".error")).to_be_visible()

    assert 'cruise_speed = "90 km/h"' in (job_folder / "job.toml").read_text()


def test_user_text_never_becomes_markup(server: Server, tab: Any, job_folder: Path) -> None:
    """Names that are markup are shown as they were typed on every page, and run nowhere."""
    evil = "<img src=x onerror=\"document.title='run'\"><script>document.title='run'</script>`${1}"
    file = job_folder / "job.toml"
    text = (
        file.read_text()
        .replace('name = "front left"', f"name = '''{evil}'''")
        .replace('name = "Curlew"', f"name = '''{evil}'''")
    )
    file.write_text(text.replace('name = "panel"', f"name = '''{evil} panel'''"))
    for slug in ("", "details", "bond", "shop", "road", "planning", "papers"):
        page = tab(server.job(slug))
        page.wait_for_timeout(700)

        assert page.title() != "run"
        assert page.locator("img").count() == 0
    page = tab(server.job())
    expect(page.locator("h1")).to_contain_text("<img src=x")


def test_every_number_opens_its_trail(server: Server, tab: Any) -> None:
    """A number is asked where it comes from, down to what was typed; Escape closes the trail."""
    page = tab(server.job())
    page.get_by_role("button", name="at the pad's edge: where it comes from").click()
    trail = page.get_by_role("complementary")
    expect(trail).to_contain_text("typed")
    expect(trail.locator("h2")).to_be_focused()
    page.keyboard.press("Escape")
    expect(trail).to_have_count(0)


@pytest.mark.parametrize(("surface", "word"), [("painted_steel", "NOT PROVEN"), ("epdm", "NO")])
def test_the_reason_stands_beside_a_word_that_holds_back(
    server: Server, tab: Any, job_folder: Path, surface: str, word: str
) -> None:
    """Right under the sentence that says NO or NOT PROVEN stands the first reason, the first of those listed below."""
    file = job_folder / "job.toml"
    file.write_text(file.read_text().replace('surface = "painted_steel"', f'surface = "{surface}"', 1))
    page = tab(server.job())
    expect(page.locator("h1 .word")).to_have_text(word)
    reason = page.locator(".lead + .reason").inner_text()
    first = (
        page.locator("section", has=page.get_by_role("heading", name="Why", exact=True)).locator("li").first
    )

    assert reason.rstrip(".") == first.inner_text().rstrip(".")


def test_inferred_is_drawn_hatched(server: Server, tab: Any) -> None:
    """The lines of the hatching keep their width in the plan, narrower than their distance: gaps stay between."""
    page = tab(server.job())
    line = page.locator("svg.plan .hatching")

    assert line.evaluate("one => getComputedStyle(one).vectorEffect") == "none"
    wide, apart = line.evaluate(
        "one => [+one.getAttribute('stroke-width'), +one.parentNode.getAttribute('width')]"
    )
    assert 0 < wide < 0.8 * apart


def test_another_case_can_be_shown(server: Server, tab: Any) -> None:
    """The governing case is switched, and roof, section and falls follow."""
    page = tab(server.job())
    head = page.locator(".beside .soft").first
    before = head.inner_text()
    page.get_by_label("Case").select_option(index=5)
    expect(head).not_to_have_text(before)


def test_units_and_theme_are_switched(server: Server, tab: Any, job_folder: Path) -> None:
    """US units come first in every sentence, and the dark theme stays after a reload."""
    page = tab(server.job())
    page.get_by_role("button", name="US units first").click()
    expect(page.locator(".second")).to_contain_text("lb (")
    page.get_by_role("button", name="Light or dark").click()
    page.reload()
    page.locator("h1").wait_for()

    assert page.evaluate("document.documentElement.dataset.theme") == "dark"


def test_dont_know_in_a_form_that_is_sent_as_a_whole(server: Server, tab: Any, job_folder: Path) -> None:
    """A field that may be empty has the button: it says what that costs, and typing takes it back."""
    page = tab(server.job("bond"))
    page.get_by_role("button", name="Write down a finished test").click()
    for name, text in (("load", "620 N"), ("lasted", "8 s"), ("temperature", "40 degC"), ("name", "new 1")):
        page.locator(f'input[name="{name}"]').fill(text)
    page.locator('select[name="result"]').select_option("broke")
    box = page.locator(".field", has=page.locator('input[name="area"]'))
    button = box.get_by_role("button")
    button.click()

    expect(button).to_have_attribute("aria-pressed", "true")
    expect(box.locator(".echo")).to_contain_text("Tension needs the bonded area")

    box.locator("input").fill("25 mm x 25 mm")

    expect(button).to_have_attribute("aria-pressed", "false")

    pattern = page.locator(".field", has=page.locator('select[name="failure_pattern"]'))
    pattern.get_by_role("button").click()
    expect(pattern.locator(".echo")).to_contain_text(
        re.compile(r"where nobody knows it|the answer is the same")
    )
    for name in ("name", "load", "lasted", "temperature"):
        assert page.locator(".field", has=page.locator(f'[name="{name}"]')).get_by_role("button").count() == 0
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("section[aria-label='Every test']")).to_contain_text("new 1")


def test_an_unknown_value_shows_its_cost_without_being_asked(server: Server, tab: Any) -> None:
    """What nobody knows shows, when it is looked at, the use as it is and with what could stand there."""
    page = tab(server.job("details"))
    section = page.locator("section[aria-label='The vehicle']")
    section.locator("summary", has_text="Not known").first.click()
    box = section.locator(".field", has=page.locator('[data-place="vehicle.absorptance"]'))
    expect(box.locator(".echo")).to_contain_text("not known. What could stand here", timeout=20_000)
