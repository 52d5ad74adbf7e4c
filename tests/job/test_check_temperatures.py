"""Measured temperatures and slots: what sun and air cannot have done is an error, what teaches nothing a warning."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from sample_jobs import PANEL, job_of
from staydown.foundation.findings import Finding
from staydown.job.check_job import check_job
from staydown.job.records import MeasuredTemperature
from staydown.job.shape import fields_of
from staydown.job.written import Written

READING = {
    "place": "bare roof",
    "temperature_K": 321.15,
    "air_K": 296.15,
    "sun_W_per_m2": 790.0,
    "wind_m_per_s": 1.0,
}
PLACE = "vehicle.measured_temperature.1"


def findings_of(changes: dict[str, Any]) -> list[Finding]:
    """Return what is found about the sample panel with changes, beyond what is found without."""
    before = {(one.key, one.rule) for one in check_job(job_of(PANEL), Written())}
    found = check_job(job_of(PANEL, changes), Written())
    return [one for one in found if (one.key, one.rule) not in before]


def of_reading(**values: Any) -> list[Finding]:
    """Return what is found about one reading."""
    return findings_of({"vehicle.measured_temperature": [READING | values]})


def test_a_good_reading_is_taken_without_a_word() -> None:
    """48 degC in 23 degC of air, 790 W/m2, light wind."""
    assert of_reading() == []


@pytest.mark.parametrize(
    ("values", "key", "grade", "words"),
    [
        ({"temperature_K": 290.15}, "temperature", "error", "colder than the air"),
        ({"temperature_K": 365.15, "sun_W_per_m2": 500.0}, "temperature", "error", "no more than 60 K"),
        ({"sun_W_per_m2": 350.0}, "sun", "warning", "not counted"),
        ({"wind_m_per_s": 8.0}, "wind", "warning", "not counted"),
    ],
)
def test_a_reading_that_cannot_be_or_that_teaches_nothing(
    values: dict[str, float], key: str, grade: str, words: str
) -> None:
    """Each has one finding at its own key, with a way out."""
    (finding,) = of_reading(**values)

    assert finding.key == f"{PLACE}.{key}"
    assert finding.grade == grade
    assert words in finding.rule
    assert finding.hint


def test_bright_metal_is_named_where_a_reading_is_colder_than_the_air() -> None:
    """Infrared on bright metal is the usual cause; the hint says what to do."""
    (finding,) = of_reading(temperature_K=290.15)

    assert "patch of tape" in finding.hint


@pytest.mark.parametrize("place", ["vehicle.absorptance", "item.0.absorptance"])
@pytest.mark.parametrize(("value", "grade"), [(0.02, "warning"), (0.999, "warning")])
def test_an_absorptance_at_the_ends_is_asked_about(place: str, value: float, grade: str) -> None:
    """A mirror or a perfect black is possible in principle; the reader asks."""
    (finding,) = findings_of({place: value})

    assert finding.grade == grade
    assert finding.key.endswith("absorptance")


def test_what_the_reader_refuses() -> None:
    """An absorptance lies from 0 to 1, the sun of a reading above 0, its place is one of three."""
    limits = {field.key: field.limits for field in fields_of(MeasuredTemperature)}

    assert (limits["sun"].least, limits["sun"].open_below) == (0.0, True)
    with pytest.raises(ValidationError):
        MeasuredTemperature.model_validate(READING | {"place": "on the bonnet"})


def test_slots_at_every_mount_hold_nothing() -> None:
    """All four slotted is an error; with one fixed foot there is nothing to say."""
    all_slotted = {f"item.0.mount.{number}.slotted": True for number in range(4)}
    (finding,) = findings_of(all_slotted)

    assert finding.grade == "error"
    assert finding.key == "item.1.mount.1.slotted"
    assert findings_of(all_slotted | {"item.0.mount.3.slotted": None}) == []
