"""The two tables of an item: its mounts and its cases, worst first, newtons and pounds before stresses."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.assess import Mounted
from staydown.foundation.quantities import lasting
from staydown.outputs.amounts import (
    ONLY_ONE_SEASON,
    bare_pair,
    bare_percent,
    case_name,
    percent_pair,
    units_of,
)
from staydown.outputs.columns import Column, cut, table, wrap
from staydown.outputs.most_used import CaseRow, Pick, by_case, by_mount, heat_use, pulling_cases

MOST_CASES = 12
MOST_NAME = 40  # cells of a name in a table; the sentences have it in full
USE = "use %,\nlik. / high"
ALONG = "→"


def mount_table(mounted: Mounted, system: str, width: int) -> list[str]:
    """Return the mounts, each in the case whose force decides, and what heat uses of its tape and bond."""
    picks = by_mount(mounted, pulling_cases(mounted))
    rows = [
        (
            cut(mounted.demands.mounts[found.mount], MOST_NAME),
            _load(found, system),
            bare_pair(found.peak_Pa, "Pa", system),
            case_name(mounted.table.cases[found.case]),
            percent_pair(found.likely_use, found.use),
            found.level,
            bare_percent(heat_use(mounted, found.mount)),
        )
        for found in picks
    ]
    columns = (
        Column(head="mount", flexible=True),
        Column(head=f"pull\n{units_of('N', system)}", right=True),
        Column(head=f"pad's edge\n{units_of('Pa', system)}", right=True),
        Column(head="case", flexible=True),
        Column(head=USE, right=True),
        Column(head="evidence"),
        Column(head="heat\n%", right=True),
    )
    lines = ["  Mounts, worst first, each in the case that uses it most; heat apart", ""]
    return [*lines, *table(columns, rows, width), *_note(picks, width)]


def case_table(mounted: Mounted, system: str, width: int, *, verbose: bool) -> list[str]:
    """Return the cases, each at its worst mount; directions of one cause together unless `verbose`."""
    rows = by_case(mounted, every=verbose)
    shown = rows if verbose else rows[:MOST_CASES]
    columns = (
        Column(head="case", flexible=True),
        Column(head="lasts", right=True),
        Column(head=f"bond at\n{units_of('K', system)}", right=True),
        Column(head=f"pull\n{units_of('N', system)}", right=True),
        Column(head=USE, right=True),
        Column(head="evidence"),
    )
    lines = ["  Cases, worst first, each at its worst mount", ""]
    lines += table(columns, [_case_cells(row, system) for row in shown], width)
    lines += _note([row.pick for row in shown if not row.pick.heat_only], width)
    rest = rows[len(shown) :]
    return [*lines, *wrap(_rest(rest), width, first="  ")] if rest else lines


def _load(found: Pick, system: str) -> str:
    """Return the force away from the roof; where it presses, the force along the roof, or that it tips the pad."""
    if found.pull_N > 0.0:
        return bare_pair(found.pull_N, "N", system)
    if found.across_N > 0.0:
        return f"{ALONG} {bare_pair(found.across_N, 'N', system)}"
    return "tips it" if found.peak_Pa > 0.0 else "none"


def _note(picks: Sequence[Pick], width: int) -> list[str]:
    """Return what the arrow means, where there is one."""
    pressed = any(found.pull_N <= 0.0 and found.across_N > 0.0 for found in picks)
    note = f"{ALONG} pressed on the whole: the force along the roof, which tips or shears it"
    return wrap(note, width, first="  ") if pressed else []


def _case_cells(row: CaseRow, system: str) -> tuple[str, ...]:
    case, found = row.case, row.pick
    heat = found.heat_only
    return (
        row.name if case.family in ONLY_ONE_SEASON else f"{row.name}, {case.exposure.season}",
        lasting(case.exposure.lasts_s),
        bare_pair(found.temperature_K, "K", system),
        "heat only" if heat else _load(found, system),
        percent_pair(found.likely_use, found.use),
        "assumed" if heat else found.level,  # the strain that a tape stands is a planning value
    )


def _rest(rows: Sequence[CaseRow]) -> str:
    uses = [row.pick.use for row in rows if row.pick.use is not None]
    unproven = len(rows) - len(uses)
    told = []
    if uses:
        most = max(uses)
        told.append(
            f"{len(uses)} more, none over {bare_percent(most)} %"
            if most > 0.0
            else f"{len(uses)} without load"
        )
    if unproven:
        told.append(f"{unproven} more for which nothing is proven")
    return f"and {', and '.join(told)}: `staydown check --json` has them all"
