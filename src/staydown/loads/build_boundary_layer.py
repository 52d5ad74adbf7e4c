"""Builds what a smooth roof would slow of the wind at an item's front edge: to compare a measured ratio with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from staydown.foundation.numbers import derive, typed
from staydown.job.records import Item
from staydown.loads import air_laws, convection_laws
from staydown.loads.build_heat import Weather
from staydown.loads.build_winds import WindState
from staydown.loads.case_plan import PlannedCase
from staydown.loads.load_case import Beside


def build_boundary_layer(
    item: Item,
    place: str,
    rows: Sequence[PlannedCase],
    winds: Mapping[str, WindState],
    weather: Weather,
) -> Iterator[Beside]:
    """Yield thickness and mean pressure of the layer at the front edge, for wind straight from the front.

    Nothing is credited for it: a real roof's front corner throws the air off before it slows it.
    """
    if item.behind_roof_front_m <= 0.0:
        return
    distance = typed(item.behind_roof_front_m, "m", f"{place}.behind_roof_front")
    bottom = typed(item.gap_m, "m", f"{place}.gap")
    thickness = typed(item.thickness_m, "m", f"{place}.thickness")
    for state in winds.values():
        for season, air in weather.air.items():
            cases = tuple(n for n, row in enumerate(rows) if (row.wind, row.season) == (state.name, season))
            if not (cases and state.from_front_only):
                continue
            viscosity = derive(
                air_laws.kinematic_viscosity,
                viscosity_Pa_s=derive(air_laws.air_viscosity, temperature_K=air),
                air_density_kg_per_m3=weather.density[season],
            )
            layer = derive(
                convection_laws.boundary_layer_thickness,
                distance_m=distance,
                reynolds=derive(
                    convection_laws.reynolds_number,
                    air_speed_m_per_s=state.speed,
                    length_m=distance,
                    kinematic_viscosity_m2_per_s=viscosity,
                ),
            )
            share = derive(
                convection_laws.profile_pressure_share, bottom_m=bottom, thickness_m=thickness, layer_m=layer
            )
            yield Beside(name="boundary layer at the front edge", number=layer, cases=cases, each_mount=False)
            yield Beside(
                name="pressure share in the boundary layer", number=share, cases=cases, each_mount=False
            )
