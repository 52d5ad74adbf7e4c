"""The records of the card library: every number with its band, unit, basis and source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from staydown.foundation.numbers import Basis, Given, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A value low / likely / high in SI, with what it rests on."""

    low: float
    likely: float
    high: float
    unit: str
    basis: Basis
    source: str


@lru_cache(maxsize=1024)  # asked for thousands of times while assumptions are weighed
def _end(place: str, band: Band, which: Literal["low", "likely", "high"]) -> Given:
    source = Source(basis=band.basis, title=band.source, place=place, band=(band.low, band.likely, band.high))
    value = {"low": band.low, "likely": band.likely, "high": band.high}[which]
    return Given(value=value, unit=band.unit, source=source)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanningValue:
    """A planning value: id, what it is, band, and the end of the band that decides.

    least, most: what a job may put in its place; None where any value is possible.
    """

    id: str
    what: str
    band: Band
    decided_on: Literal["low", "likely", "high"]
    least: float | None = None
    most: float | None = None

    def end(self, which: Literal["low", "likely", "high"]) -> Given:
        """Return one end of the band as a number that names this card."""
        return _end(self.id, self.band, which)

    @property
    def decided(self) -> Given:
        """Return the deciding end of the band."""
        return self.end(self.decided_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceCard:
    """A roof surface: may it be bonded to, how it is prepared, what fails first, what it expands.

    start: the verdict an adhesive-only bond starts from. way_out: what to do instead where it is "no".
    prep: what is done, in order; prep_steps: the step of the guide that each is, by id.
    material: id of the material that carries the surface: the roof's skin.
    """

    id: str
    name: str
    bondability: str
    start: Literal["test", "no"]
    prep: tuple[str, ...]
    prep_steps: tuple[str, ...]
    denies: tuple[str, ...]
    tests: tuple[str, ...]
    weak_link: str
    cautions: tuple[str, ...]
    way_out: str
    material: str
    expansion: Band
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeClassCard:
    """A class of bonding product: is it structural, planning moduli, wide priors of its rupture law.

    strength_1h_23C: median stress that it holds for 1 h at 23 °C in tension. slope: m of the power law of
    life. activation_energy: Ea of Arrhenius. scatter: standard deviation of log10 life. rigid: its own
    stiffness adds thermal shear stress. coldest, hottest: range in which the class is used at all.
    why_not: what is wrong with it as structure. source: of what carries no band of its own. bulk_modulus: of a
    class that keeps its volume, None of a foam.
    """

    id: str
    name: str
    structural: bool
    why_not: str
    rigid: bool
    tension_modulus: Band
    shear_modulus: Band
    strength_1h_23C: Band
    slope: Band
    activation_energy: Band
    scatter: Band
    coldest_K: float
    hottest_K: float
    source: str = ""
    bulk_modulus: Band | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KindCard:
    """A kind of item: what it is, the material taken where none is typed, how stiff it is where that is known.

    frame_bending_stiffness: EI of one of the four profiles of its frame. laminate_bending_stiffness: per width.
    None: no such part, or nothing known of it.
    """

    id: str
    name: str
    material: str
    note: str
    source: str = ""
    frame_bending_stiffness: Band | None = None
    laminate_bending_stiffness: Band | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialCard:
    """A material of items, feet and roofs: thermal expansion, Young's modulus, tensile strength."""

    id: str
    name: str
    expansion: Band
    modulus: Band
    tensile_strength: Band


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourCard:
    """A roof colour: its solar absorptance."""

    id: str
    absorptance: Band


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewSize:
    """A metric coarse thread: tensile stress area (ISO 898-1), diameter and pitch (ISO 261). [m², m]"""

    id: str
    stress_area_m2: float
    diameter_m: float
    pitch_m: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewClass:
    """A strength class of screws: least tensile strength (ISO 898-1, ISO 3506-1). [Pa]"""

    id: str
    tensile_strength_Pa: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JigCard:
    """How a coupon is loaded so that it says what it should: in words, step by step, and a drawing in characters."""

    id: str
    name: str
    words: tuple[str, ...]
    drawing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductCard:
    """How a class of bonding product is put on, sets and comes off.

    clock: whether its bond builds up at once everywhere, or it cures from the edge inwards. pressed: with the pressure
    of the planning value, else only until its spacers touch. first_..., most_..., full_time: build-up at room
    temperature [s, 1]; front_depth: how deep it cures in front_time [m, s]; bead_width: of a pressed bead [m].
    """

    id: str
    clock: Literal["builds up", "cures from the edge"]
    pressed: bool
    place: tuple[str, ...]
    hold: tuple[str, ...]
    buy: tuple[str, ...]
    take_off: tuple[str, ...]
    source: str
    first_time: Band | None = None
    first_share: Band | None = None
    most_time: Band | None = None
    most_share: Band | None = None
    full_time: Band | None = None
    front_time: Band | None = None
    front_depth: Band | None = None
    bead_width: Band | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalCard:
    """How a foot comes off a surface: what is done before and after; hottest: of the surface while warmed. [K]"""

    id: str
    risk: str
    before: tuple[str, ...]
    steps: tuple[str, ...]
    never: tuple[str, ...]
    hottest: Band
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cards:
    """The whole library, each shelf by id."""

    surfaces: Mapping[str, SurfaceCard]
    tapes: Mapping[str, TapeClassCard]
    kinds: Mapping[str, KindCard]
    materials: Mapping[str, MaterialCard]
    colours: Mapping[str, ColourCard]
    screw_sizes: Mapping[str, ScrewSize]
    screw_classes: Mapping[str, ScrewClass]
    planning: Mapping[str, PlanningValue]
    cautions: Mapping[str, str]
    jigs: Mapping[str, JigCard]
    products: Mapping[str, ProductCard]
    removal: Mapping[str, RemovalCard]
    stops: Mapping[str, str]
