"""Edits of a job's text keep everything that they do not name."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staydown.foundation.errors import BadInput
from staydown.storage.edit_toml import AddTable, DropKey, SetKey, edit_toml

DEMO = (Path(__file__).parents[1] / "data" / "van" / "job.toml").read_text(encoding="utf-8")


def test_one_line_changes_and_its_comment_stays() -> None:
    """A value that is set changes its line alone, and what stands behind it stays."""
    path = ("item", 1, "mount", 0, "lever")
    was, now = DEMO.splitlines(), edit_toml(DEMO, [SetKey(path=path, value="6 mm")]).splitlines()
    differ = [(one, other) for one, other in zip(was, now, strict=True) if one != other]

    assert differ == [
        (
            'lever = "24 mm"  # frame on the outer edge of its foot',
            'lever = "6 mm"  # frame on the outer edge of its foot',
        )
    ]


@given(
    st.sampled_from(["behind", "left", "pad", "lever", "note"]),
    st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=30),
    st.integers(0, 7),
)
@settings(max_examples=60, deadline=None)
def test_any_text_is_kept_as_it_is(key: str, text: str, mount: int) -> None:
    """Whatever is typed, reading the file again gives that text and nothing else changes."""
    wanted = tomllib.loads(DEMO)
    wanted["item"][1]["mount"][mount][key] = text
    new = edit_toml(DEMO, [SetKey(path=("item", 1, "mount", mount, key), value=text)])

    assert tomllib.loads(new) == wanted


def test_a_table_is_added_and_taken_away() -> None:
    """A mount that is added comes last, apart from the one before; taken away it leaves no trace in the data."""
    path = ("item", 0, "mount")
    new = edit_toml(DEMO, [AddTable(path=path, values={"name": "fifth", "behind": "1 mm"})])

    assert tomllib.loads(new)["item"][0]["mount"][-1] == {"name": "fifth", "behind": "1 mm"}
    assert '\n\n[[item.mount]]\nname = "fifth"' in new

    back = edit_toml(new, [DropKey(path=(*path, 4))])

    assert tomllib.loads(back) == tomllib.loads(DEMO)


def test_a_layout_that_would_be_spoiled_is_refused_or_right() -> None:
    """A table of an array that goes on after another table is changed rightly or not at all."""
    text = '[[tape]]\nname = "a"\n\n[job]\nname = "x"\n\n[[tape]]\nname = "b"\n'
    wanted = tomllib.loads(text)
    wanted["tape"][1]["name"] = "c"
    try:
        new = edit_toml(text, [SetKey(path=("tape", 1, "name"), value="c")])
    except BadInput:
        return

    assert tomllib.loads(new) == wanted


def test_a_place_that_is_gone_is_a_finding() -> None:
    """A change of a mount that somebody removed meanwhile is refused in words."""
    with pytest.raises(BadInput, match="not in the job"):
        edit_toml(DEMO, [SetKey(path=("item", 1, "mount", 99, "lever"), value="6 mm")])
