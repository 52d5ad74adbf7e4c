"""What each assumption does to the use: the short way says what the whole assessment would, and skips what it may."""

from __future__ import annotations

from dataclasses import replace

import pytest

from known_jobs import known_panel, panel_coupons
from sample_jobs import cards, job_of
from staydown.advice.assumptions import Assumption, at_value, weigh_assumptions, with_end
from staydown.assess import Assessment, Facts, assess, assess_item, use_of_item
from staydown.job.records import PlanningOverride

FACTS = Facts(cards=cards(), coupons=tuple(panel_coupons()))


@pytest.fixture(
    scope="module", params=[{}, {"item.0.frame_bending_stiffness_N_m2": 3500.0}], ids=["kind", "own"]
)
def assessment(request: pytest.FixtureRequest) -> Assessment:
    """Return the panel with everything known, its bending by its kind and by its own stiffness."""
    return assess(job_of(known_panel(), request.param), FACTS)


@pytest.fixture(scope="module")
def weighed(assessment: Assessment) -> tuple[Assumption, ...]:
    """Return its assumptions."""
    return weigh_assumptions(assessment, FACTS)


def whole_use(assessment: Assessment, place: str, value: float) -> float | None:
    """Return the use by a whole assessment with one assumption at a value, bounds for the same share of bonds."""
    item = assessment.items[0]
    mounted = item.mounted
    assert mounted is not None
    varied = with_end(assessment.cards, item, place, value)
    assert varied is not None
    # whatever becomes of redundancy, the bounds cover what they cover now
    share = float(mounted.content.value)
    fixed = {n: at_value(varied.planning[n], share) for n in ("content", "content_not_redundant")}
    varied = replace(varied, planning={**varied.planning, **fixed})
    again = assess_item(assessment.job, item.item, item.place, varied, FACTS.coupons)
    assert again.mounted is not None
    return again.mounted.governing.use


@pytest.mark.independent
def test_each_end_is_what_the_whole_assessment_says(
    assessment: Assessment, weighed: tuple[Assumption, ...]
) -> None:
    """Reused steps and skipped ends change nothing: each use is that of an assessment from scratch."""
    ends = [
        (one.id, end, use)
        for one in weighed
        for end, use in ((one.low, one.use_at_low), (one.high, one.use_at_high))
        if use is not None
    ]
    wrong = [
        (place, end, use)
        for place, end, use in ends
        if use != pytest.approx(whole_use(assessment, place, end), rel=1e-9)
    ]

    assert len(ends) > 20
    assert wrong == []


def test_the_light_path_is_the_whole_ones_use(assessment: Assessment) -> None:
    """With the share that the bounds cover, the short way gives the governing use; without it a redundant item's."""
    item = assessment.items[0]
    mounted = item.mounted
    assert mounted is not None

    def use(**share: object) -> float | None:
        return use_of_item(
            assessment.job,
            item.item,
            item.place,
            assessment.cards,
            FACTS.coupons,
            **share,  # type: ignore[arg-type]
        )

    now, redundant = mounted.governing.use, use()
    assert use(content=mounted.content) == now
    assert redundant is not None
    assert now is not None
    assert redundant <= now


def test_what_has_no_band_is_listed_and_not_weighed(weighed: tuple[Assumption, ...]) -> None:
    """A single value and a published band are listed without uses; they come last."""
    bare = [one for one in weighed if one.low == one.high or one.basis == "published"]

    assert bare
    assert all(one.use_at_low is None and one.use_at_high is None for one in bare)
    assert [one.swing for one in weighed] == sorted((one.swing for one in weighed), reverse=True)


def test_the_use_moves_with_uplift(weighed: tuple[Assumption, ...]) -> None:
    """More uplift uses more of the bond, and the coefficient is among the three that move it most."""
    named = [one.id for one in weighed]
    uplift = next(one for one in weighed if one.id == "uplift.open.near_edge")

    assert named.index("uplift.open.near_edge") < 3
    assert uplift.use_at_low is not None
    assert uplift.use_at_high is not None
    assert uplift.use_at_low < uplift.use_at_high


def test_a_band_of_ones_own_is_weighed_like_any_other() -> None:
    """A planning value that the job replaces by a band is listed with both ends; one number of one's own is not."""
    name = "uplift.open.near_edge"
    own = {name: PlanningOverride(low=0.5, likely=0.8, high=1.1, source="own taps")}
    one = {name: PlanningOverride(low=0.9, likely=0.9, high=0.9, source="own taps")}

    def weighed(planning: dict[str, PlanningOverride]) -> dict[str, Assumption]:
        job = job_of(known_panel()).model_copy(update={"planning": planning})
        return {a.id: a for a in weigh_assumptions(assess(job, FACTS), FACTS)}

    found = weighed(own)[f"planning.{name}"]
    assert (found.low, found.high, found.basis) == (0.5, 1.1, "typed")
    assert found.use_at_low is not None
    assert found.use_at_high is not None
    assert found.use_at_low < found.use_at_high
    assert f"planning.{name}" not in weighed(one)
