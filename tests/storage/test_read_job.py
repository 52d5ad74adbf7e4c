"""Reading a job: all mistakes at once and in their exact words, or the whole job."""

from __future__ import annotations

import math
import os
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from staydown.job.schema import job_schema
from staydown.job.shape import fields_of, tables
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import LARGEST_FILE, JobReading, read_job, read_job_text

HERE = Path(__file__).parent / "bad_inputs"
GOOD = (HERE / "good.toml").read_text(encoding="utf-8")
FULL = (Path(__file__).parent.parent / "data" / "full_job.toml").read_text(encoding="utf-8")
CASES: list[dict[str, Any]] = [
    case | {"theme": file.stem}
    for file in sorted(HERE.glob("*.toml"))
    if file.stem != "good"
    for case in tomllib.loads(file.read_text(encoding="utf-8"))["case"]
]


def reading(text: str) -> JobReading:
    """Return what comes of reading a text as job.toml."""
    return read_job_text(text, "job.toml", read_cards())


def changed(case: dict[str, Any]) -> str:
    """Return the good job with the changes of a case; each text stands in it once."""
    text = GOOD
    for old, new in case.get("change", []):
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text[: text.index(case["cut_from"])] if "cut_from" in case else text


def in_words(found: JobReading) -> list[str]:
    """Return the findings as lines, each with its grade."""
    return [f"{finding.grade} {finding.line_of_text()}" for finding in found.findings]


def errors(found: JobReading) -> list[str]:
    """Return the errors alone as lines."""
    return [finding.line_of_text() for finding in found.findings if finding.grade == "error"]


@pytest.mark.parametrize("case", CASES, ids=[f"{case['theme']}: {case['did']}" for case in CASES])
def test_a_bad_input_is_told_in_full(case: dict[str, Any]) -> None:
    """Each bad input gives exactly its findings, and a job only where all of them are warnings."""
    found = reading(changed(case))

    assert in_words(found) == case["expect"]
    assert (found.job is None) == any(line.startswith("error") for line in case["expect"])


def test_the_bad_inputs_are_many_and_varied() -> None:
    """There are at least 80, at most five of a rule, and a third have mistakes in several tables."""
    rules = Counter(rule for case in CASES for rule in case["rules"])
    several = [case for case in CASES if len({_table(line) for line in case["expect"]}) > 1]

    assert len(CASES) >= 80
    assert max(rules.values()) <= 5
    assert len(several) >= len(CASES) / 3


def _table(line: str) -> str:
    key = line.split(": ")[1].split(" = ")[0]
    return ".".join(part for part in key.split(".")[:-1] if not part.isdigit()) or key


@pytest.mark.parametrize("text", [GOOD, FULL], ids=["good", "full"])
def test_a_good_job_has_no_findings(text: str) -> None:
    """The jobs that the bad inputs start from, and the one with every key, are read without a word."""
    found = reading(text)

    assert found.findings == ()
    assert found.job is not None


def test_the_full_job_has_every_key() -> None:
    """Every key of every table stands in the full job, so that no field goes unread."""
    written = {
        tuple(part for part in key.split(".") if not part.isdigit()) for key in reading(FULL).written.keys
    } | {
        ("vehicle", "absorptance"),
        ("item", "sharp"),
    }  # either colour or absorptance; sharp is "unknown" there
    missing = [
        (*home, field.key)
        for home, (record, _) in tables().items()
        for field in fields_of(record)
        if field.kind not in ("record", "records", "planning") and (*home, field.key) not in written
    ]

    assert missing == []


