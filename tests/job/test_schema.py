"""The JSON Schema of job.toml is current, and refuses by form what the reader refuses by form."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from staydown.job.schema import job_schema, schema_text

TESTS = Path(__file__).parent.parent
BAD_INPUTS = TESTS / "storage" / "bad_inputs"
GOOD = (BAD_INPUTS / "good.toml").read_text(encoding="utf-8")
OF_FORM = (
    "bare number", "not a value", "not a text", "word", "list of words", "flag", "misspelt key", "unknown key",
    "wrong table", "missing key", "misspelt table", "unknown table", "wrong place of a table", "brackets",
    "not a table", "missing table", "format", "empty value", "no number",
)  # fmt: skip
NOT_SEEN = {
    "a speed as a bare number in quotes": "only the reader knows units",
    "about a length": "it has a digit in it",
}


def cases() -> list[dict[str, Any]]:
    """Return the bad inputs with one mistake of form."""
    return [
        case
        for file in sorted(BAD_INPUTS.glob("*.toml"))
        if file.stem != "good"
        for case in tomllib.loads(file.read_text(encoding="utf-8"))["case"]
        if any(rule in OF_FORM for rule in case["rules"]) and case["did"] not in NOT_SEEN
    ]


def test_the_shipped_schema_is_current() -> None:
    """The shipped file is what the records give; print schema_text() into it after a change."""
    shipped = files("staydown.library").joinpath("job.schema.json").read_text(encoding="utf-8")

    assert shipped == schema_text()


@pytest.mark.oracle
@pytest.mark.independent
def test_the_schema_is_one_and_accepts_good_jobs() -> None:
    """The schema obeys its own dialect (draft 2020-12) and accepts the jobs that the reader accepts."""
    Draft202012Validator.check_schema(job_schema())
    validator = Draft202012Validator(job_schema())

    for text in (GOOD, (TESTS / "data" / "full_job.toml").read_text(encoding="utf-8")):
        assert [error.message for error in validator.iter_errors(tomllib.loads(text))] == []


@pytest.mark.oracle
@pytest.mark.independent
@pytest.mark.parametrize("case", cases(), ids=[case["did"] for case in cases()])
def test_the_schema_refuses_mistakes_of_form(case: dict[str, Any]) -> None:
    """What the reader refuses for its form, a validator of JSON Schema refuses too."""
    text = GOOD
    for old, new in case["change"]:
        text = text.replace(old, new)

    assert not Draft202012Validator(job_schema()).is_valid(tomllib.loads(text))
