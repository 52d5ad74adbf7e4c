"""The spread against a general-purpose frame program, on the layouts of the benchmark."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

BENCHMARK = Path(__file__).parents[2] / "benchmarks" / "spread_vs_pynite.py"


@pytest.fixture(scope="module")
def benchmark() -> ModuleType:
    """Return the benchmark script as a module."""
    pytest.importorskip("Pynite")
    spec = importlib.util.spec_from_file_location("spread_vs_pynite", BENCHMARK)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["spread_vs_pynite"] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.oracle
@pytest.mark.independent
def test_reactions_equal_those_of_a_frame_program(benchmark: ModuleType) -> None:
    """Twenty random layouts agree with PyNiteFEA's stiff members on springs to 1e-6 of the largest reaction."""
    layouts = benchmark.random_layouts(20, seed=11)
    theirs = np.stack([benchmark.in_frame_program(layouts, layout) for layout in range(20)])

    assert benchmark.largest_difference(benchmark.together(layouts), theirs) < 1e-6


@pytest.mark.oracle
@pytest.mark.independent
def test_soft_members_are_seen(benchmark: ModuleType) -> None:
    """With members only a thousand times as stiff as the springs the item bends and the two part."""
    layouts = benchmark.random_layouts(5, seed=11)
    theirs = np.stack([benchmark.in_frame_program(layouts, layout, 1e3) for layout in range(5)])

    assert benchmark.largest_difference(benchmark.together(layouts), theirs) > 1e-5
