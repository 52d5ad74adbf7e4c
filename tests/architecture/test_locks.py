"""The locks pin every byte, name no host, and agree with what the package asks for."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]
LOCKS = sorted((TOP / "locks").glob("*.txt"))
PIN = re.compile(r"^([a-z0-9._-]+)==(\S+)(?: ; (.*?))?(?: \\)?$", re.M)


def pins(lock: Path) -> dict[str, set[str]]:
    """Return the versions that a lock pins, by name (several where markers tell them apart)."""
    found: dict[str, set[str]] = {}
    for name, version, _ in PIN.findall(lock.read_text(encoding="utf-8")):
        found.setdefault(name, set()).add(version)
    return found


@pytest.mark.parametrize("lock", LOCKS, ids=lambda path: path.name)
def test_a_lock_names_no_host(lock: Path) -> None:
    """No address, no index, no path of a machine: any registry that has the bytes will do."""
    text = lock.read_text(encoding="utf-8")

    assert re.findall(r"://|--index-url|--extra-index-url|--find-links|file:|@ ", text) == []


@pytest.mark.parametrize("lock", LOCKS, ids=lambda path: path.name)
def test_every_pin_has_a_hash(lock: Path) -> None:
    """Each requirement is exact and is followed by at least one SHA-256."""
    entries = [entry for entry in re.split(r"\n(?=\S)", lock.read_text(encoding="utf-8")) if entry.strip()]

    assert entries != []
    for entry in entries:
        assert PIN.match(entry), entry.splitlines()[0]
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", entry), entry.splitlines()[0]


def test_the_run_lock_holds_what_the_package_asks_for() -> None:
    """Each dependency of pyproject.toml, and what builds the package, is pinned for users."""
    settings = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    asked = settings["project"]["dependencies"] + settings["build-system"]["requires"]
    names = {re.split(r"[<>=!~ ;\[]", wanted)[0].lower() for wanted in asked}

    assert names <= set(pins(TOP / "locks" / "run.txt"))


def test_the_dev_lock_does_not_change_what_users_run() -> None:
    """A library that both locks hold has the same versions in both."""
    run, dev = pins(TOP / "locks" / "run.txt"), pins(TOP / "locks" / "dev.txt")

    assert {name: dev[name] for name in dev.keys() & run.keys()} == {
        name: run[name] for name in dev.keys() & run.keys()
    }
