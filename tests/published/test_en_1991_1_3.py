"""EN 1991-1-3:2003, snow loads: shape coefficient of a flat roof, bulk weight of snow."""

from __future__ import annotations

import pytest

from sample_jobs import PANEL, over, part_of, row_of, table_of
from staydown.loads.force_laws import pressed_area

SETTLED_N_per_m3 = 2.0e3  # Annex E, Table E.1; read in two public transcriptions
FLAT = 0.8  # 5.3.1, mu_1 to 30 degrees; from memory


@pytest.mark.published
def test_settled_snow_on_a_panel() -> None:
    """0.20 m of settled snow (2.0 kN/m3) on 1.7 m2 press with 680 N."""
    assert pressed_area(-1.0, 0.20 * SETTLED_N_per_m3, 1.7, 1.0) == pytest.approx(-680.0, abs=1e-9)


@pytest.mark.published
def test_snow_of_the_standard_in_a_table_of_cases() -> None:
    """Cross-check, 5.2: s = 0.8 sk = 1.2 kPa for sk = 1.5 kPa; typed as the roof's snow it presses with s A."""
    snow_Pa = FLAT * 1.5e3
    table = table_of(PANEL, {"climate.snow_Pa": snow_Pa})

    assert snow_Pa == pytest.approx(1.2e3)
    assert over(part_of(table, "snow").force[2], table)[row_of(table, "snow"), 2, 0] == pytest.approx(
        -1.2e3 * 1.48 * 0.67
    )
