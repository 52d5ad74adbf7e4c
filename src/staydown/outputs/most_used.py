"""Picks what decides: of an item, of a mount, of a group of cases; likely and high beside each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from staydown.assess import Mounted
from staydown.foundation.numbers import Number, at
from staydown.loads.load_case import BANDS, LoadCase
from staydown.strength.evidence_level import Level
from staydown.verdict.checks import HIGH

LIKELY = BANDS.index("likely")
GROUPED = (
    "storm",
    "handling",
    "crosswind",
    "cornering",
)  # directions of one cause, told by the worst of them

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """One mount in one case. use: None where it pulls and nothing is proven. [N, Pa, K, 1]

    pull_N: away from the roof, negative where it presses; across_N: in the plane. temperature_K: of this
    mount's bond. heat_only: a soak in which no force decides. `likely_` is at the likely band.
    """

    case: int
    mount: int
    pull_N: float
    likely_pull_N: float
    across_N: float
    peak_Pa: float
    likely_peak_Pa: float
    shear_Pa: float
    tension_use: float
    shear_use: float
    temperature_K: float
    use: float | None
    likely_use: float | None
    level: Level
    heat_only: bool

    @property
    def rank(self) -> tuple[int, float]:
        """Return the order, worst first: over the whole, then without proof by stress, then by use."""
        if self.use is None:
            return (1, -max(self.peak_Pa, self.shear_Pa))
        return (0 if self.use > 1.0 else 2, -self.use)


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseRow:
    """The worst pick of one case, or of several that differ in direction alone."""

    name: str
    case: LoadCase
    pick: Pick


def _over_bands(number: Number, shape: tuple[int, int, int]) -> Array:
    return np.broadcast_to(np.asarray(number.value, dtype=float), shape)


def pick(mounted: Mounted, case: int, mount: int) -> Pick:
    """Return the numbers of one mount in one case."""
    demands, checks = mounted.demands, mounted.checks
    shape = checks.evidence.shape

    def value(number: Number, band: int = HIGH) -> float:
        return float(_over_bands(number, shape)[case, band, mount])

    def known(band: int) -> float | None:
        use = float(checks.use_over_bands()[case, band, mount])
        return None if math.isnan(use) else use

    along, across, pull = demands.force
    return Pick(
        case=case,
        mount=mount,
        pull_N=value(pull),
        likely_pull_N=value(pull, LIKELY),
        across_N=math.hypot(value(along), value(across)),
        peak_Pa=value(demands.peak_tension),
        likely_peak_Pa=value(demands.peak_tension, LIKELY),
        shear_Pa=value(demands.shear),
        tension_use=value(checks.tension_use),
        shear_use=value(checks.shear_use),
        temperature_K=value(mounted.table.temperatures),
        use=known(HIGH),
        likely_use=known(LIKELY),
        level=checks.level(case, mount),
        heat_only=bool(checks.soaks[case]) and not bow_decides(mounted, case, mount),
    )


def bow_decides(mounted: Mounted, case: int, mount: int) -> bool:
    """Return whether a soak is decided by what the bow of the item pulls, not by how heat shears the tape."""
    checks = mounted.checks
    if mounted.demands.bow is None or not checks.soaks[case] or checks.strain_decides()[case, mount]:
        return False
    tension, shear = (
        float(_over_bands(use, checks.evidence.shape)[case, HIGH, mount])
        for use in (checks.tension_use, checks.shear_use)
    )
    return not tension < shear  # of a rigid adhesive the heat shears; nothing proven speaks for neither


def worst_pick(
    mounted: Mounted, cases: Sequence[int] | None = None, mounts: Sequence[int] | None = None
) -> Pick:
    """Return what decides among some cases and mounts; None takes all.

    As for the whole item: a use over 100 % first, else the largest stress that nothing proves, else the largest use.
    """
    rows = list(range(len(mounted.table.cases)) if cases is None else cases)
    feet = list(range(len(mounted.demands.mounts)) if mounts is None else mounts)
    block = np.ix_(rows, feet)
    use = mounted.checks.use_at_high()[block]
    shape = mounted.checks.evidence.shape
    stress = np.maximum(
        _over_bands(mounted.demands.peak_tension, shape)[:, HIGH, :],
        _over_bands(mounted.demands.shear, shape)[:, HIGH, :],
    )[block]
    unproven = np.isnan(use)
    if unproven.any() and not np.nan_to_num(use).max() > 1.0:
        row, foot = np.unravel_index(np.where(unproven, stress, -1.0).argmax(), use.shape)
    else:
        row, foot = np.unravel_index(np.nan_to_num(use, nan=-1.0).argmax(), use.shape)
    return pick(mounted, rows[int(row)], feet[int(foot)])


def worst_in_tension(mounted: Mounted) -> Pick:
    """Return the mount and case most used in tension; where nothing is proven, the largest peak."""
    shape = mounted.checks.evidence.shape
    use = _over_bands(mounted.checks.tension_use, shape)[:, HIGH, :].copy()
    peak = _over_bands(mounted.demands.peak_tension, shape)[:, HIGH, :].copy()
    soaks = [case.family == "soak" for case in mounted.table.cases]
    use[soaks], peak[soaks] = -1.0, -1.0
    unproven = np.isnan(use)
    if unproven.any() and not np.nan_to_num(use).max() > 1.0:
        ranks = np.where(unproven, peak, -1.0)
    else:
        ranks = np.nan_to_num(use, nan=-1.0)
    case, mount = np.unravel_index(ranks.argmax(), ranks.shape)
    return pick(mounted, int(case), int(mount))


def pulling_cases(mounted: Mounted) -> list[int]:
    """Return the cases in which a force acts: all but the soaks, which only move the pad."""
    return [number for number, case in enumerate(mounted.table.cases) if case.family != "soak"]


def by_mount(mounted: Mounted, cases: Sequence[int] | None = None) -> list[Pick]:
    """Return what decides at each mount, in some cases or in all, the worst mount first."""
    mounts = range(len(mounted.demands.mounts))
    picks = [worst_pick(mounted, cases=cases, mounts=[mount]) for mount in mounts]
    return sorted(picks, key=lambda found: found.rank)


def heat_case(mounted: Mounted, mount: int) -> Pick | None:
    """Return a mount in the soak that uses it most, None where there is no such case."""
    soaks = [number for number, case in enumerate(mounted.table.cases) if case.family == "soak"]
    return worst_pick(mounted, cases=soaks, mounts=[mount]) if soaks else None


def heat_use(mounted: Mounted, mount: int) -> float | None:
    """Return the largest use of a mount in the soaks, strain and bow, None where there is no such case. [1]"""
    found = heat_case(mounted, mount)
    return None if found is None else found.use


def strain_use(mounted: Mounted, mount: int) -> float:
    """Return the use of the daily strain that the tape under a mount stands. [1]"""
    return at(mounted.checks.strain_use, (0, 0, mount))


def without_proof(mounted: Mounted, mount: int) -> bool:
    """Return whether a mount is pulled in some case for which nothing is proven."""
    return bool(np.isnan(mounted.checks.use_at_high()[:, mount]).any())


def by_case(mounted: Mounted, *, every: bool = False) -> list[CaseRow]:
    """Return what decides in each case, the worst first; directions of one cause as one row unless `every`."""
    groups: dict[tuple[str, str], list[int]] = {}
    for number, case in enumerate(mounted.table.cases):
        cause = case.name.split(" ")[0]
        key = cause if cause in GROUPED and not every else case.name
        groups.setdefault((key, case.exposure.season), []).append(number)
    rows = []
    for (key, _), numbers in groups.items():
        found = worst_pick(mounted, cases=numbers)
        case = mounted.table.cases[found.case]
        name = case.name
        if len(numbers) > 1:
            name = f"{key}, worst of {len(numbers)}: {case.name.removeprefix(key).strip()}"
        rows.append(CaseRow(name=name, case=case, pick=found))
    return sorted(rows, key=lambda row: row.pick.rank)
