"""Quantiles of weighted values and of competing questions."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import stdtrit

from coupon_samples import CARD, ROOM_K, HOUR_s, lives
from staydown.strength.belief import BeliefSettings
from staydown.strength.build_belief import believe
from staydown.strength.quantiles import weighted_quantiles


@pytest.mark.by_hand
def test_weighted_quantiles() -> None:
    """Three values with weights 1/4, 1/2, 1/4: the median is the middle one, 1/8 the first, 7/8 the last."""
    found = weighted_quantiles(np.array([3.0, 1.0, 2.0]), np.array([0.25, 0.25, 0.5]), (0.125, 0.5, 0.875))

    assert found == pytest.approx([1.0, 2.0, 3.0])


@pytest.mark.independent
def test_median_of_one_condition_is_students_t() -> None:
    """Reference prior, one condition: the mean of log life is believed as Student's t about the sample's mean."""
    logs = np.array([0.1, 0.4, 0.25, 0.6, 0.3])
    belief = believe(lives(10**logs, stress_Pa=1e5), CARD, settings=BeliefSettings(prior="reference"))
    for confidence in (0.6, 0.9, 0.95, 0.99):
        life = np.log10(belief.life_bound(1e5, ROOM_K, 0.5, confidence) / HOUR_s)
        expected = logs.mean() - stdtrit(4, confidence) * logs.std(ddof=1) / 5**0.5
        assert life == pytest.approx(expected, abs=2e-4)


def test_no_exposure_no_bound() -> None:
    """Nothing asked, nothing answered."""
    belief = believe(lives([1.0, 2.0, 3.0], stress_Pa=1e5), CARD)

    assert belief.lower_bound([], 0.9, 0.95).shape == (0,)
