"""Builds beliefs: coupons and the card of a class in, belief out. Same coupons, same seed, same belief."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np

from staydown.evidence.coupon import Coupon
from staydown.evidence.kept_ratio import KeptRatio
from staydown.foundation.exposure import Mode
from staydown.library.cards import Band, TapeClassCard
from staydown.strength import priors, sampling
from staydown.strength.belief import Accuracy, Belief, BeliefSettings, FaceBelief
from staydown.strength.evidence_level import coolest_test_K
from staydown.strength.location import LocationModel
from staydown.strength.prior_laws import REFERENCE_K
from staydown.strength.priors import RupturePrior, SheetLine
from staydown.strength.temperature_terms import temperature_term
from staydown.strength.trials import EXACT, Face, Trials, batch_name, faces_of, trials_of, valid_coupons

LEAST_COUPONS = 3  # fewer give no bound: the tolerance factor of two results is 20.6
LEAST_FAILURES_FOR_REFERENCE = 2
LEAST_EFFECTIVE_SIZE = 200.0
LARGEST_ERROR = 0.02  # of the 90/95 bound, one standard deviation as quarters of the nodes show it
MORE_NODES = 4  # factor of a second attempt
TURNS_EACH = 8  # shifts kept for one sample
HOT_RATIO_LN_SD = 0.15  # of a typed hot ratio; planning value, common practice, no source
_LN10 = math.log(10.0)
_TINY = 1e-300  # Pa

Groups = tuple[tuple[Mode, tuple[Coupon, ...]], ...]


def believe(
    coupons: Sequence[Coupon],
    card: TapeClassCard,
    *,
    mode: Mode | None = None,
    seed: int = 0,
    settings: BeliefSettings | None = None,
    sheet: Sequence[SheetLine] = (),
    hot_ratios: Sequence[KeptRatio] = (),
) -> Belief:
    """Return the belief about one tape, surface and mode.

    Parameters
    ----------
    coupons : sequence of Coupon
        Of one tape, surface and mode; spoiled ones are left out. None at all gives the prior.
    card : TapeClassCard
        Wide bands of the class.
    mode : str or None
        Needed where there is no coupon.
    seed : int
        Of the shift of the nodes; same seed, same belief.
    settings : BeliefSettings or None
        Prior "class" or "reference", family, law of temperature, batch the feet were bonded with.
    sheet : sequence of SheetLine
        Lines of a data sheet; they move the centre of the class prior, less their bias.
    hot_ratios : sequence of KeptRatio
        Typed hot ratios: a datum each on slope and activation energy. Others are ignored.

    Raises
    ------
    ValueError
        Coupons of several tapes, surfaces or modes are mixed, or no mode can be told.
    """
    told = mode or (coupons[0].mode if coupons else None)
    if told is None:
        raise ValueError("without coupons the mode must be given")
    beliefs = believe_modes(
        {told: coupons},
        card,
        shared=False,
        seed=seed,
        settings=settings,
        sheet={told: sheet},
        hot_ratios=hot_ratios,
    )
    return beliefs[told]


def believe_modes(
    groups: Mapping[Mode, Sequence[Coupon]],
    card: TapeClassCard,
    *,
    shared: bool,
    seed: int = 0,
    settings: BeliefSettings | None = None,
    sheet: Mapping[Mode, Sequence[SheetLine]] | None = None,
    hot_ratios: Sequence[KeptRatio] = (),
) -> dict[Mode, Belief]:
    """Return the beliefs about several modes of one tape and surface.

    With `shared`, the modes have slope and activation energy in common at each face: an assumption, noted on
    every belief, that `fits.sharing_test` can be asked about. Without it each mode stands alone. For the rest see
    `believe`.
    """
    return dict(
        _believe_modes(
            tuple((mode, valid_coupons(coupons)) for mode, coupons in groups.items()),
            card,
            shared,
            seed,
            settings or BeliefSettings(),
            tuple((mode, tuple(lines)) for mode, lines in (sheet or {}).items()),
            tuple((r.kept.value, r.temperature_K) for r in hot_ratios if r.condition == "hot"),
        )
    )


# A belief is asked again and again for the same coupons while a job is edited: remembered, it costs nothing.
@lru_cache(maxsize=32)
def _believe_modes(
    groups: Groups,
    card: TapeClassCard,
    shared: bool,
    seed: int,
    settings: BeliefSettings,
    sheet: tuple[tuple[Mode, tuple[SheetLine, ...]], ...],
    hot_ratios: tuple[tuple[float, float], ...],
) -> tuple[tuple[Mode, Belief], ...]:
    hot = [_hot_datum(kept, temperature_K, settings) for kept, temperature_K in hot_ratios]
    sharing = shared and len(groups) > 1
    beliefs: tuple[tuple[Mode, Belief], ...] = ()
    for attempt, nodes in enumerate((settings.nodes, MORE_NODES * settings.nodes)):
        faces: dict[Mode, list[FaceBelief]] = {mode: [] for mode, _ in groups}
        for place, together in enumerate(_together(groups, shared)):
            components = [
                _component(coupons, card, mode, face, settings, dict(sheet).get(mode, ()))
                for mode, face, coupons in together
            ]
            turn = TURNS_EACH * (MORE_NODES * place + attempt)
            # offsets of batches cost three looks at every survivor, and half the nodes are still exact enough
            here = nodes // 2 if any(component.told_spread for component in components) else nodes
            sample = sampling.draw(sampling.Problem(components, hot), here, seed, turn)
            for (mode, face, _), component, part in zip(together, components, sample.components, strict=True):
                trials = component.model.trials
                one = FaceBelief(face=face, trials=trials, prior=component.prior, sample=sample, part=part)
                faces[mode].append(one)
        beliefs = tuple(
            (mode, _finish(mode, coupons, faces[mode], settings, sharing, hot_ratios))
            for mode, coupons in groups
        )
        if all(_exact_enough(belief.accuracy) for _, belief in beliefs):
            break
    return beliefs


def _exact_enough(accuracy: Accuracy) -> bool:
    return accuracy.effective_size >= LEAST_EFFECTIVE_SIZE and accuracy.relative_error <= LARGEST_ERROR


def _together(groups: Groups, shared: bool) -> list[list[tuple[Mode, Face, tuple[Coupon, ...]]]]:
    """Return which (mode, face) are sampled in one go: those that share slope and temperature law."""
    single = [(mode, face, coupons) for mode, coupons in groups for face in faces_of(coupons)]
    if not shared:
        return [[one] for one in single]
    return [[one for one in single if one[1] == face] for face in dict.fromkeys(f for _, f, _ in single)]


def _component(
    coupons: tuple[Coupon, ...],
    card: TapeClassCard,
    mode: Mode,
    face: Face,
    settings: BeliefSettings,
    sheet: tuple[SheetLine, ...],
) -> sampling.Component:
    trials = trials_of(coupons, face)
    low, likely, high = settings.batch_spread
    spread = replace(priors.BATCH_SPREAD, low=low, likely=likely, high=high)
    prior = _prior(card, mode, trials, settings, spread)
    if sheet and prior.name == "class":
        prior = priors.centre_on_sheet(prior, sheet)
    terms = temperature_term(settings.temperature_law, trials.temperature_K)
    known = settings.bonded_in_batch in trials.batches
    bonded_in = trials.batches.index(str(settings.bonded_in_batch)) if known else None
    batched = prior.batch_spread is not None and len(trials.batches) > 1
    model = LocationModel(trials, terms, settings.family, batched=batched, bonded_in=bonded_in)
    return sampling.Component(model=model, prior=prior, bonded_in=bonded_in)


def _prior(
    card: TapeClassCard, mode: Mode, trials: Trials, settings: BeliefSettings, spread: Band
) -> RupturePrior:
    wide = priors.class_prior(card, mode, spread)
    if settings.prior == "class":
        return wide
    exact = trials.kind == EXACT
    alike = (
        np.unique(trials.log_time[exact] + 1j * trials.log_stress[exact]).size < LEAST_FAILURES_FOR_REFERENCE
    )
    if trials.failures < LEAST_FAILURES_FOR_REFERENCE or alike:
        note = f"too few different failures at the face {trials.face!r} for the reference prior: bands of the class"
        return replace(wide, notes=(*wide.notes, note))
    return priors.reference_prior(card, mode, trials, spread)


def _hot_datum(kept: float, temperature_K: float, settings: BeliefSettings) -> sampling.HotDatum:
    term = float(temperature_term(settings.temperature_law, np.array([temperature_K]))[0])
    return sampling.HotDatum(log_kept=math.log10(kept), temperature_term=term, sd=HOT_RATIO_LN_SD / _LN10)


def _finish(
    mode: Mode,
    coupons: tuple[Coupon, ...],
    faces: list[FaceBelief],
    settings: BeliefSettings,
    sharing: bool,
    hot_ratios: tuple[tuple[float, float], ...],
) -> Belief:
    notes = list(dict.fromkeys(note for face in faces for note in face.prior.notes))
    if sharing:
        notes.append(
            "slope and activation energy are taken to be the same in all modes of this tape and surface"
        )
    if settings.temperature_law == "wlf":
        notes.append("temperature by Williams, Landel and Ferry in place of Arrhenius")
    if settings.family == "weibull":
        notes.append("scatter of life taken as Weibull: for comparison, not for verdicts")
    notes += [
        f"typed ratio {kept:g} at {T:.1f} K taken as a datum on the activation energy"
        for kept, T in hot_ratios
    ]
    if len(faces) > 1:
        notes.append("faces compete: " + ", ".join(face.face for face in faces) + "; the lowest decides")
    spread = any(face.prior.batch_spread is not None for face in faces)
    own_batch = any(batch_name(c) == settings.bonded_in_batch for c in coupons)
    if spread:
        notes.append(
            "made in the session that bonded the feet: nothing is added for other batches"
            if own_batch
            else "widened for a batch other than the coupons'"
        )
        if settings.session_told:
            notes.append(settings.session_told)
    belief = Belief(
        mode=mode,
        settings=settings,
        coupons=coupons,
        faces=tuple(faces),
        coolest_K=coolest_test_K(coupons) if coupons else REFERENCE_K,
        accuracy=Accuracy(effective_size=0.0, largest_weight=1.0, relative_error=math.inf),
        refusals=(),
        notes=tuple(notes),
    )
    accuracy = _accuracy(belief)
    return replace(belief, accuracy=accuracy, refusals=_refusals(belief, accuracy))


def _accuracy(belief: Belief) -> Accuracy:
    """Return how exact the nodes are: the 90/95 bound of each quarter of them, where most coupons were tested."""
    trials = belief.faces[0].trials
    hours = 10.0 ** float(np.median(trials.log_time)) if trials.coupons else 1.0
    temperature_K = float(np.median(trials.temperature_K)) if trials.coupons else REFERENCE_K
    bounds = []
    for quarter in range(4):
        faces = tuple(_of_quarter(face, quarter) for face in belief.faces)
        one = replace(belief, faces=faces)
        bounds.append(float(one.strength_quantile([(hours * 3600.0, temperature_K)], 0.9, 0.05)[0]))
    return Accuracy(
        effective_size=min(face.sample.effective_size for face in belief.faces),
        largest_weight=max(face.sample.largest_weight for face in belief.faces),
        relative_error=float(np.std(np.log(np.maximum(bounds, _TINY)), ddof=1)) / 2.0,
    )


def _of_quarter(face: FaceBelief, quarter: int) -> FaceBelief:
    kept = np.flatnonzero(face.sample.quarter == quarter)
    weight = face.sample.weight[kept]
    return replace(
        face,
        sample=replace(face.sample, weight=weight / weight.sum(), quarter=face.sample.quarter[kept]),
        part=face.part.take(kept),
    )


def _refusals(belief: Belief, accuracy: Accuracy) -> tuple[str, ...]:
    refusals = []
    if len(belief.coupons) < LEAST_COUPONS:
        refusals.append(
            f"{len(belief.coupons)} coupon(s) in {belief.mode}: at least {LEAST_COUPONS} are needed for a bound"
        )
    if not _exact_enough(accuracy):
        refusals.append(
            f"the sampling is too coarse for these coupons: effective size {accuracy.effective_size:.0f}, "
            f"error of the bound {100 * accuracy.relative_error:.1f} %"
        )
    return tuple(refusals)
