"""Nelson, Accelerated Testing (1990), ch. 3: breakdown of an insulating fluid under constant voltage."""

from __future__ import annotations

import pytest

from coupon_samples import lives
from staydown.strength.fits import fit_life
from staydown.strength.trials import Trials, trials_of

# minutes to breakdown by kilovolts; the set was found in the test-suite of an open library, whose values are R's
MINUTES = {
    26: "5.79 1579.52 2323.70",
    28: "68.85 108.29 110.29 426.07 1067.60",
    30: "7.74 17.05 20.46 21.02 22.66 43.40 47.30 139.07 144.12 175.88 194.90",
    32: "0.27 0.40 0.69 0.79 2.75 3.91 9.88 13.95 15.93 27.80 53.24 82.85 89.29 100.59 215.10",
    34: "0.19 0.78 0.96 1.31 2.78 3.16 4.15 4.67 4.85 6.50 7.35 8.01 8.27 12.06 31.75 32.52 33.91 36.71 72.89",
    36: "0.35 0.59 0.96 0.99 1.69 1.97 2.07 2.58 2.71 2.90 3.67 3.99 5.35 13.77 25.50",
    38: "0.09 0.39 0.47 0.73 0.74 1.13 1.40 2.38",
}


def fluid() -> Trials:
    """Return the set with kilovolts for stress and minutes for hours: the power law is the same."""
    coupons = []
    for kV, minutes in MINUTES.items():
        coupons += lives([float(m) for m in minutes.split()], stress_Pa=float(kV))
    return trials_of(coupons, "not named")


@pytest.mark.published
def test_weibull_power_law() -> None:
    """Inverse power law with Weibull life: shape 0.7766, exponent 17.730, log likelihood -300.8176."""
    fit = fit_life(fluid(), "weibull", 9.0, 80e3)

    assert fit.weibull_shape == pytest.approx(0.7766, abs=1e-3)
    assert fit.slope == pytest.approx(17.730, abs=1e-3)
    assert fit.log_likelihood == pytest.approx(-300.8176, abs=1e-3)


@pytest.mark.published
def test_lognormal_power_law() -> None:
    """The same with lognormal life: log likelihood -303.602."""
    assert fit_life(fluid(), "normal", 9.0, 80e3).log_likelihood == pytest.approx(-303.602, abs=1e-3)
