"""`staydown new`: answers into a commented job.toml that the reader takes at once."""

from __future__ import annotations

import json
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from staydown.cli.main import STOPPED
from staydown.cli.new import NOT_ASKED, VALUES, new
from staydown.foundation.errors import BadInput
from staydown.job.records import Job
from staydown.storage.draft import Draft, read_draft
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import JobReading, read_job, read_job_text
from staydown.workbench.new_job import all_questions, mount_questions, questions

GIVEN = {
    "name": "Robin",
    "roof-length": "13 ft 9 in",
    "roof-width": "1.75 m",
    "roof-height": "2.6 m",
    "surface": "gelcoat",
    "roof-colour": "white",
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
    "kind": "solar panel",
    "length": "4'10 1/4\"",
    "width": "26 in",
    "thickness": '1 3/8"',
    "mass": "11.2 kg",
    "gap": "45 mm",
    "behind-roof-front": "0.9 m",
    "front-edge": "open",
    "material": "glass in aluminium frame",
}
MOUNTS = [("front left", "120 mm", "30 cm"), ("front right", "120 mm", "-30 cm"), ("rear", "1360 mm", "0 mm")]


def options(**changes: str | None) -> list[str]:
    """Return the command's words for all values, some of them changed or left out."""
    values = GIVEN | {key.replace("_", "-"): text for key, text in changes.items()}
    words = [word for option, text in values.items() if text is not None for word in (f"--{option}", text)]
    return [*words, *(word for mount in MOUNTS for word in ("--mount", *mount)), "--pad", "80 mm x 50 mm"]


def run(*words: str, answers: list[str] | None = None) -> Result:
    """Return what the command did with words and typed answers.

    Its help is named as under the front door: click remembers that with the command, for the page of commands too.
    """
    typed = "".join(f"{line}\n" for line in answers or [])
    return CliRunner().invoke(new, list(words), input=typed, help_option_names=["-h", "--help"])


def read_back(folder: Path) -> tuple[Job, JobReading]:
    """Return the job that was written, read without an error."""
    reading = read_job(folder, read_cards())
    assert reading.job is not None
    return reading.job, reading


def test_options_are_those_of_the_questions() -> None:
    """Every value that is asked for has an option, the required ones among them, and no option is for another."""
    asked = all_questions()

    assert [key for key, _ in VALUES.values()] == [question.key for question in asked]
    assert [one.key for one in asked if one.field.required] == [one.key for one in questions()]
    assert [one.key for one in asked if not one.field.required] == [
        "vehicle.roof_colour",
        "item.1.kind",
        "item.1.material",
    ]
    assert [one.key.rpartition(".")[2] for one in mount_questions(1)] == ["name", "behind", "left", "pad"]


