"""The passport of one item: what it is, how it was bonded, what is proven, what happened, what is missing.

The sheet can be read without the program; the JSON is the same for another program, records as they were written.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from staydown.assess import Assessment, ItemAssessment
from staydown.evidence.build_coupons import coupon_body
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.evidence.history import Bonding, Happening, History, Inspection
from staydown.foundation.counted import counted
from staydown.foundation.quantities import both, lasting, shown
from staydown.outputs.amounts import amount, case_name, length, marked
from staydown.outputs.blocks import Block
from staydown.outputs.most_used import by_case, by_mount
from staydown.outputs.passport_gaps import missing
from staydown.outputs.sheet_blocks import facts, listing, photos, sheet, stop, table, title, words
from staydown.outputs.upkeep_text import upkeep_item_json
from staydown.upkeep.inspection_plan import InspectionPlan
from staydown.upkeep.proof import ProofPull
from staydown.upkeep.removal import RemovalCard

FORMAT = "staydown-passport-1"
MOST_CASES = 10
MOST_PHOTOS = 24
NO_ENTRY = "not written down"
NOT_KNOWN = "not known to who did it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """All that a passport tells of: the item assessed, its history, coupons, what is due, how it comes off.

    records: the entries of the logbook about it. rows, head: of the logbook when it was made. ends: of its dwell.
    """

    assessment: Assessment
    assessed: ItemAssessment
    history: History
    coupons: tuple[Coupon, ...]
    plan: InspectionPlan
    pulls: tuple[ProofPull, ...]
    removal: RemovalCard
    records: tuple[Event, ...]
    rows: int
    head: str
    ends: tuple[datetime, datetime] | None
    made: datetime


def passport_json(told: Told, job_text: str, answer: Mapping[str, Any]) -> dict[str, Any]:
    """Return the passport as one object, SI units, every key with its unit.

    Parameters
    ----------
    told : Told
        What it tells of.
    job_text : str
        The job file with this item alone.
    answer : mapping
        The answer of `check` on the whole job.
    """
    name = told.assessed.item.name
    return {
        "format": FORMAT,
        "version": told.assessment.version,
        "made": told.made.isoformat(),
        "job": told.assessment.job.job.name,
        "item": name,
        "verdict": told.assessed.verdict.word,
        "missing": list(missing(told.assessed, told.history, told.coupons)),
        "job_toml": job_text,
        "answer": next(item for item in answer["items"] if item["name"] == name),
        "assumptions": list(answer["assumptions"]),
        "coupons": [coupon_body(coupon) for coupon in told.coupons],
        "records": [{"kind": one.kind, "at": one.at, "body": dict(one.body)} for one in told.records],
        "logbook": {"rows": told.rows, "head": told.head},
        "upkeep": upkeep_item_json(told.plan, told.pulls, told.assessed.verdict.word, told.ends),
        "removal": {
            "risk": told.removal.risk,
            "steps": list(told.removal.steps),
            "never": list(told.removal.never),
            "hottest_K": float(told.removal.hottest.value),
        },
        "photos": list(photo_files(told.history)),
    }


def photo_files(history: History) -> tuple[str, ...]:
    """Return the names of all photos of an item's history, each once."""
    return tuple(dict.fromkeys(photo.file for one in history.entries for photo in one.photos))


def passport_sheet(told: Told, have: Iterable[str]) -> dict[str, Any]:
    """Return the passport as the model of a sheet. have: the photos that can be shown, by file."""
    system, item = told.assessment.job.job.show, told.assessed.item
    pages = [
        _item_page(told, system),
        _bond_page(told, system),
        _life_page(told, system),
        _proof_page(told, system),
    ]
    pages.append(_off_page(told, system))
    shown_photos = _photos(told.history, frozenset(have))
    if shown_photos:
        pages.append([title("Photos"), photos(shown_photos, "")])
    return sheet(
        f"{item.name}: bond passport",
        told.assessment.job.job.name,
        f"{item.name}: bond passport, {told.made:%Y-%m-%d}",
        f"logbook {counted(told.rows, 'entry', 'entries')}, {told.head[:16]}",
        told.assessment.version,
        pages,
        "plain",
    )


def _item_page(told: Told, system: str) -> list[Block]:
    job, item, standing = told.assessment.job, told.assessed.item, told.assessed.standing
    tape = next(one for one in job.tape if one.name == item.tape)
    vehicle = job.vehicle
    gaps = missing(told.assessed, told.history, told.coupons)
    rows = [
        ("vehicle", f"roof {length(vehicle.roof_length_m, system)} x {length(vehicle.roof_width_m, system)}, "
         f"{length(vehicle.roof_height_m, system)} above the road"),
        ("item", f"{item.kind or 'kind not typed'}, {length(item.length_m, system)} x {length(item.width_m, system)}, "
         f"{both(item.mass_kg, 'kg', system)}"),
        ("place", f"{length(item.behind_roof_front_m, system)} behind the roof's front edge, "
         f"{length(item.gap_m, system)} above the roof"),
        ("bonded to", standing.surface.name),
        ("bonded with", f"{tape.name}: {standing.tape.name}, {both(tape.thickness_m, 'm', system)}"),
        ("if it leaves", f"{standing.consequence} consequence"),
        ("second retention", _retention(told)),
    ]  # fmt: skip
    return [
        title(f"{item.name}: bond passport"),
        words(f"{told.assessed.verdict.word}, as computed on {told.made:%Y-%m-%d}.", "lead"),
        words("This compares what was proven with what is estimated. It certifies nothing."),
        facts(rows),
        listing(told.assessed.verdict.because, "Why"),
        *_listed(told.assessed.verdict.conditions, "Conditions"),
        *_listed(gaps, "Missing: nobody wrote it down"),
        _feet(told, system),
    ]


