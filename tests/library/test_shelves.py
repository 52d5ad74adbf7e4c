"""What stands on the shelves: every number with unit, basis and source, every card complete."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from staydown.foundation.quantities import quantity_with_unit
from staydown.library.cards import Band, PlanningValue
from staydown.storage.read_cards import read_cards

PACKAGE = Path(__file__).parents[2] / "src" / "staydown"
CARDS = read_cards()
# words of the trade's job file that must find their card
TAPES = {
    "acrylic foam tape",
    "rubber foam tape",
    "butyl tape",
    "elastic paste adhesive",
    "rigid two-part adhesive",
}
BASES = {"published", "planning value", "class card"}
UNSOURCED = ("", "-", "?", "unknown", "none", "tbd")


def every_card() -> Iterator[tuple[str, Any]]:
    """Yield every card but the cautions, with where it stands."""
    for shelf in fields(CARDS):
        if shelf.name not in ("cautions", "stops"):
            for key, card in getattr(CARDS, shelf.name).items():
                yield f"{shelf.name}/{key}", card


def every_band() -> Iterator[tuple[str, Band]]:
    """Yield every band of the library, with where it stands."""
    for place, card in every_card():
        for field in fields(card):
            if isinstance(value := getattr(card, field.name), Band):
                yield f"{place}/{field.name}", value


@pytest.mark.parametrize(("place", "band"), list(every_band()), ids=lambda value: str(value)[:60])
def test_every_number_is_complete(place: str, band: Band) -> None:
    """A number has a band in order, a known unit, a basis and a source that says something."""
    quantity_with_unit(band.unit)

    assert band.low <= band.likely <= band.high, place
    assert band.basis in BASES, place
    assert band.source.strip().lower() not in UNSOURCED, place
    assert len(band.source) >= 12, place


@pytest.mark.parametrize(("place", "band"), list(every_band()), ids=lambda value: str(value)[:60])
def test_a_published_number_names_its_publication(place: str, band: Band) -> None:
    """`published` needs a title, and `common practice, no source` never calls itself published."""
    if band.basis == "published":
        assert re.search(r"\d|handbook", band.source), place
        assert "no source" not in band.source, place


def test_every_card_carries_its_id_and_a_source() -> None:
    """The key under which a card stands is its id, and no card's source is empty."""
    for place, card in every_card():
        assert place.endswith("/" + card.id)
        if not isinstance(card, PlanningValue):
            assert getattr(card, "source", "x").strip(), place


def test_tape_classes_are_the_five_of_the_trade() -> None:
    """Every class is there; only butyl is no structure, and it says why."""
    assert set(CARDS.tapes) == TAPES
    assert [key for key, tape in CARDS.tapes.items() if not tape.structural] == ["butyl tape"]
    assert all(bool(tape.why_not) != tape.structural for tape in CARDS.tapes.values())


def test_tape_priors_are_wide_and_their_moduli_agree() -> None:
    """A prior spans a factor of two at least, and E/G of an elastic layer lies between 2 and 4."""
    for tape in CARDS.tapes.values():
        for prior in (tape.strength_1h_23C, tape.slope, tape.activation_energy, tape.scatter):
            assert prior.high >= 2.0 * prior.low, tape.id
        # E = 2 G (1 + nu), 0 <= nu <= 0.5, and foams between stretched and sheared cells
        assert 2.0 <= tape.tension_modulus.likely / tape.shear_modulus.likely <= 4.0, tape.id
        assert tape.coldest_K < 273.15 < 296.15 < tape.hottest_K, tape.id
        assert tape.rigid == (tape.tension_modulus.likely > 1e8), tape.id


@pytest.mark.parametrize(
    "key", ["epdm", "tpo", "pvc_membrane", "soft_vinyl", "polycarbonate", "unidentified"]
)
def test_forbidden_surfaces_start_from_no(key: str) -> None:
    """Membranes, soft vinyl, polycarbonate and what nobody knows are NO, with a way out."""
    assert CARDS.surfaces[key].start == "no"
    assert CARDS.surfaces[key].way_out


@pytest.mark.parametrize(
    "key", ["painted_steel", "coated_aluminium", "gelcoat", "bare_grp", "abs", "powder_coat"]
)
def test_bondable_surfaces_start_from_tests(key: str) -> None:
    """A surface that can be bonded still asks for pull-offs, and its steps end in the dwell."""
    surface = CARDS.surfaces[key]

    assert surface.start == "test"
    assert "pull-off" in " ".join(surface.tests)
    assert "72 h" in surface.prep[-1]


def test_wax_comes_off_before_the_abrasive_touches_it() -> None:
    """On every surface that is abraded, what takes wax off stands before the abrading."""
    for surface in CARDS.surfaces.values():
        steps = [step.lower() for step in surface.prep]
        rubs = [at for at, step in enumerate(steps) if step.startswith(("abrade", "dull"))]
        cleans = [at for at, step in enumerate(steps) if "wash" in step or "wax" in step]
        if rubs:
            assert cleans, surface.id
            assert min(cleans) < min(rubs), surface.id


