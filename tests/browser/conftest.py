"""A real browser on a real server: every page is watched for errors in its console and for requests that leave."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from staydown.workbench.record import Seen, record_coupons
from web_server import Server, missing

VAN = Path(__file__).parents[1] / "data" / "van"  # its own job, so that the demo may change
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
CHROMIUM = next(
    (path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), None
)
HERE = re.compile(r"(?:http|ws)://127\.0\.0\.1:\d+/|data:|blob:|about:")


@pytest.fixture(scope="session")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job of our own with its coupons recorded, laid out once."""
    folder = tmp_path_factory.mktemp("job") / "van"
    shutil.copytree(VAN, folder)
    record_coupons(folder, folder / "coupons.csv", Seen(now=datetime(2026, 6, 1, 12, tzinfo=UTC)))
    return folder


@pytest.fixture
def job_folder(laid_out: Path, tmp_path: Path) -> Path:
    """A copy of that job of one's own."""
    return Path(shutil.copytree(laid_out, tmp_path / "van"))


WIDE_FEET = {  # of the panel: larger pads, pulled further off their middle, on a stiffer frame
    '"100 mm x 60 mm"': '"120 mm x 80 mm"',
    '"24 mm"': '"38 mm"',
    '"-24 mm"': '"-38 mm"',
    'foot_thickness = "15 mm"': 'foot_thickness = "14 mm"',
    'source = "pulled two on the bench, the lower one"\n': """source = "pulled two on the bench, the lower one"

[[item.link]]
part = "upper bond"
strength = "2.5 kN"
source = "tape between two feet, pulled on the bench, the lower of two"
""",
    "\nsharp = true\n": '\nsharp = true\nframe_bending_stiffness = "4000 N m^2"\n',
}


@pytest.fixture
def turnable_folder(job_folder: Path) -> Path:
    """That job with feet that single changes help."""
    file = job_folder / "job.toml"
    text = file.read_text()
    for old, new in WIDE_FEET.items():
        assert old in text
        text = text.replace(old, new)
    file.write_text(text)
    return job_folder


@pytest.fixture(scope="module")
def module_server(tmp_path_factory: pytest.TempPathFactory, laid_out: Path) -> Iterator[Server]:
    """One server for requests that change nothing."""
    folder = tmp_path_factory.mktemp("guard")
    (folder / "van").symlink_to(laid_out)
    one = Server(folder, job="van")
    yield one
    one.stop()


@pytest.fixture
def server(job_folder: Path) -> Iterator[Server]:
    """A workbench on a copy of that job."""
    one = Server(job_folder.parent, job="van")
    yield one
    one.stop()


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Debian's Chromium, once for all tests."""
    if CHROMIUM is None:
        missing("Chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        one = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield one
        one.close()


class Watch:
    """What the pages of a test asked for and complained about."""

    def __init__(self) -> None:
        self.outside: list[str] = []
        self.errors: list[str] = []
        self.allowed: list[str] = []  # patterns of errors that the test provokes

    def on(self, page: Any) -> None:
        """Watch a page."""
        page.on(
            "request", lambda request: None if HERE.match(request.url) else self.outside.append(request.url)
        )
        page.on(
            "console",
            lambda told: self.errors.append(told.text) if told.type in ("error", "warning") else None,
        )
        page.on("pageerror", lambda error: self.errors.append(str(error)))

    def check(self) -> None:
        """Refuse any request that left the machine and any error that was not provoked."""
        assert self.outside == []
        assert [one for one in self.errors if not any(re.search(p, one) for p in self.allowed)] == []


@pytest.fixture
def watch() -> Iterator[Watch]:
    """Watches every page of a test; the test fails at its end for what was seen."""
    one = Watch()
    yield one
    one.check()


@pytest.fixture
def tab(browser: Any, watch: Watch) -> Iterator[Callable[..., Any]]:
    """Opens tabs; each call with settings is a browser of its own."""
    contexts = []

    def open_tab(url: str, context: Any = None, **settings: Any) -> Any:
        if context is None:
            context = browser.new_context(**({"viewport": {"width": 1280, "height": 800}} | settings))
            contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(10_000)
        watch.on(page)
        page.goto(url)
        page.locator("h1").first.wait_for()
        return page

    yield open_tab
    for context in contexts:
        context.close()
