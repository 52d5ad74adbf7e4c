"""A real browser on a real server: every page is watched for errors in its console and for requests that leave."""

from __future__ import annotations

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from staydown.workbench.demo import lay_out_demo

REQUIRED = os.environ.get("STAYDOWN_BROWSER") == "required"
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
AXE = Path(sys.prefix) / "axe" / "node_modules" / "axe-core" / "axe.min.js"
HERE = re.compile(r"(?:http|ws)://127\.0\.0\.1:\d+/|data:|blob:|about:")


def missing(what: str) -> None:
    """Fail where the machine must have it, else skip and say what to do."""
    words = f"{what} is missing: `apt-get install chromium npm` and `make axe` bring what browser tests need"
    if REQUIRED:
        pytest.fail(words)
    pytest.skip(words)


class Server:
    """A workbench in a process of its own, which can be killed and started again on the same port."""

    def __init__(self, folder: Path, *words: str, job: str = "") -> None:
        self.folder = folder
        self.words = ([job] if job else []) + list(words)
        self.port = _free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.start()

    def start(self) -> None:
        """Start it and wait until it answers."""
        env = {key: value for key, value in os.environ.items() if key != "PYTEST_CURRENT_TEST"}
        env["XDG_STATE_HOME"] = str(self.folder / ".state")
        self.log = (self.folder / ".log").open("ab")
        command = [
            sys.executable,
            "-m",
            "staydown.cli.main",
            "serve",
            *self.words,
            "--port",
            str(self.port),
            "--no-browser",
        ]
        self.process = subprocess.Popen(command, cwd=self.folder, env=env, stdout=self.log, stderr=self.log)
        for _ in range(600):
            if self.process.poll() is not None:
                raise AssertionError((self.folder / ".log").read_text())
            try:
                with urllib.request.urlopen(f"{self.url}/health", timeout=1) as answer:
                    if answer.status == 200:
                        return
            except OSError:
                time.sleep(0.05)
        raise AssertionError("the server does not answer")

    def kill(self) -> None:
        """End it without warning, as a power cut does."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.log.close()

    def stop(self) -> None:
        """End it."""
        self.process.terminate()
        try:
            self.process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        self.log.close()

    def said(self) -> str:
        """Return what it printed."""
        return (self.folder / ".log").read_text()

    def job(self, page: str = "") -> str:
        """Return the address of a page of its job."""
        with urllib.request.urlopen(f"{self.url}/", timeout=10):
            pass
        found = re.search(r"/job/[0-9a-f]{10}", self.said())
        assert found is not None
        return f"{self.url}{found[0]}" + (f"/{page}" if page else "")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="session")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo job, laid out once."""
    folder = tmp_path_factory.mktemp("demo") / "van"
    lay_out_demo(folder, datetime(2026, 6, 1, 12, tzinfo=UTC))
    return folder


@pytest.fixture
def job_folder(laid_out: Path, tmp_path: Path) -> Path:
    """A copy of the demo job of one's own."""
    return Path(shutil.copytree(laid_out, tmp_path / "van"))


@pytest.fixture
def server(job_folder: Path) -> Iterator[Server]:
    """A workbench on a copy of the demo."""
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


def status_of(url: str, **headers: str) -> int:
    """Return the status of a plain request with headers of its own."""
    request = urllib.request.Request(
        url, headers={key.replace("_", "-"): value for key, value in headers.items()}
    )
    opener = urllib.request.build_opener(_Stay)
    try:
        with opener.open(request, timeout=10) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        return error.code


class _Stay(urllib.request.HTTPRedirectHandler):
    """Follows nothing."""

    def redirect_request(self, *_: Any) -> None:
        """Stay where the answer came from."""
        return
