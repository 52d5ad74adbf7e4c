"""The tables of mounts and cases show the numbers of the assessment."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from staydown.assess import Assessment, Mounted
from staydown.foundation.numbers import at
from staydown.loads.load_case import BANDS
from staydown.outputs.most_used import by_mount, pulling_cases
from staydown.outputs.tables_text import case_table, mount_table
from staydown.verdict.checks import HIGH

LIKELY = BANDS.index("likely")
POUND_N, PSI_Pa = 4.4482216152605, 6894.757293168  # exact by the definitions of the pound and the inch


def mounted_of(assessment: Assessment) -> Mounted:
    """Return the numbers of a job's first item."""
    mounted = assessment.items[0].mounted
    assert mounted is not None
    return mounted


def rounded(text: str) -> float:
    """Return half a unit of the last digit that a figure shows."""
    half: float = 0.5 * 10.0 ** -len(text.partition(".")[2]) + 1e-9
    return half


@pytest.mark.independent
def test_a_row_of_mounts_is_force_stress_and_use(assessed: Callable[[str], Assessment]) -> None:
    """Newtons and pounds, kilopascals and psi, use at likely and high: each from the arrays of the calculation."""
    mounted = mounted_of(assessed("twelve mounts"))
    rows = [line for line in mount_table(mounted, "metric", 120) if re.match(r"  foot \d+ ", line)]
    picks = by_mount(mounted, pulling_cases(mounted))

    assert len(rows) == len(picks) == 12
    for row, found in zip(rows, picks, strict=True):
        cells = re.split(r"  +", row.strip())
        high, likely = (found.case, HIGH, found.mount), (found.case, LIKELY, found.mount)
        newtons, pounds = re.findall(r"[\d.]+", cells[1])
        kilopascals, psi = re.findall(r"[\d.]+", cells[2])
        uses = [float(text) for text in cells[4].split(" / ")]
        along, across, pull = (at(part, high) for part in mounted.demands.force)
        force_N = pull if pull > 0.0 else (along**2 + across**2) ** 0.5
        peak_Pa = at(mounted.demands.peak_tension, high)

        assert cells[0] == mounted.demands.mounts[found.mount]
        assert cells[1].startswith("→") == (pull <= 0.0)
        assert float(newtons) == pytest.approx(force_N, abs=rounded(newtons))
        assert float(pounds) == pytest.approx(force_N / POUND_N, abs=rounded(pounds))
        assert float(kilopascals) == pytest.approx(peak_Pa / 1e3, abs=rounded(kilopascals))
        assert float(psi) == pytest.approx(peak_Pa / PSI_Pa, abs=rounded(psi))
        assert uses == [
            pytest.approx(100 * at(mounted.checks.use, index), abs=0.5) for index in (likely, high)
        ]
        assert cells[5] == mounted.checks.level(found.case, found.mount)


def test_every_case_stands_alone_when_asked_for(assessed: Callable[[str], Assessment]) -> None:
    """Without `verbose` at most twelve rows and the number of the others; with it every case by its name."""
    mounted = mounted_of(assessed("panel"))
    short, full = case_table(mounted, "us", 120, verbose=False), case_table(mounted, "us", 120, verbose=True)
    told = re.search(r"and (\d+) more", "\n".join(short))

    assert told is not None
    assert any("worst of 8" in line for line in short)
    assert not any("worst of" in line for line in full)
    for case in mounted.table.cases:
        name = case.name if case.family in ("snow", "soak") else f"{case.name}, {case.exposure.season}"
        assert any(line.startswith(f"  {name} ") for line in full), name


def test_heat_is_told_apart_from_force(assessed: Callable[[str], Assessment]) -> None:
    """A soak has no pull and rests on a planning value, so it never reads as covered by tests."""
    rows = case_table(mounted_of(assessed("panel")), "metric", 120, verbose=True)
    soaks = [row for row in rows if "soak" in row]

    assert len(soaks) == 2
    assert all("heat only" in row and row.endswith("assumed") for row in soaks)
