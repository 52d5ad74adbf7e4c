"""Tests while they hang: a page that is closed, a server that is killed, and what is refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import expect

from staydown.workbench.record import list_records
from web_server import Server, a_picture


def hang(page: Any, name: str = "hang 9") -> None:
    """Hang a coupon."""
    page.get_by_role("button", name="Hang a coupon").click()
    for key, text in {
        "name": name,
        "load": "12 L water",
        "area": "60 mm x 60 mm",
        "temperature": "30 degC",
    }.items():
        page.locator(f'form [name="{key}"]').fill(text)
    page.get_by_role("button", name="It hangs from now").click()
    expect(page.locator("section[aria-label='Hanging now']")).to_contain_text(name)


def seconds(page: Any) -> int:
    """Return how long the clock says that it hangs."""
    minutes, _, rest = page.locator(".clock").inner_text().partition(":")
    return int(minutes) * 60 + int(rest)


def test_a_hang_goes_on_without_the_page(server: Server, tab: Any, job_folder: Path, watch: Any) -> None:
    """The clock of a hanging test survives a reload, a closed page and a killed server."""
    page = tab(server.job("bond"))
    hang(page)
    page.wait_for_timeout(2500)
    was = seconds(page)
    page.reload()
    page.locator(".clock").wait_for()

    assert seconds(page) >= was >= 2

    watch.allowed += ["WebSocket", "ERR_CONNECTION_REFUSED", "Failed to load resource"]
    page.close()
    server.kill()
    server.start()
    page = tab(server.job("bond"))

    assert seconds(page) > was

    page.get_by_role("button", name="hang 9 holds: I looked").click()
    expect(page.get_by_role("status")).to_contain_text("seen holding")
    page.wait_for_timeout(1500)  # what it did since that look takes a second at least to be told apart
    page.get_by_role("button", name="hang 9 fell").click()
    page.get_by_role("button", name="I found it fallen").click()
    expect(page.locator("section[aria-label='Every test']")).to_contain_text("hang 9")
    found = next(one for one in list_records(job_folder).coupons if one.name == "hang 9")

    assert found.coupon is not None
    assert found.coupon.result == "fell"
    assert found.coupon.found_s is not None


def test_a_test_is_spoiled_only_with_a_reason(server: Server, tab: Any, job_folder: Path) -> None:
    """Without a reason nothing is spoiled; with one the test is kept, shown and not counted."""
    page = tab(server.job("bond"))
    page.get_by_role("button", name="Mark as spoiled: room 1", exact=True).click()
    expect(page.get_by_role("columnheader", name="if it went wrong")).to_have_count(1)
    page.get_by_role("button", name="It counts for nothing").click()
    expect(page.locator("td .error")).to_contain_text("reason")
    page.locator('td [name="note"]').fill("<b>baked</b> by a lamp")
    page.get_by_role("button", name="It counts for nothing").click()
    expect(page.locator("tr.spoiled").first).to_contain_text("<b>baked</b> by a lamp")
    found = next(one for one in list_records(job_folder).coupons if one.name == "room 1")

    assert found.coupon is not None
    assert found.coupon.result == "spoiled"
    assert found.earlier


def test_bad_cells_are_told_at_their_fields(server: Server, tab: Any, job_folder: Path) -> None:
    """Every mistake of a test is told at its field, and nothing is written."""
    before = len(list_records(job_folder).events)
    page = tab(server.job("bond"))
    page.get_by_role("button", name="Write down a finished test").click()
    for key, text in {
        "name": "bad",
        "load": "12",
        "area": "about an inch",
        "lasted": "-3 s",
        "temperature": "hot",
    }.items():
        page.locator(f'form [name="{key}"]').fill(text)
    page.locator('form [name="result"]').select_option("broke")
    page.get_by_role("button", name="Write it down").click()
    for key in ("load", "area", "lasted", "temperature"):
        expect(page.locator(".field", has=page.locator(f'[name="{key}"]')).locator(".error")).to_be_visible()

    assert page.locator('form [name="area"]').input_value() == "about an inch"
    assert len(list_records(job_folder).events) == before


def test_a_photo_is_kept_and_shown(server: Server, tab: Any, job_folder: Path, watch: Any) -> None:
    """A photo goes into the folder under its hash and is linked at its coupon; what is no picture is refused."""
    page = tab(server.job("bond"))
    hang(page, "hang 10")
    form = page.locator("form.photo").first
    form.locator("input[type=file]").set_input_files(
        {"name": "x.jpg", "mimeType": "image/jpeg", "buffer": a_picture()}
    )
    form.get_by_role("button", name="Keep the photo").click()
    page.wait_for_timeout(
        2000
    )  # a second counts as held from the hanging on; what ends must have lasted longer
    page.get_by_role("button", name="hang 10 taken down, still holding").click()
    expect(page.get_by_role("link", name="photo 1")).to_be_visible()

    (kept,) = (job_folder / "photos").iterdir()
    with Image.open(kept) as photo:
        assert photo.size == (40, 30)

    watch.allowed += ["422"]
    other = tab(server.job("bond"))
    hang(other, "hang 11")
    form = other.locator("form.photo").first
    form.locator("input[type=file]").set_input_files(
        {"name": "x.png", "mimeType": "image/png", "buffer": b"<svg onload=1>"}
    )
    form.get_by_role("button", name="Keep the photo").click()
    expect(other.locator("h1")).to_contain_text("was not kept")
