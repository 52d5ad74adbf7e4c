"""The records of a job, declared once: reader, JSON Schema, explain and forms are made from them.

Values are SI; `None` is "unknown". A field's key in job.toml is its name without the unit suffix.
Lengths are metres in the item's own axes: x forward, y left, z up (ISO 8855), origin at the item's
centre on the plane of the pads.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict

from staydown.foundation.exposure import Mode
from staydown.foundation.quantities import key_of
from staydown.job.fields import CardId, Limits, MayBeUnknown, Reads

Consequence = Literal["low", "medium", "high"]
FrontEdge = Literal["open", "deflected", "sealed"]
Condition = Literal["hot", "wet", "aged"]

_SIZE = Limits(least=0.0, open_below=True)
_NOT_NEGATIVE = Limits(least=0.0)
_WIND = Limits(least=0.0, most=120.0, plausible=(4.4704, 67.056))  # needs of the trade: 10 to 150 mph
_CALM_OR_WIND = Limits(least=0.0, most=120.0, plausible=(0.0, 67.056))
_FOOT = Limits(plausible=(200e-6, 30000e-6))  # of the area; needs of the trade: 200 to 30 000 mm²
_AIR = Limits(least=173.15, most=373.15, plausible=(223.15, 328.15))
_TEST = Limits(least=173.15, most=573.15, plausible=(233.15, 383.15))

# below this sun a reading's own error is a large part of the rise; common practice, no source
CALIBRATING_SUN_W_per_m2 = 400.0
# above this wind the heat transfer to a light wind (McAdams) is not known
CALIBRATING_WIND_m_per_s = 5.0


class Record(BaseModel):
    """A frozen record; unknown keys are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=key_of, populate_by_name=True)


class Rectangle(Record):
    """A rectangle of the roof or of a coupon: along the vehicle x across it. [m, m]"""

    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """Return the area. [m²]"""
        return self.length_m * self.width_m


class Fastener(Record):
    """What holds the item to its foot: a screw by size and class, or a strength. [N]"""

    text: str
    size: str | None = None
    strength_class: str | None = None
    strength_N: float | None = None


class Head(Record):
    """Table [job]: name, how results are shown first, consequence of a loss, years of service."""

    name: str
    show: Literal["metric", "us"] = "metric"
    consequence: Consequence | None = None
    service_years: Annotated[float | None, _SIZE] = None


class LocalWind(Record):
    """Measured wind speed at a place over the wind speed ahead of the vehicle. [m, -]"""

    behind_front_m: Annotated[float, _NOT_NEGATIVE]
    speed_ratio: Annotated[float, Limits(least=0.0, most=3.0, plausible=(0.2, 1.8))]
    covers: tuple[Literal["drag", "uplift"], ...]
    note: str | None = None


class MeasuredTemperature(Record):
    """A temperature in the sun, measured together with the weather of that hour. [K, W/m², m/s]

    temperature_K: of the roof, the bond or the item itself (a taped patch, no bright metal); wind_m_per_s: at
    the roof. It calibrates the rise over air in a calm for its place.
    """

    place: Literal["under item", "bare roof", "item"]
    temperature_K: Annotated[float, _TEST]
    air_K: Annotated[float, _AIR]
    sun_W_per_m2: Annotated[float, Limits(least=0.0, open_below=True, most=1500.0)]
    wind_m_per_s: Annotated[float, _NOT_NEGATIVE]
    note: str | None = None

    @property
    def calibrates(self) -> bool:
        """Return whether there was sun enough and wind little enough to learn from it."""
        return (
            self.sun_W_per_m2 >= CALIBRATING_SUN_W_per_m2
            and self.wind_m_per_s <= CALIBRATING_WIND_m_per_s
            and self.temperature_K > self.air_K
        )


class Fixture(Record):
    """What is on the roof already: where its middle is, its size seen from above, its height. [m]

    It carries nothing and changes no load; an item that lies over it is remarked on.
    """

    name: str
    kind: Literal["vent", "hatch", "rail", "antenna", "other"]
    behind_front_m: Annotated[float, _NOT_NEGATIVE]
    left_of_centre_m: float
    length_m: Annotated[float, _SIZE]
    width_m: Annotated[float, _SIZE]
    height_m: Annotated[float | None, _NOT_NEGATIVE] = None
    note: str | None = None


class Vehicle(Record):
    """The roof: sizes, surface, colour, what is on it already, measured local wind and temperatures. [m, -]"""

    roof_length_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(0.8, 14.0))]
    roof_width_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(0.8, 2.6))]
    roof_height_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(1.2, 4.2))]
    surface: Annotated[str, CardId(shelf="surfaces")]
    roof_colour: Annotated[str | None, CardId(shelf="colours")] = None
    absorptance: Annotated[float | None, Limits(least=0.0, most=1.0, plausible=(0.1, 0.98))] = None
    on_roof: tuple[Fixture, ...] = ()
    local_wind: tuple[LocalWind, ...] = ()
    measured_temperature: tuple[MeasuredTemperature, ...] = ()


