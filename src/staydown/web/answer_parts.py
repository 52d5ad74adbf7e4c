"""The parts of the answer: worst foot, cases, falls, chain, heat, a lost mount, what catches it, what was assumed."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.advice.assumptions import Assumption
from staydown.advice.change import Change
from staydown.advice.changes import Advice
from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.counted import counted
from staydown.foundation.numbers import at
from staydown.foundation.quantities import lasting
from staydown.outputs import dossier_pictures
from staydown.outputs.amounts import amount, case_name, percent
from staydown.outputs.cautions import cautions_for
from staydown.outputs.foot_section import foot_section
from staydown.outputs.most_used import Pick, by_case, by_mount, pick, strain_use
from staydown.outputs.roof_space import CORNERS, roof_space
from staydown.outputs.sentences import lead_sentences, worst_pull
from staydown.verdict.checks import HIGH
from staydown.web import answer_numbers as numbers
from staydown.web.sheet import Node, button, el, entry, listing, picture, sentence, stacked, told, why
from staydown.workbench.desk import Answer
from staydown.workbench.edit_job import FormTable

FIRST = (
    "name",
    "behind",
    "left",
    "pad",
    "lever",
    "lever direction",
    "length",
    "width",
    "thickness",
    "mass",
    "gap",
    "behind roof front",
    "left of centre",
    "front edge",
    "behind front",
    "height",
)
ADDERS = {
    "item": (("mount", "Add a mount"), ("tether", "Add a tether"), ("link", "Add a link of the chain")),
    "vehicle": (),
}


NEEDED = "What has no \u201cDon't know\u201d must be given. What is left empty counts as not known."


def in_space(
    assessment: Assessment, number: int, case: int | None, corner: str, *, near: bool, narrow: bool
) -> list[Node]:
    """Return the roof seen from a corner in the case that is told about, with buttons to turn it."""
    if number < 0 or assessment.items[number].mounted is None:
        return []
    mounted, name = assessment.items[number].mounted, assessment.items[number].item.name
    assert mounted is not None
    shown = worst_pull(mounted).case if case is None or case >= len(mounted.table.cases) else case
    drawn = roof_space(assessment, number, shown, corner, near=near, narrow=narrow, keyed=False)
    turns = [
        button(
            f"From {one}" if one == "ahead" else f"From the {one}",
            "corner",
            one,
            aria_pressed=str(one == corner).lower(),
        )
        for one in CORNERS
    ]
    closer = [
        button(words, "near", value, aria_pressed=str(near == value).lower())
        for words, value in (("On the whole roof", False), (f"Only {name}", True))
    ]
    row = mounted.table.cases[shown]
    return [
        el("h2", "What it carries, seen from a corner"),
        el("div", turns, class_="near", role="group", aria_label="From where the roof is seen"),
        el(
            "div",
            closer,
            class_="near",
            role="group",
            aria_label="How much of the roof is seen from the corner",
        ),
        picture(drawn, class_="space") or el("span"),
        el(
            "p",
            f"{sentence(case_name(row))}: every arrow and every use is of this one case. Roof and what stands on it "
            "are to scale, the body under it is only indicated.",
            class_="soft hint",
        ),
    ]


def worst_foot(answer: Answer, assessed: ItemAssessment, mounted: Mounted, found: Pick) -> list[Node]:
    """Return the worst foot: its section with the lever, and its numbers, each with its trail."""
    system = answer.job.job.show
    case = mounted.table.cases[found.case]
    name = mounted.demands.mounts[found.mount]
    head = f"{assessed.item.name}/{case.name}/{case.exposure.season}/{name}/"
    whole = f"{assessed.item.name}/{case.name}/{case.exposure.season}/all/"
    numbers = [
        ("use of what is proven", percent(found.use), head + "use"),
        (
            "pulls" if found.pull_N > 0 else "presses",
            amount(abs(found.pull_N), "N", system),
            head + "force Fz",
        ),
        ("at the pad's edge", amount(found.peak_Pa, "Pa", system), head + "peak tension"),
        ("proven in tension", _proven(mounted, found, system), head + "proven tension"),
        ("the bond is at", amount(found.temperature_K, "K", system), head + "bond temperature"),
    ]
    speed = at(case.air_speed, (found.case, HIGH, 0))
    if speed > 0.0:
        numbers.append(("air past it", amount(speed, "m/s", system), whole + "air speed"))
    rows = [
        el("div", el("dt", words), el("dd", why(value, path, label=words))) for words, value, path in numbers
    ]
    return [
        el("h2", f"The worst foot: {name}"),
        el("p", f"{sentence(case_name(case))}, for {_lasts(mounted, found)}.", class_="soft"),
        picture(foot_section(assessed, mounted, found, system, narrow=True), class_="lever") or el("span"),
        el("dl", rows, class_="numbers"),
        el("p", "Choose a foot or an item on the roof to see and change its sizes.", class_="soft hint"),
    ]


def _proven(mounted: Mounted, found: Pick, system: str) -> str:
    value = at(mounted.checks.tension_proven, (found.case, HIGH, found.mount))
    return "nothing" if value != value else amount(value, "Pa", system)


def _lasts(mounted: Mounted, found: Pick) -> str:
    return lasting(mounted.table.cases[found.case].exposure.lasts_s)


def turning(
    assessed: ItemAssessment,
    advice: Sequence[Advice] | None,
    *,
    looking: bool = False,
    tried: Change | None = None,
    put_back: Change | None = None,
) -> Node | None:
    """Return the changes that would turn the word, else the pairs, each as a button that shows it beside today's.

    tried: the one that is shown now. put_back: the one that was shown before; the focus comes back to it.
    """
    title = "What would turn it"
    if assessed.verdict.word not in ("NO", "NOT PROVEN"):
        return None
    if advice is None:
        busy = el("p", "Looking: single changes are made and assessed, the smallest first …", role="status")
        inside = [
            el("p", "Which change would help? The answer takes some seconds."),
            busy if looking else el("p", button("Look for changes", "advise")),
        ]
    else:
        mine = next((one for one in advice if one.item == assessed.item.name), None)
        changes = () if mine is None else mine.changes or mine.pairs
        buttons = [
            el(
                "li",
                button(
                    sentence(f"meanwhile {one.what}" if one.rule else one.what),
                    "variant",
                    [assessed.item.name, one.what],
                    aria_pressed=str(one == tried).lower(),
                    focus=_focus(one, put_back, changes),
                    key=f"{one.what} {one == put_back}",
                ),
                el("span", f" {one.word}", class_="soft"),
                el("span", "" if one.use is None else f", use {percent(one.use)}", class_="soft"),
            )
            for one in changes
        ]
        none = [] if mine is None else [sentence(text) for text in (mine.none, mine.no_pair) if text]
        none = none or ([] if changes else ["No single change was found that turns it."])
        offer = "Each of these pairs is enough" if none else "Each alone is enough"
        inside = [
            *(el("p", text, **({} if changes else {"tabindex": "-1", "focus": "lost"})) for text in none),
            *(
                [
                    el("p", f"{offer}. Press one to see it beside today's; nothing is saved by that."),
                    el("ul", buttons, class_="changes"),
                ]
                if changes
                else []
            ),
        ]
    kind = "band ask" if advice is None else "band"
    return el("section", el("h2", title), inside, class_=kind, aria_label=title, key="turning")


def _focus(one: Change, put_back: Change | None, changes: Sequence[Change]) -> bool | str | None:
    """Return whether a button takes the focus: the one that was left, else the first that was found."""
    if one == put_back:
        return True
    return "lost" if one == changes[0] else None


def kept_to(tried: Change | None) -> Node | None:
    """Return what a change asks for that is driven rather than built."""
    if tried is None or not tried.rule:
        return None
    return el("p", "This is a rule for driving: the answer holds only as long as everybody keeps to it.")


def below(
    answer: Answer,
    assessed: ItemAssessment,
    found: Pick | None,
    case: int | None,
    weights: Sequence[Assumption] | None,
    *,
    narrow: bool = False,
) -> list[Node]:
    """Return all that stands below the roof, the most useful first. narrow: for a phone."""
    mounted, verdict = assessed.mounted, assessed.verdict
    nodes = [
        _section("Why", listing(verdict.because)),
        _section("Do next", listing(verdict.find_out, numbered=True), listing(verdict.changes)),
        _section("Only as long as", listing(verdict.conditions)),
    ]
    if mounted is not None and found is not None:
        system = answer.job.job.show
        nodes += [
            _cases(assessed, mounted, case, system),
            _section(
                "Where the demand comes from, and where the capacity goes",
                picture(dossier_pictures.falls(answer.assessment, assessed, mounted, found, narrow=narrow)),
                numbers.step_numbers(answer.assessment, assessed, mounted, found),
                numbers.acting(assessed, mounted, found.case, system),
            ),
            _section(
                "The chain from item to roof",
                picture(dossier_pictures.chain(assessed, mounted, system, narrow=narrow)),
                numbers.chain_numbers(assessed, mounted, system),
                numbers.held_table(
                    assessed,
                    mounted,
                    lambda name: name == "tape and screw",
                    "mount",
                    "Tape and screw at one mount",
                    system,
                ),
            ),
            _section(
                "If one mount lets go",
                listing(mounted.redundancy.sentences),
                numbers.held_table(
                    assessed,
                    mounted,
                    lambda name: name == "lost mount",
                    "lost",
                    "What is left after each loss",
                    system,
                ),
                numbers.held_table(
                    assessed,
                    mounted,
                    lambda name: name.endswith("opened"),
                    "edge",
                    "How an opened edge grows at the most used mount",
                    system,
                ),
            ),
            _heat(assessed, mounted),
            _section(
                "If all let go: what catches it",
                listing(mounted.retention.sentences),
                numbers.held_table(
                    assessed,
                    mounted,
                    lambda name: name == "tether",
                    "tether",
                    "The loads on a tether",
                    system,
                ),
            ),
        ]
    nodes += [
        _assumed(answer, weights, narrow=narrow),
        _doubts(answer),
        _section("Cautions", listing(cautions_for(answer.assessment), class_="cautions")),
    ]
    return [el("div", [node for node in nodes if node is not None], class_="sections")]


def _section(title: str, *children: Node | None, name: str = "") -> Node | None:
    kept = [child for child in children if child is not None]
    return el("section", el("h2", title), kept, aria_label=title, key=name or title) if kept else None


def case_chooser(mounted: Mounted, case: int | None) -> Node:
    """Return the cases to choose from, the one that decides first: roof, worst foot and numbers follow it."""
    rows = {row.pick.case: row for row in by_case(mounted, every=True)}
    options = [el("option", "what decides at each mount", value="", selected=case is None or None)]
    options += [
        el(
            "option",
            f"{case_name(row.case)}: {percent(row.pick.use)}",
            value=str(number),
            selected=number == case or None,
        )
        for number, row in rows.items()
    ]
    return el(
        "p",
        el("label", "Case shown ", for_="case"),
        el("select", options, id="case", act="case", value="" if case is None else str(case)),
        class_="row case",
    )


def _cases(assessed: ItemAssessment, mounted: Mounted, case: int | None, system: str) -> Node | None:
    """Return a table of all mounts in the case that is shown."""
    shown = "Each in what decides there" if case is None else f"All in {case_name(mounted.table.cases[case])}"
    picks = by_mount(mounted)
    if case is not None:
        picks = sorted((pick(mounted, case, mount) for mount in range(len(picks))), key=lambda one: one.rank)
    heads = ("mount", "case", "use", "pull", "at the edge", "proven", "heat alone")
    return _section(
        "Every mount",
        el("p", f"{shown}; the case is chosen above the roof.", class_="soft"),
        stacked(heads, [_row(assessed, mounted, one, system) for one in picks]),
    )


def _row(assessed: ItemAssessment, mounted: Mounted, one: Pick, system: str) -> Node:
    case, name = mounted.table.cases[one.case], mounted.demands.mounts[one.mount]
    path = f"{assessed.item.name}/{case.name}/{case.exposure.season}/{name}/"
    if one.heat_only:
        cells = [why(percent(one.use), path + "use", label=f"use of {name}"), "–", "–", "–"]
    else:
        cells = [
            why(percent(one.use), path + "use", label=f"use of {name}"),
            why(amount(one.pull_N, "N", system), path + "force Fz", label=f"pull at {name}"),
            why(amount(one.peak_Pa, "Pa", system), path + "peak tension", label=f"stress at {name}"),
            why(_proven(mounted, one, system), path + "proven tension", label=f"proven at {name}"),
        ]
    heat = numbers.heat_cell(assessed, mounted, one.mount)
    return el(
        "tr",
        el("th", name, scope="row"),
        el("td", case_name(case), class_="words"),
        [el("td", cell, class_="n") for cell in cells],
        el("td", heat, class_="n"),
        key=name,
    )


def _heat(assessed: ItemAssessment, mounted: Mounted) -> Node | None:
    """Return how far heat shears each pad, the most first, each with its trail."""
    soak = next((row for row in mounted.table.cases if row.family == "soak"), None)
    if soak is None:
        return None
    names = mounted.demands.mounts
    head = f"{assessed.item.name}/{soak.name}/{soak.exposure.season}/"
    rows = sorted(range(len(names)), key=lambda number: -at(mounted.thermal.strain, (0, 0, number)))
    told = []
    for number in rows[:4]:
        name, strain = names[number], at(mounted.thermal.strain, (0, 0, number))
        use = percent(strain_use(mounted, number))
        told.append(
            el(
                "li",
                f"{sentence(name)}: sheared each way by ",
                why(percent(strain), f"{head}{name}/thermal strain", label=f"shear strain of {name}"),
                " of its thickness, ",
                why(use, f"{head}{name}/use of the strain", label=f"use of the strain of {name}"),
                " of what such a tape is taken to stand daily",
            )
        )
    return _section("Heat and cold alone", el("ul", told))


def _assumed(answer: Answer, weights: Sequence[Assumption] | None, *, narrow: bool) -> Node | None:
    """Return what was assumed; what each does to the use is worked out when somebody asks."""
    title = "What was assumed, and what if it is otherwise"
    if weights is None:
        return _section(
            title,
            el(
                "p",
                "Much of this rests on planning values. What if one is at its low end, or at its high end?",
            ),
            el("p", button("Weigh what was assumed", "weigh"), class_="ask"),
        )
    several = len(answer.assessment.items) > 1
    drawn, count = dossier_pictures.assumptions(answer.assessment, weights, several=several, narrow=narrow)
    words = (
        f"{counted(count, 'assumption moves', 'assumptions move')} the use; the strongest are drawn."
        if count
        else "No assumption moves the use."
    )
    return _section(title, el("p", words), picture(drawn))


def _doubts(answer: Answer) -> Node | None:
    texts = dict.fromkeys(f"{one.key.replace('.', ' ')}: {told(one)}" for one in answer.findings)
    return _section("Doubts", listing(texts))


def beside_each_other(today: Answer, variant: Answer) -> Node:
    """Return today's answer and a variant's, item by item."""
    rows = []
    for number, new in enumerate(variant.assessment.items):
        old = today.assessment.items[number] if number < len(today.assessment.items) else None
        same = old is new  # nothing of it changed, so that it was not assessed anew
        rows.append(
            el(
                "tr",
                el("th", new.item.name, scope="row"),
                el("td", "–" if old is None else _short(old, today, told=not same), class_="words"),
                el("td", "the same" if same else _short(new, variant), class_="words"),
            )
        )
    return stacked(("item", "today", "tried"), rows)


def _short(assessed: ItemAssessment, answer: Answer, *, told: bool = True) -> list[Node | None]:
    """Return an item's word and use, and where they are told apart the sentence that decides."""
    mounted = assessed.mounted
    use = "" if mounted is None else f", use {percent(mounted.governing.use)}"
    sentences = lead_sentences(assessed, answer.job.job.show)
    return [
        el("span", el("strong", assessed.verdict.word), use),
        el("br") if told else None,
        el("span", sentences[-1], class_="soft") if told else None,
    ]


def adding_form(form: FormTable, place: str) -> Node:
    """Return a form for a table that is not there yet."""
    required = [one for one in form.fields if not one.may_be_unknown]
    rest = [one for one in form.fields if one.may_be_unknown]
    fields = [
        [
            entry(
                one.place.rpartition(".")[2],
                one.label,
                words=one.words,
                example=one.example,
                choices=one.choices,
                may_be_unknown=one.may_be_unknown,
            )
            for one in group
        ]
        for group in (required, rest)
    ]
    more = el("details", el("summary", "More, if you know it"), fields[1]) if rest else None
    return el(
        "form",
        el("p", NEEDED, class_="soft") if rest else None,
        fields[0],
        more,
        el("p", el("button", "Add it", type="submit", class_="main")),
        act="add.save",
        arg=place,
    )


def adders(place: str) -> list[Node]:
    """Return buttons for what can be added to what is chosen."""
    parts = place.split(".")
    if parts[0] == "item" and len(parts) == 2:
        return [button(words, "add", f"{place}.{key}") for key, words in ADDERS["item"]]
    if parts[0] == "item" and len(parts) > 2:
        return [button("Add another mount", "add", ".".join(parts[:3]))]
    return []
