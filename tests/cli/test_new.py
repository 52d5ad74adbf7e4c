"""`staydown new`: answers into a commented job.toml that the reader takes at once."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from staydown.cli.new import VALUES, new
from staydown.foundation.errors import BadInput
from staydown.job.records import Job
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import JobReading, read_job, read_job_text
from staydown.workbench.new_job import mount_questions, questions

GIVEN = {
    "name": "Robin",
    "roof-length": "13 ft 9 in",
    "roof-width": "1.75 m",
    "roof-height": "2.6 m",
    "surface": "gelcoat",
    "cruise-speed": "60 mph",
    "top-speed": "115 km/h",
    "headwind": "25 km/h",
    "longest-leg": "2 h 30 min",
    "coldest": "5 °F",
    "hottest": "38 degC",
    "storm-gust": "110 km/h",
    "tape-name": "grey foam",
    "tape-kind": "acrylic foam tape",
    "tape-thickness": "45 mil",
    "item-name": "panel",
    "length": "4'10 1/4\"",
    "width": "26 in",
    "thickness": '1 3/8"',
    "mass": "11.2 kg",
    "gap": "45 mm",
    "behind-roof-front": "0.9 m",
    "front-edge": "open",
}
MOUNTS = [("front left", "120 mm", "30 cm"), ("front right", "120 mm", "-30 cm"), ("rear", "1360 mm", "0 mm")]


def options(**changes: str | None) -> list[str]:
    """Return the command's words for all values, some of them changed or left out."""
    values = GIVEN | {key.replace("_", "-"): text for key, text in changes.items()}
    words = [word for option, text in values.items() if text is not None for word in (f"--{option}", text)]
    return [*words, *(word for mount in MOUNTS for word in ("--mount", *mount)), "--pad", "80 mm x 50 mm"]


def run(*words: str, answers: list[str] | None = None) -> Result:
    """Return what the command did with words and typed answers."""
    return CliRunner().invoke(new, list(words), input="".join(f"{line}\n" for line in answers or []))


def read_back(folder: Path) -> tuple[Job, JobReading]:
    """Return the job that was written, read without an error."""
    reading = read_job(folder, read_cards())
    assert reading.job is not None
    return reading.job, reading


def test_options_are_those_of_the_questions() -> None:
    """Every required value has an option, and no option asks for anything else."""
    assert [key for key, _ in VALUES.values()] == [question.key for question in questions()]
    assert [one.key.rpartition(".")[2] for one in mount_questions(1)] == ["name", "behind", "left", "pad"]


def test_a_job_from_options_is_read_at_once(tmp_path: Path) -> None:
    """With every value given nothing is asked; the file reads without findings and keeps what was typed."""
    result = run(str(tmp_path / "van"), *options())
    job, reading = read_back(tmp_path / "van")

    assert (result.exit_code, result.output) == (
        0,
        f"Wrote {tmp_path}/van/job.toml. Next: staydown check {tmp_path}/van\n",
    )
    assert reading.findings == ()
    assert {
        key: typed.text for key, typed in reading.written.keys.items() if key in dict(VALUES.values())
    } == {key: GIVEN[option] for option, (key, _) in VALUES.items()}
    assert [mount.name for mount in job.item[0].mount] == ["front left", "front right", "rear"]
    assert job.item[0].tape == job.tape[0].name
    assert [path.name for path in (tmp_path / "van").iterdir()] == ["job.toml"]


def test_every_example_in_the_comments_can_be_used(tmp_path: Path) -> None:
    """Each line behind a # works when the # is taken away, and so do the tables of a link and a tether."""
    run(str(tmp_path), *options())
    text = (tmp_path / "job.toml").read_text(encoding="utf-8")
    tables = re.sub(r"^# (?=\[\[item\.(?:link|tether)\]\])", "", text, flags=re.M)
    start, end = tables.index("[[item.link]]"), tables.index("[[item.mount]]")
    used = tables[:start] + re.sub(r"^# ", "", tables[start:end], flags=re.M) + tables[end:]
    lines = [number for number, line in enumerate(text.split("\n")) if re.match(r"# [a-z_]+ = ", line)]
    lines = [number for number in lines if number < text[: text.index("# [[item.link]]")].count("\n")]
    mount = [
        number
        for number, line in enumerate(text.split("\n"))
        if re.match(r"# (lever|foot|fastener|under) ?", line)
    ]

    assert read_job_text(used, "job.toml", read_cards()).findings == ()
    assert len(lines) > 20
    for number in [*lines, *mount]:
        changed = text.split("\n")
        changed[number] = changed[number].removeprefix("# ")

        assert [
            one.line_of_text() for one in read_job_text("\n".join(changed), "job.toml", read_cards()).findings
        ] == []


