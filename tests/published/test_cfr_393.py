"""49 CFR 393.102, cargo securement: the accelerations that must be withstood."""

from __future__ import annotations

import pytest

from staydown.storage.read_cards import read_cards


@pytest.mark.published
def test_forces_on_an_article_of_15_kg() -> None:
    """393.102(a)(1): 0.8 g forward, 0.5 g rearward and lateral; 15 kg give 117.7 and 73.5 N; read online."""
    planning = read_cards().planning
    force_N = {
        key: 15.0 * float(planning[key].decided.value) for key in ("braking", "speeding_up", "cornering")
    }

    assert force_N["braking"] == pytest.approx(117.7, abs=0.05)
    assert force_N["speeding_up"] == force_N["cornering"] == pytest.approx(73.5, abs=0.06)
    assert all(planning[key].band.basis == "published" for key in force_N)
