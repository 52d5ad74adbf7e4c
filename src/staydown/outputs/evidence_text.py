"""The chain of evidence in words: what speaks for which case, the links and the weakest, coupons, data sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.evidence.chain import PARTS
from staydown.evidence.group_coupons import CouponGroup
from staydown.foundation.quantities import lasting
from staydown.job.records import Claim
from staydown.outputs.amounts import amount, bare_pair, bare_percent, case_name, units_of
from staydown.outputs.columns import Column, cut, listed, table, wrap
from staydown.verdict.chain_use import CheckedLink

MOST_NAMES = 4
MOST_NAME = 40
RESULTS = ("broke", "fell", "holding")


def some(names: Sequence[str], most: int = MOST_NAMES) -> str:
    """Return names in a row, the rest as a number.

    Examples
    --------
    >>> some(["gust", "cruise", "braking"], 2)
    'gust; cruise and 1 more'
    """
    shown = "; ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def chain_text(mounted: Mounted, system: str, width: int) -> list[str]:
    """Return the chain of links as a table, each at the mount where it is used most; the weakest is marked."""
    worst = [link for part in PARTS for link in _of_part(mounted.chain, part)]
    known = [link for link in worst if link.use is not None]
    most = max((link.use for link in known if link.use is not None), default=None)
    rows: dict[tuple[str, ...], list[str]] = {}
    for link in worst:
        told = (
            _known_by(mounted, link),
            bare_pair(link.demand_N, "N", system),
            "-" if link.strength_N is None else bare_pair(link.strength_N, "N", system),
            bare_percent(link.use) + (" <" if link.use is not None and link.use == most else ""),
        )
        rows.setdefault(told, []).append(link.link.part)
    units = units_of("N", system)
    columns = (
        Column(head="link, item to roof", flexible=True),
        Column(head="known by", flexible=True),
        Column(head=f"hands on\n{units}", right=True),
        Column(head=f"strength\n{units}", right=True),
        Column(head="use\n%"),
    )
    lines = ["  The chain from the item to the roof, each link at its worst mount", ""]
    lines += table(columns, [(", ".join(parts), *told) for told, parts in rows.items()], width)
    unknown = list(dict.fromkeys(link.link.part for link in mounted.chain if not link.link.known))
    weakest = [link for link in known if link.use == most]
    if weakest:
        parts = ", ".join(link.link.part for link in weakest)
        lines += wrap(
            f"< weakest of the known links: {parts}, at {cut(weakest[0].link.mount, MOST_NAME)}",
            width,
            first="  ",
        )
    if unknown:
        lines += wrap(
            f"Unknown: {', '.join(unknown)}. The chain is no stronger than what nobody knows of.",
            width,
            first="  ",
        )
    return lines


def _of_part(chain: Sequence[CheckedLink], part: str) -> list[CheckedLink]:
    """Return the worst known and the worst unknown link of a part over the mounts."""
    mine = [link for link in chain if link.link.part == part]
    known = [link for link in mine if link.link.known]
    unknown = [link for link in mine if not link.link.known]
    return [
        max(links, key=lambda link: (link.use or 0.0, link.demand_N)) for links in (known, unknown) if links
    ]


def _known_by(mounted: Mounted, worst: CheckedLink) -> str:
    part, known = worst.link.part, worst.link.known
    mounts = [
        link.link.mount for link in mounted.chain if link.link.part == part and link.link.known == known
    ]
    where = (
        ""
        if len(mounts) == len(mounted.demands.mounts)
        else f" at {some([cut(name, MOST_NAME) for name in mounts], 2)}"
    )
    return ("UNKNOWN" if not known else worst.link.known_by) + where


def coupons_text(assessed: ItemAssessment, mounted: Mounted, system: str, width: int) -> list[str]:
    """Return the coupons that count and those that do not, and what they speak for."""
    lines = [f"  What was tested: {assessed.item.tape} on {assessed.standing.surface.name}"]
    lines = [line for text in lines for line in wrap(text, width, first="  ", after="  ")]
    if not mounted.groups:
        return [
            *lines,
            *listed(["no coupon of this tape on this surface: all of the above is estimate"], width),
        ]
    lines += listed([text for group in mounted.groups.values() for text in _coupons(group, system)], width)
    for mode, capacity in mounted.capacity.items():
        spoken: dict[tuple[str, str], dict[str, None]] = {}
        for number, case in enumerate(mounted.table.cases):
            if case.family != "soak":
                for mount in range(len(mounted.demands.mounts)):
                    answer = capacity.answer(number, mount)
                    spoken.setdefault((answer.level, answer.because), {})[case_name(case)] = None
        lines += listed(_spoken_for(mode, spoken), width)
    return lines


def _spoken_for(mode: str, spoken: Mapping[tuple[str, str], Mapping[str, None]]) -> list[str]:
    """Return what is covered and what inferred, with the reason; of the rest how much, since the verdict says why."""
    texts = [
        f"{mode}, {level}: {some(list(names))}: {because}"
        for level in ("covered", "inferred")
        for (found, because), names in spoken.items()
        if found == level
    ]
    without = [name for (level, _), names in spoken.items() if level == "none" for name in names]
    return [*texts, f"{mode}, no evidence: {some(without)}"] if without else texts


def _coupons(group: CouponGroup, system: str) -> list[str]:
    counts = group.counts
    told = (
        ", ".join(f"{counts[result]} {result}" for result in RESULTS if counts[result]) or "none that counts"
    )
    warmth = sorted(coupon.temperature_K for coupon in (*group.valid, *group.conditioned))
    if warmth:
        ends = dict.fromkeys(amount(end, "K", system) for end in (warmth[0], warmth[-1]))
        told += f", at {' to '.join(ends)}"
    conditioned = f"; {len(group.conditioned)} of them conditioned" if group.conditioned else ""
    texts = [f"{group.mode}: {told}{conditioned}"]
    if group.spoiled:
        names = some([f"{coupon.name} ({coupon.note or 'no reason given'})" for coupon in group.spoiled])
        texts.append(f"{group.mode}, spoiled: {names}: kept and shown, never counted")
    return texts


def claims_text(assessment: Assessment, width: int) -> list[str]:
    """Return the data-sheet lines beside our own, for comparison only."""
    if not assessment.claims:
        return []
    lines = ["Data sheets, for comparison only; they count for nothing", ""]
    return [
        *lines,
        *listed([claim_text(claim, assessment.job.job.show) for claim in assessment.claims], width),
    ]


def claim_text(claim: Claim, system: str) -> str:
    """Return one line of a data sheet as a sentence."""
    load = (
        amount(claim.load_N, "N", system)
        if claim.mode == "peel"
        else amount(claim.load_N / claim.area_m2, "Pa", system)
    )
    verb = "held" if claim.kind == "held" else "broke at"
    note = f"; {claim.note}" if claim.note else ""
    return (
        f"{claim.tape}, {claim.mode}: {verb} {load} for {lasting(claim.lasted_s)} at "
        f"{amount(claim.temperature_K, 'K', system)} ({claim.source}{note})"
    )
