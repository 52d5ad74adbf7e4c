"""Builds how an item shakes: its natural frequencies, what rough roads and bumps do, where vortices meet it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

import numpy as np
from numpy.typing import NDArray

from staydown.foundation.findings import Finding
from staydown.foundation.law import Law
from staydown.foundation.numbers import Derived, Given, Number, Source, choose, definition, derive, typed
from staydown.foundation.quantities import both, shown
from staydown.job.records import Item, Job, Tape
from staydown.library.cards import Band, Cards, PlanningValue
from staydown.loads import force_laws
from staydown.loads.load_case import BANDS
from staydown.spread import frequency_laws, pad_laws, road_laws
from staydown.spread.bending_laws import spring_in_series
from staydown.spread.build_flexible import stiffness_inputs
from staydown.spread.build_pads import Pads, build_pads
from staydown.spread.build_stiffness import ItemStiffness, build_stiffness
from staydown.spread.frequency import MOTIONS, lowest_bending_frequency, rigid_frequencies
from staydown.spread.hermite import Line
from staydown.spread.plate import Grid
from staydown.spread.vibration import RoadResponse, VibrationAnswer

Array = NDArray[np.float64]

ROADS = ("A", "B", "C", "D", "E", "F")
# The lowest frequency comes out within 1 % with a frame, up to 5 % high without; see the tests
CELL_m, FEWEST_CELLS, MOST_CELLS = 0.25, 3, 6
REFERENCE = definition(0.1, "1/m", "ISO 8608: spectra are given at 0.1 cycle per metre")
PEAK = definition(3.0, "1", "three standard deviations count as the peak")
# Common practice, no source: large panels on few feet swing at 6 Hz and more; a body on its springs at 1 to 2 Hz
SLOWEST_Hz = 4.0
# An item so long bends; one that swings nearly as a rigid one is asked about; common practice, no source
LONG_m, NEARLY_RIGID = 1.0, 0.9
_SOFTER = ("high", "likely", "low")
_MOTION = tuple(
    Law(
        name=f"frequency_of_{name.replace(' ', '_')}",
        unit="Hz",
        equation="",
        symbols={},
        source="Harris, Shock and Vibration Handbook: rigid body on elastic supports; from memory",
        method="six motions of a rigid item on clamped pads, one eigenvalue problem",
    )
    for name in MOTIONS
)
_LOWEST = Law(
    name="lowest_frequency",
    unit="Hz",
    equation="",
    symbols={},
    source="Rayleigh-Ritz with the element of Bogner, Fox and Schmit (1965)",
    method="plate and frame with even mass on clamped pads, lowest of one eigenvalue problem",
)


def build_vibration(
    job: Job, item: Item, place: str, tape: Tape, tape_place: str, cards: Cards
) -> VibrationAnswer:
    """Return how an item shakes on its pads.

    Parameters
    ----------
    job : Job
        Its cruising speed and headwind.
    item : Item
        With at least one mount.
    place, tape_place : str
        Dotted keys, such as `item.1` and `tape.1`.
    cards : Cards
        Class card of the tape, kind of the item, planning values.

    Raises
    ------
    ValueError
        The item has no mounts.
    """
    if not item.mount:
        raise ValueError(f"{place}: an item without mounts does not swing")
    planning = cards.planning
    pads = build_pads(item, place, planning["lever"], planning["skin_stiffness"])
    springs = _springs(pads, tape, tape_place, cards)
    motions = _motions(item, place, pads, springs)
    stiffness = build_stiffness(item, place, cards)
    if stiffness is None:
        lowest = min(motions[2:5], key=lambda pair: float(np.min(pair[1].value)))[1]
    else:
        lowest = _lowest(item, place, pads, springs, stiffness)
    speed = typed(job.travel.cruise_speed_m_per_s, "m/s", "travel.cruise_speed")
    roads = tuple(_road(road, lowest, speed, planning) for road in ROADS)
    bubble = derive(
        frequency_laws.bubble_length,
        bubble_over_thickness=planning["bubble_length"].end("likely"),
        thickness_m=typed(item.thickness_m, "m", f"{place}.thickness"),
    )
    vortices, flapping = (
        derive(
            frequency_laws.vortex_frequency,
            vortex_number=planning[number].decided,
            speed_m_per_s=speed,
            bubble_m=bubble,
        )
        for number in ("vortex_number", "flapping_number")
    )
    return VibrationAnswer(
        motions=motions,
        lowest=lowest,
        bends=stiffness is not None,
        bump_factor=derive(
            frequency_laws.half_sine_factor,
            pulse_s=planning["bump_pulse"].decided,
            frequency_Hz=lowest,
        ),
        roads=roads,
        vortices=vortices,
        flapping=flapping,
        meeting_speed=derive(
            frequency_laws.meeting_speed,
            frequency_Hz=lowest,
            bubble_m=bubble,
            vortex_number=planning["vortex_number"].decided,
        ),
        findings=(
            *_unlikely(item, place, lowest, motions, stiffness),
            *_meeting(place, lowest, vortices, planning["shedding_margin"]),
            *_rough(place, roads, planning["bump"]),
        ),
    )


def _springs(pads: Pads, tape: Tape, tape_place: str, cards: Cards) -> dict[str, Number]:
    """Return the springs of clamped pads by direction, over (1, band, mount), softest in the high band."""
    card = cards.tapes[tape.kind]
    one = definition(1.0, "1", "clamped")
    thickness = typed(tape.thickness_m, "m", f"{tape_place}.thickness")

    def spring(own: float | None, band: Band, name: str) -> Number:
        source = Source(
            basis=band.basis,
            title=band.source,
            place=f"{card.id}.{name}",
            band=(band.low, band.likely, band.high),
        )
        modulus: Number = (
            choose([Given(value=getattr(band, end), unit="Pa", source=source) for end in _SOFTER], axis=1)
            if own is None
            else typed(own, "Pa", f"{tape_place}.{name}")
        )
        return derive(
            pad_laws.pad_spring, modulus_Pa=modulus, bond_area_m2=pads.area, tape_thickness_m=thickness
        )

    pull = spring(tape.tension_modulus_Pa, card.tension_modulus, "tension_modulus")
    shear = spring(tape.shear_modulus_Pa, card.shear_modulus, "shear_modulus")
    if pads.skin is not None:
        pull = derive(spring_in_series, pad_spring_N_per_m=pull, skin_spring_N_per_m=pads.skin)
    tilts = [
        derive(pad_laws.tilt_spring, clamped=one, pull_spring_N_per_m=pull, pad_side_m=side)
        for side in (pads.width, pads.length)
    ]
    return {
        "shear_spring_N_per_m": shear,
        "pull_spring_N_per_m": pull,
        "tilt_spring_about_x_Nm_per_rad": tilts[0],
        "tilt_spring_about_y_Nm_per_rad": tilts[1],
        "twist_spring_Nm_per_rad": derive(
            pad_laws.twist_spring,
            clamped=one,
            shear_spring_N_per_m=shear,
            pad_length_m=pads.length,
            pad_width_m=pads.width,
        ),
    }


def _motions(
    item: Item, place: str, pads: Pads, springs: Mapping[str, Number]
) -> tuple[tuple[str, Number], ...]:
    mass = typed(item.mass_kg, "kg", f"{place}.mass")
    sides = [
        typed(side, "m", f"{place}.{key}")
        for side, key in ((item.length_m, "length"), (item.width_m, "width"), (item.thickness_m, "thickness"))
    ]
    inertia = [
        derive(frequency_laws.box_inertia, mass_kg=mass, side_m=sides[one], other_side_m=sides[two])
        for one, two in ((1, 2), (0, 2), (0, 1))
    ]
    height = derive(force_laws.mid_height, gap_m=typed(item.gap_m, "m", f"{place}.gap"), thickness_m=sides[2])
    shear, pull, tilt_x, tilt_y, twist = (pads.over_bands(spring) for spring in springs.values())
    stiffness = np.stack([shear, shear, pull, tilt_x, tilt_y, twist], axis=-1)
    point = _points(pads)
    found = [
        rigid_frequencies(
            np.concatenate([point[band], np.zeros((len(pads.names), 1))], axis=-1),
            stiffness[band],
            item.mass_kg,
            np.array([float(np.asarray(one.value)) for one in inertia]),
            float(np.asarray(height.value)),
        )
        for band in range(len(BANDS))
    ]
    inputs: dict[str, Number] = {
        "pad_forward_m": pads.forward,
        "pad_left_m": pads.left,
        **springs,
        "mass_kg": mass,
        "height_m": height,
        **{f"inertia_about_{axis}_kg_m2": one for axis, one in zip("xyz", inertia, strict=True)},
    }
    by_motion = np.array(found).T
    return tuple(
        (name, Derived(value=values.reshape(1, -1, 1), unit="Hz", law=law, inputs=inputs))
        for name, values, law in zip(MOTIONS, by_motion, _MOTION, strict=True)
    )


def _lowest(
    item: Item, place: str, pads: Pads, springs: Mapping[str, Number], stiffness: ItemStiffness
) -> Number:
    along, across = (
        Line(side_m=side, cells=min(MOST_CELLS, max(FEWEST_CELLS, ceil(side / CELL_m))))
        for side in (item.length_m, item.width_m)
    )
    point = _points(pads)
    feet = np.stack([pads.over_bands(pads.length), pads.over_bands(pads.width)], axis=-1)
    _, pull, tilt_x, tilt_y, _ = (pads.over_bands(spring) for spring in springs.values())
    vertical = np.stack([pull, tilt_x, tilt_y], axis=-1)
    values = [
        lowest_bending_frequency(
            Grid(along=along, across=across),
            stiffness.at_band(band),
            stiffness.framed,
            (point[band], feet[band]),
            vertical[band],
            item.mass_kg,
        )
        for band in range(len(BANDS))
    ]
    mass = typed(item.mass_kg, "kg", f"{place}.mass")
    inputs = {
        "pad_forward_m": pads.forward,
        "pad_left_m": pads.left,
        **springs,
        "mass_kg": mass,
        **stiffness_inputs(stiffness),
    }
    return Derived(value=np.array(values).reshape(1, -1, 1), unit="Hz", law=_LOWEST, inputs=inputs)


def _points(pads: Pads) -> Array:
    return np.stack([pads.over_bands(pads.forward), pads.over_bands(pads.left)], axis=-1)


def _road(road: str, frequency: Number, speed: Number, planning: Mapping[str, PlanningValue]) -> RoadResponse:
    spectrum = derive(
        road_laws.body_spectrum,
        share=derive(
            road_laws.passed_on,
            frequency_Hz=frequency,
            body_frequency_Hz=planning["body_frequency"].decided,
            damping=planning["body_damping"].decided,
            tyre_over_spring=planning["tyre_over_spring"].decided,
            wheel_mass_share=planning["wheel_mass_share"].decided,
        ),
        spectrum_m2_per_s3=derive(
            road_laws.acceleration_spectrum,
            frequency_Hz=frequency,
            displacement_m2_per_Hz=derive(
                road_laws.road_spectrum,
                roughness_m2_m=planning[f"road.{road}"].decided,
                reference_one_per_m=REFERENCE,
                speed_m_per_s=speed,
                frequency_Hz=frequency,
            ),
        ),
    )
    amplification = planning["amplification"].decided
    rms = derive(
        road_laws.miles_acceleration,
        frequency_Hz=frequency,
        amplification=amplification,
        spectrum_m2_per_s3=spectrum,
    )
    return RoadResponse(
        road=road,
        spectrum=spectrum,
        rms=rms,
        peak=derive(road_laws.peak_of_random, deviations=PEAK, rms_m_per_s2=rms),
        movement=derive(
            road_laws.miles_movement,
            frequency_Hz=frequency,
            amplification=amplification,
            spectrum_m2_per_s3=spectrum,
        ),
    )


def _unlikely(
    item: Item,
    place: str,
    lowest: Number,
    motions: tuple[tuple[str, Number], ...],
    stiffness: ItemStiffness | None,
) -> Iterator[Finding]:
    """Yield a question where an item swings slower than is likely, or with its typed stiffness as if it were rigid."""
    likely = BANDS.index("likely")
    swings = float(np.asarray(lowest.value).reshape(-1)[likely])
    rigid = min(float(np.asarray(number.value).reshape(-1)[likely]) for _, number in motions[2:5])
    typed_key = next(
        (
            f"{place}.{key}_bending_stiffness"
            for key, value in (
                ("frame", item.frame_bending_stiffness_N_m2),
                ("laminate", item.laminate_bending_stiffness_Nm),
            )
            if value is not None
        ),
        place,
    )
    if swings < SLOWEST_Hz:
        yield Finding(
            file="job.toml",
            line=None,
            key=typed_key,
            value="",
            rule=f"it would swing up and down at {shown(swings, 'Hz')}, softer or heavier than anything on a roof is"
            " likely to be",
            hint="are its stiffness, its mass and the places of its mounts right? Such an item flaps in the wind",
            grade="warning",
        )
    own = stiffness is not None and stiffness.own
    if own and max(item.length_m, item.width_m) >= LONG_m and swings > NEARLY_RIGID * rigid:
        yield Finding(
            file="job.toml",
            line=None,
            key=typed_key,
            value="",
            rule=f"it would swing at {shown(swings, 'Hz')}, as a rigid item would on its tape ({shown(rigid, 'Hz')}):"
            " stiffer than one of its length is likely to be",
            hint="is the stiffness right, and is it that of one profile, and of 1 m of width of the laminate?",
            grade="warning",
        )


def _meeting(place: str, lowest: Number, vortices: Number, margin_card: PlanningValue) -> Iterator[Finding]:
    """Yield a note where vortices come at the item's own frequency at cruising speed."""
    own = float(np.asarray(lowest.value).reshape(-1)[BANDS.index("likely")])
    shed = float(np.asarray(vortices.value))
    if abs(shed - own) <= float(margin_card.decided.value) * own:
        yield Finding(
            file="job.toml",
            line=None,
            key=place,
            value="",
            rule=f"at cruising speed vortices leave its edge {shown(shed, 'Hz')}, near its own {shown(own, 'Hz')}",
            hint="it may hum and tire the bond; a rounded or deflected front edge, or another mount, parts them",
            grade="warning",
        )


def _rough(place: str, roads: tuple[RoadResponse, ...], bump_card: PlanningValue) -> Iterator[Finding]:
    """Yield a note naming the first class of road that shakes the item more than the bump that is counted."""
    bump = float(bump_card.decided.value)
    for road in roads:
        peak = float(np.max(np.asarray(road.peak.value)))
        if peak > bump:
            yield Finding(
                file="job.toml",
                line=None,
                key=place,
                value="",
                rule=f"a road of class {road.road} (ISO 8608) at cruising speed may shake it by {both(peak, 'm/s2')},"
                f" the bump that is counted is {shown(bump, 'm/s2')}",
                hint="drive such roads slower, or stiffen item and mounts",
                grade="warning",
            )
            return