class Travel(Record):
    """How it travels: speeds, winds, the longest leg, hours in a year, altitude. [m/s, s, m, Pa]

    parked: where the vehicle stands while the sun shines; "shade" is a rule that the driver keeps.
    """

    cruise_speed_m_per_s: Annotated[float, _WIND]
    top_speed_m_per_s: Annotated[float, _WIND]
    headwind_m_per_s: Annotated[float, _CALM_OR_WIND]
    headwind_is: Literal["mean", "gust"] | None = None
    crosswind_m_per_s: Annotated[float | None, _CALM_OR_WIND] = None
    longest_leg_s: Annotated[float, Limits(least=0.0, open_below=True, plausible=(600.0, 86400.0))]
    hours_per_year_s: Annotated[float | None, Limits(least=0.0, most=31622400.0), Reads(form="hours")] = None
    altitude_m: Annotated[float | None, Limits(least=-430.0, most=11000.0, plausible=(-100.0, 4000.0))] = None
    pass_pressure_Pa: Annotated[float | None, Limits(least=0.0, plausible=(0.0, 2000.0))] = None
    parked: Literal["anywhere", "shade"] | None = None


class Climate(Record):
    """The weather it must stand: air, sun, parked storm gust (3 s), snow. [K, W/m², m/s, Pa]"""

    coldest_K: Annotated[float, _AIR]
    hottest_K: Annotated[float, _AIR]
    sun_W_per_m2: Annotated[float | None, Limits(least=0.0, most=1500.0, plausible=(200.0, 1200.0))] = None
    storm_gust_m_per_s: Annotated[float, _WIND]
    snow_Pa: Annotated[float | None, Limits(least=0.0, plausible=(0.0, 10000.0))] = None


class PlanningOverride(Record):
    """A planning value replaced by the person's own, in the card's unit; all three alike for one number."""

    low: float
    likely: float
    high: float
    source: str | None = None


class Tape(Record):
    """A bonding product: its class card, thickness, width, moduli. [m, Pa]"""

    name: str
    kind: Annotated[str, CardId(shelf="tapes")]
    thickness_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(0.25e-3, 6e-3))]
    width_m: Annotated[float | None, _SIZE] = None
    tension_modulus_Pa: Annotated[float | None, Limits(least=0.0, open_below=True, plausible=(1e4, 1e10))] = (
        None
    )
    shear_modulus_Pa: Annotated[float | None, Limits(least=0.0, open_below=True, plausible=(1e4, 1e10))] = (
        None
    )


class Claim(Record):
    """One line of a data sheet, as printed: comparison only, never evidence. [N, m², s, K]"""

    tape: str
    mode: Mode
    kind: Literal["held", "broke"]
    load_N: Annotated[float, _SIZE, Reads(form="load")]
    area_m2: Annotated[float, _SIZE, Reads(form="area")]
    lasted_s: Annotated[float, _SIZE]
    temperature_K: Annotated[float, _TEST]
    source: str
    note: str | None = None


class Ratio(Record):
    """What is kept of a strength when hot, wet or aged, as the person measured it. [K, -]"""

    tape: str
    mode: Mode
    condition: Condition
    temperature_K: Annotated[float, _TEST]
    kept: Annotated[float, Limits(least=0.0, most=1.0, open_below=True)]
    source: str
    note: str | None = None


class Link(Record):
    """The strength of one link of the chain at each mount, where the person knows it. [N]"""

    part: Literal["item frame", "fastener", "bracket", "upper bond", "coating", "skin"]
    strength_N: Annotated[float | None, MayBeUnknown(), _SIZE, Reads(form="load")]
    source: str
    note: str | None = None


class Mount(Record):
    """One foot: where it stands in the item's frame, its pad, its lever, its hardware. [m]

    behind_m: of the item's front edge, to the pad's centre. left_m: of the item's centreline.
    lever_m: pad centre to line of pull; positive is forward or left. slotted: the item may slide on it in the
    plane of the roof. fit_gap_m: gap that pressing it on has closed. engagement_m: length over which the fastener's
    thread holds in the foot. also_screw: a screw through the pad into the roof's sheet, sheet_thickness_m thick.
    contact: what of the pad touches, around its centre; the whole pad where not typed. roof_radius_m: of a curved roof
    under a flat foot.
    """

    name: str
    behind_m: float
    left_m: float
    pad: Annotated[Rectangle, _FOOT, Reads(form="rectangle")]
    lever_m: Annotated[float | None, Limits(least=-0.5, most=0.5)] = None
    lever_direction: Literal["along", "across"] | None = None
    lever_side: Literal["given"] | None = None
    foot_thickness_m: Annotated[
        float | None, Limits(least=0.0, open_below=True, plausible=(0.5e-3, 40e-3))
    ] = None
    foot_material: Annotated[str | None, CardId(shelf="materials")] = None
    fastener: Annotated[Fastener | None, Reads(form="fastener")] = None
    engagement_m: Annotated[float | None, Limits(least=0.0, open_below=True, plausible=(1e-3, 50e-3))] = None
    also_screw: Annotated[Fastener | None, Reads(form="fastener")] = None
    sheet_thickness_m: Annotated[
        float | None, Limits(least=0.0, open_below=True, plausible=(0.4e-3, 8e-3))
    ] = None
    under: Literal["rib", "skin"] | None = None
    connection_height_m: Annotated[float | None, _NOT_NEGATIVE] = None
    slotted: bool | None = None
    fit_gap_m: Annotated[float | None, Limits(least=0.0, plausible=(0.0, 3e-3))] = None
    contact: Annotated[Rectangle | None, Reads(form="rectangle")] = None
    roof_radius_m: Annotated[float | None, Limits(least=0.0, open_below=True, plausible=(0.5, 100.0))] = None

    @property
    def touching(self) -> Rectangle:
        """Return what of the pad touches."""
        return self.contact or self.pad


