"""Two changes together, where no single one turns the word: typed into the job's text, read back, assessed again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from staydown.advice import changes, pairs
from staydown.advice.change import GOOD
from staydown.assess import assess
from staydown.storage.edit_toml import edit_toml
from staydown.web.answer_parts import turning
from staydown.workbench.edit_job import advised_changes
from typed_panels import facts, of_text, read, text_of, typed_into, warm_coupons, word_of


@pytest.mark.parametrize("show", ["metric", "us"])
def test_a_pair_turns_the_word_when_it_is_typed_into_the_file(show: str) -> None:
    """Both changes typed and read back give the word and use that were told, to the last digits."""
    text = text_of(24, 70, show=show, rows=2)
    assessment, advice = of_text(text)

    assert assessment.word == "NO"
    assert advice.changes == ()
    assert advice.none == "no single change is enough, of those that were tried"
    assert len(advice.pairs) == 2
    for pair in advice.pairs:
        told = assess(read(typed_into(text, pair)), facts())
        word, mounted = told.word, told.items[0].mounted
        use = None if mounted is None else mounted.governing.use
        assert word == pair.word
        assert word in GOOD
        assert use == pytest.approx(pair.use, rel=1e-9)


def test_the_sentences_keep_that_no_single_change_is_enough() -> None:
    """First that none is enough alone, then each pair with its word and use."""
    _, advice = of_text(text_of(24, 70, rows=2))
    first, *rest = advice.sentences

    assert first == "no single change is enough, of those that were tried"
    assert len(rest) == 2
    assert all(re.fullmatch(r"together: .*, and .*: GO.*, \d+ % of what is proven", text) for text in rest)


def test_the_page_shows_each_pair_as_a_button_that_types_it() -> None:
    """Each button names its pair; the page's own way of typing it gives the job that was assessed."""
    text = text_of(24, 70, rows=2)
    assessment, advice = of_text(text)
    node = turning(assessment.items[0], [advice])
    buttons = list(acts_in(node))
    jobs = [read(edit_toml(text, advised_changes(text, pair.typed))) for pair in advice.pairs]

    assert "No single change is enough" in str(node)
    assert [(one["act"], one["arg"]) for one in buttons] == [
        ("variant", [assessment.items[0].item.name, pair.what]) for pair in advice.pairs
    ]
    assert jobs == [read(typed_into(text, pair)) for pair in advice.pairs]


def test_the_page_says_where_no_pair_is_enough() -> None:
    """Both sentences and no button."""
    assessment, advice = of_text(text_of(10), warm_coupons(333.15))
    node = turning(assessment.items[0], [advice])

    assert "No pair of those tried either" in str(node)
    assert list(acts_in(node)) == []


def acts_in(node: Any) -> Iterator[dict[str, Any]]:
    """Yield the attributes of every button of a page's tree."""
    if isinstance(node, list):
        _, attributes, children = node
        if attributes.get("act"):
            yield attributes
        for child in children:
            yield from acts_in(child)


def test_each_half_alone_leaves_the_word() -> None:
    """What a pair types for its pads, or for its levers, by itself is not enough: that is why there is a pair."""
    text = text_of(24, 70, rows=2)
    _, advice = of_text(text)
    pair = advice.pairs[0]
    pads = tuple(one for one in pair.typed if one[0].endswith(".pad"))
    levers = tuple(one for one in pair.typed if one[0].endswith(".lever"))
    words = [word_of(typed_into(text, replace(pair, typed=half))) for half in (pads, levers)]

    assert pads + levers == tuple(sorted(pair.typed, key=lambda one: not one[0].endswith(".pad")))
    assert pads
    assert levers
    assert all(word not in GOOD for word in words)


def test_a_rule_and_a_built_change_together() -> None:
    """Tested to 70 degC and pried at 20 mm: neither shade nor lever alone, both together; the rule is named as one."""
    coupons = warm_coupons(343.15)
    text = text_of(20)
    _, advice = of_text(text, coupons)
    pair = advice.pairs[0]
    verdict = assess(read(typed_into(text, pair)), facts(coupons)).items[0].verdict

    assert ("travel.parked", "shade") in pair.typed
    assert any(key.endswith(".lever") for key, _ in pair.typed)
    assert ", and meanwhile park only in the shade" in pair.what
    assert not pair.rule
    assert verdict.word == pair.word
    assert any("only while parked in the shade" in condition for condition in verdict.conditions)


def test_where_no_pair_is_enough_that_is_said() -> None:
    """No test warmer than 60 degC: nothing that is built or driven makes up for it, and both sentences say so."""
    _, advice = of_text(text_of(10), warm_coupons(333.15))

    assert advice.pairs == ()
    assert advice.sentences == (
        "no single change is enough, of those that were tried",
        "no pair of those tried either",
    )


def test_pairs_cost_nothing_where_a_single_change_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a single change found, or for an item that may go, no pair is looked for."""

    def never(*_: object) -> None:
        raise AssertionError("pairs were looked for")

    monkeypatch.setattr(changes, "pairs_that_turn", never)
    _, found = of_text(text_of(22))
    _, good = of_text(text_of(2))

    assert found.changes
    assert good.sentences == ()


def test_the_search_keeps_its_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """Assessments are counted where they are made: short ones as one, whole ones as three, within the bound."""
    spent = {"short": 0, "whole": 0}
    short, whole = pairs.prove, pairs.judge

    def count(name: str, made: object) -> object:
        def counted(*args: object, **more: object) -> object:
            spent[name] += 1
            return made(*args, **more)  # type: ignore[operator]

        return counted

    monkeypatch.setattr(pairs, "prove", count("short", short))
    monkeypatch.setattr(pairs, "judge", count("whole", whole))
    of_text(text_of(24, 70, rows=2))
    cost = spent["short"] + pairs.LOOKS_OF_A_WHOLE * spent["whole"]

    assert 20 < cost <= pairs.MOST_LOOKS + pairs.LOOKS_OF_A_WHOLE


@given(
    st.floats(22, 45).map(lambda mm: round(mm, 1)),
    st.sampled_from([55, 60, 70]),
    st.sampled_from(["metric", "us"]),
)
@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_what_is_reported_holds_for_any_panel(lever_mm: float, length_mm: float, show: str) -> None:
    """Whatever the levers and pads on two rows: a reported pair turns the word, and it is told where none does."""
    text = text_of(lever_mm, length_mm, show=show, rows=2)
    _, advice = of_text(text)
    before = word_of(text)

    assert (before in GOOD or advice.changes != ()) == (advice.none == "")
    assert (advice.no_pair == "") == (advice.none == "" or advice.pairs != ())
    for pair in advice.pairs:
        after = word_of(typed_into(text, pair))
        assert after == pair.word
        assert after in GOOD
