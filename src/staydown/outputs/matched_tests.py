"""Which of the tests made speak for which load: the kinds of load, the kinds of test, and what each pair means.

A fast pull says nothing of a load that stays, a hang nothing of a knock; a pull in the warm nothing of the cold.
The pairs are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.coupon import Coupon
from staydown.foundation.exposure import Season
from staydown.foundation.quantities import lasting
from staydown.outputs.amounts import case_name, percent
from staydown.outputs.columns import clean
from staydown.outputs.most_used import pulling_cases, worst_pick
from staydown.pictures.matcher_grid import Cell, Row, matcher_grid
from staydown.pictures.picture import Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class _Warmth:
    """Limits of "hot" and "cold" for this item. [K]"""

    hot_K: float
    cold_K: float

    def hot(self, coupon: Coupon) -> bool:
        return coupon.temperature_K >= self.hot_K

    def cold(self, coupon: Coupon) -> bool:
        return coupon.temperature_K <= self.cold_K


Speaks = Callable[[Coupon, _Warmth], bool]


def _pull(coupon: Coupon) -> bool:
    return coupon.result == "broke" and coupon.conditioned is None


def _hang(coupon: Coupon) -> bool:
    return coupon.result in ("fell", "holding") and coupon.conditioned is None


def _up(coupon: Coupon) -> bool:
    return coupon.mode in ("tension", "cleavage")


TESTS: tuple[tuple[str, Speaks], ...] = (
    ("pull-off, hot", lambda c, w: _pull(c) and _up(c) and w.hot(c)),
    ("pull-off, room", lambda c, w: _pull(c) and _up(c) and not w.hot(c) and not w.cold(c)),
    ("pull-off, cold", lambda c, w: _pull(c) and _up(c) and w.cold(c)),
    ("upward hang, hot", lambda c, w: _hang(c) and _up(c) and w.hot(c)),
    ("shear pull, hot", lambda c, w: _pull(c) and c.mode == "shear" and w.hot(c)),
    ("shear hang, hot", lambda c, w: _hang(c) and c.mode == "shear" and w.hot(c)),
    ("wetted or aged first", lambda c, _: c.conditioned is not None),
)
HOT_PULL, ROOM_PULL, COLD_PULL, HANG, SHEAR_PULL, SHEAR_HANG, WET = range(len(TESTS))
# load: words, names of its cases, seasons, the tests that speak for it
LOADS: tuple[tuple[str, tuple[str, ...], tuple[Season, ...], tuple[int, ...]], ...] = (
    ("gust, crosswind, hot", ("gust", "crosswind"), ("hot",), (HOT_PULL, WET)),
    ("gust, crosswind, cold", ("gust", "crosswind"), ("cold",), (COLD_PULL, WET)),
    ("cruise, departure", ("cruise", "departure"), ("hot",), (HANG, WET)),
    ("braking, cornering, rough road", ("braking", "speeding", "cornering", "rough", "passing"), ("hot", "cold"),
     (HOT_PULL, COLD_PULL, SHEAR_PULL)),
    ("storm, parked", ("storm",), ("hot", "cold"), (HOT_PULL, HANG, WET)),
    ("handling, branch, knock", ("handling",), ("hot", "cold"), (HOT_PULL, COLD_PULL)),
    ("snow, slope", ("snow",), ("hot", "cold"), (SHEAR_HANG, WET)),
    ("daily heat", ("hot", "cold"), ("hot", "cold"), (SHEAR_HANG, WET)),
)  # fmt: skip


def matched_tests(assessment: Assessment, assessed: ItemAssessment, mounted: Mounted) -> Picture:
    """Return the grid for one item."""
    planning = assessment.cards.planning
    reach = float(planning["temperature_reach"].decided.value)
    enough = int(float(planning["least_coupons"].decided.value))
    warmest = max(float(mounted.table.cases[row].exposure.temperature_K) for row in pulling_cases(mounted))
    warmth = _Warmth(hot_K=warmest - reach, cold_K=assessment.job.climate.coldest_K + reach)
    coupons = [c for group in mounted.groups.values() for c in (*group.valid, *group.conditioned)]
    counts = [sum(speaks(coupon, warmth) for coupon in coupons) for _, speaks in TESTS]
    rows = []
    for words, causes, seasons, speaking in LOADS:
        mine = _cases(mounted, causes, seasons)
        if not mine:
            continue
        cells = tuple(
            Cell(state="silent", count=0)
            if column not in speaking
            else Cell(state="enough" if count >= enough else "some" if count else "wanted", count=count)
            for column, count in enumerate(counts)
        )
        rows.append(Row(load=words, lasts=_lasts(mounted, mine), cells=cells, answer=_answer(mounted, mine)))
    alt = " ".join(_told(row) for row in rows)
    return matcher_grid(clean(assessed.item.name), [name for name, _ in TESTS], rows, alt)


def _cases(mounted: Mounted, causes: Sequence[str], seasons: Sequence[Season]) -> list[int]:
    return [
        number
        for number, case in enumerate(mounted.table.cases)
        if case.name.split(" ")[0] in causes
        and case.exposure.season in seasons
        and (case.family == "soak") == (causes[0] in ("hot", "cold"))
    ]


def _lasts(mounted: Mounted, rows: Sequence[int]) -> str:
    lasts = sorted({mounted.table.cases[row].exposure.lasts_s for row in rows})
    ends = dict.fromkeys(lasting(end) for end in (lasts[0], lasts[-1]))
    return " to ".join(ends)


def _answer(mounted: Mounted, rows: Sequence[int]) -> str:
    found = worst_pick(mounted, cases=rows)
    case = mounted.table.cases[found.case]
    if found.heat_only:
        return f"{percent(found.use)}, strain assumed"
    if case.family == "soak":
        return f"{case_name(case)}, bowed: {percent(found.use)} {found.level}"
    if found.peak_Pa <= 0.0 and found.shear_Pa <= 0.0:
        return "no load"
    return f"{case_name(case)}: {percent(found.use)} {found.level}"


def _told(row: Row) -> str:
    speaking = [
        f"{name}: {cell.count}"
        for (name, _), cell in zip(TESTS, row.cells, strict=True)
        if cell.state != "silent"
    ]
    return f"{row.load}: spoken for by {', '.join(speaking)}; {row.answer}."
