"""The plan of tests on the page: a card for each test, what was made of it, and what no test can change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from staydown.advice.plan_tests import ItemPlan
from staydown.assess import Assessment
from staydown.evidence.build_coupons import RecordedCoupon
from staydown.foundation.counted import counted
from staydown.outputs.plan_cards import PlanCard, plan_cards
from staydown.outputs.plan_text import CAUTIONS
from staydown.outputs.plan_words import all_the_same, enough, kept_by, plain_way, summary_of
from staydown.web.sheet import Node, button, el, listing, sentence

Links = Sequence[tuple[str, str]]  # words, address


def no_plan_yet(working: bool) -> Node:
    """Return the place of the plan before there is one."""
    words = "Which tests would prove most for the least work? The answer takes some seconds."
    wait = el("p", "Weighing the tests that could be made: some seconds.", role="status")
    ask = el("p", button("Show the plan of tests", "plan", kind="main"))
    return _section(el("p", words), wait if working else ask)


def plan(
    plans: Sequence[ItemPlan],
    assessment: Assessment,
    since: Sequence[RecordedCoupon],
    sheets: Mapping[str, Links],
    base: str,
    working: bool,
) -> Node:
    """Return the plan of every item.

    since: coupons written down after it was made. sheets: for each item where its sheet for the bench is fetched.
    base: the address of the job's answer. working: it is being made anew.
    """
    nodes: list[Node | None] = []
    if working:
        nodes.append(el("p", "Weighing the tests anew: some seconds.", role="status"))
    elif since:
        names = ", ".join(one.name for one in since)
        words = f"Since this plan was made {counted(len(since), 'coupon')} came to it: {names}. "
        nodes.append(
            el(
                "div",
                el("p", words, "Go on by it, or have it made anew from what they showed."),
                el("p", button("Make the plan anew", "plan"), class_="row"),
                class_="stop",
            )
        )
    for one in plans:
        nodes += _item(one, plans, assessment, sheets.get(one.item, ()), base)
    if any(one.steps for one in plans):
        nodes.append(el("h3", "Cautions"))
        nodes.append(listing(assessment.cards.cautions[name] for name in CAUTIONS))
    return _section(*nodes)


def filled_in(card: PlanCard) -> str:
    """Return from where a form was filled in, and what is left to do."""
    left = (
        "Change what was done otherwise, write the name on the coupon, and press when it hangs."
        if card.way == "hang"
        else "Change what was done otherwise, and add what happened: load, seconds, where it let go."
    )
    return f"Filled in from the plan of tests for {card.item}. {card.title}. {left}"


def _item(
    one: ItemPlan, plans: Sequence[ItemPlan], assessment: Assessment, sheets: Links, base: str
) -> list[Node | None]:
    nodes: list[Node | None] = [el("h3", one.item)]
    elsewhere = el("a", "See what would change it, in the answer", href=base)
    if one.clears and not one.steps:
        nodes.append(el("p", enough(one, assessment)))
        word, kept = kept_by(one, assessment)
        if kept:
            nodes += [el("p", f"{all_the_same(word)}:"), listing(kept), el("p", elsewhere, ".")]
        return nodes
    if one.why_none:
        nodes += [el("p", sentence(one.why_none), "."), el("p", elsewhere, ".")]
    else:
        told = summary_of(one)
        nodes.append(el("p", told) if one.clears else el("p", told, ". ", elsewhere, "."))
        links = [
            el("a", words, href=where, aria_label=f"Sheet for the bench of {one.item}, {words}")
            for words, where in sheets
        ]
        nodes.append(
            el("p", "Sheet to print for the bench: ", [[link, " "] for link in links], class_="forms")
        )
        nodes.append(el("ol", [_card(card) for card in plan_cards(one, plans, assessment)], class_="tests"))
    if one.other:
        nodes += [el("p", "Beside that, no matter of these tests:"), listing(one.other)]
    if one.steps:
        nodes.append(el("p", plain_way(one), class_="soft"))
    return nodes


def _card(card: PlanCard) -> Node:
    words = "Hang this" if card.way == "hang" else "Pull this"
    return el(
        "li",
        el("h4", card.title),
        el(
            "dl",
            [[el("dt", label), el("dd", sentence(text), ".")] for label, text in card.facts],
            class_="facts",
        ),
        el("details", el("summary", "What to cut and buy, one to spare"), listing(card.needs)),
        el(
            "details",
            el("summary", "How to load it"),
            listing(card.how, numbered=True),
            el(
                "div",
                card.drawing,
                class_="typed",
                role="img",
                aria_label="Drawing: the steps above, from the side",
            ),
        ),
        el("details", el("summary", "Nearly as good"), listing(card.instead)) if card.instead else None,
        el(
            "p",
            button(words, "as_planned", card.key, kind="main", aria_label=f"{words}: {card.title}"),
            class_="row",
        ),
        class_="card",
        key=card.key,
    )


def _section(*nodes: Node | None) -> Node:
    return el(
        "section",
        el("h2", "Tests worth making"),
        list(nodes),
        aria_label="Plan of tests",
        class_="band",
        key="plan",
    )
