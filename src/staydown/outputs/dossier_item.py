"""The pages of a dossier on one item: what decides, its forces and stresses, its cases, what is left when it fails."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.numbers import Number, at
from staydown.foundation.quantities import lasting
from staydown.loads.load_case import LoadCase
from staydown.outputs import dossier_pictures as pictures
from staydown.outputs.amounts import (
    ONLY_ONE_SEASON,
    amount,
    bare_pair,
    bare_percent,
    case_name,
    length,
    one,
    percent,
    percent_pair,
    units_of,
)
from staydown.outputs.blocks import (
    Block,
    beside,
    facts,
    figure,
    heading,
    kept_together,
    listing,
    paragraph,
    table,
)
from staydown.outputs.columns import cut
from staydown.outputs.evidence_text import some
from staydown.outputs.foot_section import foot_section
from staydown.outputs.most_used import Pick, by_case, by_mount, heat_use, pulling_cases, worst_in_tension
from staydown.outputs.movement_text import movement_sentences
from staydown.outputs.sentences import lead_sentences
from staydown.retention.retention import TetherCheck
from staydown.spread.build_demands import worst_over_average
from staydown.verdict.checks import HIGH

MOST_MOUNTS, MOST_CASES, MOST_LOST = 16, 14, 8
MOST_NAME = 40  # letters of a name in a table; the sentences have it in full
FEW_LOST = 3  # of an item that does not decide
YEAR_s = 365.25 * 86400.0
LONGEST_s = 10 * YEAR_s  # as in the statement on lost mounts: beyond it the model says nothing
USE = "use %, likely / high"


def full_pages(assessment: Assessment, assessed: ItemAssessment) -> list[Block]:
    """Return the blocks on the item that decides, whose answer stands on the first page already."""
    system, mounted = assessment.job.job.show, assessed.mounted
    if mounted is None:
        return []
    found = worst_in_tension(mounted)
    caption = (
        f"To scale, {case_name(mounted.table.cases[found.case])}, load factors included: at each foot its use over all "
        "cases and its pull in this one; below, the larger pull of each row. Brown pulls, blue-green holds."
    )
    return [
        heading(f"{assessed.item.name}: what decides", 1),
        figure(pictures.item_view(assessed, mounted, found, system), caption),
        *_worst_foot(assessment, assessed, mounted, found),
        *_mounts(mounted, system),
        *_cases(mounted, system),
        *_spread(mounted, system),
        *_temperatures(mounted, system),
        *_chain(assessed, mounted, system),
        *_lost_mounts(assessed, mounted, system, MOST_LOST),
        *_retention(assessed, mounted, system),
    ]


def brief_pages(assessment: Assessment, assessed: ItemAssessment) -> list[Block]:
    """Return the blocks on an item that does not decide: answer, worst foot, mounts, cases, what is left of it."""
    system, mounted = assessment.job.job.show, assessed.mounted
    blocks = [heading(assessed.item.name, 1, assessed.verdict.word)]
    blocks += [paragraph(text) for text in lead_sentences(assessed, system)]
    blocks += answers(assessed)
    if mounted is None:
        return blocks
    return [
        *blocks,
        *_mounts(mounted, system),
        *_lost_mounts(assessed, mounted, system, FEW_LOST),
        *_retention(assessed, mounted, system),
    ]


def answers(assessed: ItemAssessment) -> list[Block]:
    """Return why, what to do next and the conditions, in two columns where both have something to say."""
    verdict = assessed.verdict
    left = [listing(verdict.because, "Why", small=True)]
    for head, texts in (("Do next", verdict.find_out), ("What would change the answer", verdict.changes)):
        if texts:
            left.append(listing(texts, head, numbered=True, small=True))
    if not verdict.conditions:
        return left
    head = "Conditions, once it is proven" if verdict.word == "NOT PROVEN" else "Conditions"
    return [beside(left, [listing(verdict.conditions, head, small=True)], share=0.46)]


def _worst_foot(
    assessment: Assessment, assessed: ItemAssessment, mounted: Mounted, found: Pick
) -> list[Block]:
    """Return the worst foot: its section beside its numbers, then both falls."""
    system = assessment.job.job.show
    if found.peak_Pa <= 0.0:
        return [paragraph("No foot is pulled or tipped in any case.", "note")]
    name, case = mounted.demands.mounts[found.mount], mounted.table.cases[found.case]
    mount = assessed.item.mount[found.mount]
    place = (found.case, HIGH, found.mount)
    proven = at(mounted.checks.tension_proven, place)
    pad = f"{length(mount.pad.length_m, system)} along x {length(mount.pad.width_m, system)} across"
    rows = [
        ("case", f"{case_name(case)}, {lasting(case.exposure.lasts_s)}"),
        ("bond at", amount(found.temperature_K, "K", system)),
        ("force on the foot", f"{amount(found.pull_N, 'N', system)} away from the roof, "
         f"{amount(found.across_N, 'N', system)} along it"),
        ("pad", pad),
        ("model that governs", mounted.demands.solutions[mounted.demands.solution[place]]),
        ("mean tension", amount(at(mounted.demands.mean_tension, place), "Pa", system)),
        ("at the pad's edge", amount(found.peak_Pa, "Pa", system)),
        ("shear", amount(found.shear_Pa, "Pa", system)),
        ("line load", amount(at(mounted.demands.line_load, place), "N/m", system)),
        ("proven in tension", amount(proven, "Pa", system)),
        ("use", f"{percent(found.use)} ({found.level}), likely {percent(found.likely_use)}"),
    ]  # fmt: skip
    section = figure(foot_section(assessed, mounted, found, system))
    caption = (
        f"At {name} in {case_name(case)}, everything on the unfavourable end. The dashed line is the demand, drawn "
        "through what holds."
    )
    fall = figure(pictures.falls(assessment, assessed, mounted, found), caption)
    head = heading(f"The worst foot in tension: {name}", 2)
    return [kept_together([head, beside([section], [facts(rows)]), fall])]


def _mounts(mounted: Mounted, system: str) -> list[Block]:
    """Return the mounts, worst first, each in the case that uses it most."""
    picks = by_mount(mounted, pulling_cases(mounted))
    rows = [
        (
            cut(mounted.demands.mounts[found.mount], MOST_NAME),
            bare_pair(found.pull_N, "N", system),
            bare_pair(found.across_N, "N", system),
            bare_pair(found.peak_Pa, "Pa", system),
            case_name(mounted.table.cases[found.case]),
            percent_pair(found.likely_use, found.use),
            found.level,
            bare_percent(heat_use(mounted, found.mount)),
        )
        for found in picks[:MOST_MOUNTS]
    ]
    columns = (
        ("mount", "left", 0.0),
        (f"pull, {units_of('N', system)}", "right", 0.0),
        ("along the roof", "right", 0.0),
        (f"pad's edge, {units_of('Pa', system)}", "right", 0.0),
        ("case", "left", 1.0),
        (USE, "right", 0.0),
        ("evidence", "left", 0.0),
        ("heat %", "right", 0.0),
    )
    rest = picks[len(rows) :]
    note = (
        "A negative pull presses. Heat: daily strain of the tape over what it is taken to stand, or what the bow uses "
        "of the bond."
    )
    if rest:
        note += f" {len(rest)} more mounts are used less: `staydown check --json` has them."
    return [table("Mounts, worst first, each in the case that uses it most", columns, rows, note=note)]


def _cases(mounted: Mounted, system: str) -> list[Block]:
    every = by_case(mounted)
    rows = []
    for row in every[:MOST_CASES]:
        case, found = row.case, row.pick
        soak, heat = case.family == "soak", found.heat_only
        force = mounted.table.force_N[found.case, HIGH]
        rows.append(
            (
                row.name if case.family in ONLY_ONE_SEASON else f"{row.name}, {case.exposure.season}",
                lasting(case.exposure.lasts_s),
                "-" if soak else bare_pair(at(case.air_speed, (found.case, HIGH, 0)), "m/s", system),
                bare_pair(found.temperature_K, "K", system),
                "-" if soak else bare_pair(float(np.hypot(force[0], force[1])), "N", system),
                "-" if soak else bare_pair(float(force[2]), "N", system),
                "heat only" if heat else bare_pair(found.pull_N, "N", system),
                percent_pair(found.likely_use, found.use),
                "assumed" if heat else found.level,
            )
        )
    columns = (
        ("case", "left", 1.0),
        ("lasts", "right", 0.0),
        (f"air, {units_of('m/s', system)}", "right", 0.0),
        (f"bond, {units_of('K', system)}", "right", 0.0),
        (f"item along, {units_of('N', system)}", "right", 0.0),
        ("item upward", "right", 0.0),
        ("worst foot", "right", 0.0),
        (USE, "right", 0.0),
        ("evidence", "left", 0.0),
    )
    rest = len(every) - len(rows)
    note = "Forces on the whole item and on its worst foot, load factors included, at the high band."
    if rest:
        note += f" {rest} more cases use less: `staydown check --json` has them."
    return [table("Load cases, worst first, each at its worst mount", columns, rows, note=note)]


def _spread(mounted: Mounted, system: str) -> list[Block]:
    """Return how the load was spread over the mounts, and what bending changes."""
    demands, top = mounted.demands, mounted.governing
    case = top.case if mounted.table.cases[top.case].family != "soak" else worst_in_tension(mounted).case
    ratio = worst_over_average(demands, case, HIGH)
    told = (
        f"{len(demands.solutions)} models of how the feet hold the item were solved ({some(demands.solutions, 3)}); at "
        f"each foot the one with the larger peak counts. Each balances the load to {demands.residual:.0e} of it. "
    )
    if np.isfinite(ratio) and ratio > 0.0:
        told += (
            f"In {case_name(mounted.table.cases[case])} the worst foot carries {ratio:.2g} times the mean."
        )
    blocks = [heading("How the load spreads", 2), paragraph(told)]
    blocks.append(listing(movement_sentences(mounted, system), "How it moves and shakes", small=True))
    if mounted.shared:
        blocks.append(
            listing([one_shared.sentence for one_shared in mounted.shared], "Tape and screw in one pad")
        )
    return blocks


def _temperatures(mounted: Mounted, system: str) -> list[Block]:
    """Return how warm the bonds are in which case, cases that are alike in one row."""
    warm = np.asarray(mounted.table.temperatures.value, dtype=float)[:, 0, :]
    groups: dict[tuple[int, int], list[LoadCase]] = {}
    for row, case in zip(warm, mounted.table.cases, strict=True):
        groups.setdefault((round(float(row.min())), round(float(row.max()))), []).append(case)
    rows = []
    for (coolest, warmest), cases in sorted(groups.items(), key=lambda pair: -pair[0][1]):
        ends = dict.fromkeys((amount(coolest, "K", system), amount(warmest, "K", system)))
        air = dict.fromkeys(one(at(case.air_temperature, (0, HIGH, 0)), "K", system) for case in cases)
        names = list(dict.fromkeys(case_name(case) for case in cases))
        rows.append((" to ".join(ends), ", ".join(air), some(names, 6)))
    soak = mounted.table.soak
    daily = [
        f"{what} {_range(cold, system)} to {_range(hot, system)}"
        for what, cold, hot in (
            ("item", soak.item_cold, soak.item_hot),
            ("roof at the feet", soak.roof_cold, soak.roof_hot),
        )
    ]
    columns = (("bond at its feet", "left", 0.0), ("air", "left", 0.0), ("in these cases", "left", 1.0))
    note = f"Daily ends that move the pads: {'; '.join(daily)}."
    return [table("How warm the bonds are", columns, rows, note=note)]


def _range(number: Number, system: str) -> str:
    values = np.asarray(number.value, dtype=float)
    ends = dict.fromkeys(one(float(end), "K", system) for end in (values.min(), values.max()))
    return " to ".join(ends)


def _chain(assessed: ItemAssessment, mounted: Mounted, system: str) -> list[Block]:
    unknown = list(dict.fromkeys(link.link.part for link in mounted.chain if not link.link.known))
    caption = "Each link at the mount that uses it most, filled as far as it is used; the weakest has a heavy outline."
    if unknown:
        caption += f" Nobody knows {', '.join(unknown)}: the chain is no stronger than that."
    return [
        kept_together([heading("The chain", 2), figure(pictures.chain(assessed, mounted, system), caption)])
    ]


def _lost_mounts(assessed: ItemAssessment, mounted: Mounted, system: str, most: int) -> list[Block]:
    """Return what is left when a mount is lost: one row a loss, the worst pairs below."""
    redundancy, table_of = mounted.redundancy, mounted.table
    singles = sorted(redundancy.singles, key=lambda rest: -(rest.use if rest.use is not None else 9e9))
    rows = []
    for rest in (*singles[:most], *redundancy.pairs[: max(1, most // 3)]):
        case = table_of.cases[rest.case]
        holds = "not known" if rest.holds is None else "holds" if rest.holds else "does not hold"
        rows.append(
            (
                " and ".join(cut(name, MOST_NAME) for name in rest.lost),
                holds,
                percent(rest.use),
                "nothing is left" if rest.mount is None else cut(rest.mount, MOST_NAME),
                rest.part if rest.mount is not None else "-",
                case_name(case),
                "-" if rest.road_speed is None else _speed(rest.road_speed, system),
                _warning(rest.warning),
            )
        )
    columns = (
        ("lost", "left", 1.2),
        ("the rest", "left", 0.0),
        ("use", "right", 0.0),
        ("then the worst", "left", 1.0),
        ("of its", "left", 0.0),
        ("in", "left", 0.8),
        ("would hold to", "right", 0.0),
        ("next lets go", "right", 0.0),
    )
    note = "Speeds are on the road, at which the rest is used to 100 %; times are a model and never lift a verdict."
    if len(singles) > most:
        note += f" {len(singles) - most} more single losses are less bad."
    blocks: list[Block] = []
    if rows:
        blocks.append(
            table("If a mount is lost: what is left, loads as they are, no factors", columns, rows, note=note)
        )
    return blocks + _new_sentences(redundancy.sentences, assessed)


def _new_sentences(sentences: Sequence[str], assessed: ItemAssessment) -> list[Block]:
    """Return the sentences that reasons and conditions have not said already."""
    said = (*assessed.verdict.because, *assessed.verdict.conditions)
    new = [sentence for sentence in sentences if not any(sentence in text for text in said)]
    return [listing(new, small=True)] if new else []


def _speed(speed: Number, system: str) -> str:
    value = float(np.asarray(speed.value))
    return one(value, "m/s", system) if value > 0.0 else "no speed"


def _warning(warning: Number | None) -> str:
    if warning is None:
        return "-"
    seconds = float(np.asarray(warning.value))
    if seconds < 1.0:
        return "at once"
    if seconds > LONGEST_s:
        return "after years"
    return f"after {seconds / YEAR_s:.2g} years" if seconds > 2 * YEAR_s else f"after {lasting(seconds)}"


def _retention(assessed: ItemAssessment, mounted: Mounted, system: str) -> list[Block]:
    """Return what catches the item when all mounts let go: its tethers, and what a tether must stand."""
    retention, index = mounted.retention, mounted.retention.index
    tethers = [_tether_row(tether, index, system) for tether in retention.tethers]
    proposal = retention.proposal
    numbers = (proposal.snatch, proposal.line_needed, proposal.anchor_needed, proposal.slack)
    snatch, line, anchor, slack = (one(at(number, index), number.unit, system) for number in numbers)
    tethers.append(
        (
            "one that would do: webbing",
            "to the structure",
            snatch,
            f"- / {line}",
            f"- / {anchor}",
            f"{slack} / -",
            "",
        )
    )
    columns = (
        ("tether", "left", 1.0),
        ("anchor", "left", 1.0),
        ("snatch", "right", 0.0),
        ("line holds / needs", "right", 0.0),
        ("anchor holds / needs", "right", 0.0),
        ("slack / most", "right", 0.0),
        ("", "left", 0.0),
    )
    case = case_name(mounted.table.cases[index[0]])
    steady = amount(at(retention.steady, index), "N", system)
    wanted = {1: "One is wanted", 2: "Two are wanted"}[retention.wanted]
    note = f"{wanted}; the wind pulls {steady} steadily in {case}, its worst case, no factors."
    blocks: list[Block] = [table("Second retention: each tether judged alone", columns, tethers, note=note)]
    return blocks + _new_sentences(retention.sentences, assessed)


def _tether_row(tether: TetherCheck, index: tuple[int, int, int], system: str) -> tuple[str, ...]:
    def told(value: Number | None) -> str:
        return "not known" if value is None else one(at(value, index), value.unit, system)

    return (
        f"{tether.number} {tether.material}",
        tether.anchor,
        told(tether.snatch),
        f"{told(tether.line_strength)} / {told(tether.line_needed)}",
        f"{told(tether.anchor_strength)} / {told(tether.anchor_needed)}",
        f"{told(tether.slack)} / {told(tether.most_slack)}",
        "enough" if tether.ok else "not enough",
    )
