"""EN 1993-1-3:2006, cold-formed members and sheeting, Table 8.2: self-tapping screws."""

from __future__ import annotations

import pytest

from staydown.strength.screw_laws import sheet_pull_out_force


@pytest.mark.published
def test_pull_out_of_a_thin_support() -> None:
    """F = 0.45 d t f_u/1.25 where the sheet is thinner than the pitch, 0.65 where it is not; from memory.

    d 5.5 mm, f_u 360 MPa: t 1.25 mm on a pitch of 1.8 mm 891 N, on a pitch of 1.0 mm 1287 N.
    """
    assert sheet_pull_out_force(1.25e-3, 1.8e-3, 5.5e-3, 360e6) == pytest.approx(891.0, rel=1e-9)
    assert sheet_pull_out_force(1.25e-3, 1.0e-3, 5.5e-3, 360e6) == pytest.approx(1287.0, rel=1e-9)


@pytest.mark.independent
def test_near_the_american_rule() -> None:
    """AISI S100 gives 0.85 t d F_u/3 allowed for pull-out, from memory; with 1.5 on the load both agree within 40 %."""
    european = sheet_pull_out_force(0.9e-3, 1.8e-3, 5.5e-3, 360e6)
    american = 0.85 * 0.9e-3 * 5.5e-3 * 360e6 / 3.0 * 1.5

    assert 0.6 < european / american < 1.4
