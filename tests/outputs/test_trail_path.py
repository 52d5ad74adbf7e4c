"""Which number a person's words name: shortened parts, parts left out, what is told where none or several fit."""

from __future__ import annotations

from itertools import product

import pytest

from staydown.foundation.errors import UnknownTrail
from staydown.outputs.trail_path import find_path

MOUNTS = ("front left", "front right", "rear left", "rear right")
PATHS = [
    *(
        ("solar panel", case, season, mount, quantity)
        for case, season, mount, quantity in product(
            ("gust", "gusty pass", "hot soak"), ("hot", "cold"), MOUNTS, ("use", "use in peel", "shear")
        )
    ),
    ("solar panel", "gust", "hot", "all", "air speed"),
    ("solar panel", "snow", "cold", "front left", "use"),
    ("box 1/2", "gust", "hot", "lid", "use"),
    ("box 1/2", "gust", "hot", "all", "air speed"),
]


@pytest.mark.parametrize(
    ("what", "path"),
    [
        ("solar panel/gust/hot/front left/use", "solar panel/gust/hot/front left/use"),
        ("SOLAR Panel / Gust / hot / front left / Use", "solar panel/gust/hot/front left/use"),
        ("sol/gust/h/fr le/use", "solar panel/gust/hot/front left/use"),
        ("panel/soak/hot/re ri/shear", "solar panel/hot soak/hot/rear right/shear"),
        ("panel/gust/air", "solar panel/gust/hot/all/air speed"),
        ("snow/use", "solar panel/snow/cold/front left/use"),
        ("lid", "box 1/2/gust/hot/lid/use"),
        ("box 1/2/gust/hot/lid/use", "box 1/2/gust/hot/lid/use"),
        ("solar//cold/rear left/peel", None),
        ("solar/soak//rear left/peel", None),
        ("panel/hot/front left/peel", None),
    ],
)
def test_a_part_may_be_shortened_or_left_out(what: str, path: str | None) -> None:
    """The start of a name, the starts of its words, or no word at all, as long as one number is meant."""
    if path is None:
        with pytest.raises(UnknownTrail, match="could be"):
            find_path(PATHS, what)
    else:
        assert "/".join(PATHS[find_path(PATHS, what)]) == path


def test_what_fits_better_wins() -> None:
    """A whole name before a longer one that starts alike, the start of a name before a word in its middle."""
    assert PATHS[find_path(PATHS, "solar/gust/hot/front left/use")][1::3] == ("gust", "use")
    assert PATHS[find_path(PATHS, "solar/gust/hot/front left/use in")][4] == "use in peel"


def test_few_that_fit_are_listed_in_full() -> None:
    """Whoever leaves the side out sees both numbers with their whole path."""
    with pytest.raises(UnknownTrail) as told:
        find_path(PATHS, "solar/gust/hot/front/use")

    assert told.value.rule == "could be 2 numbers"
    assert told.value.hint == "solar panel/gust/hot/front left/use; solar panel/gust/hot/front right/use"


def test_of_many_that_fit_the_open_parts_are_told() -> None:
    """Only the parts that are still open are listed, behind the number that decides where it is among them."""
    decides = ("solar panel", "hot soak", "hot", "rear left", "use")
    with pytest.raises(UnknownTrail) as told:
        find_path(PATHS, "solar/use", [decides])

    assert told.value.rule == "could be 25 numbers"
    assert told.value.hint == (
        "what decides is solar panel/hot soak/hot/rear left/use; say which case: gust, gusty pass, hot soak, snow; "
        "season: hot, cold; mount: front left, front right, rear left, rear right"
    )


@pytest.mark.parametrize(
    ("what", "rule", "hint"),
    [
        ("solar pnael/use", "no part is called 'solar pnael'", "did you mean 'solar panel'?"),
        (
            "solar/gust/hot/front left/usse",
            "no quantity is called 'usse' in 'solar/gust/hot/front left'",
            "did you mean 'use'?",
        ),
        (
            "solar/snow/hot/front left/use",
            "no season is called 'hot' in 'solar/snow'",
            "there are: season: cold",
        ),
        (
            "lid/zzzz",
            "no part is called 'zzzz' in 'lid'",
            "there are: quantity: use",
        ),
        (
            "a/b/c/d/e/f",
            "has 6 parts, a number is item/case/season/mount/quantity",
            "each part may be shortened or left out; `staydown explain JOB` lists them",
        ),
        (
            " / ",
            "has 0 parts, a number is item/case/season/mount/quantity",
            "each part may be shortened or left out; `staydown explain JOB` lists them",
        ),
    ],
)
def test_what_fits_nothing_is_told_with_what_there_is(what: str, rule: str, hint: str) -> None:
    """The first part that fits nothing is named, with the nearest name or those that there are."""
    with pytest.raises(UnknownTrail) as told:
        find_path(PATHS, what)

    assert (told.value.rule, told.value.hint) == (rule, hint)
