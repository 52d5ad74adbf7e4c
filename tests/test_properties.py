"""What holds of every answer: less knowledge never helps, a mirror image gets the mirrored answer, trails add up."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from answers import assessed, behind, first, numbers_in
from known_jobs import known_panel, panel_coupons
from sample_jobs import PUCK, cards, changed, over, puck_coupons, pulls, row_of
from staydown.assess import Assessment
from staydown.evidence.coupon import Coupon
from staydown.evidence.group_coupons import group_coupons
from staydown.foundation.law import LAWS
from staydown.foundation.numbers import Derived, definition
from staydown.foundation.numbers import given as numbered
from staydown.foundation.quantities import quantity_of
from staydown.strength.classical import pull_bounds
from staydown.verdict.verdict import WORDS, Word

CONDITIONS = WORDS.index("GO WITH CONDITIONS")
MOUNT = "item.0.mount.0"


# -- less knowledge never helps

# What a person may leave out, typed where "unknown" stands for the unfavourable side. Left aside are the few keys whose
# absence means "there is none" (snow, passing pressure, nose up, measured speed-ups) or "as the headwind" (crosswind):
# a typed value beyond that makes the answer worse than leaving the key out, which the reader lists as an assumption.
PANEL_TYPED: dict[str, Any] = {
    "job.consequence": "medium",
    "job.service_years": 5.0,
    "vehicle.local_wind": [{"behind_front_m": 0.9, "speed_ratio": 0.7, "covers": ["drag", "uplift"]}],
    "vehicle.absorptance": 0.30,
    "travel.headwind_is": "gust",
    "travel.crosswind_m_per_s": 5.0,
    "travel.altitude_m": 300.0,
    "travel.parked": "shade",
    "climate.sun_W_per_m2": 900.0,
    "tape.0.tension_modulus_Pa": 1.0e6,
    "tape.0.shear_modulus_Pa": 0.35e6,
    "item.0.kind": "solar panel",
    "item.0.material": "aluminium",
    "item.0.sharp": False,
    "item.0.drag_coefficient": 1.3,
    "item.0.uplift_coefficient": {"low": 0.3, "likely": 0.5, "high": 0.7, "source": "own pressure taps"},
    "item.0.nose_up_rad": -0.01,
    "item.0.also_held_by": "nothing",
    f"{MOUNT}.lever_m": 0.010,
    f"{MOUNT}.lever_direction": "across",
    f"{MOUNT}.lever_side": "given",
    f"{MOUNT}.foot_thickness_m": 0.012,
    f"{MOUNT}.foot_material": "aluminium",
    f"{MOUNT}.under": "rib",
    f"{MOUNT}.connection_height_m": 0.02,
}
PUCK_TYPED: dict[str, Any] = {
    "job.consequence": "low",
    "vehicle.absorptance": 0.30,
    "travel.crosswind_m_per_s": 9.0,
    "travel.altitude_m": 0.0,
    "climate.sun_W_per_m2": 900.0,
    "item.0.kind": "antenna dome",
    "item.0.material": "abs",
    "item.0.sharp": False,
    "item.0.link.0.strength_N": 2500.0,
    f"{MOUNT}.lever_m": 0.0,
    f"{MOUNT}.foot_material": "aluminium",
    f"{MOUNT}.connection_height_m": 0.0,
}
WET = [
    {
        "tape": "grey foam",
        "mode": mode,
        "condition": "wet",
        "temperature_K": 296.15,
        "kept": 0.8,
        "source": "five coupons after 14 days in water, against five dry",
    }
    for mode in ("tension", "shear")
]


class Known:
    """A job with everything known, and what can be taken away from it, one by one."""

    def __init__(self, base: Mapping[str, Any], typed: Mapping[str, Any], coupons: Sequence[Coupon]) -> None:
        self.base, self.coupons = changed(base, typed), list(coupons)
        self.removable: list[tuple[str, Any]] = [
            *(("typed", place) for place in typed if not place.startswith("item.0.link")),
            *(("ratio", number) for number in range(len(self.base["ratio"]))),
            *(("link", number) for number in range(len(self.base["item"][0]["link"]))),
            *(("coupon", number) for number in range(len(self.coupons))),
        ]

    def without(self, taken: Collection[int]) -> Assessment:
        """Return the assessment with some of what is known taken away."""
        gone = [self.removable[number] for number in taken]
        tables = changed(
            self.base, {place: None for kind, place in gone if kind == "typed" and "wind" not in place}
        )
        if ("typed", "vehicle.local_wind") in gone:
            tables["vehicle"]["local_wind"] = []
        item = tables["item"][0]
        item["link"] = [link for n, link in enumerate(item["link"]) if ("link", n) not in gone]
        tables["ratio"] = [ratio for n, ratio in enumerate(tables["ratio"]) if ("ratio", n) not in gone]
        left = [coupon for n, coupon in enumerate(self.coupons) if ("coupon", n) not in gone]
        return assessed(tables, {}, left)


JOBS = {
    "panel": Known(changed(known_panel(), {"ratio": WET}), PANEL_TYPED, panel_coupons()),
    "puck": Known(PUCK, PUCK_TYPED, puck_coupons()),
}


def better(before: Word, after: Word) -> bool:
    """Return whether an answer became GO or GO WITH CONDITIONS from something less."""
    return WORDS.index(after) >= CONDITIONS and WORDS.index(before) < WORDS.index(after)


@pytest.mark.parametrize(("name", "word"), [("panel", "GO WITH CONDITIONS"), ("puck", "GO")])
def test_where_the_search_starts(name: str, word: Word) -> None:
    """With everything known the two jobs stand where they can only fall."""
    found = JOBS[name].without(()).word

    assert found == word


@pytest.mark.parametrize("name", list(JOBS))
def test_no_single_thing_taken_away_helps(name: str) -> None:
    """Each coupon, ratio, link and typed value in turn: the word is the same or less, and none of them is idle."""
    job = JOBS[name]
    before = job.without(()).word
    after = {str(what): job.without({number}).word for number, what in enumerate(job.removable)}

    assert [what for what, word in after.items() if better(before, word)] == []
    assert set(after.values()) > {before}, "nothing that was taken away made any difference"


@pytest.mark.parametrize("name", list(JOBS))
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_knowing_less_never_gives_a_better_word(name: str, data: st.DataObject) -> None:
    """From any gap in what is known, a wider gap never leads to GO or GO WITH CONDITIONS from something less.

    The coupons are far above the demand, so that it is evidence that counts: a weak result hidden is another matter.
    """
    job = JOBS[name]
    things = st.integers(0, len(job.removable) - 1)
    some = data.draw(st.sets(things, max_size=8))
    more = some | data.draw(st.sets(things, min_size=1, max_size=8))
    before, after = job.without(some), job.without(more)
    words = before.word, after.word

    assert not better(*words), f"{words} without {[job.removable[n] for n in more - some]}"


@pytest.mark.parametrize("name", list(JOBS))
@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_fewer_coupons_never_raise_the_level_of_evidence(name: str, data: st.DataObject) -> None:
    """In every case and mode the level with some coupons is at least that with fewer of them."""
    job = JOBS[name]
    coupons = [number for number, (kind, _) in enumerate(job.removable) if kind == "coupon"]
    some = data.draw(st.sets(st.sampled_from(coupons), max_size=10))
    more = some | data.draw(st.sets(st.sampled_from(coupons), min_size=1, max_size=10))
    with_more, with_fewer = first(job.without(some)).capacity, first(job.without(more)).capacity

    for mode, fewer in with_fewer.items():
        assert np.all(fewer.codes() <= with_more[mode].codes())


@settings(max_examples=40, deadline=None)
@given(
    logs=st.lists(st.floats(-0.3, 0.3), min_size=3, max_size=8),
    scale=st.floats(0.2, 0.95),
)
def test_weaker_coupons_scale_their_bound(logs: list[float], scale: float) -> None:
    """All pulls at a share of their stress: the tolerance bound is that share of what it was."""
    stresses = [500e3 * float(np.exp(log)) for log in logs]
    slope, content = definition(9.0, "1", "a test's"), numbered(0.9, "1", "published", "B-basis")

    def bound(share: float) -> float:
        group = group_coupons(pulls([share * s for s in stresses], 296.15, "gelcoat"), "grey foam", "gelcoat")
        (found,) = pull_bounds(group["tension"], cards().planning, content, slope)
        return float(np.asarray(found.stress.value))

    assert bound(scale) == pytest.approx(scale * bound(1.0), rel=1e-9)
    assert bound(1.0) <= min(stresses) * (1 + 1e-9)


# -- mirror image


@pytest.mark.independent
@settings(max_examples=12, deadline=None)
@given(
    aside_m=st.floats(-0.25, 0.25),
    moved_m=st.floats(-0.05, 0.05),
    levers_m=st.lists(st.floats(-0.02, 0.02), min_size=4, max_size=4),
    given_side=st.booleans(),
)
def test_mirror_image_gets_the_mirrored_answer(
    aside_m: float, moved_m: float, levers_m: list[float], given_side: bool
) -> None:
    """Item, feet and levers left and right exchanged: every mount's use stands at its twin, in the twin case.

    Hands that push sideways are left out: they push to the left on both sides.
    """
    side = {"lever_side": "given"} if given_side else {}
    base = changed(
        known_panel(), {"item.0.left_of_centre_m": aside_m, "item.0.mount.0.left_m": 0.31 + moved_m}
    )
    for mount, lever in zip(base["item"][0]["mount"], levers_m, strict=True):
        mount |= {"lever_m": lever if given_side else abs(lever)} | side
    mirrored = changed(base, {"item.0.left_of_centre_m": -aside_m})
    for mount in mirrored["item"][0]["mount"]:
        mount |= {
            "left_m": -mount["left_m"],
            "lever_m": -mount["lever_m"] if given_side else mount["lever_m"],
        }
    one, other = first(assessed(base, {}, panel_coupons())), first(assessed(mirrored, {}, panel_coupons()))
    swapped = {"left": "right", "right": "left"}
    rows = [
        (n, row_of(other.table, " ".join(swapped.get(w, w) for w in case.name.split()), case.exposure.season))
        for n, case in enumerate(one.table.cases)
        if "handling sideways" not in case.name
    ]
    here, there = [n for n, _ in rows], [n for _, n in rows]

    assert one.checks.use_at_high()[here] == pytest.approx(
        other.checks.use_at_high()[there], rel=1e-6, abs=1e-9
    )
    assert np.array_equal(one.checks.evidence[here], other.checks.evidence[there])


# -- trails


@pytest.mark.parametrize(
    ("base", "coupons"), [(known_panel(), panel_coupons()), (PUCK, puck_coupons())], ids=["panel", "puck"]
)
def test_every_number_is_what_its_law_makes_of_its_inputs(
    base: Mapping[str, Any], coupons: Sequence[Coupon]
) -> None:
    """Behind the whole answer: each law, run again on the inputs of its trail, gives the value and the unit shown."""
    functions = {id(facts): function for facts, function in LAWS.values()}
    found = list(numbers_in(first(assessed(base, {}, coupons))))
    checked = set()
    for number in behind(found):
        if isinstance(number, Derived) and id(number.law) in functions:
            with np.errstate(invalid="ignore", divide="ignore"):
                value = functions[id(number.law)](
                    **{name: part.value for name, part in number.inputs.items()}
                )

            assert np.array_equal(value, number.value, equal_nan=True), number.law.name
            assert number.unit == number.law.unit
            for name, part in number.inputs.items():
                assert part.unit == quantity_of(name).unit, f"{number.law.name}({name})"
            checked.add(number.law.name)

    assert len(checked) >= 50


def test_reported_forces_are_per_case_and_mount() -> None:
    """Demands, uses and levels cover every case, band and mount of the item."""
    mounted = first(assessed(known_panel(), {}, panel_coupons()))
    shape = (len(mounted.table.cases), 3, 4)

    assert mounted.checks.evidence.shape == shape
    assert over(mounted.demands.peak_tension, mounted.table, 4).shape == shape
    assert not np.isnan(mounted.checks.use_over_bands()).any()
