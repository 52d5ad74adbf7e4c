"""CMH-17-1G: one-sided tolerance factors (tables 8.5.10 and 8.5.11) and an 18-specimen strength set.

Tables and set were found in public copies of the handbook's figures, not read in the handbook.
"""

from __future__ import annotations

import numpy as np
import pytest

from staydown.strength.tolerance_laws import lower_bound_of_logs, tolerance_factor

B_BASIS = {
    3: 6.155,
    5: 3.407,
    6: 3.006,
    8: 2.582,
    10: 2.355,
    12: 2.210,
    15: 2.068,
    20: 1.926,
    30: 1.777,
    50: 1.646,
}
A_BASIS = {
    3: 10.553,
    5: 5.741,
    6: 5.062,
    8: 4.354,
    10: 3.981,
    12: 3.747,
    15: 3.520,
    20: 3.295,
    30: 3.064,
    50: 2.862,
}
STRENGTHS = np.array(
    [137.4438, 139.5395, 150.89, 141.4474, 141.8203, 151.8821, 143.9245, 132.9732, 136.6419]
    + [138.1723, 148.7668, 143.283, 143.5429, 141.7023, 137.4732, 152.338, 144.1589, 128.5218]
)


@pytest.mark.published
@pytest.mark.parametrize(("content", "table"), [(0.90, B_BASIS), (0.99, A_BASIS)])
def test_tolerance_factors(content: float, table: dict[int, float]) -> None:
    """Factors for 95 % confidence in tables 8.5.10 (90 % content) and 8.5.11 (99 %)."""
    counts = np.array(list(table), dtype=float)

    assert tolerance_factor(counts, content, 0.95) == pytest.approx(list(table.values()), abs=1.5e-3)


@pytest.mark.published
@pytest.mark.parametrize(("count", "factor"), [(5, 2.742), (10, 2.066), (20, 1.765)])
def test_factors_at_90_confidence(count: int, factor: float) -> None:
    """Factors for 90 % content at 90 % confidence, ISO 16269-6, from memory."""
    assert tolerance_factor(count, 0.90, 0.90) == pytest.approx(factor, abs=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(
    ("content", "normal", "lognormal"), [(0.90, 129.287, 129.664), (0.99, 120.336, 121.710)]
)
def test_basis_values_of_the_strength_set(content: float, normal: float, lognormal: float) -> None:
    """B- and A-basis of 18 strengths; the published factors are approximations, so ±0.02."""
    factor = tolerance_factor(STRENGTHS.size, content, 0.95)
    logs = np.log(STRENGTHS)

    assert lower_bound_of_logs(STRENGTHS.mean(), STRENGTHS.std(ddof=1), factor) == pytest.approx(
        normal, abs=0.02
    )
    assert np.exp(lower_bound_of_logs(logs.mean(), logs.std(ddof=1), factor)) == pytest.approx(
        lognormal, abs=0.02
    )
