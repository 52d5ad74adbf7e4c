"""The plan in words where no test is worth making: what is enough, of which share of bonds, and what is not."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from staydown.outputs.plan_text import plan_text, quiet_text
from staydown.storage.write_whole import write_whole
from staydown.workbench.demo import lay_out_demo
from staydown.workbench.plan import PlanAnswer, plan_of


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the demo."""
    return lay_out_demo(tmp_path_factory.mktemp("demo") / "job", datetime(2026, 6, 1, tzinfo=UTC)).folder


@pytest.fixture(scope="module")
def before(folder: Path) -> PlanAnswer:
    """Return the plan of the demo: an item may not lose a mount."""
    return plan_of(folder)


def said_of(answer: PlanAnswer, item: str) -> str:
    """Return what the plan says of an item, on one line."""
    text = plan_text(answer.plans, answer.assessment)
    return " ".join(text.split(f"Curlew / {item}\n")[1].split("Curlew / ")[0].split())


def test_what_is_enough_stands_on_its_numbers_and_comes_first(before: PlanAnswer) -> None:
    """The largest use under a load, where, and the share of bonds: as in the assessment that the plan rests on."""
    for assessed in before.assessment.items:
        mounted = assessed.mounted
        assert mounted is not None
        use = mounted.checks.use_at_high()
        loaded = [number for number, case in enumerate(mounted.table.cases) if case.family != "soak"]
        most = use[loaded].max()
        share = float(mounted.content.value)
        said = said_of(before, assessed.item.name)

        assert said.startswith("No test is worth making now: with every mount in place")
        assert f"a bound that {100 * share:.0f} % of bonds hold, 95 % sure" in said
        assert f"uses {100 * most:.0f} % of it" in said


def test_what_coupons_cannot_mend_is_said_after_it(before: PlanAnswer) -> None:
    """A NOT PROVEN for another reason is named as such behind what is enough; an item that may go has no such part."""
    panel, dome = said_of(before, "panel"), said_of(before, "antenna dome")

    assert re.search(
        r"uses \d+ % of it\. It is NOT PROVEN all the same, and not for want of coupons: - not redundant",
        panel,
    )
    assert panel.endswith("What would change it: `staydown check`.")
    assert "all the same" not in dome
    assert "proven for every case" not in panel + dome


def test_one_line_each_has_the_word(before: PlanAnswer) -> None:
    """For scripts: the item's word stands before what is left to test."""
    assert quiet_text(before.plans, before.assessment).splitlines() == [
        "antenna dome: GO WITH CONDITIONS; no test is worth making now",
        "panel: NOT PROVEN; no test is worth making now",
    ]


def test_without_the_reason_no_more_is_said(folder: Path, tmp_path: Path) -> None:
    """After the demo's change nothing is in the way: what is enough, at the smaller share, and no more."""
    for name in ("logbook.sqlite", "logbook.head"):
        write_whole(tmp_path / name, (folder / name).read_bytes())
    write_whole(tmp_path / "job.toml", (folder / "changed.toml").read_bytes())
    said = said_of(plan_of(tmp_path), "panel")

    assert "a bound that 90 % of bonds hold" in said
    assert "NOT PROVEN" not in said
