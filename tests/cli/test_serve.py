"""Serving on a port that the machine chooses: it is told, and it answers there."""

from __future__ import annotations

import json
import subprocess
import sys
import urllib.request
from pathlib import Path
from urllib.parse import urlsplit


def test_port_0_is_any_free_one_and_is_told(tmp_path: Path) -> None:
    """Two on port 0 say two addresses, and each answers at its own."""
    command = [sys.executable, "-m", "staydown.cli.main", "serve", "--port", "0", "--no-browser", "--json"]
    running = [
        subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    try:
        found = []
        for one in running:
            assert one.stdout is not None
            line = one.stdout.readline()
            assert line, one.stderr.read() if one.stderr else ""
            found.append(urlsplit(json.loads(line)["url"]))

        assert found[0].port != found[1].port
        for url in found:
            assert url.port
            with urllib.request.urlopen(f"http://{url.netloc}/health", timeout=10) as answer:
                assert json.load(answer)["ready"] is True
    finally:
        for one in running:
            one.terminate()
            one.communicate(timeout=10)
