"""The records of the guide: phases with steps and stop points, feet, weather window, wipe, shopping list."""

from __future__ import annotations

from dataclasses import dataclass

from staydown.foundation.numbers import Number
from staydown.job.records import Item, Tape
from staydown.library.cards import ProductCard, SurfaceCard
from staydown.making.dwell_clock import Clock


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """What a person measured, or means to find: air, humidity, surface, coldest while it dwells. [K, 1]"""

    air_K: float | None = None
    humidity: float | None = None
    surface_K: float | None = None
    dwell_K: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """What alcohol to mix: volume wanted, share wanted and of the stock; None takes the planning value. [m³, 1]"""

    volume_m3: float | None = None
    share: float | None = None
    stock_share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step: what to do, and what must not be seen before the next one; empty where there is no stop."""

    id: str
    text: str
    stop: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """Steps that are done in one go, on one page."""

    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FootGuide:
    """One foot: pad, pressing force and the mass that leans as hard, strips it is pressed in, edge and seal.

    [m, m², N, kg, m, m, m³]; strips: in how many it is pressed, strip: length of one of them along the pad; each: force
    on one strip; leaning: the mass that presses one strip; lanes: of a roller across it.
    tape: its length where the width of the tape is known; layer: volume of adhesive where it is no tape.
    """

    name: str
    length_m: float
    width_m: float
    area: Number
    press: Number | None
    each: Number | None
    leaning: Number | None
    strip: Number | None
    strips: int
    lanes: int
    edge: Number
    bead: Number
    tape: Number | None
    layer: Number | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """May it be bonded in this weather? dew, margin: dew point and distance from it [K]; refusals: why not; missing:
    what nobody measured yet. coldest, better, hottest: of the surface. [K]"""

    dew: Number | None
    margin: Number | None
    least_margin: Number
    coldest: Number
    better: Number
    hottest: Number
    refusals: tuple[str, ...]
    doubts: tuple[str, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blend:
    """The wipe: volume wanted, share, share of the stock, stock and water in it. [m³, 1]"""

    volume: Number
    share: Number
    stock_share: Number
    stock: Number
    water: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """One line of the shopping list; amount: with its reserve, None where it is counted; note: what to see to."""

    what: str
    amount: Number | None
    note: str
    lot: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """All that a person needs to bond one item. reserve: share added to what is bought. [1]"""

    item: Item
    tape: Tape
    surface: SurfaceCard
    product: ProductCard
    phases: tuple[Phase, ...]
    feet: tuple[FootGuide, ...]
    window: Window
    blend: Blend
    roller: Number | None
    passes: int
    hold: Number
    primer: tuple[Number, Number] | None
    clock: Clock
    reserve: Number
    shopping: tuple[Bought, ...]
