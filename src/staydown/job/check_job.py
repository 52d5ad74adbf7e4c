"""What in a job contradicts itself, and what in it is doubtful?

A value that could not be read is nan, or an empty word: what needs it is not said, all else is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staydown.foundation.exposure import MODES
from staydown.foundation.findings import Finding
from staydown.foundation.nearest import nearest
from staydown.foundation.units import reads_as
from staydown.job.check_fixtures import check_fixtures
from staydown.job.check_item import check_item, check_item_pairs, check_on_roof
from staydown.job.plausible import unusual_values
from staydown.job.records import (
    CALIBRATING_SUN_W_per_m2,
    CALIBRATING_WIND_m_per_s,
    Claim,
    Climate,
    Item,
    Job,
    MeasuredTemperature,
    Mount,
    Ratio,
    Tape,
    Travel,
    Vehicle,
)
from staydown.job.remark import Remark
from staydown.job.written import Written

# by radiation alone, a black plate rises 0.10 K for each W/m2 in weak sun and less in strong (Stefan); 0.12 leaves room
MOST_RISE_K_m2_per_W = 0.12
STRESSED = frozenset(MODES) - {"peel"}  # a load over an area
COUPON_STRESS_Pa = (5e3, 1.5e6)  # of claims; common practice, no source


def check_job(job: Job, written: Written) -> tuple[Finding, ...]:
    """Return contradictions (errors) and doubts (warnings) of a job, in the order of the file.

    Parameters
    ----------
    job : Job
        The job; values that could not be read may be nan or empty texts.
    written : Written
        What was typed, for the place of each finding; may be empty.
    """
    remarks = [
        *_check_vehicle(job.vehicle),
        *_check_travel(job.travel),
        *_check_climate(job.climate),
        *_check_names(job),
        *_check_claims(job),
        *_check_items(job),
        *unusual_values(job, "", {key: one.text for key, one in written.keys.items()}),
    ]
    findings = [_finding(remark, written) for remark in remarks]
    return tuple(sorted(findings, key=lambda one: (one.line is None, one.line or 0)))


def _finding(remark: Remark, written: Written) -> Finding:
    typed = written.of(remark.key)
    file = next((one.file for one in written.keys.values()), "job.toml")
    return Finding(
        file=typed.file if typed else file,
        line=typed.line if typed else None,
        key=remark.key,
        value=typed.text if typed else "",
        rule=remark.rule,
        hint=remark.hint,
        grade=remark.grade,
    )


def _check_vehicle(vehicle: Vehicle) -> Iterator[Remark]:
    if vehicle.roof_colour is not None and vehicle.absorptance is not None:
        hint = "keep the one you know better"
        yield Remark(key="vehicle.absorptance", rule="roof_colour says the absorptance already", hint=hint)
    for number, wind in enumerate(vehicle.local_wind, 1):
        if wind.behind_front_m > vehicle.roof_length_m:
            hint = f"the roof is {reads_as(vehicle.roof_length_m, 'm')} long"
            yield Remark(key=f"vehicle.local_wind.{number}.behind_front", rule="lies off the roof", hint=hint)
    for number, measured in enumerate(vehicle.measured_temperature, 1):
        yield from _check_measured(measured, f"vehicle.measured_temperature.{number}")


def _check_measured(measured: MeasuredTemperature, place: str) -> Iterator[Remark]:
    """Yield what sun and air cannot have done, and what is not enough to learn from."""
    rise_K = measured.temperature_K - measured.air_K
    if rise_K < 0:
        rule = f"is colder than the air, {reads_as(measured.air_K, 'K')}, which nothing in the sun is"
        hint = "are the two exchanged? Bright metal reads cold by infrared: measure on a patch of tape"
        yield Remark(key=f"{place}.temperature", rule=rule, hint=hint)
    elif rise_K > MOST_RISE_K_m2_per_W * measured.sun_W_per_m2:
        rule = f"is {rise_K:.0f} K above the air; that sun warms a black plate by no more than "
        rule += f"{MOST_RISE_K_m2_per_W * measured.sun_W_per_m2:.0f} K"
        yield Remark(key=f"{place}.temperature", rule=rule, hint="are temperature, air and sun right?")
    if measured.sun_W_per_m2 < CALIBRATING_SUN_W_per_m2:
        rule = f"is too little to learn from: under {CALIBRATING_SUN_W_per_m2:g} W/m2 it is not counted"
        yield Remark(key=f"{place}.sun", rule=rule, hint="measure again near noon", grade="warning")
    if measured.wind_m_per_s > CALIBRATING_WIND_m_per_s:
        rule = (
            f"is too much to learn from: over {reads_as(CALIBRATING_WIND_m_per_s, 'm/s')} it is not counted"
        )
        yield Remark(key=f"{place}.wind", rule=rule, hint="measure again on a still day", grade="warning")


def _check_travel(travel: Travel) -> Iterator[Remark]:
    if travel.cruise_speed_m_per_s > travel.top_speed_m_per_s:
        rule = f"is above the top speed of {reads_as(travel.top_speed_m_per_s, 'm/s')}"
        yield Remark(key="travel.cruise_speed", rule=rule, hint="top_speed is the fastest you ever drive")


def _check_climate(climate: Climate) -> Iterator[Remark]:
    if climate.coldest_K > climate.hottest_K:
        rule = f"is above the hottest, {reads_as(climate.hottest_K, 'K')}"
        yield Remark(key="climate.coldest", rule=rule, hint="are the two exchanged?")


def _check_names(job: Job) -> Iterator[Remark]:
    """Yield names that are given twice, and tapes that are named but not there."""
    yield from _doubles("tape", job.tape)
    yield from _doubles("item", job.item)
    for number, item in enumerate(job.item, 1):
        yield from _doubles(f"item.{number}.mount", item.mount)
    tapes = [tape.name for tape in job.tape]
    users: list[tuple[str, Sequence[Item | Claim | Ratio]]] = [
        ("item", job.item),
        ("claim", job.claim),
        ("ratio", job.ratio),
    ]
    if not tapes and any(records for _, records in users):
        hint = "write [[tape]] and below it name, kind, thickness"
        yield Remark(key="tape", rule="there is no tape in this job", hint=hint)
        return
    for table, records in users:
        for number, record in enumerate(records, 1):
            if record.tape and "" not in tapes and record.tape not in tapes:
                near = nearest(record.tape, tapes)
                hint = (
                    f'did you mean "{near}"?' if near else f"its tapes are {', '.join(dict.fromkeys(tapes))}"
                )
                yield Remark(key=f"{table}.{number}.tape", rule="is no tape of this job", hint=hint)


def _doubles(place: str, records: Sequence[Tape | Item | Mount]) -> Iterator[Remark]:
    first: dict[str, int] = {}
    for number, record in enumerate(records, 1):
        if record.name and record.name in first:
            rule = f"is the name of {place}.{first[record.name]} already"
            yield Remark(key=f"{place}.{number}.name", rule=rule, hint="each needs a name of its own")
        first.setdefault(record.name, number)


def _check_claims(job: Job) -> Iterator[Remark]:
    low, high = COUPON_STRESS_Pa
    for number, claim in enumerate(job.claim, 1):
        stress_Pa = claim.load_N / claim.area_m2
        if claim.mode in STRESSED and (stress_Pa < low or stress_Pa > high):
            usual = f"{reads_as(low, 'Pa')} to {reads_as(high, 'Pa')}"
            rule = f"on that area is {reads_as(stress_Pa, 'Pa')}; usual is {usual}"
            yield Remark(
                key=f"claim.{number}.load", rule=rule, hint="are load and area right?", grade="warning"
            )


def _check_items(job: Job) -> Iterator[Remark]:
    if not job.item:
        hint = "write [[item]] and below it what is fastened"
        yield Remark(key="item", rule="there is no item on the roof", hint=hint)
    for number, item in enumerate(job.item, 1):
        place = f"item.{number}"
        yield from check_on_roof(item, job.vehicle, place)
        yield from check_fixtures(item, job.vehicle, place)
        yield from check_item(item, place, job.tape)
    yield from check_item_pairs(job.item)
