"""The parts of the road: which foot, what to do now, what happened, what that asks for, the list of entries."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from staydown.evidence.coupon import FAILURE_PATTERNS
from staydown.evidence.history import BREAKS, DRIVES
from staydown.foundation.counted import counted
from staydown.outputs.amounts import amount
from staydown.upkeep.removal import RemovalCard
from staydown.upkeep.roadside import Roadside
from staydown.web.bond_parts import photo_form
from staydown.web.sheet import Node, button, el, entry, listing, sentence
from staydown.workbench.record_photo import Photo
from staydown.workbench.road import Asked, Line

# what can have happened, in groups; with what it means for the answer
GROUPS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Seen at a foot",
        (
            ("opened", "An edge opened: paper goes in"),
            ("slipped", "A foot slipped"),
            ("let go", "A foot let go"),
        ),
    ),
    (
        "Weather and knocks",
        (
            ("storm", "A storm"),
            ("hail", "Hail"),
            ("branch", "A branch hit it"),
            ("hard braking", "Hard braking, a big bump"),
            ("crash", "A crash"),
            ("heat wave", "A heat wave"),
            ("noise", "A new noise: it rattles or whistles"),
        ),
    ),
    (
        "Work on the roof",
        (
            ("roof work", "Somebody worked on the roof"),
            ("brush wash", "A wash with brushes"),
            ("repaint", "A respray"),
        ),
    ),
    ("Driven", (("drive", "A drive"), ("long drive", "A long drive"))),
    ("Else", (("taken over", "Taken over from another owner"), ("other", "Something else"))),
)
WORDS = {what: words for _, group in GROUPS for what, words in group}
MEANS = {
    "breaks": "The foot counts as lost from then on, until it is bonded anew. Do not press it down, nor glue its edge.",
    "drives": "A drive before the bond may be driven is a stop: it is written down only with your reason.",
    "resets": "From then on the answer is NOT PROVEN until somebody has looked at every foot.",
}


def item_choice(names: Sequence[str], chosen: str, *, whole: bool = False) -> Node:
    """Return the items to choose from; whole: the whole roof too."""
    buttons = [
        button(words, "item", name, aria_pressed=str(name == chosen).lower())
        for name, words in (*([("", "the whole roof")] if whole else []), *((name, name) for name in names))
    ]
    return el("div", buttons, class_="items", role="group", aria_label="Which item")


def feet_choice(mounts: Sequence[str], marked: Sequence[str], *, must: bool) -> Node:
    """Return the feet as large buttons that stay pressed."""
    buttons = [
        button(mount, "foot", mount, kind="big", aria_pressed=str(mount in marked).lower(), key=mount)
        for mount in mounts
    ]
    head = "Which foot?" if must else "Which foot, if it was at one?"
    return el("section", el("h3", head), el("div", buttons, class_="feet", role="group", aria_label=head))


def which_feet(item: str, mounts: Sequence[str], lost: Sequence[str], *, asked: bool) -> list[Node | None]:
    """Return the question at the roadside; asked: its answer stands below already."""
    if not mounts:
        return [
            el("p", f"The {item} has no mounts in this job: nothing is known of what holds it. Take it off.")
        ]
    return [
        el("h2", f"Stop. Which foot of the {item} has opened or gone?", class_="step"),
        el(
            "p",
            "Stand where no traffic is. Go round all feet with a strip of paper: where it enters under an edge the "
            "foot counts as gone.",
        ),
        feet_choice(mounts, lost, must=True),
        el("p", button("I cannot tell which: take all as gone", "all_feet", kind="big")),
        el("p", button("What do I do now?", "what_now", kind="main big", disabled=not lost or None))
        if not asked
        else None,
        el("p", button("Begin again", "no_feet", kind="quiet")) if lost else None,
    ]


def roadside_answer(answer: Roadside, card: RemovalCard, system: str) -> list[Node | None]:
    """Return what to do now, in order; how a foot comes off and why, folded."""
    gone = " and ".join(answer.lost)
    noted = [
        button(words, "lost", what, kind="big")
        for what, words in (("opened", "Write down: it opened"), ("let go", "Write down: it let go"))
    ]
    return [
        el(
            "section",
            el("h2", f"With {gone} open or gone", tabindex="-1", focus=True),
            el("p", answer.head, class_="stop head", role="alert"),
            listing(answer.orders, numbered=True, class_="orders"),
            el("p", "This is for reaching a safe place, not for finishing the journey."),
            _comes_off(card, system),
            el("details", el("summary", "Why"), listing(f"{text}." for text in answer.because)),
            aria_label="What to do now",
            key="answer",
        ),
        el("p", noted, class_="feet"),
    ]


def _comes_off(card: RemovalCard, system: str) -> Node:
    hottest = amount(float(card.hottest.value), "K", system)
    return el(
        "details",
        el("summary", "How a foot comes off this surface"),
        el("p", sentence(card.risk)),
        listing(card.steps, numbered=True),
        el("p", f"Warm it to {hottest} at the most, measured on the surface; keep the heat moving."),
        el("p", el("strong", "Never")),
        listing(card.never),
    )


def kinds() -> list[Node | None]:
    """Return what can have happened, to choose from."""
    nodes: list[Node | None] = [
        el("h2", "What happened?", class_="step"),
        el("p", "It goes into the logbook, and the answer follows from it. Nothing is ever erased."),
    ]
    for title, group in GROUPS:
        buttons = [button(words, "what", what, kind="big") for what, words in group]
        nodes.append(
            el("section", el("h3", title), el("div", buttons, class_="feet"), aria_label=title, key=title)
        )
    return nodes


def event_head(what: str, corrects: str) -> list[Node | None]:
    """Return what was chosen, what it means, and the way back."""
    means = "breaks" if what in BREAKS else "drives" if what in DRIVES else "resets"
    return [
        el("h2", WORDS[what], class_="step"),
        el("p", MEANS[means]),
        el("p", f"It stands for row {corrects} of the logbook from now on; both are kept.")
        if corrects
        else None,
        el("p", button("Something else happened", "what", "", kind="quiet")),
    ]


def event_form(what: str, values: Mapping[str, str], errors: Mapping[str, str]) -> Node:
    """Return the form of what happened: only what matters for it."""
    fields = []
    if what == "storm":
        words = "a storm below the gust of the planning value asks for nothing"
        fields.append(
            _entry("gust", "Strongest gust, if you know it", "110 km/h", values, errors, words=words)
        )
    if what in BREAKS:
        fields.append(
            entry(
                "failure_pattern",
                "Where it let go: look at both faces",
                choices=[(one, one) for one in FAILURE_PATTERNS],
                value=values.get("failure_pattern", ""),
                error=errors.get("failure_pattern", ""),
                may_be_unknown=True,
            )
        )
    if what in DRIVES:
        fields.append(
            entry(
                "careful",
                "How was it driven?",
                choices=[("true", "a first careful drive: slow, short, no motorway")],
                value=values.get("careful", ""),
                may_be_unknown=True,
            )
        )
    fields += [
        _entry("at", "When, if not just now", "2026-05-02 07:10", values, errors),
        _entry("by", "Who saw it", "initials", values, errors),
        entry(
            "note",
            "What else there is to say",
            value=values.get("note", ""),
            error=errors.get("note", ""),
            kind="long",
            may_be_unknown=True,
        ),
    ]
    if "going_on" in errors or "drive" in errors or values.get("going_on"):
        fields.append(
            entry(
                "going_on",
                "Why it was done all the same",
                value=values.get("going_on", ""),
                error=errors.get("going_on", ""),
            )
        )
    known = {"gust", "failure_pattern", "careful", "at", "by", "note", "going_on"}
    rest = [el("p", text, class_="stop", role="alert") for key, text in errors.items() if key not in known]
    return el(
        "form",
        rest,
        fields,
        el("p", el("button", "Write it down", type="submit", class_="main big")),
        act="happened",
        key="happened",
    )


def _entry(
    key: str, label: str, example: str, values: Mapping[str, str], errors: Mapping[str, str], words: str = ""
) -> Node:
    return entry(
        key,
        label,
        words=words,
        example=example,
        value=values.get(key, ""),
        error=errors.get(key, ""),
        may_be_unknown=True,
    )


def what_it_asks(row: int, what: str, asked: Sequence[Asked], key: str) -> list[Node | None]:
    """Return what was written down and what it asks for."""
    nodes: list[Node | None] = [
        el(
            "h2",
            f"Written down as row {row}: {WORDS[what].lower()}",
            class_="step",
            tabindex="-1",
            focus=True,
        ),
        el("p", "What it asks for now:"),
    ]
    for one in asked:
        dues = [
            el(
                "li",
                el("strong", sentence(due.what)),
                el("span", f" {due.why}", class_="soft") if due.why else None,
            )
            for due in one.dues
        ]
        nodes.append(
            el(
                "div",
                el("h3", f"{one.item}: {one.word}"),
                el("ul", dues, class_="due") if dues else el("p", "Nothing is due now."),
                key=one.item,
            )
        )
    return [
        *nodes,
        el("p", el("a", "Look at every foot, in the shop", href=f"/job/{key}/shop?part=look"), class_="next"),
        photo_form(f"event {row}: {what}", key, back="road"),
        el("p", button("Write down something else", "what", "", kind="big")),
    ]


def log(lines: Sequence[Line], photos: Mapping[str, Sequence[Photo]], key: str) -> list[Node | None]:
    """Return every entry, the newest first; a corrected one beside the one that stands for it."""
    if not lines:
        return [el("p", "Nothing was written down yet: no bonding, no look, no storm, no drive.")]
    rows = [_line(line, photos, key) for line in lines]
    return [
        el("h2", f"{counted(len(lines), 'entry', 'entries')}, the newest first"),
        el("p", "Nothing is ever erased: a correction stands beside what it corrects.", class_="soft"),
        el("ul", rows, class_="log"),
    ]


def _line(line: Line, photos: Mapping[str, Sequence[Photo]], key: str) -> Node:
    notes = [
        line.note,
        f"by {line.by}" if line.by else "",
        f"past a stop: {line.against}" if line.against else "",
        "told by the passport of an earlier owner" if line.told else "",
        f"corrected by row {line.corrected_by}" if line.corrected_by else "",
    ]
    files = [
        *line.photos,
        *(one.file for of, held in photos.items() if of.startswith(f"event {line.row}:") for one in held),
    ]
    pictures = [
        el("a", f"photo {number} ", href=f"/job/{key}/{file}") for number, file in enumerate(files, 1)
    ]
    return el(
        "li",
        el("p", f"{line.when.astimezone():%Y-%m-%d %H:%M}", el("span", f", row {line.row}"), class_="soft"),
        el("p", el("strong", line.item or "the whole roof"), f": {line.words}"),
        el("p", "; ".join(text for text in notes if text), class_="soft") if any(notes) else None,
        el("p", pictures) if pictures else None,
        button("Correct it", "correct", line.row, kind="quiet", aria_label=f"Correct it: row {line.row}")
        if line.correctable
        else None,
        class_="spoiled" if line.corrected_by else None,
        key=f"{line.row} {line.words}",
    )
