"""A table of coupons in the browser: chosen or dropped, shown before it counts, refused whole, never markup."""

from __future__ import annotations

import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from staydown.web.guard import LARGEST_TABLE_REQUEST, LARGEST_UPLOAD, largest_request
from staydown.web.uploads import MOST_WAITING, Uploads, Waiting
from staydown.workbench.coupon_table import LARGEST_TABLE, CouponTable
from staydown.workbench.record import list_records
from web_server import AXE, Server, missing

HEAD = "name,tape,surface,mode,result,load,area,lasted,temperature,note"
ROW = "{},grey foam,painted_steel,tension,broke,{},60 mm x 60 mm,8 s,22 degC,{}"
EVIL = "<img src=x onerror=\"document.title='run'\"><script>document.title='run'</script>"
SHOWN = "section[aria-label='The file that was chosen']"


def table(*rows: tuple[str, str, str]) -> bytes:
    """Return a CSV file of coupons: name, load, note."""
    return "\n".join([HEAD, *(ROW.format(*row) for row in rows)]).encode()


def choose(page: Any, content: bytes, name: str = "tests.csv") -> None:
    """Choose a file and let it be looked at."""
    page.locator("#table").set_input_files({"name": name, "mimeType": "text/csv", "buffer": content})
    page.get_by_role("button", name="Look at this file").click()


def names(folder: Path) -> list[str]:
    """Return the names of the coupons of the logbook."""
    return [one.name for one in list_records(folder).coupons]


def test_it_is_shown_before_it_is_recorded(server: Server, tab: Any, job_folder: Path) -> None:
    """The rows are shown as they were read, a doubt with them; nothing is written before somebody says yes."""
    before = names(job_folder)
    page = tab(server.job("bond"))
    choose(page, table(("room 6", "2200 N", ""), ("room 7", "9000 N", "")))
    shown = page.locator(SHOWN)
    expect(shown.locator("h2")).to_be_focused()
    expect(shown).to_contain_text("2 coupons would be recorded")
    expect(shown).to_contain_text("611 kPa")
    expect(shown.get_by_role("region", name="Doubts")).to_contain_text("unusual")

    assert names(job_folder) == before

    shown.get_by_role("button", name="Record 2 coupons").click()
    expect(page.get_by_role("status")).to_contain_text("2 recorded")
    expect(page.locator("section[aria-label='Every test']")).to_contain_text("room 7")
    expect(shown).to_have_count(0)

    assert names(job_folder) == [*before, "room 6", "room 7"]

    page.reload()
    page.locator("h1").wait_for()
    expect(page.locator("#main")).to_contain_text("is not held any more")


def test_every_mistake_is_told_with_its_place(server: Server, tab: Any, job_folder: Path) -> None:
    """Row, column, value, rule and hint of all mistakes; no row is recorded, the right ones neither."""
    before = names(job_folder)
    page = tab(server.job("bond"))
    choose(page, table(("room 6", "2200 N", ""), ("room 7", "2200", ""), ("", "2300 N", "")))
    region = page.get_by_role("region", name="Mistakes")
    rows = region.locator("tbody tr")
    expect(rows).to_have_count(2)
    cells = [one.all_inner_texts() for one in (rows.nth(0).locator("th, td"), rows.nth(1).locator("th, td"))]

    assert cells[0][:3] == ["3", "load", "2200"]
    assert "unit" in cells[0][3]
    assert '"2200 N"' in cells[0][4]
    assert cells[1][:2] == ["4", "name"]
    expect(page.get_by_role("button", name="Record")).to_have_count(0)
    page.get_by_role("button", name="Put it away").click()
    expect(page.locator(SHOWN)).to_have_count(0)

    assert names(job_folder) == before


def test_a_file_can_be_dropped(server: Server, tab: Any) -> None:
    """A file dropped on the form is looked at as if it had been chosen; dropped beside it, it opens nothing."""
    page = tab(server.job("bond"))
    carried = page.evaluate_handle(
        "text => { const one = new DataTransfer(); one.items.add(new File([text], 'drop.csv')); return one; }",
        table(("room 6", "2200 N", "")).decode(),
    )
    page.locator("h1").dispatch_event("drop", {"dataTransfer": carried})
    expect(page.locator("form.drop")).to_be_visible()
    page.locator("form.drop").dispatch_event("dragover", {"dataTransfer": carried})
    expect(page.locator("form.drop")).to_have_class("drop over")
    page.locator("form.drop").dispatch_event("drop", {"dataTransfer": carried})
    expect(page.locator(SHOWN)).to_contain_text("drop.csv")
    expect(page.locator(SHOWN)).to_contain_text("1 coupon would be recorded")


def test_a_correction_is_said_before_it_is_made(server: Server, tab: Any, job_folder: Path) -> None:
    """A name that the logbook has with other figures is shown as a correction, with the columns."""
    page = tab(server.job("bond"))
    choose(page, table(("room 1", "2150 N", "")))
    expect(page.locator(SHOWN)).to_contain_text("room 1: differs in load")
    page.get_by_role("button", name="Correct 1 entry").click()
    expect(page.get_by_role("status")).to_contain_text("1 corrected")

    assert next(one for one in list_records(job_folder).coupons if one.name == "room 1").earlier


