"""Measure the calculation itself: an assessment, all assumptions weighed, the search for changes, over numpy work.

The baseline is a fixed piece of numpy work on the same machine at the same moment: a solve of a 200 x 200 system.
Ratios travel between machines; seconds do not. The best of some runs counts: other work on the machine only adds.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from staydown.advice.assumptions import weigh_assumptions
from staydown.advice.changes import advise
from staydown.assess import assess, use_of_item
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.open_job import open_job


def best(work: Callable[[], object], runs: int) -> float:
    """Return the shortest processor time of some runs, all threads together. [s]"""
    seen = []
    for _ in range(runs):
        start = time.process_time()
        work()
        seen.append(time.process_time() - start)
    return min(seen)


def main() -> None:
    """Measure the demo job and print one line a step."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--runs", type=int, default=15, help="runs of each step (15)")
    runs = parser.parse_args().runs
    generator = np.random.default_rng(1)
    matrix, right = generator.random((200, 200)) + 200 * np.eye(200), generator.random(200)
    base = best(lambda: [np.linalg.solve(matrix, right) for _ in range(10)], 5 * runs) / 10
    with tempfile.TemporaryDirectory() as folder:
        start = time.process_time()
        lay_out_demo(Path(folder) / "job", datetime.now(UTC))
        laid_out_s = time.process_time() - start
        job = open_job(Path(folder) / "job")
    start = time.process_time()
    assessment = assess(job.job, job.facts)
    first_s = time.process_time() - start
    item = assessment.items[-1]
    steps = {
        "lay out the demo, both answers": laid_out_s,
        "assess, beliefs remembered from there": first_s,
        "assess again": best(lambda: assess(job.job, job.facts), runs),
        f"use of {item.item.name} alone": best(
            lambda: use_of_item(
                job.job,
                item.item,
                item.place,
                assessment.cards,
                job.facts.coupons,
                assessment.cards.planning["content"].decided,
            ),
            runs,
        ),
        "weigh every assumption": best(lambda: weigh_assumptions(assessment, job.facts), runs),
        "search for changes": best(lambda: advise(assessment, job.facts), runs),
    }
    print(f"{'step':40} {'ms':>8} {'/ solve 200 x 200':>18}")
    for name, seconds in steps.items():
        print(f"{name:40} {1e3 * seconds:8.1f} {seconds / base:18.0f}")


if __name__ == "__main__":
    main()
