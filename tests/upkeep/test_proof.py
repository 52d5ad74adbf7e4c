"""Proof pulls: enough to say something, at most half of what is proven, or none."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from bonded_jobs import stiff
from sample_assessments import JOBS
from staydown.assess import Facts, assess
from staydown.storage.read_cards import read_cards
from staydown.upkeep.proof import ProofPull, proof_pulls


@cache
def pulls(name: str, roof_K: float | None = 293.15) -> tuple[ProofPull, ...]:
    """Return the proof pulls of the first item of a sample job."""
    whole = stiff(name)
    return proof_pulls(whole, whole.items[0], roof_K)


@pytest.mark.by_hand
def test_a_pull_is_the_larger_of_both_and_at_most_half_of_the_bound() -> None:
    """1.25 times cruise, 100 N at the least; half of bound x area / lever factor at the most."""
    for number, pull in enumerate(pulls("panel")):
        assert pull.bound is not None
        assert pull.limit is not None
        cruise = float(np.asarray(pull.cruise.value).reshape(-1)[number])
        asked = max(1.25 * cruise, 100.0)
        # bands side by side: the high band is the last of three
        bound = float(np.broadcast_to(np.asarray(pull.bound.value), (1, 3, 4))[0, 2, number])

        assert pull.most_N == pytest.approx(0.5 * bound)
        assert pull.allowed_N == (pytest.approx(asked) if asked <= pull.most_N else None)
        assert pull.lasts_s == 60.0


def test_without_a_coupon_there_is_no_proof_pull() -> None:
    """Nothing proven: no pull is allowed, and it says why."""
    for pull in pulls("no coupons"):
        assert pull.allowed_N is None
        assert pull.limit is None
        assert "nothing is proven" in pull.why


@pytest.mark.independent
def test_a_hotter_roof_allows_less() -> None:
    """What a pull may be falls with the roof's temperature; what says something does not."""
    cool, hot = pulls("panel", 293.15)[0], pulls("panel", 333.15)[0]

    assert hot.most_N < cool.most_N
    assert np.asarray(hot.wanted.value) == pytest.approx(np.asarray(cool.wanted.value))


@pytest.mark.independent
def test_more_lever_allows_less() -> None:
    """The lever pries: the sound item's lever is shorter than the panel's share, so its factor is smaller."""
    whole = stiff("panel")
    item = whole.items[0].item
    longer = item.model_copy(
        update={"mount": tuple(one.model_copy(update={"lever_m": 0.012}) for one in item.mount)}
    )
    more = proof_pulls(whole, replace(whole.items[0], item=longer), 293.15)

    assert more[0].most_N < pulls("panel")[0].most_N


def test_a_foot_that_bends_is_not_pulled() -> None:
    """A thin foot peels at its edge; a bound of straight pulls says nothing about that."""
    job, coupons = JOBS["panel"]()
    thin = [mount.model_copy(update={"foot_thickness_m": 0.0015}) for mount in job.item[0].mount]
    bending = job.model_copy(update={"item": (job.item[0].model_copy(update={"mount": tuple(thin)}),)})
    whole = assess(bending, Facts(cards=read_cards(), coupons=coupons))
    pull = proof_pulls(whole, whole.items[0], 293.15)[0]

    assert pull.allowed_N is None
    assert "peels" in pull.why


def test_an_item_without_mounts_has_nothing_to_pull() -> None:
    """A fault of the caller, not of the person."""
    whole = stiff("no mounts")
    with pytest.raises(ValueError, match="nothing to pull"):
        proof_pulls(whole, whole.items[0], None)
