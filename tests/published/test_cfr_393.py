"""49 CFR 393.102, cargo securement: the accelerations that must be withstood."""

from __future__ import annotations

import pytest

from sample_jobs import PANEL, over, part_of, row_of, table_of
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


@pytest.mark.published
@pytest.mark.parametrize(
    ("case", "axis", "force_N"),
    [
        ("braking", 0, 117.7),
        ("speeding up", 0, -73.5),
        ("cornering left", 1, -73.5),
        ("cornering right", 1, 73.5),
    ],
)
def test_forces_in_a_table_of_cases(case: str, axis: int, force_N: float) -> None:
    """393.102(a)(1) for an item of 15 kg: the part of the case, before its factor; cornering left pushes right."""
    table = table_of(PANEL, {"item.0.mass_kg": 15.0})
    part = part_of(table, case)
    for season in ("hot", "cold"):
        row = row_of(table, case, season)

        assert part.acts[row]
        assert over(part.force[axis], table)[row, 0, 0] == pytest.approx(force_N, abs=0.06)
