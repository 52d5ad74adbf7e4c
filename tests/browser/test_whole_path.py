"""From an empty folder to a dossier, with nothing but the browser."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from web_server import Server

ANSWERS = {
    "job.name": "Robin",
    "vehicle.roof_length": "4.2 m",
    "vehicle.roof_width": "1.75 m",
    "vehicle.roof_height": "8 ft 6 in",
    "travel.cruise_speed": "95 km/h",
    "travel.top_speed": "70 mph",
    "travel.headwind": "25 km/h",
    "travel.longest_leg": "2.5 h",
    "climate.coldest": "-15 degC",
    "climate.hottest": "100 °F",
    "climate.storm_gust": "110 km/h",
    "tape.1.name": "grey foam",
    "tape.1.thickness": "45 mil",
    "item.1.name": "panel",
    "item.1.length": "1480 mm",
    "item.1.width": "670 mm",
    "item.1.thickness": "35 mm",
    "item.1.mass": "11.2 kg",
    "item.1.gap": "45 mm",
    "item.1.behind_roof_front": "0.9 m",
    **{
        f"item.1.mount.{number}.{key}": text
        for number, texts in enumerate(
            (
                ("front left", "100 mm", "300 mm"),
                ("front right", "100 mm", "-300 mm"),
                ("rear left", "1380 mm", "300 mm"),
                ("rear right", "1380 mm", "-300 mm"),
            ),
            1,
        )
        for key, text in zip(("name", "behind", "left", "pad"), (*texts, "80 mm x 50 mm"), strict=True)
    },
}
CHOSEN = {"vehicle.surface": "gelcoat", "tape.1.kind": "acrylic foam tape", "item.1.front_edge": "open"}


def test_from_an_empty_folder_to_a_dossier(tmp_path: Path, tab: Any) -> None:
    """Questions give a job, a test is written down, a foot is moved, the dossier is fetched as PDF."""
    server = Server(tmp_path)
    try:
        page = tab(server.url)
        page.get_by_role("button", name="Ask me").click()
        page.get_by_role("button", name="Write the job").click()
        expect(page.get_by_role("alert").first).to_contain_text("missing")
        page.locator("#f-folder").fill(str(tmp_path / "robin"))
        for key, text in ANSWERS.items():
            page.locator(f'[name="{key}"]').fill(text)
        for key, text in CHOSEN.items():
            page.locator(f'[name="{key}"]').select_option(text)
        page.get_by_role("button", name="Write the job").click()
        page.locator("svg.plan").wait_for()
        job = tomllib.loads((tmp_path / "robin" / "job.toml").read_text())

        assert job["climate"]["hottest"] == "100 °F"
        expect(page.locator("h1")).to_contain_text("Robin NOT PROVEN")

        page.get_by_role("link", name="Bond and tests").click()
        page.get_by_role("button", name="Write down a finished test").click()
        for name, text in {
            "name": "pull 1",
            "load": "90 kg",
            "area": "25 mm x 25 mm",
            "lasted": "8 s",
            "temperature": "22 degC",
        }.items():
            page.locator(f'form [name="{name}"]').fill(text)
        page.locator('form [name="result"]').select_option("broke")
        page.locator('form [name="failure_pattern"]').select_option("cohesive")
        page.get_by_role("button", name="Write it down").click()
        expect(page.locator("section[aria-label='Every test']")).to_contain_text("pull 1")

        page.get_by_role("link", name="Papers").click()
        with page.expect_download(timeout=60_000) as fetched:
            page.get_by_role("link", name="dossier-a4.pdf").click()

        assert Path(fetched.value.path()).read_bytes().startswith(b"%PDF-")
    finally:
        server.stop()


def test_a_job_goes_to_another_machine(server: Server, tab: Any, tmp_path: Path, job_folder: Path) -> None:
    """The archive of a job is unpacked into a new folder and opens with the same coupons."""
    page = tab(server.job("papers"))
    with page.expect_download() as fetched:
        page.get_by_role("link", name="job.zip").click()
    archive = tmp_path / "job.zip"
    fetched.value.save_as(archive)
    other = tab(server.url)
    other.get_by_text("Or unpack an archive").click()
    other.get_by_label("Archive").set_input_files(archive)
    other.get_by_label("New folder for it").fill(str(tmp_path / "other"))
    other.get_by_role("button", name="Unpack and open it").click()
    other.locator("svg.plan").wait_for()

    assert (tmp_path / "other" / "job.toml").read_bytes() == (job_folder / "job.toml").read_bytes()
    other.get_by_role("link", name="Bond and tests").click()
    expect(other.locator("section[aria-label='Every test']")).to_contain_text("hang 6")


def test_the_demo_opens(tmp_path: Path, tab: Any) -> None:
    """The demo is laid out and shown by one button."""
    server = Server(tmp_path)
    try:
        page = tab(server.url)
        page.get_by_role("button", name="Show the demo").click()
        page.locator("svg.plan").wait_for(timeout=20_000)
        expect(page.locator("h1")).to_contain_text("Curlew")
    finally:
        server.stop()


def test_missing_answers_are_told_on_a_phone(tmp_path: Path, tab: Any) -> None:
    """What was refused comes into sight with the focus, each time, and its count stands beside the button."""
    server = Server(tmp_path)
    try:
        page = tab(server.url, viewport={"width": 390, "height": 700})
        expect(page.locator(".ways")).to_contain_text("All of these are needed")
        page.get_by_role("button", name="Ask me").click()
        write = page.get_by_role("button", name="Write the job")
        count = page.locator(".questions p.row .error")
        for filled, left in ((0, 28), (1, 27)):  # the folder, 23 values and 4 of the first mount
            if filled:
                page.locator('[name="job.name"]').fill("Robin")
            write.scroll_into_view_if_needed()
            write.click()
            box = page.locator("div.trouble")
            expect(box).to_contain_text(f"{left} answers are missing")
            expect(box).to_be_focused()
            expect(box).to_be_in_viewport()
            expect(count).to_have_text(f"{left} answers are missing.")
    finally:
        server.stop()


def test_an_answer_is_read_while_it_is_typed(tmp_path: Path, tab: Any) -> None:
    """What was read stands below it, or what is wrong; unreadable and missing answers are refused in one round."""
    server = Server(tmp_path)
    try:
        page = tab(server.url)
        page.get_by_role("button", name="Ask me").click()
        length, width = (page.locator(f'[name="vehicle.roof_{one}"]') for one in ("length", "width"))
        length.fill("14 ft")  # 4.2672 m: a foot is 0.3048 m
        expect(page.locator(".field", has=length).locator(".echo")).to_have_text("= 4.27 m (14.0 ft)")
        width.fill("12 parsecs")
        expect(page.locator(".field", has=width).locator(".error")).to_be_visible()
        speed = page.locator('[name="travel.top_speed"]')
        speed.fill("fast")
        page.get_by_role("button", name="Write the job").click()
        box = page.locator("div.trouble")
        for words in ("25 answers are missing.", "vehicle roof_width: ", "travel top_speed: "):
            expect(box).to_contain_text(words)
        expect(page.locator(".questions p.row .error")).to_contain_text("27 things are wrong")
        for one in (width, speed, page.locator('[name="job.name"]')):
            expect(page.locator(".field", has=one).locator(".error")).to_be_visible()

        assert "Traceback" not in server.said()
        assert not list(tmp_path.rglob("job.toml"))
    finally:
        server.stop()


def test_a_wrong_folder_is_told(tmp_path: Path, tab: Any) -> None:
    """A folder without a job, and none at all, are answered with a sentence."""
    server = Server(tmp_path)
    try:
        page = tab(server.url)
        page.get_by_role("button", name="Open it").click()
        expect(page.locator(".error")).to_contain_text("Type the folder")
        page.locator("#f-folder").fill(str(tmp_path))
        page.get_by_role("button", name="Open it").click()
        expect(page.get_by_role("alert").first).to_contain_text("is not there", ignore_case=True)
    finally:
        server.stop()