def _listed(items: Sequence[str], head: str) -> list[Block]:
    return [listing(items, head, small=True)] if items else []


def _retention(told: Told) -> str:
    tethers = told.assessed.item.tether
    if not tethers:
        return "none in the job"
    return "; ".join(
        f"{one.material} to {one.anchor} ({one.anchor_kind or 'anchor not known'})" for one in tethers
    )


def _feet(told: Told, system: str) -> Block:
    mounted, item = told.assessed.mounted, told.assessed.item
    uses = {} if mounted is None else {mounted.demands.mounts[one.mount]: one for one in by_mount(mounted)}
    rows = []
    for mount in item.mount:
        found = uses.get(mount.name)
        thickness = mount.foot_thickness_m
        foot = "-" if thickness is None else f"{shown(thickness, 'm', system)} {mount.foot_material or ''}"
        rows.append(
            (
                mount.name,
                f"{length(mount.pad.length_m, system)} x {length(mount.pad.width_m, system)}",
                f"{length(mount.behind_m, system)} / {shown(mount.left_m, 'm', system)}",
                foot,
                mount.fastener.text if mount.fastener else NO_ENTRY,
                "-" if found is None else marked(found.use, found.level),
            )
        )
    columns = (
        ("foot", "left", 1.0),
        ("pad", "left", 1.4),
        ("behind front / left", "left", 1.2),
        ("foot", "left", 0.9),
        ("fastener", "left", 0.8),
        ("use %", "right", 0.0),
    )
    note = "Use: of what is proven, in the worst case. ? inferred, not covered by a test; - nothing proven."
    return table("Feet", columns, rows, note=note)


def _bond_page(told: Told, system: str) -> list[Block]:
    blocks: list[Block] = [title("How it was bonded")]
    if not told.history.bondings:
        blocks.append(stop("No record of how it was bonded:", "treat it as NOT PROVEN."))
    for one in told.history.bondings:
        blocks += _bonding(one, system)
    if told.ends is not None:
        blocks.append(
            words(f"First careful drive from {_when(told.ends[0])}, full load from {_when(told.ends[1])}.")
        )
    return blocks


def _bonding(one: Bonding, system: str) -> list[Block]:
    humidity = NO_ENTRY if one.humidity is None else f"{100 * one.humidity:.0f} %"
    weather = (_kelvin(one.surface_K, system), _kelvin(one.air_K, system), humidity)
    force = _none(one, "press") if one.press_N is None else amount(one.press_N, "N", system)
    held = (
        "" if one.held_s is None else f"{', held' if one.press_N is None else ''} for {lasting(one.held_s)}"
    )
    rows = [
        ("feet", ", ".join(one.feet)),
        ("by", one.entry.by or NO_ENTRY),
        ("lot, best before", f"{one.lot or _none(one, 'lot')}, {one.expires or _none(one, 'expires')}"),
        ("surface / air / humidity", " / ".join(weather)),
        ("cleaner", one.cleaner or NO_ENTRY),
        ("abrasive", one.abrasive or NO_ENTRY),
        ("primer, its lot", f"{one.primer or NO_ENTRY}, {one.primer_lot or NO_ENTRY}"),
        ("pressed", force + held),
    ]
    blocks: list[Block] = [facts(rows, f"{_when(one.entry.when)}{_before(one)}")]
    if one.entry.against:
        blocks.append(stop("Past a STOP:", f"{'; '.join(one.entry.against)}. Why: {one.entry.going_on}"))
    if one.entry.note:
        blocks.append(words(one.entry.note, "note"))
    return blocks


def _none(one: Bonding, key: str) -> str:
    return NOT_KNOWN if key in one.not_known else NO_ENTRY


