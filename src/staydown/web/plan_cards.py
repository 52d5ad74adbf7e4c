"""Tests worth making, a card each: what to do, what it takes, what it buys, and a button that fills the form."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.advice.candidate_tests import CandidateTest, SOAK_s, described
from staydown.advice.plan_tests import ItemPlan, PlanStep
from staydown.assess import Assessment
from staydown.foundation.quantities import both, lasting
from staydown.outputs.bench_sheet import cut_list
from staydown.outputs.columns import counted
from staydown.outputs.plan_text import CAUTIONS, loads_of
from staydown.outputs.plan_words import (
    all_the_same,
    cases_of,
    chance_words,
    enough,
    kept_by,
    plain_way,
    planned_cells,
    summary_of,
    use_now,
)
from staydown.web.sheet import Node, button, el, listing, sentence


def plan_cards(plans: Sequence[ItemPlan], assessment: Assessment) -> list[Node | None]:
    """Return the plan of every item, a card for each test."""
    nodes: list[Node | None] = [_item(plan, assessment) for plan in plans]
    if any(plan.steps for plan in plans):
        cautions = listing(assessment.cards.cautions[one] for one in CAUTIONS)
        nodes.append(el("section", el("h3", "Cautions"), cautions, key="cautions"))
        nodes.append(el("p", "The plan is made anew from every test that is written down.", class_="soft"))
    return nodes


def _item(plan: ItemPlan, assessment: Assessment) -> Node:
    nodes: list[Node | None] = [el("h3", plan.item)]
    if plan.clears and not plan.steps:
        nodes.append(el("p", enough(plan, assessment)))
        word, kept = kept_by(plan, assessment)
        if kept:
            nodes += [el("p", f"{all_the_same(word)}:"), listing(kept)]
    elif plan.why_none:
        nodes += [el("p", sentence(f"{plan.why_none}.")), *_other(plan)]
    else:
        nodes.append(el("p", f"{summary_of(plan)}{'' if plan.clears else '; the answer names changes.'}"))
        nodes += [_card(number, step, plan, assessment) for number, step in enumerate(plan.steps, start=1)]
        nodes += [*_other(plan), el("p", plain_way(plan), class_="soft")]
    return el("section", nodes, aria_label=f"Tests for the {plan.item}", key=f"plan {plan.item}")


def _other(plan: ItemPlan) -> list[Node | None]:
    return [el("p", "Beside that, no matter of these tests:"), listing(plan.other)] if plan.other else []


def _card(number: int, step: PlanStep, plan: ItemPlan, assessment: Assessment) -> Node:
    weighed, test, system = step.chosen, step.chosen.test, assessment.job.job.show
    name = sentence(described(test, system))
    hangs = f", hanging for {lasting(test.trial.lasts_s)}" if test.way == "hang" else ""
    expected = step.expected_N
    facts = (
        ("Do", [sentence(f"{text}.") for text in loads_of(test, assessment, system)]),
        ("Expect", [] if expected is None else [f"It lets go at about {both(expected, 'N', system)}."]),
        (
            "Buys",
            [
                f"Clears {cases_of(weighed, plan.item, assessment)}.",
                f"The use there: {use_now(weighed)} now, {100 * weighed.use_after:.0f} % after it.",
                f"Open cases: {step.open_now} now, {step.open_after} after it.",
                f"The chance of that is {chance_words(weighed.chance)}.",
            ],
        ),
        (
            "Takes",
            [
                f"{counted(test.trial.count, 'coupon')}{hangs}.",
                *(f"{one}." for one in cut_list(test, system)),
            ],
        ),
        ("Instead", [f"{sentence(described(other.test, system))}." for other in step.instead]),
    )
    words = "Hang one of these" if test.way == "hang" else "Write down one of these"
    return el(
        "section",
        el("h4", f"{number}. {name}"),
        el("dl", [[el("dt", head), el("dd", listing(texts))] for head, texts in facts if texts]),
        el(
            "p",
            button(
                words, "planned", _filled(test, plan, assessment), kind="main", aria_label=f"{words}: {name}"
            ),
        ),
        class_="card planned",
        aria_label=f"Test {number} for the {plan.item}",
        key=f"{plan.item} {number}",
    )


def _filled(test: CandidateTest, plan: ItemPlan, assessment: Assessment) -> dict[str, object]:
    """Return what the form of a coupon is filled with."""
    soak = f"{SOAK_s / 86400:.0f} d in water" if test.soaked else ""
    return {"hang": test.way == "hang", "cells": planned_cells(test, plan, assessment, soak)}
