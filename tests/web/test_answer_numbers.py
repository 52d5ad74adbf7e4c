"""Every number that the answer shows opens its own trail, and the value beside it is the trail's."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from staydown.foundation.numbers import at
from staydown.outputs import dossier_pictures
from staydown.outputs.amounts import amount, length, percent
from staydown.outputs.most_used import pulling_cases, worst_pick
from staydown.outputs.sentences import worst_pull
from staydown.outputs.trail import Trail, trails
from staydown.verdict.checks import HIGH
from staydown.web import answer_numbers
from staydown.web import answer_parts as parts
from staydown.workbench.desk import Answer, Desk
from staydown.workbench.record import Seen, record_coupons


@pytest.fixture(scope="module")
def answer(tmp_path_factory: pytest.TempPathFactory) -> Answer:
    """The answer on a job of our own with its coupons."""
    van = tmp_path_factory.mktemp("numbers") / "van"
    shutil.copytree(Path(__file__).parents[1] / "data" / "van", van)
    record_coupons(van, van / "coupons.csv", Seen(now=datetime(2026, 6, 1, tzinfo=UTC)))
    return Desk(van).answer()


def buttons(node: Any) -> Iterator[tuple[str, str]]:
    """Yield words and path of every button that asks where a number comes from."""
    if isinstance(node, list):
        if node and isinstance(node[0], str) and len(node) == 3:
            tag, attributes, children = node
            if tag == "button" and attributes.get("act") == "why":
                yield children[0], attributes["arg"]
            node = children
        for child in node:
            yield from buttons(child)


@pytest.mark.parametrize("number", [0, 1])
def test_every_number_opens_its_own_trail(answer: Answer, number: int) -> None:
    """Each path names one number; what is written on the button is that number in the person's units."""
    assessed = answer.assessment.items[number]
    assert assessed.mounted is not None
    system = answer.job.job.show
    asked = []
    for case in (None, 0, len(assessed.mounted.table.cases) // 2):
        found = worst_pull(assessed.mounted) if case is None else worst_pick(assessed.mounted, cases=[case])
        asked += list(buttons(parts.below(answer, assessed, found, case, None)))
        asked += list(buttons(parts.worst_foot(answer, assessed, assessed.mounted, found)))

    assert len(asked) > 100

    known: dict[str, list[Trail]] = {}
    for one in trails(answer.assessment):
        known.setdefault(one.path, []).append(one)
    for words, path in asked:
        assert len(known.get(path, ())) == 1, path

        trail = known[path][0]
        value, unit = at(trail.number, trail.index), trail.number.unit
        ways = {answer_numbers.said(value, unit, system), answer_numbers.said(abs(value), unit, system)}
        if value != value:
            ways |= {"nothing", "–", "-"}

        assert words in ways, (path, words, ways)


@pytest.mark.independent
def test_what_acts_adds_up_to_the_whole(answer: Answer) -> None:
    """The loads that are listed are all there are: none above the least that is shown is missing."""
    assessed = answer.assessment.items[1]
    assert assessed.mounted is not None
    table = assessed.mounted.table
    for case in range(0, len(table.cases), 7):
        told = [
            path.rpartition("/")[2]
            for _, path in buttons(answer_numbers.acting(assessed, assessed.mounted, case, "metric"))
        ]
        wanted = [
            f"{part.name} F{axis}"
            for part in table.parts
            for axis, force in zip("xyz", part.force, strict=True)
            if part.acts[case] and abs(at(force, (case, HIGH, 0))) >= answer_numbers.LEAST_SHOWN_N
        ]

        assert [path for path in told if " F" in path] == wanted


def test_numbers_are_said_in_words_where_there_is_none() -> None:
    """A number that is not known, one without end, and one of each kind."""
    assert answer_numbers.said(float("nan"), "N", "metric") == "not known"
    assert answer_numbers.said(float("inf"), "s", "metric") == "without end"
    assert answer_numbers.said(0.73, "1", "metric") == percent(0.73)
    assert answer_numbers.said(0.03, "m", "us") == length(0.03, "us")
    assert answer_numbers.said(412.0, "N", "us") == amount(412.0, "N", "us")


@pytest.mark.parametrize("number", [0, 1])
def test_every_step_that_can_be_pressed_has_a_button_too(answer: Answer, number: int) -> None:
    """What a pointer asks of the picture of the falls the keys ask of the list under it, in every case that pulls."""
    assessed = answer.assessment.items[number]
    mounted = assessed.mounted
    assert mounted is not None
    known = {one.path for one in trails(answer.assessment)}
    for case in pulling_cases(mounted):
        found = worst_pick(mounted, cases=[case])
        listed = {
            path
            for _, path in buttons(answer_numbers.step_numbers(answer.assessment, assessed, mounted, found))
        }
        for narrow in (False, True):
            drawn = dossier_pictures.falls(answer.assessment, assessed, mounted, found, narrow=narrow)
            pressed = {unescape(path) for path in re.findall(r'data-why="([^"]+)"', drawn.svg)}

            assert pressed == listed
            assert pressed - known == set()
            assert any(path.endswith("/peak tension") for path in pressed)
