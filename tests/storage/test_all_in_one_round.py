"""All that is wrong with a job is told in one round: what contradicts itself comes with what cannot be read.

The standard is the user's own: findings of two independent mistakes together are those of each, no more and no less.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staydown.foundation.findings import Finding
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import JobReading, read_job, read_job_text

FULL = (Path(__file__).parent.parent / "data" / "full_job.toml").read_text(encoding="utf-8")


def reading(text: str) -> JobReading:
    """Return what comes of reading a text as job.toml."""
    return read_job_text(text, "job.toml", read_cards())


# every key of the full job that has a line of its own, and that line, counted from 0
LINE_OF = {
    key: typed.line - 1
    for key, typed in reading(FULL).written.keys.items()
    if typed.line is not None
    and FULL.split("\n")[typed.line - 1].startswith(f"{key.rpartition('.')[2]} = ")
    and "{" not in FULL.split("\n")[typed.line - 1]
}
LINE_OF |= {
    key: reading(FULL).written.keys[f"{key}.low"].line - 1  # type: ignore[operator]
    for key in ("item.1.uplift_coefficient", "planning.gust_factor")
}


def changed(values: Mapping[str, str]) -> str:
    """Return the full job with other values, as they are written in TOML; no value takes the line out."""
    lines = FULL.split("\n")
    for key, value in values.items():
        lines[LINE_OF[key]] = f"{key.rpartition('.')[2]} = {value}" if value else ""
    return "\n".join(lines)


@cache
def _found(values: tuple[tuple[str, str], ...]) -> tuple[Finding, ...]:
    return reading(changed(dict(values))).findings


def findings(values: Mapping[str, str]) -> list[Finding]:
    """Return the findings of the full job with other values."""
    return list(_found(tuple(sorted(values.items()))))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cross:
    """Values that can be read one by one and do not go together; needs: what somebody must know to say so."""

    values: Mapping[str, str]
    needs: frozenset[str]


def _cross(key: str, value: str, *needs: str) -> Cross:
    """Return a contradiction by one value; needs with braces are several: `item.1.mount.{1,2}.pad`."""
    keys = {key}
    for need in needs:
        before, brace, rest = need.partition("{")
        words, _, after = rest.partition("}")
        keys |= {f"{before}{word}{after}" for word in words.split(",")} if brace else {need}
    return Cross(values={key: value}, needs=frozenset(keys))


_ITEM, _FOOT = "item.1.{behind_roof_front,length,width,left_of_centre}", "item.1.mount.{1,2}."
CROSSES = (
    _cross("travel.cruise_speed", '"75 mph"', "travel.top_speed"),
    _cross("climate.coldest", '"105 °F"', "climate.hottest"),
    _cross("vehicle.local_wind.2.behind_front", '"14 ft"', "vehicle.roof_length"),
    _cross(
        "vehicle.measured_temperature.1.temperature", '"20 degC"', "vehicle.measured_temperature.1.{air,sun}"
    ),
    _cross(
        "vehicle.on_roof.1.behind_front", '"5 ft"', _ITEM, "item.1.gap",
        "vehicle.on_roof.1.{name,kind,left_of_centre,length,width,height}",
    ),
    _cross("planning.gust_factor", "{ low = 1.4, likely = 1.7, high = 1.55 }"),
    _cross("item.2.name", '"rear panel"', "item.1.name"),
    _cross("item.1.mount.3.name", '"front left"', "item.1.mount.1.name"),
    _cross("claim.1.tape", '"grey foil"', "tape.1.name"),
    _cross("claim.2.tape", '"black form"', "tape.1.name"),
    _cross("ratio.1.tape", '"butyl"', "tape.1.name"),
    _cross("item.2.tape", '"blue foam"', "tape.1.name"),
    _cross("claim.1.load", '"500 kg"', "claim.1.{area,mode}"),
    _cross("item.1.uplift_coefficient", '{ low = 0.5, likely = 0.4, high = 0.6, source = "own" }'),
    _cross("item.1.mount.3.behind", '"60 in"', "item.1.mount.3.pad", "item.1.length"),
    _cross("item.1.mount.4.left", '"-20 in"', "item.1.mount.4.pad", "item.1.width", "item.1.left_of_centre",
           "vehicle.roof_width"),
    _cross("item.1.mount.2.left", '"10 in"', f"{_FOOT}behind", f"{_FOOT}left", f"{_FOOT}pad",
           "item.1.mount.1.name"),
    _cross("item.1.mount.1.contact", '"4 in x 2 in"', "item.1.mount.1.pad"),
    _cross("item.1.mount.1.connection_height", '"6 in"', "item.1.{gap,thickness,nose_up,length}"),
    _cross("item.1.mount.1.foot_thickness", '"2.5 in"', "item.1.{gap,nose_up,length,width}",
           "item.1.mount.1.{behind,left,pad,connection_height}"),
    _cross("item.1.mount.2.lever", '"2 in"', "item.1.mount.2.pad"),
    _cross("item.1.tether.1.anchor", '"front left"', "item.1.tether.1.anchor_kind", "item.1.mount.1.name"),
    _cross("item.1.tether.2.anchor", '"gutter clamp"', "item.1.tether.1.anchor"),
    _cross("item.2.behind_roof_front", '"13 ft"', "item.2.{length,width}", "item.2.mount.1.{behind,left,pad}",
           "vehicle.roof_{length,width}"),
    _cross("item.2.behind_roof_front", '"4 ft"', _ITEM, "item.1.{gap,thickness,name}",
           "item.2.{length,width,gap,thickness}"),
)  # fmt: skip

# what cannot be read, whatever it stands for: a list in a list, nothing, an open quote, a line that is gone
UNREADABLE = ("[[1]]", '""', '"12 wombats', "")
SINGLES = [
    {key: value}
    for key in LINE_OF
    for value in UNREADABLE
    # a key that may be left out may be gone
    if value or [one.rule for one in findings({key: ""})] == ["is missing"]
]


def _keys(mistakes: Sequence[Mapping[str, str]]) -> list[str]:
    return [key for one in mistakes for key in one]


def _independent(crosses: Sequence[Cross], singles: Sequence[Mapping[str, str]]) -> bool:
    """Return whether no mistake changes what is needed to tell another."""
    values = [*(one.values for one in crosses), *singles]
    keys = _keys(values)
    return len(set(keys)) == len(keys) and not any(
        cross.needs & {key for other in values if other is not cross.values for key in other}
        for cross in crosses
    )


def _together(mistakes: Sequence[Mapping[str, str]]) -> dict[str, str]:
    return {key: value for one in mistakes for key, value in one.items()}


def _sorted(found: Sequence[Finding]) -> list[str]:
    return sorted(f"{one.grade} {one.line_of_text()}" for one in found)


def test_each_mistake_alone_is_found() -> None:
    """Each contradiction and each value that cannot be read is told where it stands alone, at its line."""
    assert len(CROSSES) >= 24
    assert len(SINGLES) > 400
    for cross in CROSSES:
        assert findings(cross.values)
    for single in SINGLES:
        ((key, value),) = single.items()
        (one,) = findings(single)
        assert one.grade == "error"
        assert (one.key == key) == (value != UNREADABLE[2])
        assert (one.line is None) == (key == "format" and not value)
        assert not value or one.line == LINE_OF[key] + 1


@pytest.mark.parametrize("start", range(36))
def test_mixed_mistakes_are_told_in_one_round(start: int) -> None:
    """Three dozen jobs with four contradictions and six unreadable values each: all are told, sorted by line."""
    crosses: list[Cross] = []
    for cross in (CROSSES[(start + 7 * step) % len(CROSSES)] for step in range(len(CROSSES))):
        if len(crosses) < 4 and _independent([*crosses, cross], []):
            crosses.append(cross)
    singles: list[Mapping[str, str]] = []
    for step in range(len(SINGLES)):
        single = SINGLES[(37 * start + 101 * step) % len(SINGLES)]
        if len(singles) < 6 and _independent(crosses, [*singles, single]):
            singles.append(single)
    mistakes = [*(one.values for one in crosses), *singles]
    found = findings(_together(mistakes))
    lines = [one.line for one in found if one.line is not None]

    assert len(crosses) == 4
    assert len(singles) == 6
    assert _sorted(found) == _sorted([finding for one in mistakes for finding in findings(one)])
    assert lines == sorted(lines)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.sampled_from(CROSSES), max_size=3),
    st.lists(st.sampled_from(SINGLES), min_size=1, max_size=4),
)
def test_independent_mistakes_add_up(crosses: list[Cross], singles: list[Mapping[str, str]]) -> None:
    """Independent mistakes together give the findings of each, no more and no less."""
    kept: list[Cross] = []
    for cross in crosses:
        if _independent([*kept, cross], []):
            kept.append(cross)
    alone: list[Mapping[str, str]] = []
    for single in singles:
        if _independent(kept, [*alone, single]):
            alone.append(single)
    mistakes = [*(one.values for one in kept), *alone]

    assert _sorted(findings(_together(mistakes))) == _sorted(
        [finding for one in mistakes for finding in findings(one)]
    )


def _nothing_else(cross: Cross, singles: Sequence[Mapping[str, str]]) -> None:
    found = findings(_together([cross.values, *singles]))
    parts = [finding for one in singles for finding in findings(one)]
    rest = [one for one in found if one not in parts]
    errors = {(one.key, one.line) for one in findings(cross.values) if one.grade == "error"}
    either = {(one.key, one.line) for one in findings(cross.values)}

    assert all(one in found for one in parts)
    assert len(found) == len(set(found))
    assert {(one.key, one.line) for one in rest} <= either
    assert {(one.key, one.line) for one in rest if one.grade == "error"} <= errors


@pytest.mark.parametrize("cross", CROSSES, ids=[next(iter(one.values)) for one in CROSSES])
def test_a_contradiction_is_silent_or_milder_without_what_it_needs(cross: Cross) -> None:
    """Each value that a contradiction needs is made unreadable in each way: nothing new is said."""
    for key in sorted(cross.needs - set(cross.values)):
        for single in (one for one in SINGLES if key in one):
            _nothing_else(cross, [single])


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(CROSSES), st.lists(st.sampled_from(SINGLES), min_size=1, max_size=3))
def test_what_cannot_be_read_raises_nothing_else(cross: Cross, singles: list[Mapping[str, str]]) -> None:
    """Whatever is lost beside a contradiction, nothing new is said, and nothing twice."""
    alone: list[Mapping[str, str]] = []
    for single in singles:
        if not set(single) & {*cross.values, *_keys(alone)}:
            alone.append(single)
    _nothing_else(cross, alone)


@pytest.mark.parametrize("lost", UNREADABLE[:3])
@pytest.mark.parametrize("key", ["behind", "left", "pad", "connection_height"])
def test_a_grade_that_rests_on_what_cannot_be_read_is_a_doubt(key: str, lost: str) -> None:
    """A foot is too thick for its gap, which it may be beside the item or held above its underside: not known here."""
    thick = {"item.1.mount.1.foot_thickness": '"2.5 in"'}
    told = [one for one in findings({**thick, f"item.1.mount.1.{key}": lost}) if "gap" in one.rule]

    assert [one.grade for one in findings(thick) if "gap" in one.rule] == ["error"]
    assert [one.grade for one in told] == ["warning"]


@pytest.mark.parametrize("lost", UNREADABLE[:3])
@pytest.mark.parametrize(
    ("values", "unread"),
    [
        # what cannot be read is no name that something else that cannot be read has
        ({}, ("item.1.tether.1.anchor", "item.1.mount.1.name", "item.1.name")),
        ({}, ("item.1.tape", "tape.1.name", "tape.1.thickness", "item.1.mount.1.foot_thickness")),
        ({}, ("item.1.mount.1.name", "item.1.mount.3.name", "item.2.name", "item.1.name")),
        ({}, ("item.1.tether.1.anchor", "item.1.tether.2.anchor")),
        # no foot is compared that has no thickness, nor one that stands under an item of none
        ({"item.1.gap": '"0 mm"', "item.1.mount.1.connection_height": '"1 in"'},
         ("item.1.mount.1.foot_thickness", "item.1.mount.2.foot_thickness")),
        ({"item.1.gap": '"0 mm"'}, ("item.1.thickness",)),
        # a peel is no load over an area, and what is no word may be peel
        ({"claim.2.load": '"500 kg"'}, ("claim.2.mode",)),
        # inside the longer side of the pad, which may be the one that is meant
        ({"item.1.mount.1.lever": '"1.2 in"'}, ("item.1.mount.1.lever_direction",)),
    ],
)  # fmt: skip
def test_nothing_is_said_of_what_cannot_be_read(
    values: dict[str, str], unread: tuple[str, ...], lost: str
) -> None:
    """Several values that cannot be read give one finding each and no contradiction among themselves."""
    found = reading(changed(values | dict.fromkeys(unread, lost))).findings

    assert sorted(one.line or 0 for one in found if one.grade == "error" or "foot" in one.key) == sorted(
        LINE_OF[key] + 1 for key in unread
    )
    assert not [one for one in found if one.grade == "warning"]


SLIPS = """\
format = 1
[job]
name = Wren
[vehicle]
roof_length = 4,0 m
roof_width = "1.7 m"
roof_height = 8' 6"
surface = "gelcoat"
surface = "steel"
[travel]
cruise_speed "130 km/h"
top_speed = "110 km/h"
headwind = "30 km/h
longest_leg = 2 h
snow = "5 wombats"
[climate]
coldest = 40 degC   # a warm place
hottest = "35 degC"
storm_gust = "100 km/h"
[[tape]]
name = "foam"
kind = "acrylic foam tape"
thickness = "1.1 mm"
[[item]]
name = "panel"
length = "1200 mm
width = "600 mm"
thickness = "35 mm"
mass = "9 kg"
gap = "40 mm"
behind_roof_front = "1.0 m"
front_edge = "open"
tape = "foil"
[[mount]]
name = "rear"
behind = "50 wombats"
left = "0 mm"
pad = "80 mm x 50 mm"
[[item.mount]]
name = "front"
behind = "-500 mm"
left = "0 mm"
pad = "80 mm x 50 mm"
"""


def test_slips_of_toml_hide_nothing() -> None:
    """Values without quotes, open quotes, keys twice, keys elsewhere: each line is told, and what it would say."""
    found = reading(SLIPS).findings

    assert [(one.line, one.key) for one in found] == [
        (3, "toml"),
        (5, "toml"),
        (5, "vehicle.roof_length"),  # its comma
        (7, "toml"),
        (9, "toml"),
        (11, "toml"),
        (11, "travel.cruise_speed"),  # above the top speed
        (13, "toml"),
        (14, "toml"),
        (15, "travel.snow"),  # belongs in [climate]
        (15, "travel.snow"),  # and what a wombat is
        (17, "toml"),
        (17, "climate.coldest"),  # above the hottest
        (26, "toml"),
        (33, "item.1.tape"),  # no tape of this job
        (34, "mount"),  # belongs below an item
        (36, "mount.1.behind"),
        (41, "item.1.mount.1.behind"),  # outside the item, whose length is not known
    ]
    assert all(one.rule and one.grade == "error" for one in found)


def test_slips_after_which_nothing_can_be_told_apart_stand_alone() -> None:
    """A broken heading ends the reading: what stands below it is called neither missing nor wrong."""
    found = reading(SLIPS.replace("[climate]", "[climate")).findings

    assert [(one.line, one.key) for one in found] == [(line, "toml") for line in (3, 5, 7, 9, 11, 13, 14, 16)]


def test_bytes_that_are_no_utf8_hide_nothing(tmp_path: Path) -> None:
    """Each line with such a byte is told, beside all that is wrong on the others; no odd sign gets out."""
    text = changed({"job.name": '"Zaunkönig"', "climate.coldest": '"5 m"', "item.1.gap": '"1 ½ ells"'})
    (tmp_path / "job.toml").write_bytes(
        text.replace('"5 °F"', '"5 degF"').replace("½", "1/2").encode("latin-1", errors="ignore")
    )
    found = read_job(tmp_path, read_cards()).findings
    told = [(one.line, one.key) for one in found]

    assert (LINE_OF["job.name"] + 1, "job") in told
    assert (LINE_OF["climate.coldest"] + 1, "climate.coldest") in told
    assert (LINE_OF["item.1.gap"] + 1, "item.1.gap") in told
    assert [one.line_of_text().encode("utf-8") for one in found]
