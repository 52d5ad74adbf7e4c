"""What decides is picked as the verdict picks it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from staydown.assess import Assessment, Mounted
from staydown.outputs.most_used import Pick, by_case, by_mount, pulling_cases, worst_in_tension, worst_pick
from staydown.verdict.checks import HIGH

Assessed = Callable[[str], Assessment]
MOUNTED = ("panel", "no coupons", "membrane", "puck", "one mount", "twelve mounts")


def mounted_of(assessed: Assessed, name: str) -> Mounted:
    """Return the numbers of a job's first item."""
    mounted = assessed(name).items[0].mounted
    assert mounted is not None
    return mounted


@pytest.mark.independent
@pytest.mark.parametrize("name", MOUNTED)
def test_the_worst_of_all_is_what_governs(assessed: Assessed, name: str) -> None:
    """Over all cases and mounts the pick is the verdict's governing case."""
    mounted = mounted_of(assessed, name)
    found = worst_pick(mounted)

    assert found.use == (None if mounted.governing.use is None else pytest.approx(mounted.governing.use))
    assert mounted.table.cases[found.case].family == mounted.table.cases[mounted.governing.case].family


@pytest.mark.independent
@pytest.mark.parametrize("name", MOUNTED)
def test_mounts_come_worst_first(assessed: Assessed, name: str) -> None:
    """Every mount once; uses over the whole first, then what nothing proves, then the rest, each falling."""
    mounted = mounted_of(assessed, name)
    picks = by_mount(mounted)
    over = [p.use for p in picks if p.use is not None and p.use > 1.0]
    rest = [p.use for p in picks if p.use is not None and p.use <= 1.0]

    assert sorted(p.mount for p in picks) == list(range(len(mounted.demands.mounts)))
    assert [p.use for p in picks] == [*over, *[None] * (len(picks) - len(over) - len(rest)), *rest]
    assert over == sorted(over, reverse=True)
    assert rest == sorted(rest, reverse=True)


@pytest.mark.independent
@pytest.mark.parametrize("name", MOUNTED)
def test_grouping_directions_hides_no_use(assessed: Assessed, name: str) -> None:
    """The largest use over the grouped rows is the largest of all cases, hot and cold apart."""
    mounted = mounted_of(assessed, name)
    use = mounted.checks.use_at_high()
    grouped, every = by_case(mounted), by_case(mounted, every=True)

    assert len(every) == len(mounted.table.cases)
    assert len(grouped) < len(every)
    for season in ("hot", "cold"):
        rows = [n for n, case in enumerate(mounted.table.cases) if case.exposure.season == season]
        uses = [
            row.pick.use for row in grouped if row.case.exposure.season == season and row.pick.use is not None
        ]
        known = use[rows][~np.isnan(use[rows])]

        assert max(uses) == pytest.approx(known.max())


@pytest.mark.independent
@pytest.mark.parametrize("name", MOUNTED)
def test_the_fall_takes_the_largest_tension(assessed: Assessed, name: str) -> None:
    """No pulling case has a larger use in tension, or without any proof a larger peak."""
    mounted = mounted_of(assessed, name)
    found, rows = worst_in_tension(mounted), pulling_cases(mounted)
    shape = mounted.checks.evidence.shape
    use = np.broadcast_to(np.asarray(mounted.checks.tension_use.value), shape)[rows, HIGH, :]
    peak = np.broadcast_to(np.asarray(mounted.demands.peak_tension.value), shape)[rows, HIGH, :]

    if np.isnan(use).any() and not np.nan_to_num(use).max() > 1.0:
        assert found.peak_Pa == pytest.approx(peak[np.isnan(use)].max())
    else:
        assert found.tension_use == pytest.approx(np.nanmax(use))


def test_over_the_whole_comes_before_no_proof_and_that_before_the_rest() -> None:
    """The order of mounts and items: 140 %, 101 %, unproven at 300 kPa, unproven at 20 kPa, 99 %, 5 %."""
    wanted: list[tuple[float | None, float]] = [
        (1.4, 5e3),
        (1.01, 9e5),
        (None, 3e5),
        (None, 2e4),
        (0.99, 9e5),
        (0.05, 1e3),
    ]
    picks = [
        Pick(
            case=0,
            mount=0,
            pull_N=1.0,
            likely_pull_N=1.0,
            across_N=0.0,
            peak_Pa=peak_Pa,
            likely_peak_Pa=peak_Pa,
            shear_Pa=0.0,
            tension_use=0.0,
            shear_use=0.0,
            temperature_K=293.15,
            use=use,
            likely_use=use,
            level="covered",
            heat_only=False,
        )
        for use, peak_Pa in wanted
    ]

    mixed = [picks[number] for number in (3, 5, 0, 4, 2, 1)]

    assert sorted(mixed, key=lambda found: found.rank) == picks
