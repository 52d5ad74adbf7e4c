"""Harris, Shock and Vibration Handbook: an undamped mass hit by a half-sine pulse; values from memory."""

from __future__ import annotations

import numpy as np
import pytest

from staydown.spread.frequency_laws import half_sine_factor


def stepped(periods: float) -> float:
    """Return the largest response to a pulse of so many periods, by the sum of Duhamel's integral."""
    time = np.linspace(0.0, periods + 1.5, 60_001)
    step = time[1] - time[0]
    push = np.where(time <= periods, np.sin(np.pi * time / periods), 0.0)
    sines, cosines = np.sin(2 * np.pi * time), np.cos(2 * np.pi * time)
    response = sines * np.cumsum(push * cosines) - cosines * np.cumsum(push * sines)
    return float(2 * np.pi * step * np.abs(response).max())


@pytest.mark.published
def test_the_worst_pulse() -> None:
    """The largest factor is 1.768, for a pulse of 0.81 periods."""
    periods = np.linspace(0.3, 2.0, 1701)

    factors = half_sine_factor(periods, 1.0)

    assert factors.max() == pytest.approx(1.768, abs=2e-3)
    assert periods[np.argmax(factors)] == pytest.approx(0.81, abs=0.01)


@pytest.mark.independent
@pytest.mark.parametrize("periods", [0.05, 0.2, 0.4999, 0.5, 0.6, 0.81, 1.0, 1.5, 2.2, 3.7, 9.0])
def test_against_duhamel(periods: float) -> None:
    """The closed form equals a step-by-step sum of Duhamel's integral, below, at and above half a period."""
    assert float(half_sine_factor(periods, 1.0)) == pytest.approx(stepped(periods), rel=2e-3)


@pytest.mark.published
def test_a_long_pulse_is_a_slow_one() -> None:
    """A pulse of very many periods does no more than the same force at rest."""
    assert float(half_sine_factor(400.25, 1.0)) == pytest.approx(1.0, abs=5e-3)
