"""The sign trade's rule for foam tape, 4 square inches a pound: common practice, no source. A cross-check."""

from __future__ import annotations

import pytest

from staydown.loads.force_laws import weight
from staydown.spread.pad_laws import mean_tension

POUND_kg = 0.45359237
INCH_m = 0.0254
GRAVITY_m_per_s2 = 9.80665
AREA_FOR_A_KILOGRAM_m2 = 4 * INCH_m**2 / POUND_kg


@pytest.mark.by_hand
def test_the_rule_is_a_quarter_of_a_psi() -> None:
    """4 in2/lb = 56.89 cm2/kg carries a mass at 0.25 psi = 1723.7 Pa; rounded to 55 cm2/kg it is 1783.0 Pa."""
    load = -weight(1.0, GRAVITY_m_per_s2)

    assert AREA_FOR_A_KILOGRAM_m2 * 1e4 == pytest.approx(56.89, abs=0.01)
    assert mean_tension(load, AREA_FOR_A_KILOGRAM_m2) == pytest.approx(1723.7, abs=0.1)
    assert mean_tension(load, 55e-4) == pytest.approx(1783.0, abs=0.1)


@pytest.mark.by_hand
def test_the_rule_knows_nothing_of_the_wind() -> None:
    """Pads of the rule's area under 11 kg: 1613 N of uplift put 25.8 kPa on them, 15 times its stress."""
    area = 11.0 * AREA_FOR_A_KILOGRAM_m2

    assert mean_tension(1613.0, area) == pytest.approx(25.8e3, rel=1e-2)
    assert mean_tension(1613.0, area) / 1723.7 == pytest.approx(15.0, rel=0.01)
