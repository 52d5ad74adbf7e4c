"""The plate, its columns eliminated one by one, against scikit-fem's assembly of the same element."""

from __future__ import annotations

import pytest

import own_panel


@pytest.mark.oracle
@pytest.mark.independent
@pytest.mark.parametrize("frame_N_m2", [0.0, 1400.0])
def test_plate_and_frame_agree_with_scikit_fem(frame_N_m2: float) -> None:
    """The same element on the same cells, assembled by scikit-fem and solved whole by SciPy: 1e-6."""
    pytest.importorskip("skfem")
    import scikit_fem_panel

    theirs = scikit_fem_panel.lifts((12, 6), frame_N_m2)

    assert own_panel.lifts((12, 6), frame_N_m2) == pytest.approx(theirs, rel=1e-6)
