"""The command line starts at once: what is slow to load is loaded only by the command that needs it.

Seconds depend on the machine, so what is loaded is checked here; `make bench` measures the time.
"""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = [
    "numpy",
    "scipy",
    "pandas",
    "pydantic",
    "pint",
    "sqlite3",
    "matplotlib",
    "asyncio",
    "importlib.metadata",
]
PROGRAM = """
import sys
from staydown.cli.main import run
try:
    run(sys.argv[1:])
except SystemExit as end:
    print(end.code, *sys.modules, file=sys.stderr)
"""


def loaded_by(*words: str) -> set[str]:
    """Return the modules that a whole run of the program has loaded."""
    done = subprocess.run([sys.executable, "-c", PROGRAM, *words], capture_output=True, text=True, check=True)
    code, *modules = done.stderr.split()

    assert code == "0", done.stderr
    return set(modules)


@pytest.mark.parametrize("words", [["--version"], ["--help"], ["check", "--help"]], ids=" ".join)
def test_a_light_call_loads_nothing_heavy(words: list[str]) -> None:
    """The version and the help need no numbers."""
    assert loaded_by(*words) & set(HEAVY) == set()


def test_the_ordinary_path_stays_light(tmp_path_factory: pytest.TempPathFactory) -> None:
    """`demo` assesses a whole job without the slow parts of scipy or any library of the dev tier."""
    folder = tmp_path_factory.mktemp("demo") / "job"
    slow = ["scipy.stats", "scipy.optimize", "scipy.integrate", "scipy.interpolate", "pandas", "matplotlib"]
    slow += ["typst", "vl_convert"]

    assert loaded_by("demo", str(folder)) & set(slow) == set()