@pytest.mark.by_hand
def test_values_of_the_full_job_are_si() -> None:
    """Mixed spellings come out in SI: each product of the typed number and the exact factor is in the test."""
    job = reading(FULL).job

    assert job is not None
    item = job.item[0]
    front = item.mount[0]
    expected = {
        job.vehicle.roof_length_m: (13 * 12 + 1.5) * 0.0254,
        job.vehicle.roof_height_m: (8 * 12 + 6) * 0.0254,
        job.vehicle.local_wind[1].speed_ratio: 0.85,
        job.travel.cruise_speed_m_per_s: 60 * 1609.344 / 3600,
        job.travel.crosswind_m_per_s: 18 * 1852 / 3600,
        job.travel.longest_leg_s: 8100.0,
        job.travel.hours_per_year_s: 180 * 3600.0,
        job.travel.pass_pressure_Pa: 8 * 4.4482216152605 / 0.3048**2,
        job.climate.coldest_K: (5 + 459.67) * 5 / 9,
        job.tape[0].thickness_m: 45e-3 * 0.0254,
        job.tape[0].tension_modulus_Pa: 145 * 4.4482216152605 / 0.0254**2,
        job.claim[0].load_N: 9.80665,
        job.claim[1].load_N: 18 * 4.4482216152605,
        job.claim[1].area_m2: 6e-4,
        item.width_m: 26.5 * 0.0254,
        item.thickness_m: 1.375 * 0.0254,
        item.mass_kg: 19.5 * 0.45359237,
        item.nose_up_rad: math.radians(0.5),
        front.pad.area_m2: 6 * 0.0254**2,
        front.lever_m: -0.4 * 0.0254,
        item.mount[1].fastener.strength_N if item.mount[1].fastener else None: 300 * 9.80665,
        item.tether[0].stiffness_N_per_m: 170 * 4.4482216152605 / 0.0254,
    }

    assert list(expected) == pytest.approx(list(expected.values()), rel=1e-12)


def test_typed_text_and_line_are_kept() -> None:
    """What was typed stands beside the job, with its line; keys left unknown are as if left out."""
    written = reading(FULL).written
    lines = FULL.split("\n")
    typed = written.of("item.1.mount.2.pad")

    assert typed is not None
    assert typed.text == "3 in × 2 in"
    assert lines[(typed.line or 0) - 1] == 'pad = "3 in × 2 in"'
    assert written.of("item.1.mount.2.lever_side") is None
    assert written.of("planning.uplift.open.near_edge") is not None


@pytest.mark.parametrize("key", ["roof_colour", "consequence", "lever", "lever_direction", "gust_factor"])
def test_unknown_is_the_same_as_left_out(key: str) -> None:
    """A key that may be left out reads the same with "unknown" as without its line."""
    (line,) = [line for line in GOOD.split("\n") if line.startswith(f"{key} = ")]

    assert reading(GOOD.replace(line, f'{key} = "unknown"')).job == reading(GOOD.replace(line, "")).job


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('top_speed = "110 km/h"', 'top_speed = "110"'),
        ('hottest = "35 degC"', 'hottest = "cold"'),
        ('roof_length = "4.0 m"', "roof_length = 4"),
        ('length = "1200 mm"\nwidth', 'length = "12O0 mm"\nwidth'),
        ('name = "white foam"', "name = 3"),
    ],
)
def test_what_cannot_be_read_contradicts_nothing(old: str, new: str) -> None:
    """A value with a mistake gives its own finding and no contradiction with the rest."""
    assert GOOD.count(old) == 1
    assert len(reading(GOOD.replace(old, new)).findings) == 1


def test_contradictions_come_with_the_other_mistakes() -> None:
    """A mount outside its item is told although the item's mass cannot be read."""
    text = GOOD.replace('mass = "9 kg"', "mass = 9").replace('behind = "1100 mm"', 'behind = "2100 mm"')

    assert [one.split(": ")[1].split(" = ")[0] for one in errors(reading(text))] == [
        "item.1.mass",
        "item.1.mount.3.behind",
        "item.1.mount.4.behind",
    ]


