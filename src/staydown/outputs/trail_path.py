"""Which numbers the words of a person name: item/case/season/mount/quantity, shortened or with parts left out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import combinations

from staydown.foundation.errors import UnknownTrail
from staydown.foundation.nearest import nearest

SEPARATOR = "/"
PARTS = ("item", "case", "season", "mount", "quantity")
MOST_PATHS = 6  # as many are named in full where several fit
MOST_NAMES = 12  # of each part, where more fit

Names = tuple[str, ...]  # one for each of PARTS


def find_path(paths: Sequence[Names], what: str, deciding: Sequence[Names] = ()) -> int:
    """Return which of the paths WHAT names.

    A part may be shortened to the start of its name or of its words (`fr le`, `front`, `left`), or left out; what
    fits better wins: the whole name, its start, its words, some of its words.

    Parameters
    ----------
    paths : sequence of names
        Every number that can be asked for.
    what : str
        As typed.
    deciding : sequence of names
        Paths to be named first where WHAT fits several.

    Raises
    ------
    UnknownTrail
        No number has that path, or several have.
    """
    text = what.strip().casefold()
    for number, names in enumerate(paths):
        if SEPARATOR.join(names).casefold() == text:
            return number
    words = [word.strip() for word in text.split(SEPARATOR)]
    if len(words) < len(PARTS):
        words = [word for word in words if word]
    if len(words) > len(PARTS) or not any(words):
        count = sum(bool(word) for word in words)
        raise UnknownTrail(
            f"has {count} parts, a number is {SEPARATOR.join(PARTS)}",
            "each part may be shortened or left out; `staydown explain JOB` lists them",
        )
    found = _fitting(paths, words)
    if not found:
        raise _nothing(paths, words)
    if len(found) > 1:
        raise _several([paths[number] for number in found], deciding)
    return found[0]


def _fitting(paths: Sequence[Names], words: Sequence[str]) -> list[int]:
    """Return the paths that the words fit best, each word one part, in their order; an empty word fits any."""
    best: tuple[int, ...] | None = None
    found: dict[int, None] = {}
    folded = [_folded(names) for names in paths]
    for places in combinations(range(len(PARTS)), len(words)):
        for number, names in enumerate(folded):
            levels = tuple(_level(names[place], word) for place, word in zip(places, words, strict=True))
            if NO_FIT in levels or (best is not None and levels > best):
                continue
            if levels != best:
                best, found = levels, {}
            found[number] = None
    return list(found)


@lru_cache(maxsize=100_000)
def _folded(names: Names) -> Names:
    return tuple(name.casefold() for name in names)


NO_FIT = 9


@lru_cache(maxsize=100_000)
def _level(name: str, word: str) -> int:
    """Return how well a word fits a name: 0 the whole name, then its start, its words, some of its words."""
    if name == word or not word:
        return 0
    if name.startswith(word):
        return 1
    names, words = name.split(), word.split()
    if len(names) == len(words) and all(n.startswith(w) for n, w in zip(names, words, strict=True)):
        return 2
    rest = iter(names)
    return 3 if all(any(n.startswith(w) for n in rest) for w in words) else NO_FIT


def _nothing(paths: Sequence[Names], words: Sequence[str]) -> UnknownTrail:
    """Return what is wrong with words that fit no path: the first that fits none after those before it."""
    fixed = len(words) == len(PARTS)
    good = len(words) - 1
    while good and not _fitting_first(paths, words[:good], fixed=fixed):
        good -= 1
    left = _fitting_first(paths, words[:good], fixed=fixed) if good else [(names, 0) for names in paths]
    choices: dict[str, dict[str, None]] = {}
    for names, after in left:
        for place in [after] if fixed else range(after, len(PARTS)):
            choices.setdefault(PARTS[place], {})[names[place]] = None
    word = words[good]
    what = PARTS[good] if fixed else "part"
    said = SEPARATOR.join(words[:good])
    rule = f"no {what} is called {word!r}" + (f" in {said!r}" if said else "")
    near = nearest(word, [name for names in choices.values() for name in names])
    if near is not None:
        return UnknownTrail(rule, f"did you mean {near!r}?")
    return UnknownTrail(rule, f"there are: {_choices(choices)}")


def _fitting_first(paths: Sequence[Names], words: Sequence[str], *, fixed: bool) -> list[tuple[Names, int]]:
    """Return the paths whose first parts the words fit, each with the place after the last of them."""
    count = len(words)
    places = [tuple(range(count))] if fixed else list(combinations(range(len(PARTS)), count))
    return [
        (names, place[-1] + 1)
        for names in paths
        for place in places
        if place[-1] + 1 < len(PARTS)
        and all(
            _level(part, word) < NO_FIT
            for part, word in zip((_folded(names)[one] for one in place), words, strict=True)
        )
    ]


def _several(found: Sequence[Names], deciding: Sequence[Names]) -> UnknownTrail:
    """Return that several numbers fit: all of them where they are few, else what each part may be."""
    rule = f"could be {len(found)} numbers"
    if len(found) <= MOST_PATHS:
        return UnknownTrail(rule, "; ".join(SEPARATOR.join(names) for names in found))
    choices = {
        part: dict.fromkeys(names[place] for names in found)
        for place, part in enumerate(PARTS)
        if len({names[place] for names in found}) > 1
    }
    first = [SEPARATOR.join(names) for names in deciding if names in set(found)]
    told = f"what decides is {first[0]}; " if first else ""
    return UnknownTrail(rule, f"{told}say which {_choices(choices)}")


def _choices(choices: Mapping[str, Mapping[str, None]]) -> str:
    texts = []
    for part, names in choices.items():
        more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
        texts.append(f"{part}: {', '.join(list(names)[:MOST_NAMES])}{more}")
    return "; ".join(texts)
