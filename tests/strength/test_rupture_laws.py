"""Laws of rupture: what theory promises of them. Published values stand in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from staydown.strength import rupture_laws as laws
from staydown.strength.temperature_terms import temperature_term

POSITIVE = st.floats(1e3, 1e6)
SLOPES = st.floats(1.0, 30.0)


@given(POSITIVE, POSITIVE, SLOPES)
def test_life_and_stress_invert_each_other(stress_Pa: float, strength_Pa: float, slope: float) -> None:
    """The stress for a life is the stress whose life it is."""
    life_s = laws.rupture_life(stress_Pa, strength_Pa, 3600.0, slope)

    assert laws.stress_for_life(life_s, strength_Pa, 3600.0, slope) == pytest.approx(stress_Pa, rel=1e-9)


@given(POSITIVE, st.floats(1e2, 1e6), SLOPES)
def test_a_ramp_uses_up_its_life_at_the_break(strength_Pa: float, rate_Pa_per_s: float, slope: float) -> None:
    """The stress of the break is held for the static life of the pull: Robinson's sum along the ramp is one."""
    stress = laws.ramp_breaking_stress(rate_Pa_per_s, strength_Pa, 3600.0, slope)
    static_s = laws.ramp_static_life(stress / rate_Pa_per_s, slope)

    assert laws.rupture_life(stress, strength_Pa, 3600.0, slope) == pytest.approx(static_s, rel=1e-9)


@given(st.floats(250.0, 370.0), st.floats(250.0, 370.0))
def test_shifts_chain(first_K: float, second_K: float) -> None:
    """Shifting there and back changes nothing, by either law."""
    there = laws.arrhenius_shift(first_K, second_K, 80e3)
    moved = (
        laws.moved_wlf_slope(first_K, second_K, 9.0, 150.0),
        laws.moved_wlf_offset(first_K, second_K, 150.0),
    )

    assert there * laws.arrhenius_shift(second_K, first_K, 80e3) == pytest.approx(1.0, rel=1e-9)
    back = laws.wlf_shift(second_K, first_K, *moved)
    assert laws.wlf_shift(first_K, second_K, 9.0, 150.0) * back == pytest.approx(1.0, rel=1e-9)


@pytest.mark.independent
def test_terms_of_the_belief_are_the_laws() -> None:
    """The factor of the activation energy gives the same shift as Arrhenius' and WLF's own laws."""
    warm_K, energy = 333.15, 80e3
    arrhenius, wlf = (float(temperature_term(law, np.array([warm_K]))[0]) for law in ("arrhenius", "wlf"))
    # the WLF slope whose apparent energy at 23 °C is 80 kJ/mol: Ea = ln 10 R T0² c1/c2
    slope = energy * 104.6 / (np.log(10) * laws.GAS_CONSTANT_J_per_mol_K * 296.15**2)

    assert 10 ** (energy * arrhenius) == pytest.approx(laws.arrhenius_shift(warm_K, 296.15, energy), rel=1e-9)
    assert 10 ** (energy * wlf) == pytest.approx(laws.wlf_shift(warm_K, 296.15, slope, 104.6), rel=1e-9)


def test_wlf_stops_at_the_glass_transition() -> None:
    """Far below the transition the law has no value."""
    with pytest.raises(ValueError, match="glass transition"):
        temperature_term("wlf", np.array([190.0]))
