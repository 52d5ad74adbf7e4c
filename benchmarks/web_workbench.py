"""Measures the web workbench on the demo in a real browser, beside what was promised.

`python benchmarks/web_workbench.py` needs Chromium and the dev tier. Other work on the machine shows in the figures.
"""

from __future__ import annotations

import json
import os
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, sync_playwright

from staydown.workbench.demo import lay_out_demo

PROMISED = {
    "answers after start [s]": 1.5,
    "page visible, cold [s]": 2.5,
    "edit to new answer [s]": 0.150,
    "step of a drag [s]": 0.150,
    "memory with 20 tabs [MB]": 250.0,
    "edit to new answer with 20 tabs [s]": 0.300,
    "the same, all 20 seen at once [s]": 0.300,
}
TABS, TIMES = 20, 15
FOOT = 'svg.plan [data-place="item.2.mount.1"]'
# a browser without a screen takes all its tabs for visible; one with a screen says this of a tab behind another
COVERED = """() => {
    Object.defineProperty(document, 'visibilityState', {get: () => 'hidden'});
    document.dispatchEvent(new Event('visibilitychange'));
}"""
FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking"]


def main() -> None:
    """Print each figure beside its promise."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("Chromium is missing")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        lay_out_demo(Path(folder) / "demo", datetime.now(UTC))
        browser = play.chromium.launch(executable_path=chromium, args=FLAGS)
        found = measure(Path(folder), browser)
        browser.close()
    for name, value in found.items():
        print(f"{name:<38} {value:8.3f}   promised {PROMISED[name]:g}")
    print(json.dumps(found))


def measure(folder: Path, browser: Any) -> dict[str, float]:
    """Return every figure."""
    found: dict[str, float] = {}
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [
        sys.executable,
        "-m",
        "staydown.cli.main",
        "serve",
        "demo",
        "--port",
        str(port),
        "--no-browser",
    ]
    env = {**os.environ, "XDG_STATE_HOME": str(folder / "state")}
    start = time.perf_counter()
    server = subprocess.Popen(command, cwd=folder, env=env, stdout=subprocess.PIPE, text=True)
    try:
        while not _answers(port):
            time.sleep(0.01)
        found["answers after start [s]"] = time.perf_counter() - start
        assert server.stdout is not None
        url = server.stdout.readline().split()[-1]
        context = browser.new_context(viewport={"width": 1280, "height": 800})
        page = context.new_page()
        cold = time.perf_counter()
        page.goto(url)
        page.locator(FOOT).wait_for()
        found["page visible, cold [s]"] = time.perf_counter() - cold
        _edits(page, 3, server.pid)
        found["edit to new answer [s]"], alone = _edits(page, TIMES, server.pid)
        found["step of a drag [s]"] = _drag(page)
        tabs = []
        for _ in range(TABS - 1):
            tab = context.new_page()
            tab.goto(url)
            tab.locator(FOOT).wait_for()
            tabs.append(tab)
        page.bring_to_front()  # behind another tab it is painted once a second
        found["the same, all 20 seen at once [s]"], seen = _edits(page, TIMES, server.pid)
        for tab in tabs:
            tab.evaluate(COVERED)
        found["edit to new answer with 20 tabs [s]"], covered = _edits(page, TIMES, server.pid)
        spent = {"alone": alone, "20 tabs": covered, "all seen": seen}
        words = ", ".join(f"{name} {value:.3f} s" for name, value in spent.items())
        print(f"processor time of the server for an edit: {words}")
        found["memory with 20 tabs [MB]"] = _memory(server.pid)
    finally:
        server.terminate()
        server.wait()
    return found


def _answers(port: int) -> bool:
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/health", timeout=1) as answer:
            return bool(answer.status == 200)
    except OSError:
        return False


def _edits(page: Page, times: int, pid: int) -> tuple[float, float]:
    """Return the median time from a value that is typed to the sentence that it gives, seen by the page itself, and
    the processor time that the server spends on each. [s]
    """
    page.locator(FOOT).click()
    page.locator('[data-place="item.2.mount.1.lever"]').wait_for()
    before = _spent(pid)
    taken = page.evaluate(
        """async times => {
            const taken = [];
            for (let n = 0; n < times; n++) {
                const field = document.querySelector('[data-place="item.2.mount.1.lever"]');
                const all = () => ['.second', 'svg.plan'].map(one => document.querySelector(one).outerHTML).join();
                const was = all();
                field.focus(); field.value = (n % 2 ? 20 : 12) + n / 100 + ' mm';
                field.dispatchEvent(new Event('input', {bubbles: true}));
                const start = performance.now();
                field.dispatchEvent(new Event('change', {bubbles: true}));
                while (all() === was) {
                    await new Promise(requestAnimationFrame);
                    if (performance.now() - start > 10000) throw new Error('no answer');
                }
                taken.push(performance.now() - start);
                await new Promise(done => setTimeout(done, 400));
            }
            return taken;
        }""",
        times,
    )
    return float(statistics.median(taken)) / 1000.0, (_spent(pid) - before) / times


def _spent(pid: int) -> float:
    """Return the processor time of the server so far. [s]"""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _drag(page: Page) -> float:
    """Return the median time from one step of a drag to the roof that it gives. [s]"""
    box = page.locator(FOOT).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.keyboard.down("Alt")  # no snapping: every step gives another answer
    page.mouse.down()
    taken: list[float] = []
    for step in range(1, TIMES):
        labels = "[...document.querySelectorAll('svg.plan .use, .second')].map(one => one.textContent).join()"
        was = page.evaluate(labels)
        start = time.perf_counter()
        page.mouse.move(x + 4 * step, y)
        while page.evaluate(labels) == was:
            if time.perf_counter() - start > 10.0:
                raise SystemExit("a step of the drag gave no answer")
        taken.append(time.perf_counter() - start)
    page.keyboard.press("Escape")
    page.mouse.up()
    page.keyboard.up("Alt")
    return statistics.median(taken)


def _memory(pid: int) -> float:
    """Return the resident memory of the server. [MB]"""
    status = Path(f"/proc/{pid}/status").read_text()
    line = next(line for line in status.splitlines() if line.startswith("VmRSS"))
    return int(line.split()[1]) / 1024.0


if __name__ == "__main__":
    main()
