"""The parts of bond and tests: what hangs, forms for tests, the table of coupons, claims as printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from staydown.evidence.build_coupons import RecordedCoupon
from staydown.evidence.coupon import FAILURE_PATTERNS, Coupon
from staydown.foundation.quantities import lasting
from staydown.job.records import Claim
from staydown.outputs.amounts import amount
from staydown.outputs.record_text import hanging_text
from staydown.web.answer_parts import NEEDED, adding_form
from staydown.web.sheet import Node, button, el, entry, field, stacked
from staydown.workbench.desk import Desk
from staydown.workbench.edit_job import FormTable, empty_form, load_echo
from staydown.workbench.record_photo import Photo

RESULT_WORDS = {
    "broke": "broke in a pull",
    "fell": "fell while it hung",
    "holding": "held, taken down or not",
    "spoiled": "went wrong, counts for nothing",
}
# column, label, what it asks for, example, on which form: h hang, r finished, b both; ! must be given
COLUMNS = (
    ("name", "name", "one that you write on the coupon too", "hot 6", "b!"),
    ("tape", "tape", "", "", "b!"),
    ("surface", "surface", "what it was stuck to", "", "b!"),
    ("mode", "mode", "how it is pulled", "", "b!"),
    ("result", "what happened", "", "", "r!"),
    ("load", "load", "what hangs on it, or the load at which it broke", "5 L water", "b!"),
    ("area", "bonded area", "not for peel", "25 mm x 25 mm", "b"),
    ("lasted", "lasted", "seconds of pull, or how long it hung", "8 s", "r!"),
    ("temperature", "temperature of the bond", "", "40 degC", "b!"),
    ("failure_pattern", "where it let go", "look at both faces", "", "r"),
    ("note", "note", "needed where it went wrong", "jig touched the wall", "b"),
    ("dwell", "dwell", "from pressing to testing", "72 h", "b"),
    ("made_on", "made on", "the day it was bonded", "2026-05-01", "b"),
    ("foot", "foot", "", "", "b"),
    ("width", "width", "of a peel coupon", "25 mm", "b"),
    ("conditioned", "conditioned", "what it went through before", "21 d in water at 23 degC", "b"),
    ("batch", "batch", "which were made together; left out: the day made", "2", "b"),
    ("lever", "lever", "pad's centre to line of pull", "12 mm", "b"),
    ("lever_direction", "lever direction", "", "", "b"),
    ("foot_thickness", "foot thickness", "", "5 mm", "b"),
    ("lot", "tape lot", "as noted for the feet", "K7", "b"),
    ("primer", "primer", "as noted for the feet", "P2", "b"),
)
EARLY = 11  # columns before "More"


def examples_of(column: str) -> list[str]:
    """Return what could stand in a column, by its example."""
    some = {"foot": "real", "lever_direction": "along"}
    return [some.get(name, example) for name, _, _, example, _ in COLUMNS if name == column]


def coupon_form(
    hang: bool,
    choices: Mapping[str, Sequence[tuple[str, str]]],
    values: Mapping[str, str],
    errors: Mapping[str, str],
    told_by: str = "",
) -> Node:
    """Return the form of a coupon that is hung now, or of a finished test. told_by: from where it was filled in."""
    wanted = [row for row in COLUMNS if row[4][0] in ("b", "h" if hang else "r")]
    fields = [
        entry(
            name,
            label,
            words=words,
            example=example,
            value=values.get(name, ""),
            choices=choices.get(name, ()),
            error=errors.get(name, ""),
            may_be_unknown="!" not in where,
        )
        for name, label, words, example, where in wanted
    ]
    early = sum(row in COLUMNS[:EARLY] for row in wanted)
    shown = {row[0] for row in wanted}
    other = [
        el("p", f"{key.replace('_', ' ')}: {text}", class_="error")
        for key, text in errors.items()
        if key not in shown
    ]
    words = "It hangs from now" if hang else "Write it down"
    return el(
        "form",
        el(
            "h2",
            "Hang a coupon" if hang else "A finished test",
            tabindex="-1" if told_by else None,
            focus=True if told_by else None,
        ),
        el("p", told_by) if told_by else None,
        el("p", NEEDED, class_="soft"),
        other,
        el("div", fields[:early], class_="fields"),
        el(
            "details",
            el("summary", "More, if you know it"),
            el("div", fields[early:], class_="fields"),
            open=any(name in errors or values.get(name) for name, *_ in wanted[early:]) or None,
        ),
        el("p", el("button", words, type="submit", class_="main"), class_="row"),
        act="hang.start" if hang else "record",
        key=f"coupon-form {told_by}",
    )


def hanging_card(
    record: RecordedCoupon, now: datetime, asking: str, errors: Mapping[str, str], key: str
) -> Node:
    """Return what hangs: since when, by a clock that runs, and what can be said of it."""
    started = datetime.fromisoformat(record.started.replace("Z", "+00:00"))
    clock = ["clock", {"from": started.timestamp(), "now": now.timestamp(), "key": record.name}, []]
    name = record.name
    typed = record.typed
    what = ", ".join(typed[part] for part in ("load", "area", "temperature", "note") if typed.get(part))
    ending = None
    if asking == f"end {name}":
        ending = el(
            "form",
            entry(
                "note", "What went wrong", example="the jig touched the wall", error=errors.get("note", "")
            ),
            el(
                "p",
                el("button", "It was spoiled", type="submit", class_="main"),
                button("Never mind", "ask", "", kind="quiet"),
                class_="row",
            ),
            act="end",
            arg=[name, "spoiled"],
        )
    elif asking == f"fell {name}":
        pattern = entry(
            "failure_pattern",
            "Where it let go",
            choices=[(one, one) for one in FAILURE_PATTERNS],
            may_be_unknown=True,
        )
        ways = (("I saw it fall just now", "fell"), ("I found it fallen", "found"))
        ending = el(
            "div",
            [
                el(
                    "form",
                    pattern,
                    el("p", el("button", words, type="submit")),
                    act="end",
                    arg=[name, how],
                    key=how,
                )
                for words, how in ways
            ],
            button("Never mind", "ask", "", kind="quiet"),
        )
    buttons = el(
        "p",
        button("It holds: I looked", "look", name, kind="main", aria_label=f"{name} holds: I looked"),
        button("It fell", "ask", f"fell {name}", aria_label=f"{name} fell"),
        button(
            "Taken down, still holding",
            "end",
            [name, "holding"],
            aria_label=f"{name} taken down, still holding",
        ),
        button("Spoiled", "ask", f"end {name}", aria_label=f"{name} spoiled"),
        class_="row",
    )
    return el(
        "div",
        el("h3", name, " ", el("span", what, class_="soft")),
        el("p", clock, class_="hanging"),
        el("p", hanging_text(record), class_="soft"),
        buttons if ending is None else ending,
        photo_form(f"coupon {name}", key),
        class_="card",
        key=name,
    )


def photo_form(of: str, key: str, back: str = "bond") -> Node:
    """Return a form that takes a photo of something; on a phone it opens the camera."""
    ident = "photo-" + "".join(letter if letter.isalnum() else "-" for letter in of)
    return el(
        "form",
        el("label", "Photo ", for_=ident),
        el(
            "input",
            type="file",
            name="photo",
            id=ident,
            accept="image/*",
            capture="environment",
            required=True,
        ),
        el("input", type="hidden", name="of", value=of),
        el("input", type="hidden", name="back", value=back),
        el("button", "Keep the photo", type="submit", class_="quiet"),
        action=f"/job/{key}/photo",
        method="post",
        enctype="multipart/form-data",
        class_="photo",
    )


def coupon_table(
    records: Sequence[RecordedCoupon],
    photos: Mapping[str, Sequence[Photo]],
    system: str,
    asking: str,
    errors: Mapping[str, str],
    key: str,
) -> Node | None:
    """Return every finished test; a spoiled one with its reason."""
    if not records:
        return None
    heads = (
        "name",
        "mode",
        "what happened",
        "stress",
        "lasted",
        "at",
        "where it let go",
        "note",
        "photos",
        "if it went wrong",
    )
    rows = [
        _row(one, photos.get(f"coupon {one.name}", ()), system, asking, errors, key)
        for one in records
        if one.coupon
    ]
    return el(
        "section",
        el("h2", "Every test"),
        stacked(heads, rows, class_="many"),
        class_="band",
        aria_label="Every test",
        key="coupons",
    )


def _row(
    record: RecordedCoupon,
    photos: Sequence[Photo],
    system: str,
    asking: str,
    errors: Mapping[str, str],
    key: str,
) -> Node:
    coupon = record.coupon
    assert coupon is not None
    last: Node | None = button(
        "Mark as spoiled",
        "ask",
        f"spoil {record.name}",
        kind="quiet",
        aria_label=f"Mark as spoiled: {record.name}",
    )
    if coupon.result == "spoiled":
        last = None
    elif asking == f"spoil {record.name}":
        last = el(
            "form",
            entry("note", "What went wrong", error=errors.get("note", "")),
            el(
                "p",
                el("button", "It counts for nothing", type="submit", class_="main"),
                button("Never mind", "ask", "", kind="quiet"),
            ),
            act="spoil",
            arg=record.name,
        )
    pictures = [
        el("a", f"photo {number}", href=f"/job/{key}/{one.file}") for number, one in enumerate(photos, 1)
    ]
    return el(
        "tr",
        el("th", record.name, scope="row"),
        [
            el("td", cell, class_="words" if place > 5 else None)
            for place, cell in enumerate(coupon_cells(coupon, system))
        ],
        el("td", pictures),
        el("td", last),
        key=record.name,
        class_="spoiled" if coupon.result == "spoiled" else None,
    )


def coupon_cells(coupon: Coupon, system: str) -> list[str]:
    """Return what a coupon says, by the columns of the table of tests."""
    stress = coupon.stress_Pa
    line = coupon.line_load_N_per_m
    shown = (
        amount(stress, "Pa", system)
        if stress is not None
        else ""
        if line is None
        else amount(line, "N/m", system)
    )
    note = "; ".join(part for part in (coupon.note, coupon.conditioned or "") if part)
    return [
        coupon.mode,
        RESULT_WORDS[coupon.result].partition(",")[0],
        shown,
        lasting(coupon.lasted_s),
        amount(coupon.temperature_K, "K", system),
        coupon.failure_pattern or "",
        note,
    ]


def claims(
    known: Sequence[Claim], tables: Sequence[FormTable | None], asking: str, system: str, desk: Desk
) -> Node:
    """Return the lines of data sheets, typed as printed, with what they come to."""
    nodes: list[Node] = []
    for number, (claim, table) in enumerate(zip(known, tables, strict=True), 1):
        if table is None:
            continue
        stress = amount(claim.load_N / claim.area_m2, "Pa", system)
        verb, at = "Held" if claim.kind == "held" else "Broke at", amount(claim.temperature_K, "K", system)
        said = f"{verb} {stress} for {lasting(claim.lasted_s)} at {at}."
        nodes.append(
            el(
                "div",
                el(
                    "div",
                    el("h3", f"{claim.tape}, {claim.mode}"),
                    button(
                        "Remove",
                        "remove",
                        f"claim.{number}",
                        kind="quiet",
                        aria_label=f"Remove claim {number}",
                    ),
                    class_="row apart",
                ),
                el("p", said, " ", el("span", f"The load is {load_echo(claim.load_N)}.", class_="soft")),
                el(
                    "details",
                    el("summary", "As printed"),
                    el("div", [field(one) for one in table.fields], class_="fields"),
                ),
                class_="table",
                key=f"claim {number}",
            )
        )
    if asking == "claim":
        form = empty_form(desk.text, "claim", desk.cards)
        nodes.append(el("div", adding_form(form, "claim"), button("Never mind", "ask", "", kind="quiet")))
    else:
        nodes.append(el("p", button("Type a line of a data sheet", "ask", "claim"), class_="row"))
    return el(
        "section",
        el("h2", "What data sheets claim"),
        el(
            "p",
            "For comparison only: what was measured on another surface by another hand proves nothing about yours.",
            class_="soft",
        ),
        nodes,
        class_="band",
        aria_label="Claims",
        key="claims",
    )
