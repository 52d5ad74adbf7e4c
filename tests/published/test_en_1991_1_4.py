"""EN 1991-1-4:2005+A1, wind actions: canopies and gusts. Written for buildings that stand; cross-checks but one."""

from __future__ import annotations

from math import log, sqrt

import pytest

from staydown.loads.wind_laws import pressure_centre
from staydown.storage.read_cards import read_cards

PLANNING = read_cards().planning
CANOPY_AT_0_DEG = {
    "empty below": 0.5,
    "blocked below": 1.3,
}  # Table 7.6, -cf min; read in a public transcription


@pytest.mark.published
def test_force_of_a_canopy_acts_at_a_quarter() -> None:
    """7.3(6), Figure 7.16: resultant of a monopitch canopy at d/4 from the windward edge; from memory."""
    depth = 1.48

    assert depth / 2 - pressure_centre(depth, 25.0, 25.0) == pytest.approx(depth / 4)
    assert depth / 2 + pressure_centre(depth, -25.0, 25.0) == pytest.approx(depth / 4)  # from behind


@pytest.mark.published
def test_planning_uplift_lies_between_an_empty_and_a_blocked_canopy() -> None:
    """Cross-check, Table 7.6 at 0 degrees: net uplift 0.5 with nothing below, 1.3 fully blocked, linear between.

    A panel over a roof is neither. The deciding ends for an open edge lie above the empty canopy, and the one near the
    roof's edge 8 % below the blocked one.
    """
    near, inner = PLANNING["uplift.open.near_edge"], PLANNING["uplift.open.inner"]

    assert CANOPY_AT_0_DEG["empty below"] < inner.decided.value < near.decided.value
    assert near.decided.value == pytest.approx(CANOPY_AT_0_DEG["blocked below"], rel=0.10)
    assert near.band.likely == pytest.approx(sum(CANOPY_AT_0_DEG.values()) / 2, rel=0.01)  # half blocked


@pytest.mark.published
def test_planning_uplift_of_a_flush_item_against_a_flat_roof() -> None:
    """Cross-check, Table 7.2, sharp eaves, cpe,10: suction H 0.7 inside; F 1.8 and G 1.2 at the windward edge.

    The edge zones of a house with sharp eaves exceed the band: a vehicle's roof has round edges, and this is said.
    """
    assert PLANNING["uplift.flush.inner"].decided.value == pytest.approx(0.7)
    assert 0.7 < PLANNING["uplift.flush.near_edge"].decided.value < 1.2


@pytest.mark.published
def test_gust_factor_against_the_peak_velocity_pressure() -> None:
    """Cross-check, 4.4 and 4.5: peak over mean speed is sqrt(1 + 7 Iv), Iv = 1/ln(z/z0), terrain II, z0 = 0.05 m.

    At 10 m Iv = 0.1887 and the factor 1.52, inside the planning band; formulas from memory, recomputed.
    """
    turbulence = 1 / log(10 / 0.05)
    band = PLANNING["gust_factor"].band

    assert turbulence == pytest.approx(0.1887, abs=1e-4)
    assert band.low < sqrt(1 + 7 * turbulence) < band.high
    assert band.likely == pytest.approx(sqrt(1 + 7 * turbulence), rel=0.02)
