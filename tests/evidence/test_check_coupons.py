"""Coupons against themselves, against each other, against the logbook and against the job."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import inf, nan
from typing import Any

import pytest

from staydown.evidence.build_coupons import RecordedCoupon
from staydown.evidence.check_coupons import (
    CouponRow,
    check_names,
    check_row,
    differences,
    find_duplicates,
    same_coupon,
    sort_rows,
)
from staydown.evidence.coupon import Coupon

TODAY = date(2026, 5, 1)
GOOD = Coupon(
    name="A1",
    tape="grey foam",
    surface="gelcoat",
    mode="tension",
    result="fell",
    load_N=180.0,
    area_m2=6.25e-4,
    lasted_s=7200.0,
    temperature_K=313.15,
    made_on="2026-04-01",
    dwell_s=259200.0,
)
PEEL = replace(GOOD, mode="peel", area_m2=None, width_m=0.025, load_N=50.0)


def row(coupon: Coupon, line: int = 2) -> CouponRow:
    """Return a coupon as a row of a file."""
    return CouponRow(coupon=coupon, file="coupons.csv", line=line, typed={"name": coupon.name})


def recorded(coupon: Coupon | None, *, hanging: bool = False, name: str = "A1") -> RecordedCoupon:
    """Return a coupon as the logbook has it."""
    return RecordedCoupon(name=name, coupon=coupon, hanging=hanging, seq=7)


@pytest.mark.parametrize("coupon", [GOOD, PEEL, replace(GOOD, result="holding"), replace(GOOD, dwell_s=0.0)])
def test_a_sound_coupon_passes(coupon: Coupon) -> None:
    """Nothing is said of a coupon that is right."""
    assert check_row(row(coupon), TODAY) == ()


@pytest.mark.parametrize("field", ["load_N", "area_m2", "lasted_s", "foot_thickness_m", "found_s"])
@pytest.mark.parametrize("value", [0.0, -1.0, inf])
def test_a_size_is_above_zero_and_finite(field: str, value: float) -> None:
    """Zero and negative loads, areas and times are refused."""
    changed: dict[str, Any] = {field: value}
    found = check_row(row(replace(GOOD, **changed)), TODAY)

    assert field.rsplit("_", 1)[0] in {finding.key for finding in found if finding.grade == "error"}


def test_what_could_not_be_read_is_not_reported_twice() -> None:
    """The reader puts NaN where a number could not be read, and has said so itself."""
    unread = replace(GOOD, load_N=nan, area_m2=nan, lasted_s=nan, temperature_K=nan, lever_m=nan, found_s=nan)

    assert [finding for finding in check_row(row(unread), TODAY) if finding.grade == "error"] == []


@pytest.mark.parametrize(("dwell_s", "lasted_s", "wrong"), [(0.0, 86399.0, False), (43200.0, 86400.0, True)])
def test_a_test_cannot_be_longer_than_the_coupon_is_old(dwell_s: float, lasted_s: float, wrong: bool) -> None:
    """Made today: there has been at most a day for dwell and test."""
    coupon = replace(GOOD, made_on="2026-05-01", dwell_s=dwell_s, lasted_s=lasted_s)

    assert [finding.key for finding in check_row(row(coupon), TODAY)] == (["lasted"] if wrong else [])


def test_two_spellings_of_one_value_are_the_same() -> None:
    """1 h and 60 min may differ in the last digit; 180 N and 180.1 N differ."""
    assert same_coupon(GOOD, replace(GOOD, lasted_s=7200.0 * (1 + 1e-12)))
    assert differences(GOOD, replace(GOOD, load_N=180.1, note="x", area_m2=None)) == ("load", "area", "note")


def test_duplicates_of_a_file_name_the_first_line() -> None:
    """Three rows of one name give two findings, each with the first one's line; empty names are another matter."""
    found = find_duplicates(
        [row(GOOD, 2), row(GOOD, 5), row(replace(GOOD, load_N=1.0), 9), *[row(replace(GOOD, name=""))] * 2]
    )

    assert [(finding.line, finding.key) for finding in found] == [(5, "name"), (9, "name")]
    assert all("line 2" in finding.rule for finding in found)


def test_rows_are_sorted_against_the_logbook() -> None:
    """New, known and different rows are told apart; a different one must be meant."""
    rows = [row(replace(GOOD, name="new")), row(GOOD), row(replace(GOOD, name="A2", load_N=99.0))]
    known = [recorded(GOOD), recorded(replace(GOOD, name="A2"), name="A2")]
    refused, meant = (sort_rows(rows, known, supersede=supersede) for supersede in (False, True))

    assert [one.coupon.name for one in refused.new] == ["new"]
    assert [one.coupon.name for one in refused.already] == ["A1"]
    assert "entry 7 of the logbook has that name and differs in load" in refused.findings[0].rule
    assert "--supersede" in refused.findings[0].hint
    assert [one.coupon.name for one in meant.corrections] == ["A2"]
    assert meant.findings == ()


def test_a_row_against_a_hanging_coupon() -> None:
    """What hangs is ended by `hang end`; the row that an export made of it is known already."""
    holding = replace(GOOD, result="holding")

    assert (
        "hanging"
        in sort_rows([row(GOOD)], [recorded(holding, hanging=True)], supersede=False).findings[0].rule
    )
    assert (
        "hanging" in sort_rows([row(GOOD)], [recorded(None, hanging=True)], supersede=False).findings[0].rule
    )
    assert sort_rows([row(holding)], [recorded(holding, hanging=True)], supersede=False).already != ()


def test_names_that_nothing_else_has_are_refused_once_or_doubted() -> None:
    """A coupon of an unknown tape or surface would count for nothing: said once a name, a doubt where it is meant."""
    rows = [row(replace(GOOD, tape="gray foam"), 2), row(replace(GOOD, tape="gray foam"), 3), row(GOOD, 4)]
    found = check_names(rows, ["grey foam"], ["steel paint"])

    assert [(finding.line, finding.key, finding.grade) for finding in found] == [
        (2, "tape", "error"),
        (2, "surface", "error"),
    ]
    assert found[0].hint == "did you mean grey foam?"
    assert found[1].hint == "there are steel paint"
    assert [finding.rule.partition(", nor for ")[2] for finding in found] == ["1 more row", "2 more rows"]
    assert {finding.grade for finding in check_names(rows, ["grey foam"], ["steel paint"], "warning")} == {
        "warning"
    }
    assert check_names(rows, [], []) == ()