def test_questions_are_asked_until_they_can_be_read(tmp_path: Path) -> None:
    """What is not given is asked for; a wrong answer is refused with its hint and asked again."""
    result = run(
        str(tmp_path),
        *options(cruise_speed=None, surface=None),
        answers=["gellcoat", "gelcoat", "95", "95 km/h"],
    )
    job, _ = read_back(tmp_path)

    assert result.exit_code == 0
    assert 'did you mean "gelcoat"?' in result.output
    assert 'which: "95 km/h" or "95 mph"?' in result.output
    assert job.travel.cruise_speed_m_per_s == pytest.approx(95 / 3.6)


def test_mounts_are_asked_for_one_by_one(tmp_path: Path) -> None:
    """Without mounts their number is asked, then each; the pad is asked once for all."""
    words = options()[: 2 * len(GIVEN)]
    answers = [
        "4",
        "",
        "120 mm",
        "30 cm",
        "3 in x 2 in",
        "",
        "120 mm",
        "-30 cm",
        "",
        "1360 mm",
        "30 cm",
        "",
        "1360 mm",
        "-30 cm",
    ]
    run(str(tmp_path), *words, answers=answers)
    job, _ = read_back(tmp_path)

    assert [mount.name for mount in job.item[0].mount] == [
        "front left",
        "front right",
        "rear left",
        "rear right",
    ]
    assert {mount.pad.length_m for mount in job.item[0].mount} == {0.0762}


def test_the_pad_is_asked_for_where_only_mounts_are_given(tmp_path: Path) -> None:
    """Mounts from options share the one pad that is asked for."""
    run(str(tmp_path), *options()[:-2], answers=["70 mm x 60 mm"])
    job, _ = read_back(tmp_path)

    assert {(mount.pad.length_m, mount.pad.width_m) for mount in job.item[0].mount} == {(0.07, 0.06)}


def test_contradictions_are_asked_again(tmp_path: Path) -> None:
    """A cruise above the top speed is told when all is answered, and only that is asked again."""
    result = run(str(tmp_path), *options(cruise_speed=None), answers=["130 km/h", "100 km/h"])
    job, _ = read_back(tmp_path)

    assert "is above the top speed of 115 km/h (71.5 mph)" in result.output
    assert job.travel.cruise_speed_m_per_s == pytest.approx(100 / 3.6)


def test_wrong_options_are_told_together_and_nothing_is_written(tmp_path: Path) -> None:
    """Mistakes in options come as findings, all at once, and no file is left behind."""
    result = run(str(tmp_path / "van"), *options(mass="11,2 kg", surface="lino", headwind="25"))

    assert isinstance(result.exception, BadInput)
    assert [finding.key for finding in result.exception.findings] == [
        "vehicle.surface",
        "travel.headwind",
        "item.1.mass",
    ]
    assert not (tmp_path / "van").exists()


def test_json_asks_nothing(tmp_path: Path) -> None:
    """With --json a missing value is a finding, and a written job is one object."""
    missing = run(str(tmp_path), "--json", *options(gap=None, tape_name=None))
    written = run(str(tmp_path), "--json", *options())

    assert isinstance(missing.exception, BadInput)
    assert [finding.key for finding in missing.exception.findings] == ["tape.1.name", "item.1.gap"]
    assert json.loads(written.output) == {
        "format": "staydown-new-1",
        "job": "Robin",
        "file": str(tmp_path / "job.toml"),
    }


def test_a_job_without_mounts_is_not_written(tmp_path: Path) -> None:
    """At least one mount is needed."""
    result = run(str(tmp_path), "--json", *options()[: 2 * len(GIVEN)])

    assert isinstance(result.exception, BadInput)
    assert [finding.key for finding in result.exception.findings] == ["item.1.mount"]


def test_an_older_job_is_never_overwritten(tmp_path: Path) -> None:
    """A folder that holds a job is refused before anything is asked, and so is a file for a folder."""
    (tmp_path / "job.toml").write_text("mine", encoding="utf-8")
    for target in (tmp_path, tmp_path / "job.toml"):
        result = run(str(target))

        assert isinstance(result.exception, BadInput)
        assert (tmp_path / "job.toml").read_text(encoding="utf-8") == "mine"


def test_doubts_are_told_and_do_not_stop(tmp_path: Path) -> None:
    """An unusual value is written, with the question whether its unit is right."""
    result = run(str(tmp_path), *options(tape_thickness="2 mil"))

    assert result.exit_code == 0
    assert "a mil is 0.001 in, not 1 mm" in result.output
    read_back(tmp_path)
