"""Amounts are told in both systems with digits that mean something."""

from __future__ import annotations

import pytest

from staydown.outputs.amounts import amount, bare_pair, bare_percent, length, marked, percent, units_of

POUND_N = 4.4482216152605  # one pound-force, exact by the definitions of 1959 and ISO 80000-3


@pytest.mark.by_hand
@pytest.mark.parametrize("force_N", [0.5, 4.0, 9.6, 44.0, 412.0, 1977.0])
def test_newtons_and_pounds_are_the_same_force(force_N: float) -> None:
    """The twin in pounds is the newtons over 4.448, and the system asked for stands first."""
    metric, us = amount(force_N, "N", "metric"), amount(force_N, "N", "us")
    pounds = float(us.split(" ")[0])

    assert pounds == pytest.approx(force_N / POUND_N, abs=0.5 if pounds >= 10 else 0.05)
    assert metric.split(" ")[1] == "N"
    assert us.split(" ")[1] == "lb"
    assert metric.split(" ")[0] == us.split("(")[1].split(" ")[0]


@pytest.mark.by_hand
def test_lengths_in_millimetres_and_inches() -> None:
    """An inch is 25.4 mm: 1480 / 25.4 = 58.3, 75 / 25.4 = 2.95."""
    assert length(1.48, "metric") == "1480 mm (58 in)"
    assert length(0.075, "us") == "3.0 in (75 mm)"


def test_what_is_not_known_is_said_so() -> None:
    """No number that is not one is ever printed."""
    nothing = float("nan")

    assert amount(nothing, "N", "metric") == percent(None) == percent(nothing) == "not known"
    assert bare_pair(nothing, "Pa", "us") == bare_percent(None) == marked(None, "none") == "-"
    assert amount(float("inf"), "Pa", "metric") == "not known"


@pytest.mark.by_hand
def test_a_use_just_over_the_whole_does_not_read_as_the_whole() -> None:
    """100.1 % is over, so it must not round to 100; 99.9 % is not, and may."""
    assert bare_percent(1.001) == "101"
    assert bare_percent(0.999) == "100"
    assert marked(1.001, "covered") == "101!"
    assert bare_percent(0.001) == "<1"
    assert bare_percent(0.0) == "0"


def test_units_of_a_head_follow_the_person() -> None:
    """The person's own unit is first, the other in brackets."""
    assert (units_of("N", "metric"), units_of("N", "us")) == ("N (lb)", "lb (N)")
    assert units_of("Pa", "us") == "psi (kPa)"