def test_a_job_from_options_is_read_at_once(tmp_path: Path) -> None:
    """With every value given nothing is asked; the file reads without findings and keeps what was typed."""
    result = run(str(tmp_path / "van"), *options())
    job, reading = read_back(tmp_path / "van")

    assert (result.exit_code, result.output) == (
        0,
        f"Wrote {tmp_path}/van/job.toml. Next: staydown check {tmp_path}/van\n{NOT_ASKED}\n",
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
    run(str(tmp_path), *options(roof_colour=None, kind=None, material=None))
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


def test_nothing_is_asked_where_all_that_is_required_is_given(tmp_path: Path) -> None:
    """A script that gives every required value is not held up by what may be unknown."""
    result = run(str(tmp_path), *options(roof_colour=None, kind=None, material=None))
    job, _ = read_back(tmp_path)

    assert result.exit_code == 0
    assert (job.vehicle.roof_colour, job.item[0].kind, job.item[0].material) == (None, None, None)


def test_colour_kind_and_material_are_asked_with_what_the_cards_have(tmp_path: Path) -> None:
    """The ids are listed, a slip is answered with the nearest, and unknown will do: by itself or typed."""
    result = run(
        str(tmp_path),
        *options(mass=None, roof_colour=None, kind=None, material=None),
        answers=["", "solr panel", "solar panel", "11 kg", "unknown"],
    )
    job, reading = read_back(tmp_path)

    assert (result.exit_code, reading.findings) == (0, ())
    assert 'did you mean "solar panel"?' in result.output
    for shelf in ("colours", "kinds", "materials"):
        shown = " ".join(result.output.split())

        assert ", ".join(getattr(read_cards(), shelf)) in shown
    assert (job.vehicle.roof_colour, job.item[0].kind, job.item[0].material) == (None, "solar panel", None)
    assert 'roof_colour = "unknown"' in (tmp_path / "job.toml").read_text(encoding="utf-8")


def test_what_was_answered_is_kept_when_the_questions_stop(tmp_path: Path) -> None:
    """Without a next answer the command ends as stopped: no job, a draft, and the words where it is."""
    stopped = run(str(tmp_path / "van"), answers=["Robin", "4.2 m", "1.75 m"])

    assert isinstance(stopped.exception, SystemExit)
    assert f"kept in {tmp_path}/van/job.draft.json" in stopped.output
    assert [path.name for path in (tmp_path / "van").iterdir()] == ["job.draft.json"]
    assert read_draft(tmp_path / "van") == Draft(
        answers={"job.name": "Robin", "vehicle.roof_length": "4.2 m", "vehicle.roof_width": "1.75 m"}
    )


def test_the_same_command_goes_on_from_the_draft(tmp_path: Path) -> None:
    """What was answered is not asked again, options come before it, and the job leaves no draft behind."""
    words = options()[: 2 * len(GIVEN)]
    first = run(str(tmp_path), *words, answers=["2", "left", "120 mm", "30 cm", "3 in x 2 in", "right"])
    result = run(str(tmp_path), *words, "--show", "us", "--mass", "12 kg", answers=["y", "110 mm", "-30 cm"])
    job, _ = read_back(tmp_path)

    assert first.exit_code == 1
    assert result.exit_code == 0, result.output
    assert [
        (mount.name, round(mount.behind_m, 3), round(mount.left_m, 3)) for mount in job.item[0].mount
    ] == [
        ("left", 0.12, 0.3),
        ("right", 0.11, -0.3),
    ]
    assert {mount.pad.length_m for mount in job.item[0].mount} == {0.0762}
    assert (job.item[0].mass_kg, job.job.show) == (12.0, "us")
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_a_draft_can_be_declined(tmp_path: Path) -> None:
    """Whoever starts afresh is asked from the first question on, and the old answers are gone."""
    run(str(tmp_path), answers=["Robin", "4.2 m"])
    result = run(str(tmp_path), answers=["n", "Heron"])

    assert "2 answers of last time" in result.output
    draft = read_draft(tmp_path)
    assert draft is not None
    assert draft.answers == {"job.name": "Heron"}


def test_stopping_before_the_first_answer_leaves_nothing(tmp_path: Path) -> None:
    """No folder is made for no answers."""
    result = run(str(tmp_path / "van"))

    assert result.exit_code == 1
    assert not (tmp_path / "van").exists()


def test_an_old_answer_that_contradicts_is_asked_again(tmp_path: Path) -> None:
    """A draft's answer that does not go with a new one is asked for as if it were new."""
    words = options(cruise_speed=None, headwind=None)
    run(str(tmp_path), *words, answers=["130 km/h"])
    result = run(str(tmp_path), *words, answers=["y", "25 km/h", "100 km/h"])
    job, _ = read_back(tmp_path)

    assert "is above the top speed" in result.output
    assert job.travel.cruise_speed_m_per_s == pytest.approx(100 / 3.6)


@pytest.mark.parametrize("text", ["{", "[]", '{"format": "staydown-draft-1", "answers": {"job.name": 3}}'])
def test_a_draft_that_cannot_be_read_is_refused_and_stays(tmp_path: Path, text: str) -> None:
    """Nothing is guessed and nothing removed: the file is named, and what to do with it."""
    (tmp_path / "job.draft.json").write_text(text, encoding="utf-8")
    result = run(str(tmp_path), answers=["Robin"])

    assert isinstance(result.exception, BadInput)
    assert "remove this file to start afresh" in str(result.exception)
    assert (tmp_path / "job.draft.json").read_text(encoding="utf-8") == text


def test_ctrl_c_keeps_the_answers(tmp_path: Path) -> None:
    """In a terminal of its own, stopped by the signal of Ctrl-C while it waits: the draft is whole, no job is there."""
    folder = tmp_path / "van"
    with subprocess.Popen(
        [sys.executable, "-m", "staydown.cli.main", "new", str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdin is not None
        process.stdin.write(b"Robin\n4.2 m\n")
        process.stdin.flush()
        end = time.monotonic() + 60.0
        while time.monotonic() < end:
            draft = read_draft(folder)
            if draft is not None and len(draft.answers) == 2:
                break
            time.sleep(0.02)
        process.send_signal(signal.SIGINT)
        _, words = process.communicate(timeout=60)

    assert process.returncode == STOPPED
    assert b"is kept in" in words
    assert [path.name for path in folder.iterdir()] == ["job.draft.json"]
    draft = read_draft(folder)
    assert draft is not None
    assert draft.answers == {"job.name": "Robin", "vehicle.roof_length": "4.2 m"}


def test_what_was_not_asked_is_named_as_the_job_calls_it(tmp_path: Path) -> None:
    """Each key of the closing words stands in the file behind a #, ready to be filled in."""
    run(str(tmp_path), *options())
    text = (tmp_path / "job.toml").read_text(encoding="utf-8")

    for key in ("lever", "foot_thickness", "foot_material", "fastener"):
        assert key in NOT_ASKED
        assert re.search(rf"^# {key} = ", text, flags=re.M)