def test_a_required_key_in_the_wrong_table_is_one_mistake() -> None:
    """A key that stands in another table is told where it belongs, and is not called missing as well."""
    moved = GOOD.replace('longest_leg = "2 h"\n', "").replace("[climate]", '[climate]\nlongest_leg = "2 h"')

    assert errors(reading(moved)) == [
        "job.toml:25: climate.longest_leg = '2 h': is no key of [climate] (belongs in [travel])"
    ]


def test_what_stands_in_a_misspelt_table_is_read_too() -> None:
    """A misspelt table and a bare number in it are two mistakes, and nothing is called missing."""
    text = GOOD.replace("[travel]", "[travels]").replace('"90 km/h"', "90")

    assert [one.split(": ")[1].split(" = ")[0] for one in errors(reading(text))] == [
        "travels",
        "travels.cruise_speed",
    ]


def test_one_line_of_mounts_is_allowed() -> None:
    """A light bar on two feet in one line is read without an error."""
    start = GOOD.index('[[item.mount]]\nname = "rear left"')
    text = GOOD[:start] + GOOD[GOOD.index("[[item.tether]]") :]
    found = reading(text)

    assert found.findings == ()
    assert found.job is not None
    assert len(found.job.item[0].mount) == 2


@pytest.mark.parametrize(
    "override",
    ["uplift.open.near_edge = 1.1", '"uplift.open.near_edge" = 1.1', 'uplift = { "open.near_edge" = "1.1" }'],
)
def test_planning_ids_with_dots_may_be_quoted_or_not(override: str) -> None:
    """A planning id with dots reads the same as dotted keys, as a quoted key and in a table."""
    job = reading(GOOD.replace("gust_factor = 1.5", override)).job

    assert job is not None
    assert job.planning["uplift.open.near_edge"].likely == 1.1


def test_a_planning_id_that_begins_another_is_told_apart() -> None:
    """`sun` is a planning value of its own, and the beginning of `sun.bare_roof`."""
    alone = reading(GOOD.replace("gust_factor = 1.5", 'sun = "900 W/m^2"')).job
    longer = reading(GOOD.replace("gust_factor = 1.5", 'sun.bare_roof = "0.03 K m^2/W"')).job

    assert alone is not None
    assert longer is not None
    assert set(alone.planning) == {"sun", "handling_force"}
    assert set(longer.planning) == {"sun.bare_roof", "handling_force"}


def test_windows_files_are_read() -> None:
    """A byte order mark and line ends of two signs change nothing."""
    plain, other = reading(GOOD), reading("\ufeff" + GOOD.replace("\n", "\r\n"))

    assert other.findings == ()
    assert other.job == plain.job
    assert other.written == plain.written


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("a = " + "[" * 100_000, "is nested too deeply"),
        ("a = " + "9" * 5000, "has a value that cannot be read"),
        ("= 2024-13-45", "is not TOML"),
        ("\x00", "is not TOML"),
    ],
)
def test_hostile_text_is_one_finding(text: str, rule: str) -> None:
    """Text that breaks the TOML reader itself is told in one finding."""
    found = reading(text)

    assert found.job is None
    assert [finding.rule.startswith(rule) for finding in found.findings] == [True]


def test_a_folder_and_its_file_read_the_same(tmp_path: Path) -> None:
    """JOB is a folder or the job.toml in it."""
    (tmp_path / "job.toml").write_text(GOOD, encoding="utf-8")
    by_folder, by_file = read_job(tmp_path, read_cards()), read_job(tmp_path / "job.toml", read_cards())

    assert by_folder == by_file
    assert by_folder.job is not None


