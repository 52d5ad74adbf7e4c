"""The families of scatter against the library's own functions and against plain sums."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import log_ndtr, ndtr, ndtri

from staydown.strength import families

GRID = np.linspace(-9.0, 30.0, 4001)


@pytest.mark.independent
def test_normal_tails_are_the_library_s() -> None:
    """The own fit follows scipy.special.log_ndtr: to 1e-6 relative in single, 1e-9 in double precision."""
    library = log_ndtr(-GRID)

    assert families.log_survival("normal", GRID) == pytest.approx(library, rel=1e-6, abs=1e-6)
    assert families.log_survival_exact("normal", GRID) == pytest.approx(library, rel=1e-9, abs=3e-9)


@pytest.mark.independent
@pytest.mark.parametrize("family", ["normal", "weibull"])
def test_standardised(family: families.Family) -> None:
    """Both densities have mean 0 and variance 1, and integrate to what `log_survival` says."""
    epsilon = np.linspace(-25.0, 12.0, 200_001)
    step = epsilon[1] - epsilon[0]
    density = np.exp(families.log_density(family, epsilon)) * step

    assert density.sum() == pytest.approx(1.0, abs=1e-8)
    assert density @ epsilon == pytest.approx(0.0, abs=1e-8)
    assert density @ epsilon**2 == pytest.approx(1.0, abs=1e-6)
    above = density[epsilon > 0.7].sum()
    assert math.exp(families.log_survival(family, np.array([0.7]))[0]) == pytest.approx(above, rel=5e-4)


@pytest.mark.by_hand
def test_quantiles() -> None:
    """A share of 0.9 exceeds -1.2816 (normal); for Weibull exp(-exp(w)) = 0.9 in w = eps pi/sqrt(6) - 0.5772."""
    w = math.log(-math.log(0.9))

    assert families.quantile("normal", 0.9) == pytest.approx(float(ndtri(0.1)), rel=1e-12)
    assert families.quantile("weibull", 0.9) == pytest.approx(
        (w + 0.5772156649) / (math.pi / math.sqrt(6)), rel=1e-9
    )


@pytest.mark.independent
@pytest.mark.parametrize(
    ("low", "high"), [(-2.0, 1.0), (3.0, 3.5), (-9.0, -8.5), (1.0, 1.0001), (12.0, 12.5)]
)
def test_between_two_looks(low: float, high: float) -> None:
    """The share between two errors is the difference of the library's distribution, on the accurate side."""
    share = ndtr(-low) - ndtr(-high) if low > 0 else ndtr(high) - ndtr(low)
    found = families.log_between("normal", np.array([low]), np.array([high]))[0]

    assert found == pytest.approx(math.log(share), abs=2e-6)


@pytest.mark.by_hand
def test_between_of_weibull() -> None:
    """exp(-e^w1) - exp(-e^w2) with w = eps pi/sqrt(6) - 0.5772."""
    w1, w2 = (e * math.pi / math.sqrt(6) - 0.5772156649015329 for e in (-0.5, 0.4))
    found = families.log_between("weibull", np.array([-0.5]), np.array([0.4]))[0]

    assert found == pytest.approx(math.log(math.exp(-math.exp(w1)) - math.exp(-math.exp(w2))), abs=1e-9)
