"""Measure a plan of tests: seconds for all candidates weighed, against believing each candidate anew.

The ratio is what the weighing of draws saves against forming a belief for each simulated result, in one run.
"""

from __future__ import annotations

import time
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from staydown.advice.plan_tests import plan_tests
from staydown.assess import Facts, assess
from staydown.strength.build_belief import believe
from staydown.workbench.check import open_and_assess
from staydown.workbench.demo import lay_out_demo


def main() -> None:
    """Print seconds for 200 candidates and the ratio to 200 beliefs formed anew."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        lay_out_demo(folder, datetime.now(UTC))
        opened, _ = open_and_assess(folder / "changed.toml")
        hidden = Facts(cards=opened.cards, coupons=opened.coupons[:5], claims=opened.claims)
        start_of = assess(opened.job, hidden)
        start = time.perf_counter()
        plans = plan_tests(start_of, hidden, np.random.default_rng(1))
        seconds = time.perf_counter() - start
        weighed = sum(plan.weighed for plan in plans)
        card = start_of.items[0].standing.tape
        start = time.perf_counter()
        for seed in range(10):
            believe(opened.coupons[:5], card, seed=seed + 1)
        each = (time.perf_counter() - start) / 10
    per_200 = 200 * seconds / weighed
    print(
        f"{weighed} candidates weighed in {len(plans)} plans: {seconds:.2f} s, {per_200:.2f} s for 200 (aim: 5 s)"
    )
    print(f"200 beliefs formed anew, one result each: {200 * each:.2f} s; ratio {200 * each / per_200:.1f}")


if __name__ == "__main__":
    main()
