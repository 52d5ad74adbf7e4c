"""Things on the roof are moved by mouse, touch and keys, and what they carry is told while they move."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from web_server import wait_for

PANEL_FOOT = "item.2.mount.1"
STEP_s = (
    0.150  # of a step of a drag, as promised; the machine that runs tests beside each other gets twice that
)


def foot(page: Any, place: str = PANEL_FOOT) -> Any:
    """Return a thing on the roof."""
    return page.locator(f'svg.plan [data-place="{place}"]')


def mount(folder: Path, item: int = 1, number: int = 0) -> dict[str, Any]:
    """Return a mount as the job file has it."""
    found: dict[str, Any] = tomllib.loads((folder / "job.toml").read_text())["item"][item]["mount"][number]
    return found


def middle(thing: Any) -> tuple[float, float]:
    """Return where a thing is on the screen, scrolled to where a mouse can reach it."""
    thing.scroll_into_view_if_needed()
    box = thing.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_foot_is_dragged_by_mouse(server: Any, tab: Any, job_folder: Path) -> None:
    """The sentence changes while the foot is dragged, the file when it is put down, and Undo brings it back."""
    page = tab(server.job())
    before = page.locator(".second").inner_text()
    was = mount(job_folder)
    x, y = middle(foot(page))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 30, y, steps=6)
    expect(page.locator(".second")).not_to_have_text(before)

    assert mount(job_folder) == was

    page.mouse.up()
    wait_for(lambda: mount(job_folder)["behind"] != was["behind"])
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()

    assert mount(job_folder)["behind"].endswith(" mm")
    assert {key for key in was if mount(job_folder)[key] != was[key]} == {"behind"}

    page.get_by_role("button", name="Undo").click()
    wait_for(lambda: mount(job_folder) == was)
    expect(page.locator(".second")).to_have_text(before)


def test_a_foot_is_dragged_by_touch(server: Any, tab: Any, job_folder: Path) -> None:
    """A finger moves a foot on a phone, where the roof stands upright."""
    page = tab(server.job(), viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    foot(page).evaluate("thing => thing.scrollIntoView({block: 'center'})")
    was = mount(job_folder)
    x, y = middle(foot(page))
    touch = page.context.new_cdp_session(page)

    def send(kind: str, px: float, py: float) -> None:
        points = [] if kind == "touchEnd" else [{"x": px, "y": py}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", x, y)
    for step in range(1, 7):
        send("touchMove", x, y + 6 * step)
    send("touchEnd", x, y + 36)
    wait_for(lambda: mount(job_folder)["behind"] != was["behind"])

    assert float(mount(job_folder)["behind"].removesuffix(" mm")) > 150.0


def test_a_foot_is_moved_by_keys(server: Any, tab: Any, job_folder: Path) -> None:
    """An arrow key moves by 10 mm, with Shift by 1 mm; the foot keeps the focus."""
    page = tab(server.job())
    foot(page).focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowLeft")
    wait_for(lambda: mount(job_folder)["behind"] == "119 mm")

    assert page.evaluate("document.activeElement.dataset.place") == PANEL_FOOT


def test_escape_ends_a_drag(server: Any, tab: Any, job_folder: Path) -> None:
    """Escape in the middle of a drag leaves everything as it was."""
    page = tab(server.job())
    before = page.locator(".second").inner_text()
    x, y = middle(foot(page))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 80, y, steps=5)
    expect(page.locator(".second")).not_to_have_text(before)
    page.keyboard.press("Escape")
    page.mouse.up()
    expect(page.locator(".second")).to_have_text(before)

    assert mount(job_folder)["behind"] == "100 mm"


def test_a_foot_snaps_to_the_frame(server: Any, tab: Any, job_folder: Path) -> None:
    """Dragged near it, a foot comes to lie flush with the front edge, and the page says so."""
    page = tab(server.job())
    page.get_by_role("button", name="Closer: panel").click()
    x, y = middle(foot(page))
    away = 50.0 / 1000.0  # the pad is 100 mm long, so that flush is 50 mm behind the edge
    scale = page.evaluate("document.querySelector('svg.plan').getScreenCTM().a") * 1000.0
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - (0.1 - away) * scale + 4, y, steps=6)
    expect(page.locator(".caught")).to_contain_text("flush with the front edge")
    page.mouse.up()
    wait_for(lambda: mount(job_folder)["behind"] == "50 mm")


def test_a_move_off_the_item_is_refused(server: Any, tab: Any, job_folder: Path) -> None:
    """A foot put down outside its item goes back, with a sentence that says why."""
    page = tab(server.job())
    x, y = middle(foot(page))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 70, y, steps=6)
    page.mouse.up()
    expect(page.get_by_role("alert")).to_contain_text("Not moved", timeout=15_000)

    assert mount(job_folder)["behind"] == "100 mm"


@pytest.mark.parametrize("key", ["item.2", "item.1"])
def test_an_item_takes_its_feet_along(server: Any, tab: Any, job_folder: Path, key: str) -> None:
    """An item that is moved keeps its feet where they are on it."""
    page = tab(server.job())
    feet = tomllib.loads((job_folder / "job.toml").read_text())["item"][int(key[-1]) - 1]["mount"]
    foot(page, key).focus()
    page.keyboard.press("ArrowDown")
    number = int(key[-1]) - 1

    def item() -> dict[str, Any]:
        return tomllib.loads((job_folder / "job.toml").read_text())["item"][number]  # type: ignore[no-any-return]

    wait_for(lambda: item().get("left_of_centre") == "10 mm")

    assert item()["mount"] == feet


def test_a_size_is_typed_in_any_unit(server: Any, tab: Any, job_folder: Path) -> None:
    """What is typed in inches is read and echoed in millimetres while it is typed, and saved as typed."""
    page = tab(server.job())
    foot(page).click()
    field = page.locator('[data-place="item.2.mount.1.lever"]')
    field.fill("1/2 in")
    expect(page.locator(".field", has=field).locator(".echo")).to_contain_text("12.7 mm")
    field.press("Enter")
    wait_for(lambda: mount(job_folder)["lever"] == "1/2 in")

    assert "frame on the outer edge of its foot" in (job_folder / "job.toml").read_text()


def test_what_is_on_the_roof_is_drawn_and_moved(server: Any, tab: Any, job_folder: Path) -> None:
    """A vent that is added stands on the roof, moves like anything else, and what lies over it is doubted."""
    page = tab(server.job("details"))
    page.get_by_role("button", name="Add a vent, hatch or rail").click()
    values = {
        "name": "vent",
        "kind": "vent",
        "behind_front": "2.6 m",
        "left_of_centre": "0 mm",
        "length": "400 mm",
    }
    for name, text in {**values, "width": "400 mm"}.items():
        box = page.locator(f'form [name="{name}"]')
        box.select_option(text) if name == "kind" else box.fill(text)
    page.get_by_role("button", name="Add it").click()
    wait_for(lambda: "on_roof" in (job_folder / "job.toml").read_text())
    page.get_by_role("link", name="Answer").click()
    vent = foot(page, "vehicle.on_roof.1")
    vent.focus()
    page.keyboard.press("ArrowLeft")
    wait_for(lambda: '"2.590 m"' in (job_folder / "job.toml").read_text())
    expect(page.locator("section[aria-label=Doubts]")).to_contain_text("vent", timeout=20_000)


def test_the_roof_is_turned(server: Any, tab: Any, job_folder: Path) -> None:
    """Buttons, by mouse and by keys, show the roof from each corner; the case that is chosen is the case in it."""
    page = tab(server.job())
    shown = page.locator(".picture.space svg")
    expect(shown).to_have_attribute("aria-label", "The roof seen from the front left, to scale")
    before = shown.locator("desc").text_content() or ""

    assert "panel: front left pulls" in before

    corners = page.get_by_role("group", name="From where the roof is seen")
    corners.get_by_role("button", name="From the rear right").click()
    expect(shown).to_have_attribute("aria-label", "The roof seen from the rear right, to scale")
    expect(corners.get_by_role("button", name="From the rear right")).to_have_attribute(
        "aria-pressed", "true"
    )
    corners.get_by_role("button", name="From ahead").focus()
    page.keyboard.press("Enter")
    expect(shown).to_have_attribute("aria-label", "The roof seen from ahead, to scale")
    page.get_by_role("button", name="Only panel").click()
    expect(shown.locator("desc")).not_to_contain_text("antenna dome")
    options = page.locator("#case option")
    storm = next(text for text in options.all_text_contents() if "snow" in text.lower())
    page.locator("#case").select_option(label=storm)
    expect(shown.locator("desc")).to_contain_text("in snow")
    x, y = middle(foot(page))
    told = shown.locator("desc").text_content()
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y, steps=5)
    expect(shown.locator("desc")).not_to_have_text(told or "")
    page.mouse.up()
    wait_for(lambda: mount(job_folder)["behind"] != "100 mm")


def test_a_phone_gets_a_picture_of_its_width(server: Any, tab: Any) -> None:
    """Where there is little room the roof from a corner is drawn anew, with less on it; turned back, it is broad."""
    page = tab(server.job(), viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    shown = page.locator(".picture.space svg")
    expect(shown).to_have_attribute("width", "196pt")
    page.set_viewport_size({"width": 1100, "height": 700})
    expect(shown).to_have_attribute("width", "490pt")
