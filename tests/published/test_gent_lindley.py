"""Gent & Lindley, Proc. Inst. Mech. Engrs 173 (1959) 111: a thin block of rubber between rigid plates; from memory."""

from __future__ import annotations

import pytest

from staydown.spread import foot_laws


@pytest.mark.published
def test_apparent_modulus_of_a_thin_solid_pad() -> None:
    """E_c = E (1 + 2 S^2) with S = a b/(2 t (a + b)): 50 x 50 x 1.1 mm give S = 11.36 and a factor of 259."""
    shape = foot_laws.shape_factor(0.05, 0.05, 1.1e-3)

    assert shape == pytest.approx(11.36, rel=1e-3)
    assert foot_laws.apparent_modulus(1.0, shape) == pytest.approx(259.0, rel=2e-3)


@pytest.mark.independent
def test_volume_gives_where_the_pad_is_very_thin() -> None:
    """1/E = 1/E_c + 1/K: a block as tall as wide keeps its own modulus, a film has no more than the bulk modulus."""
    block = foot_laws.with_bulk(foot_laws.apparent_modulus(2e6, 0.25), 2e9)
    film = foot_laws.with_bulk(foot_laws.apparent_modulus(2e6, 1e3), 2e9)

    assert block == pytest.approx(2e6 * 1.125, rel=2e-3)
    assert film == pytest.approx(2e9, rel=2e-3)