class Tether(Record):
    """A line that catches the item if the mounts let go. [N/m, m, N]"""

    material: str
    stiffness_N_per_m: Annotated[float | None, MayBeUnknown(), _SIZE]
    slack_m: Annotated[float | None, MayBeUnknown(), _NOT_NEGATIVE]
    breaking_strength_N: Annotated[float | None, MayBeUnknown(), _SIZE, Reads(form="load")]
    anchor: str
    anchor_kind: Annotated[Literal["mechanical", "bonded", "membrane"] | None, MayBeUnknown()]
    anchor_strength_N: Annotated[float | None, MayBeUnknown(), _SIZE, Reads(form="load")]
    note: str | None = None


class UpliftCoefficient(Record):
    """A measured net uplift coefficient of the item's plan area, with its source."""

    low: Annotated[float, Limits(least=-2.0, most=5.0, plausible=(0.0, 2.0))]
    likely: Annotated[float, Limits(least=-2.0, most=5.0, plausible=(0.0, 2.0))]
    high: Annotated[float, Limits(least=-2.0, most=5.0, plausible=(0.0, 2.0))]
    source: str


class Item(Record):
    """What is fastened: size, mass, place on the roof, edges, mounts, links, tethers. [m, kg, rad, N m², N m]

    frame_...: EI about the horizontal axis, and GJ, of one profile of the frame. laminate_...: of 1 m of width.
    """

    name: str
    kind: Annotated[str | None, CardId(shelf="kinds")] = None
    length_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(0.02, 6.0))]
    width_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(0.02, 2.5))]
    thickness_m: Annotated[float, Limits(least=0.0, open_below=True, plausible=(1e-3, 0.6))]
    mass_kg: Annotated[float, Limits(least=0.0, open_below=True, plausible=(0.02, 150.0))]
    gap_m: Annotated[float, Limits(least=0.0, plausible=(0.0, 0.3))]
    behind_roof_front_m: float
    left_of_centre_m: float | None = None
    nose_up_rad: Annotated[float | None, Limits(least=-1.5, most=1.5, plausible=(-0.6, 0.6))] = None
    front_edge: FrontEdge
    material: Annotated[str | None, CardId(shelf="materials")] = None
    surface: Annotated[str | None, CardId(shelf="surfaces")] = None
    consequence: Consequence | None = None
    also_held_by: Literal["nothing", "screws", "clamps"] | None = None
    sharp: bool | None = None
    tape: str
    drag_coefficient: Annotated[float | None, Limits(least=0.0, most=5.0, plausible=(0.3, 2.5))] = None
    uplift_coefficient: UpliftCoefficient | None = None
    absorptance: Annotated[float | None, Limits(least=0.0, most=1.0, plausible=(0.1, 0.98))] = None
    frame_bending_stiffness_N_m2: Annotated[
        float | None, Limits(least=0.0, open_below=True, plausible=(50.0, 20e3))
    ] = None
    frame_torsion_stiffness_N_m2: Annotated[
        float | None, Limits(least=0.0, open_below=True, plausible=(0.5, 10e3))
    ] = None
    laminate_bending_stiffness_Nm: Annotated[
        float | None, Limits(least=0.0, open_below=True, plausible=(0.5, 500e3))
    ] = None
    link: tuple[Link, ...] = ()
    mount: tuple[Mount, ...] = ()
    tether: tuple[Tether, ...] = ()


class Job(Record):
    """A whole job: vehicle, travel, climate, planning values, tapes, claims, ratios, items."""

    format: Literal[1]
    job: Head
    vehicle: Vehicle
    travel: Travel
    climate: Climate
    planning: dict[str, PlanningOverride] = {}
    tape: tuple[Tape, ...] = ()
    claim: tuple[Claim, ...] = ()
    ratio: tuple[Ratio, ...] = ()
    item: tuple[Item, ...] = ()
