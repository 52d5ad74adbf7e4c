"""A workbench in a process of its own, for tests that talk to it."""

from __future__ import annotations

import io
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

REQUIRED = os.environ.get("STAYDOWN_BROWSER") == "required"
AXE = Path(sys.prefix) / "axe" / "node_modules" / "axe-core" / "axe.min.js"


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


def status_of(url: str, **headers: str) -> int:
    """Return the status of a plain request with headers of its own."""
    request = urllib.request.Request(
        url, headers={key.replace("_", "-"): value for key, value in headers.items()}
    )
    opener = urllib.request.build_opener(Stay)
    try:
        with opener.open(request, timeout=10) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        with error:
            return error.code


class Stay(urllib.request.HTTPRedirectHandler):
    """Follows nothing."""

    def redirect_request(self, *_: Any) -> None:
        """Stay where the answer came from."""
        return


def wait_for(true: Callable[[], bool], seconds: float = 15.0) -> None:
    """Wait until something is so."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it never became so"
        time.sleep(0.02)


def a_picture() -> bytes:
    """Return a small photo as a phone would send it."""
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (90, 120, 60)).save(out, "JPEG")
    return out.getvalue()