def test_what_changed_meanwhile_is_shown_anew(server: Server, tab: Any) -> None:
    """Two tabs with two files of the same names: the second is not written as it was shown, but shown again."""
    page = tab(server.job("bond"))
    choose(page, table(("room 6", "2200 N", "")))
    expect(page.locator(SHOWN)).to_be_visible()
    other = tab(server.job("bond"), context=page.context)
    choose(other, table(("room 6", "1900 N", "")))
    other.get_by_role("button", name="Record 1 coupon").click()
    expect(other.get_by_role("status")).to_contain_text("1 recorded")
    page.get_by_role("button", name="Record 1 coupon").click()
    expect(page.get_by_role("alert").first).to_contain_text("has changed since")
    expect(page.locator(SHOWN)).to_contain_text("room 6: differs in load")


def test_user_text_in_a_table_never_becomes_markup(server: Server, tab: Any, job_folder: Path) -> None:
    """Names, notes, heads and the file's own name that are markup are shown as they were written."""
    page = tab(server.job("bond"))
    quoted = '"' + EVIL.replace('"', '""') + '"'
    choose(page, table((quoted, "2200 N", quoted)), name="<b onclick=alert(1)>.csv")
    shown = page.locator(SHOWN)
    expect(shown).to_contain_text("<img src=x")
    expect(shown).to_contain_text("<b onclick=alert(1)>.csv")
    page.get_by_role("button", name="Record 1 coupon").click()
    expect(page.locator("section[aria-label='Every test']")).to_contain_text("<img src=x")
    choose(page, f"{HEAD},{quoted}\n".encode(), name="x.csv")
    expect(page.get_by_role("region", name="Mistakes")).to_contain_text("<img src=x")

    assert page.title() != "run"
    assert page.locator("img, script[src=x]").count() == 0


def test_the_wrong_type_and_too_much_are_refused(server: Server, tab: Any, watch: Any) -> None:
    """A spreadsheet is refused with the way out; a file too large is told before it is sent."""
    page = tab(server.job("bond"))
    choose(page, b"PK\x03\x04\0\0", name="tests.xlsx")
    expect(page.get_by_role("region", name="Mistakes")).to_contain_text("CSV UTF-8")
    choose(page, b"x" * (LARGEST_TABLE + 1))
    told = page.locator("#table").evaluate("one => one.validationMessage")

    assert "larger than 500 kB" in told
    assert (
        page.locator("#table").evaluate("one => one.files.length") == 1
    )  # it is still here, and was not sent


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("load", ["2200 N", "2200"])
def test_axe_finds_nothing_in_what_is_shown(module_server: Server, tab: Any, theme: str, load: str) -> None:
    """Neither the rows nor the mistakes have a violation; a phone shows them without scrolling sideways."""
    if not AXE.exists():
        missing("axe-core")
    page = tab(module_server.job("bond"), color_scheme=theme, viewport={"width": 390, "height": 844})
    choose(page, table(("room 6", load, ""), ("room 1", "2150 N", "")))
    page.locator(SHOWN).wait_for()
    page.evaluate(AXE.read_text())
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")

    assert [(one["id"], one["nodes"][0]["html"][:120]) for one in found["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def post(server: Server, path: str, content: bytes, **headers: str) -> int:
    """Send a table without a browser and return the status."""
    edge = "edge"
    body = (
        (
            f'--{edge}\r\nContent-Disposition: form-data; name="table"; filename="t.csv"\r\n'
            "Content-Type: text/csv\r\n\r\n"
        ).encode()
        + content
        + f"\r\n--{edge}--\r\n".encode()
    )
    request = urllib.request.Request(path, data=body, method="POST")
    request.add_header("Content-Type", f"multipart/form-data; boundary={edge}")
    for key, value in headers.items():
        request.add_header(key, value)
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        with error:
            return error.code


def test_nobody_else_hands_a_table_in(module_server: Server) -> None:
    """A page of another site cannot; a job that is not open has none; too much is refused by the guard."""
    path = module_server.job("coupons")
    good = table(("room 9", "2200 N", ""))

    assert post(module_server, path, good) == 200  # the page that shows it; nothing is written
    assert post(module_server, path, good, Origin="http://evil.example") == 403
    assert post(module_server, path.replace("/job/", "/job/0"), good) == 404
    assert post(module_server, path, b"x" * LARGEST_TABLE_REQUEST) == 413


def test_only_tables_have_the_small_limit() -> None:
    """Photos and archives keep theirs; a detour in the address gains nothing."""
    assert largest_request("/job/0123456789/coupons") == LARGEST_TABLE_REQUEST
    assert largest_request("/job/0123456789/coupons/") == LARGEST_TABLE_REQUEST
    assert largest_request("/job/0123456789/photo") == LARGEST_UPLOAD
    assert largest_request("/import") == LARGEST_UPLOAD


def test_few_wait_and_each_for_its_own_job() -> None:
    """What waits is found by its word under its own job alone, and the oldest goes when there are too many."""
    uploads = Uploads()
    waiting = Waiting(job="a", name="t.csv", content=b"", table=CouponTable(name="t.csv", findings=()))
    first = uploads.put(waiting)

    assert uploads.get(first, "a") is waiting
    assert uploads.get(first, "b") is None

    tokens = {uploads.put(waiting) for _ in range(MOST_WAITING)}

    assert len(tokens) == MOST_WAITING
    assert uploads.get(first, "a") is None


@pytest.mark.parametrize("token", ["", "x", "../../etc/passwd", "<b>"])
def test_a_guessed_word_shows_nothing(module_server: Server, tab: Any, token: str) -> None:
    """A word that nobody gave out leads to the page without a table."""
    page = tab(f"{module_server.job('bond')}?table={token}")
    expect(page.locator(SHOWN)).to_have_count(0)