def _troubles(folder: Path) -> Iterator[tuple[Path, str]]:
    yield folder / "nowhere", f"{folder}/nowhere: job: is not there (give a folder with a job.toml in it)"
    yield folder, f"{folder}/job.toml: job: is not there (`staydown new {folder}` writes one)"
    (folder / "a").mkdir()
    (folder / "a" / "job.toml").mkdir()
    yield folder / "a", f"{folder}/a/job.toml: job: is not a file (give a folder with a job.toml in it)"
    (folder / "b.toml").write_bytes(GOOD.replace("Wren", "Zaunkönig").encode("latin-1"))
    yield folder / "b.toml", f"{folder}/b.toml:4: job: is not UTF-8 text (save the file as UTF-8)"
    (folder / "c.toml").write_bytes(b"#" * (LARGEST_FILE + 1))
    yield folder / "c.toml", f"{folder}/c.toml: job: is larger than 1 MB (is it a job file?)"
    (folder / "d.toml").write_text(GOOD, encoding="utf-8")
    (folder / "d.toml").chmod(0)
    if not os.access(folder / "d.toml", os.R_OK):  # not so for the superuser
        yield folder / "d.toml", f"{folder}/d.toml: job: cannot be read (Permission denied)"


def test_trouble_with_the_file_is_a_finding(tmp_path: Path) -> None:
    """A missing folder or file, a folder for a file, other encodings and huge files are told like mistakes."""
    for path, expected in _troubles(tmp_path):
        found = read_job(path, read_cards())

        assert [finding.line_of_text() for finding in found.findings] == [expected]
        assert found.job is None


SCHEMA = Draft202012Validator(job_schema())
LINES = FULL.split("\n")
_NOISE = [
    "",
    "[",
    "]]",
    '"',
    "=",
    "unknown",
    "nan",
    "1e999",
    "[[item]]",
    "[item.mount]",
    "x = 1",
    "-",
    "\\",
    "½",
    "🚐",
]


@st.composite
def corrupted(draw: st.DrawFn) -> str:
    """Return the full job after a few random slips: lines lost, doubled, moved; signs changed; values exchanged."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        other = draw(st.integers(0, len(lines) - 1))
        match draw(st.sampled_from(["lose", "double", "exchange", "noise", "sign", "value", "cut"])):
            case "lose":
                lines[at] = ""
            case "double":
                lines.insert(other, lines[at])
            case "exchange":
                lines[at], lines[other] = lines[other], lines[at]
            case "noise":
                lines.insert(at, draw(st.sampled_from(_NOISE)))
            case "sign" if lines[at]:
                place = draw(st.integers(0, len(lines[at]) - 1))
                lines[at] = lines[at][:place] + draw(st.characters(codec="utf-8")) + lines[at][place + 1 :]
            case "value" if "=" in lines[at] and "=" in lines[other]:
                lines[at] = f"{lines[at].partition('=')[0]}={lines[other].partition('=')[2]}"
            case "cut":
                lines[at] = lines[at][: len(lines[at]) // 2]
            case _:
                pass
    return "\n".join(lines)


@settings(max_examples=400, deadline=None)
@given(corrupted())
def test_a_corrupted_job_is_a_job_or_errors_never_both(text: str) -> None:
    """Whatever happens to a file, reading ends in a job that fits the schema, or in errors without a job."""
    found = reading(text)

    assert (found.job is None) == bool(errors(found))
    for finding in found.findings:
        assert finding.rule
        assert finding.key
        assert finding.line is None or 1 <= finding.line <= text.count("\n") + 1
    if found.job is not None:
        assert SCHEMA.is_valid(tomllib.loads(text))


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=40), st.sampled_from([line for line in GOOD.split("\n") if " = " in line]))
def test_any_text_for_a_value_is_read_or_refused(text: str, line: str) -> None:
    """Any text in the place of a value is read or refused with a hint at that line, and never breaks the reader."""
    quoted = '"' + "".join(f"\\U{ord(sign):08x}" for sign in text if not 0xD800 <= ord(sign) < 0xE000) + '"'
    at = GOOD.split("\n").index(line)
    lines = GOOD.split("\n")
    lines[at] = f"{line.partition(' = ')[0]} = {quoted}"
    found = reading("\n".join(lines))

    assert (found.job is None) == bool(errors(found))