def test_no_acetone_on_abs() -> None:
    """ABS denies ketones by name."""
    assert "acetone" in " ".join(CARDS.surfaces["abs"].denies)


def test_every_planning_id_that_the_code_asks_for_exists() -> None:
    """A planning value named in the code stands in planning.toml."""
    asked = {
        key
        for path in PACKAGE.rglob("*.py")
        for key in re.findall(r'planning\["([^"{}]+)"\]', path.read_text(encoding="utf-8"))
    }

    assert asked <= set(CARDS.planning)


def test_a_planning_value_decides_on_one_end() -> None:
    """`decided` is the end that the card names, and it still shows its whole band and its id."""
    card = CARDS.planning["uplift.open.near_edge"]

    assert card.decided.value == card.band.high == 1.2
    assert card.decided.source.band == (0.6, 0.9, 1.2)
    assert card.decided.source.place == "uplift.open.near_edge"


def test_uplift_is_decided_on_the_high_end_and_ordered() -> None:
    """Uplift decides high; near the edge is above further in, and open above deflected."""
    uplift = {key: card for key, card in CARDS.planning.items() if key.startswith("uplift.")}

    assert len(uplift) == 6
    assert {card.decided_on for card in uplift.values()} == {"high"}
    for edge in ("open", "deflected", "flush"):
        assert uplift[f"uplift.{edge}.near_edge"].band.high > uplift[f"uplift.{edge}.inner"].band.high
    assert uplift["uplift.open.inner"].band.high > uplift["uplift.deflected.inner"].band.high


def test_shares_stay_between_nothing_and_all() -> None:
    """What is a share of something is above 0 and not above 1."""
    for key in (
        "wet_and_age",
        "weight_factor",
        "content",
        "confidence",
        "tether_termination",
        "alcohol_share",
    ):
        band = CARDS.planning[key].band

        assert 0.0 < band.low <= band.high <= 1.0, key


@pytest.mark.by_hand
def test_sun_factors_are_the_measured_day() -> None:
    """Air 73 °F, sun 790 W/m2: roof 119, under the panel 136, panel 157 °F, as (F - 73) / 1.8 / 790."""
    for key, fahrenheit in (("sun.bare_roof", 119.0), ("sun.under_item", 136.0), ("sun.item", 157.0)):
        measured = (fahrenheit - 73.0) / 1.8 / 790.0

        assert CARDS.planning[key].band.likely == pytest.approx(measured, abs=6e-4), key


@pytest.mark.by_hand
def test_inertia_is_in_whole_tenths_of_gravity() -> None:
    """2 g, 0.8 g and 0.5 g with g = 9.80665 m/s2 (ISO 80000-3), and 2 degrees in radians."""
    gravity = 9.80665
    for key, tenths in (("bump", 2.0), ("braking", 0.8), ("speeding_up", 0.5), ("cornering", 0.5)):
        assert CARDS.planning[key].decided.value == pytest.approx(tenths * gravity, rel=1e-9), key
    assert CARDS.planning["nose_up_limit"].decided.value == pytest.approx(2.0 * 3.141592653589793 / 180.0)


@pytest.mark.by_hand
def test_trade_units_were_turned_into_si() -> None:
    """15 psi, 60 mph, 12 months, 72 h and 7 days, by the definitions of pound, inch, mile and year."""
    values = {key: card.decided.value for key, card in CARDS.planning.items()}

    assert values["press_pressure"] == pytest.approx(15 * 0.45359237 * 9.80665 / 0.0254**2, rel=1e-8)
    assert values["event_gust"] == pytest.approx(60 * 1609.344 / 3600, rel=1e-12)
    assert values["inspection_interval"] == pytest.approx(365.25 * 86400)
    assert values["full_dwell"] == pytest.approx(72 * 3600)
    assert values["snow_duration"] == pytest.approx(7 * 86400)


@pytest.mark.by_hand
def test_skin_stiffness_spans_thin_plates() -> None:
    """The band holds k = D / (0.0116 a^2), D = E t^3 / 12 (1 - nu^2), of steel and of laminate skins.

    Timoshenko and Woinowsky-Krieger, Table 23: simply supported square plate, central load; from memory.
    """

    def stiffness(modulus_Pa: float, thickness_m: float, side_m: float) -> float:
        return modulus_Pa * thickness_m**3 / (12 * (1 - 0.3**2)) / (0.0116 * side_m**2)

    band = CARDS.planning["skin_stiffness"].band
    for skin in ((210e9, 0.8e-3, 0.30), (210e9, 0.8e-3, 0.40), (8e9, 3e-3, 0.30), (8e9, 3e-3, 0.25)):
        assert band.low <= stiffness(*skin) <= band.high


def test_every_caution_is_one_wording() -> None:
    """No two cautions say the same, and each ends as a sentence."""
    texts = list(CARDS.cautions.values())

    assert len(set(texts)) == len(texts) >= 27
    assert all(text.endswith(".") for text in texts)
