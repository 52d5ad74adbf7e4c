"""Measure whole processes: wall time and memory of what a person types, against a baseline that all have.

The baseline is a fresh interpreter that imports numpy and scipy.special and does nothing with them: what a script
of one's own would cost before its first line. Ratios travel between machines; seconds do not.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

PYTHON = sys.executable
STAYDOWN = str(Path(PYTHON).parent / "staydown")
BASELINE = "python: import numpy, scipy.special"


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """The median wall time [s] and the largest resident memory [MB] of a process."""

    seconds: float
    megabytes: float


def once(command: list[str]) -> tuple[float, float]:
    """Return seconds and megabytes of one run. [s, MB]

    Raises
    ------
    SystemExit
        The command failed; a failing run is not a time.
    """
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, used = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        raise SystemExit(f"{' '.join(command)}: exit code {process.returncode}")
    per_megabyte = 2**20 if sys.platform == "darwin" else 2**10
    return seconds, used.ru_maxrss / per_megabyte


def measure(command: list[str], runs: int) -> Measured:
    """Return the median of some runs, after one that warms the disk."""
    once(command)
    seen = [once(command) for _ in range(runs)]
    return Measured(seconds=statistics.median(s for s, _ in seen), megabytes=max(m for _, m in seen))


def ten_thousand_rows() -> str:
    """Return a file of coupons for the demo, as long as anybody's ever will be."""
    head = "name,tape,surface,mode,result,load,area,lasted,temperature"
    lines = [
        f"C{n},grey foam,painted_steel,shear,fell,{20 + n % 400 / 10} N,25 mm x 25 mm,{1 + n % 2000 / 10} h,40 degC"
        for n in range(10_000)
    ]
    return "\n".join([head, *lines]) + "\n"


def main() -> None:
    """Measure and print one line a process."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--runs", type=int, default=9, help="runs of each process (9)")
    runs = parser.parse_args().runs
    with tempfile.TemporaryDirectory() as folder:
        job = str(Path(folder) / "job")
        subprocess.run([STAYDOWN, "demo", job], check=True, stdout=subprocess.DEVNULL)
        rows = Path(folder) / "rows.csv"
        rows.write_text(ten_thousand_rows(), encoding="utf-8")
        processes = {
            BASELINE: [PYTHON, "-c", "import numpy, scipy.special"],
            "python: pass": [PYTHON, "-c", "pass"],
            "staydown --version": [STAYDOWN, "--version"],
            "staydown --help": [STAYDOWN, "--help"],
            "staydown check DEMO": [STAYDOWN, "check", job],
            "staydown check DEMO --json": [STAYDOWN, "check", job, "--json"],
            "staydown explain DEMO": [STAYDOWN, "explain", job],
        }
        measured = {name: measure(command, runs) for name, command in processes.items()}
        # once: the logbook has the rows afterwards
        seconds, megabytes = once([STAYDOWN, "record", "coupons", job, str(rows)])
        measured["staydown record coupons, 10,000 rows"] = Measured(seconds=seconds, megabytes=megabytes)
    base = measured[BASELINE]
    print(f"{'process':38} {'s':>7} {'MB':>6} {'s / base':>9} {'MB / base':>9}")
    for name, one in measured.items():
        print(
            f"{name:38} {one.seconds:7.3f} {one.megabytes:6.0f} "
            f"{one.seconds / base.seconds:9.2f} {one.megabytes / base.megabytes:9.2f}"
        )


if __name__ == "__main__":
    main()