def _life_page(told: Told, system: str) -> list[Block]:
    history = told.history
    entries: list[Inspection | Happening] = [*history.inspections, *history.happenings]
    entries.sort(key=lambda one: (one.entry.when, one.entry.seq))
    told_rows = [
        (
            _when(one.entry.when) + _before(one),
            happened_words(one, system),
            one.entry.by or "-",
            one.entry.note,
        )
        for one in entries
    ]
    columns = (("when", "left", 0.8), ("what", "left", 2.6), ("by", "left", 0.6), ("note", "left", 1.0))
    blocks: list[Block] = [title("What happened since")]
    if told_rows:
        blocks.append(table("", columns, told_rows))
    else:
        blocks.append(words("No inspection and no event was written down."))
    due = [f"{'' if one.at is None else _when(one.at) + ': '}{one.what}" for one in told.plan.dues]
    blocks.append(listing(due, "What is due", small=True))
    blocks.append(words(f"A full look every {lasting(told.plan.interval_s)}: {told.plan.why}."))
    pulls = [
        (
            one.foot,
            "-" if one.allowed_N is None else amount(one.allowed_N, "N", system),
            "-" if one.limit is None else amount(one.most_N, "N", system),
            one.why,
        )
        for one in told.pulls
    ]
    heads = (
        ("foot", "left", 1.0),
        ("pull with", "right", 0.0),
        ("at most", "right", 0.0),
        ("why", "left", 2.4),
    )
    blocks.append(table("Proof pulls on the hottest roof", heads, pulls))
    return blocks


def happened_words(entry: Inspection | Happening, system: str) -> str:
    """Return in a line what somebody saw, or what the roof went through."""
    if isinstance(entry, Happening):
        gust = "" if entry.gust_m_per_s is None else f", gust {both(entry.gust_m_per_s, 'm/s', system)}"
        feet = f": {', '.join(entry.feet)}" if entry.feet else ""
        face = f", {entry.failure_pattern}" if entry.failure_pattern else ""
        return f"{entry.what}{feet}{gust}{face}"
    slips = [f"{foot} slip {_small(one)}" for foot, one in entry.slips.items()]
    gaps = [f"{foot} open {_small(one)}" for foot, one in entry.gaps.items() if one > 0.0]
    closed = sum(one == 0.0 for one in entry.gaps.values())
    pulls = [
        f"{foot} {'held' if one.held else 'did not hold'} {amount(one.force_N, 'N', system)}"
        for foot, one in entry.pulls.items()
    ]
    roof = [] if entry.roof_K is None else [f"roof {both(entry.roof_K, 'K', system)}"]
    return "looked at: " + ", ".join([*roof, f"{closed} feet closed all round", *gaps, *slips, *pulls])


def _proof_page(told: Told, system: str) -> list[Block]:
    blocks: list[Block] = [title("What is proven, and what pulls")]
    rows = [
        (
            one.name, one.mode, one.conditioned or "", one.result, _load(one, system), lasting(one.lasted_s),
            both(one.temperature_K, "K", system), one.failure_pattern or "",
        )
        for one in told.coupons
    ]  # fmt: skip
    shares = {"coupon": 1.0, "mode": 0.0, "before": 0.8, "result": 0.0, "stress": 1.0}
    shares |= {"lasted": 0.0, "at": 0.8, "face": 0.0}
    columns = [(head, "left", share) for head, share in shares.items()]
    if rows:
        blocks.append(table("Coupons, spoiled ones and those still holding too", columns, rows))
    else:
        blocks.append(words("No coupon of this product on this surface."))
    mounted = told.assessed.mounted
    if mounted is not None:
        rows_of_cases = [row for row in by_case(mounted) if not row.pick.heat_only][:MOST_CASES]
        cases = [
            (
                case_name(row.case),
                mounted.demands.mounts[row.pick.mount],
                amount(row.pick.pull_N, "N", system),
                marked(row.pick.use, row.pick.level),
            )
            for row in rows_of_cases
        ]
        heads = (
            ("case", "left", 1.4),
            ("foot", "left", 1.0),
            ("pull, factors in", "right", 0.0),
            ("use %", "right", 0.0),
        )
        blocks.append(table("The worst load cases", heads, cases))
    return blocks


def _off_page(told: Told, system: str) -> list[Block]:
    card = told.removal
    hottest = both(float(card.hottest.value), "K", system)
    return [
        title("How it comes off"),
        words(card.risk),
        listing(card.steps, "In this order"),
        words(f"Warm the surface to {hottest} at the most."),
        listing(card.never, "Never"),
    ]


def _photos(history: History, have: frozenset[str]) -> list[tuple[str, str]]:
    found: dict[str, str] = {}
    for one in history.entries:
        for photo in one.photos:
            if photo.file in have and photo.file not in found:
                found[photo.file] = f"{photo.of or 'photo'}, {one.when:%Y-%m-%d}"
    return list(found.items())[:MOST_PHOTOS]


def _load(coupon: Coupon, system: str) -> str:
    if coupon.stress_Pa is not None:
        return both(coupon.stress_Pa, "Pa", system)
    return "" if coupon.line_load_N_per_m is None else both(coupon.line_load_N_per_m, "N/m", system)


def _kelvin(value: float | None, system: str) -> str:
    return NO_ENTRY if value is None else both(value, "K", system)


def _small(value_m: float) -> str:
    return f"{shown(value_m, 'm', 'metric', 1)} ({shown(value_m, 'm', 'us', 3)})"


def _before(one: Bonding | Inspection | Happening) -> str:
    return " (told by the passport of an earlier owner)" if one.entry.told else ""


def _when(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M %Z}".strip()
