"""What it costs not to know a value is told from the assessment without it and with it."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from staydown.assess import assess
from staydown.foundation.quantities import both
from staydown.outputs.amounts import percent
from staydown.storage.read_coupons import read_cells
from staydown.workbench.desk import Desk
from staydown.workbench.edit_job import changes_for, form_at
from staydown.workbench.record import Seen, record_coupons
from staydown.workbench.unknown_costs import (
    LATER,
    cost_in_event,
    cost_of_column,
    cost_of_coupon,
    cost_of_field,
)


@pytest.fixture(scope="module")
def van(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job of our own with its coupons recorded, and a copy that nobody edits."""
    data = Path(__file__).parents[1] / "data" / "van"
    van = Path(shutil.copytree(data, tmp_path_factory.mktemp("job") / "van"))
    record_coupons(van, van / "coupons.csv", Seen(now=datetime(2026, 6, 1, tzinfo=UTC)))
    return van


TODAY = date(2026, 6, 2)
CELLS = {
    "name": "new 1",
    "tape": "grey foam",
    "surface": "painted_steel",
    "mode": "tension",
    "result": "broke",
    "load": "620 N",
    "area": "60 mm x 60 mm",
    "lasted": "8 s",
    "temperature": "40 degC",
}


def field_of(desk: Desk, place: str) -> Any:
    """Return a field of a form."""
    form = form_at(desk.text, place.rpartition(".")[0], desk.cards)
    assert form is not None
    return next(one for one in form.fields if one.place == place)


def test_a_rule_is_told_as_the_record_would_tell_it(van: Path) -> None:
    """Without the area of a pull there is no stress: the rule of the record stands there."""
    desk = Desk(van)
    told = cost_of_coupon(desk.answer(), CELLS, "area", ["25 mm x 25 mm"], TODAY, hang=False)

    assert "Tension needs the bonded area" in told
    assert cost_of_coupon(desk.answer(), {}, "note", ["x"], TODAY, hang=False) == LATER


def test_the_use_of_a_coupon_is_that_of_an_assessment_with_it(van: Path) -> None:
    """A weak pull counts the same with and without its note, and otherwise where a soak is known of it."""
    desk = Desk(van)
    answer = desk.answer()
    soak = "21 d in water at 23 degC"
    told = cost_of_coupon(answer, CELLS, "conditioned", [soak], TODAY, hang=False)

    uses = []
    for cells in (CELLS, {**CELLS, "conditioned": soak}):
        row, wrong = read_cells(cells, "form", None)
        assert not wrong
        found = assess(answer.job, replace(answer.facts, coupons=(*answer.facts.coupons, row.coupon)))
        uses += [one.mounted.governing.use for one in found.items if one.mounted is not None]
    half = len(uses) // 2
    without, soaked = ([percent(use) for use in part] for part in (uses[:half], uses[half:]))
    moved = [pair for pair in zip(without, soaked, strict=True) if pair[0] != pair[1]]

    assert moved
    for one, other in moved:
        assert re.search(rf"{one}[^,.]* where nobody knows it, {other}[^,.]* with {soak}", told)
    assert "the answer is the same" in cost_of_coupon(answer, CELLS, "note", ["a note"], TODAY, hang=False)


def test_the_cost_of_a_field_is_the_use_without_and_with_it(van: Path) -> None:
    """Where nobody knows that it is parked in the shade: today's use, and the use of an assessment with the shade."""
    desk = Desk(van)
    place = "travel.parked"
    shape = field_of(desk, place)
    told = cost_of_field(desk.answer(), desk.text, desk.cards, shape)
    in_shade = desk.try_out(changes_for(place, "shade", desk.text, desk.cards))
    now, then = (
        percent(one.assessment.items[1].mounted.governing.use)  # type: ignore[union-attr]
        for one in (desk.answer(), in_shade)
    )

    assert shape.unknown
    assert now != then
    assert f"{now} where nobody knows it, {then} to {now} with anywhere or another" in told


def test_a_table_that_lacks_what_must_be_given_is_told_later(van: Path) -> None:
    """Nothing can be assessed yet: that is said, and nothing is made up."""
    assert cost_of_column(Desk(van), "item.2.mount", {}, "lever") == LATER


def test_a_storm_of_unknown_strength_counts_as_over_the_gust_of_the_cards(van: Path) -> None:
    """The gust after which all is looked at is told with the planning value's number."""
    desk = Desk(van)
    answer = desk.answer()
    gust = float(desk.cards.planning["event_gust"].decided.value)

    assert both(gust, "m/s", answer.job.job.show) in cost_in_event("gust", answer.job, desk.cards)


@pytest.mark.parametrize("key", ["failure_pattern", "careful", "at", "by", "note"])
def test_every_field_of_an_event_says_what_it_costs(van: Path, key: str) -> None:
    """None is left without words."""
    desk = Desk(van)

    assert cost_in_event(key, desk.answer().job, desk.cards)
