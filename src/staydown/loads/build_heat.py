"""Builds what sun, sky and air do to a surface on the roof: absorptances, heat transfer, temperatures in balance."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from staydown.foundation.exposure import Season
from staydown.foundation.numbers import Given, Number, Source, definition, derive, typed
from staydown.job.records import Item, Job, MeasuredTemperature
from staydown.library.cards import Band, Cards, PlanningValue
from staydown.loads import air_laws, balance_laws, convection_laws, heat_laws

Place = Literal["under item", "bare roof", "item"]

NO_SUN = definition(0.0, "W/m2", "definition: no sun by night")
SUN_CARDS: dict[Place, str] = {
    "under item": "sun.under_item",
    "bare roof": "sun.bare_roof",
    "item": "sun.item",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """Air of each season and full sun. [K], [kg/m³], [W/m²]"""

    air: Mapping[Season, Number]
    density: Mapping[Season, Number]
    sun: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """One item on a roof under sun and sky. Absorptances are dirty ones; calm: heat transfer to still air.

    sky: temperature of the clear sky, by day in the hot season, by night in the cold one. shade: the sun that still
    reaches the parked vehicle of a driver who keeps to the shade, None where it may stand anywhere. [K], [W/m²K]
    """

    weather: Weather
    planning: Mapping[str, PlanningValue]
    measured: tuple[MeasuredTemperature, ...]
    roof_length: Number
    roof_absorptance: Number
    item_absorptance: Number
    sky: Mapping[Season, Number]
    emittance: Mapping[Season, Number]
    calm: Number
    shade: Number | None

    def balance(self, season: Season, absorptance: Number, sun: Number, convection: Number) -> Number:
        """Return the temperature of a surface that gives to air and sky what it takes from the sun."""
        return derive(
            balance_laws.balance_temperature,
            air_temperature_K=self.weather.air[season],
            sky_temperature_K=self.sky[season],
            absorptance=absorptance,
            sun_W_per_m2=sun,
            emittance=self.emittance[season],
            convection_W_per_m2_K=convection,
        )

    def standing(self, place: Place, sun: Number) -> Number:
        """Return the soaked temperature: as in a measured calm, never below the balance of its colour."""
        rise = derive(
            heat_laws.parked_temperature,
            air_temperature_K=self.weather.air["hot"],
            sun_factor_K_m2_per_W=self.sun_factor(place),
            sun_W_per_m2=sun,
        )
        absorptance = self.item_absorptance if place == "item" else self.roof_absorptance
        floor = self.balance("hot", absorptance, sun, self.calm)
        return derive(balance_laws.hotter, first_K=rise, second_K=floor)

    def in_wind(self, absorptance: Number, sunny: Number, sun: Number, convection: Number) -> Number:
        """Return the hot balance in moving air, no hotter than standing in full sun (sunny)."""
        balance = self.balance("hot", absorptance, sun, convection)
        return derive(balance_laws.cooler, first_K=sunny, second_K=balance)

    def hottest(self, place: Place, absorptance: Number, sunny: Number, driving: Number) -> Number:
        """Return the hottest it gets: soaked in the sun; less for a driver who keeps to the shade.

        sunny, driving: standing in full sun, and driving in it. Who keeps to the shade still drives in the sun,
        through towns too, and stops in it on the way, with the skin that warms fastest.
        """
        if self.shade is None:
            return sunny
        stopped = derive(
            heat_laws.cooled_temperature,
            final_K=sunny,
            start_K=derive(balance_laws.hotter, first_K=self.standing(place, self.shade), second_K=driving),
            time_s=self.planning["sun_stop"].decided,
            constant_s=derive(
                heat_laws.time_constant,
                heat_capacity_J_per_m2_K=self.planning["roof_heat_capacity"].end("low"),
                surface_W_per_m2_K=self.surface(self.calm, sunny),
            ),
        )
        town = self.convection("hot", self.planning["slow_driving"].decided)
        slow = self.in_wind(absorptance, sunny, self.weather.sun, town)
        return derive(balance_laws.hotter, first_K=stopped, second_K=slow)

    def sun_factor(self, place: Place) -> Number:
        """Return the rise for each W/m² of sun: the largest that was measured, else the planning value."""
        own = [
            self.measured_factor(number)
            for number, measured in enumerate(self.measured, start=1)
            if measured.place == place and measured.calibrates
        ]
        if not own:
            return self.planning[SUN_CARDS[place]].decided
        return max(own, key=lambda factor: float(factor.value))

    def measured_factor(self, number: int) -> Number:
        """Return the rise for each W/m² in a calm that follows from one measurement, counted from 1."""
        measured, key = self.measured[number - 1], f"vehicle.measured_temperature.{number}"
        temperature = typed(measured.temperature_K, "K", f"{key}.temperature")
        return derive(
            balance_laws.calm_sun_factor,
            sun_factor_K_m2_per_W=derive(
                balance_laws.measured_sun_factor,
                temperature_K=temperature,
                air_temperature_K=typed(measured.air_K, "K", f"{key}.air"),
                sun_W_per_m2=typed(measured.sun_W_per_m2, "W/m2", f"{key}.sun"),
            ),
            measured_convection_W_per_m2_K=derive(
                convection_laws.light_wind_convection,
                air_speed_m_per_s=typed(measured.wind_m_per_s, "m/s", f"{key}.wind"),
            ),
            calm_convection_W_per_m2_K=self.calm,
            radiation_W_per_m2_K=self.radiation(temperature),
        )

    def radiation(self, temperature: Number) -> Number:
        """Return the heat transfer by radiation around a temperature."""
        return derive(
            balance_laws.radiation_coefficient, emittance=self.emittance["hot"], temperature_K=temperature
        )

    def surface(self, convection: Number, temperature: Number) -> Number:
        """Return the heat transfer by convection and radiation around a temperature."""
        return derive(
            balance_laws.surface_coefficient,
            convection_W_per_m2_K=convection,
            radiation_W_per_m2_K=self.radiation(temperature),
        )

    def convection(self, season: Season, speed: Number) -> Number:
        """Return the heat transfer to air that streams along the whole roof, never below that to still air.

        Air properties are taken at the air's own temperature: 1 % of the heat transfer for a roof 30 K warmer.
        """
        air, density = self.weather.air[season], self.weather.density[season]
        viscosity = derive(air_laws.air_viscosity, temperature_K=air)
        conductivity = derive(air_laws.air_conductivity, temperature_K=air)
        nusselt = derive(
            convection_laws.flat_plate_nusselt,
            reynolds=derive(
                convection_laws.reynolds_number,
                air_speed_m_per_s=speed,
                length_m=self.roof_length,
                kinematic_viscosity_m2_per_s=derive(
                    air_laws.kinematic_viscosity, viscosity_Pa_s=viscosity, air_density_kg_per_m3=density
                ),
            ),
            prandtl=derive(
                air_laws.prandtl_number, viscosity_Pa_s=viscosity, conductivity_W_per_m_K=conductivity
            ),
        )
        wind = derive(
            convection_laws.convection_coefficient,
            nusselt=nusselt,
            conductivity_W_per_m_K=conductivity,
            length_m=self.roof_length,
        )
        return derive(convection_laws.larger_convection, first_W_per_m2_K=self.calm, second_W_per_m2_K=wind)


def build_heat(job: Job, item: Item, place: str, cards: Cards, weather: Weather) -> Heat:
    """Return the heat of one item's roof: colour and item on the dark end of what is known of them.

    Parameters
    ----------
    job, item, place : Job, Item, str
        The job, one of its items, and the item's dotted place.
    cards : Cards
        Colours and planning values, the job's overrides applied.
    weather : Weather
        Air of each season and full sun.
    """
    planning, vehicle = cards.planning, job.vehicle
    dirt = planning["dirt_absorptance"].decided

    def dirty(clean: Number) -> Number:
        return derive(balance_laws.dirty_absorptance, absorptance=clean, dirt=dirt)

    def sky(season: Season, time: str) -> Number:
        below = planning[f"sky_below_air_{time}"].decided
        return derive(balance_laws.sky_temperature, air_temperature_K=weather.air[season], below_air_K=below)

    colour = vehicle.roof_colour or "unknown"
    return Heat(
        weather=weather,
        planning=planning,
        measured=vehicle.measured_temperature,
        roof_length=typed(vehicle.roof_length_m, "m", "vehicle.roof_length"),
        roof_absorptance=dirty(
            dark_end(cards.colours[colour].absorptance, f"colour {colour}")
            if vehicle.absorptance is None
            else typed(vehicle.absorptance, "1", "vehicle.absorptance")
        ),
        item_absorptance=dirty(
            planning["item_absorptance"].decided
            if item.absorptance is None
            else typed(item.absorptance, "1", f"{place}.absorptance")
        ),
        sky={"hot": sky("hot", "day"), "cold": sky("cold", "night")},
        emittance={
            "hot": planning["emittance.day"].decided,
            "cold": planning["emittance.night"].decided,
        },
        calm=planning["parked_convection"].decided,
        shade=derive(heat_laws.sun_in_shade, share=planning["shade_sun"].decided, sun_W_per_m2=weather.sun)
        if job.travel.parked == "shade"
        else None,
    )


def dark_end(band: Band, card: str) -> Given:
    """Return the high end of a card's band as a number that names the card."""
    ends = (band.low, band.likely, band.high)
    source = Source(basis=band.basis, title=band.source, place=card, band=ends)
    return Given(value=band.high, unit=band.unit, source=source)
