"""What each key of a job asks for, in the words of a person, with an example: for prompts and for comments."""

from __future__ import annotations

from staydown.foundation.refusals import example_of
from staydown.job.shape import FieldShape

Words = tuple[str, str]  # what it asks for, an example as typed

_WORDS: dict[tuple[str, ...], dict[str, Words]] = {
    ("job",): {
        "name": ("name of the job", "Robin"),
        "show": ("how results are shown first: metric or us", "metric"),
        "consequence": ("of losing an item: low, medium or high; left out: high", "high"),
        "service_years": ("how long it is to stay on, in years", "5"),
    },
    ("vehicle",): {
        "roof_length": ("length of the roof", "4.2 m"),
        "roof_width": ("width of the roof", "1.75 m"),
        "roof_height": ("height of the roof above the road", "2.6 m"),
        "surface": ("what the roof is made of, an id of `staydown cards surfaces`", "gelcoat"),
        "roof_colour": ("colour of the roof, an id of `staydown cards colours`", "white"),
        "absorptance": ("or its solar absorptance, if you know it", "0.3"),
    },
    ("vehicle", "on_roof"): {
        "name": ("name of the thing", "roof vent"),
        "kind": ("vent, hatch, rail, antenna or other", "vent"),
        "behind_front": ("its middle, behind the roof's front edge", "2.1 m"),
        "left_of_centre": ("its middle, left of the vehicle's centreline, right is negative", "0 mm"),
        "length": ("its length, along the vehicle", "400 mm"),
        "width": ("its width, across the vehicle", "400 mm"),
        "height": ("how far it stands up from the roof", "90 mm"),
        "note": ("what else there is to say", "opens to the rear"),
    },
    ("vehicle", "local_wind"): {
        "behind_front": ("place, behind the roof's front edge", "1.1 m"),
        "speed_ratio": ("wind speed there over the speed ahead of the vehicle", "0.7"),
        "covers": ("what it was measured for", "drag"),
        "note": ("how it was measured", "closed road, both directions"),
    },
    ("travel",): {
        "cruise_speed": ("speed on the open road", "95 km/h"),
        "top_speed": ("the fastest you ever drive", "115 km/h"),
        "headwind": ("worst headwind you drive in, ten-minute mean as forecast", "25 km/h"),
        "headwind_is": ("mean or gust; left out: mean", "mean"),
        "crosswind": ("worst crosswind; left out: as the headwind", "35 km/h"),
        "longest_leg": ("longest drive without a stop", "2.5 h"),
        "hours_per_year": ("hours driven in a year", "250"),
        "altitude": ("lowest place you drive at; left out: sea level", "0 m"),
        "pass_pressure": ("suction when a truck passes; left out: none", "0.3 kPa"),
        "parked": ("anywhere, or shade: only ever parked out of the sun; left out: anywhere", "anywhere"),
    },
    ("climate",): {
        "coldest": ("coldest air it must stand", "-15 degC"),
        "hottest": ("hottest air it must stand", "38 degC"),
        "sun": ("strongest sun; left out: 1000 W/m^2", "1000 W/m^2"),
        "storm_gust": ("worst gust while parked (3 s)", "110 km/h"),
        "snow": ("snow on the roof, as a pressure; left out: none", "0.6 kPa"),
    },
    ("tape",): {
        "name": ("a name of your own for the tape or adhesive", "grey foam"),
        "kind": ("its class, an id of `staydown cards tapes`", "acrylic foam tape"),
        "thickness": ("thickness of the bond", "1.1 mm"),
        "width": ("width of the tape", "25 mm"),
        "tension_modulus": ("if its data sheet gives one", "1.0 MPa"),
        "shear_modulus": ("if its data sheet gives one", "0.35 MPa"),
    },
    ("item",): {
        "name": ("name of the item", "panel"),
        "kind": ("what the item is, an id of `staydown cards kinds`", "solar panel"),
        "length": ("length of the item, along the vehicle", "1480 mm"),
        "width": ("width of the item, across the vehicle", "670 mm"),
        "thickness": ("thickness of the item", "35 mm"),
        "mass": ("mass of the item with all that is on it", "11.2 kg"),
        "gap": ("from the roof to the item's underside; 0 mm where it is glued flat", "45 mm"),
        "behind_roof_front": ("from the roof's front edge back to the item's", "0.9 m"),
        "left_of_centre": ("left of the vehicle's centreline, right is negative", "0 mm"),
        "nose_up": ("front edge raised while driving", "0 deg"),
        "front_edge": ("open, deflected (a ramp before it) or sealed (no air under it)", "open"),
        "material": ("what the item is made of, an id of `staydown cards materials`", "glass in aluminium frame"),
        "surface": ("where it differs from the roof's", "gelcoat"),
        "consequence": ("where it differs from the job's", "high"),
        "also_held_by": ("nothing, screws or clamps beside the bond", "nothing"),
        "sharp": ("true where it would cut", "false"),
        "tape": ("name of one of the tapes above", "grey foam"),
        "drag_coefficient": ("if you measured it", "1.4"),
        "absorptance": ("solar absorptance of the item", "0.9"),
        "frame_bending_stiffness": ("EI of one profile of its frame, if it bends", "1400 N m^2"),
        "frame_torsion_stiffness": ("GJ of one profile of its frame", "60 N m^2"),
        "laminate_bending_stiffness": ("of 1 m of width of its plate", "180 N m"),
    },
    ("item", "link"): {
        "part": ("item frame, fastener, bracket, upper bond, coating or skin", "bracket"),
        "strength": ("per mount", "1.8 kN"),
        "source": ("how you know", "pulled two on the bench, the lower"),
        "note": ("what else there is to say", "bench pull"),
    },
    ("item", "mount"): {
        "name": ("name of the mount", "front left"),
        "behind": ("behind the item's front edge, to the pad's centre", "120 mm"),
        "left": ("left of the item's centreline, right is negative", "310 mm"),
        "pad": ("bonded rectangle, along x across the vehicle", "80 mm x 50 mm"),
        "lever": ("from the pad's centre to the line of pull", "12 mm"),
        "lever_direction": ("along or across", "across"),
        "lever_side": ("given: the sign of the lever is known; left out: both are tried", "unknown"),
        "foot_thickness": ("thickness of the foot's plate", "5 mm"),
        "foot_material": ("an id of `staydown cards materials`", "aluminium"),
        "fastener": ("screw between foot and item, or its strength", "M6 A2-70"),
        "engagement": ("thread of that screw in the foot", "8 mm"),
        "also_screw": ("a screw through the pad into the roof", "M4 A2-70"),
        "sheet_thickness": ("of the roof's sheet that this screw holds in", "1.5 mm"),
        "under": ("what is under the roof there: rib or skin", "rib"),
        "connection_height": ("where the item holds the foot; left out: the gap", "45 mm"),
        "slotted": ("true where the item may slide on its foot", "false"),
        "fit_gap": ("gap under the foot that pressing closed", "0.3 mm"),
        "contact": ("what of the pad touches, along x across, on ribs; left out: all of it", "28 mm x 50 mm"),
        "roof_radius": ("radius of a curved roof under the foot; left out: flat", "4 m"),
    },
    ("item", "tether"): {
        "material": ("what catches the item if the mounts let go", "polyester webbing"),
        "stiffness": ("force for each length it stretches", "30 N/mm"),
        "slack": ("how loose it hangs", "30 mm"),
        "breaking_strength": ("with its terminations", "9 kN"),
        "anchor": ("what it is fixed to", "roof rail screw"),
        "anchor_kind": ("mechanical, bonded or membrane", "mechanical"),
        "anchor_strength": ("of the anchor", "4 kN"),
        "note": ("what else there is to say", "looked at each spring"),
    },
}  # fmt: skip

_EXAMPLES = {
    "load": "1.8 kN",
    "area": "25 mm x 25 mm",
    "rectangle": "80 mm x 50 mm",
    "fastener": "M6 A2-70",
    "hours": "250",
    "flag": "false",
    "text": "in your own words",
}


def words_of(home: tuple[str, ...], field: FieldShape) -> Words:
    """Return what a key asks for, and an example; a key without words of its own is named as it is."""
    known = _WORDS.get(home, {}).get(field.key)
    if known is not None:
        return known
    example = str(field.choices[0]) if field.choices else _EXAMPLES.get(field.kind, "")
    return field.key.replace("_", " "), example or example_of(field.suffix).split(" or ")[0]
