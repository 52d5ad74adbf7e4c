"""Laws of a surface that takes heat from the sun and gives it to air and sky."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m2 K4), CODATA 2018, exact by the SI of 2019
LARGEST_STEP_K = 1e-9
MOST_STEPS = 60
NOMINAL_AIR_K = 293.15  # IEC 61215, from memory
NOMINAL_SUN_W_per_m2 = 800.0
FAIMAN_CALM_W_per_m2_K = 25.0  # Faiman 2008, from memory
FAIMAN_WIND = 6.84  # of the same, for each m/s


@law(
    unit="K",
    method="Newton from above on a*G + e*sigma*T_sky^4 + h*T_a = e*sigma*T^4 + h*T",
    source="energy balance of a plate that loses nothing downward; ASTM E1980-11, from memory",
)
def balance_temperature(
    air_temperature_K: Value,
    sky_temperature_K: Value,
    absorptance: Value,
    sun_W_per_m2: Value,
    emittance: Value,
    convection_W_per_m2_K: Value,
) -> Value:
    """Return the temperature at which a surface gives to air and sky what it takes from the sun. [K]

    Nothing is lost downward, which is the hot side for a roof in the sun. Any argument may be an array.

    Parameters
    ----------
    air_temperature_K, sky_temperature_K : float
        Of the air, and of the sky that it radiates to. [K]
    absorptance : float
        Solar absorptance, 0 to 1. [1]
    sun_W_per_m2 : float
        Sun on the surface, 0 by night. [W/m²]
    emittance : float
        Thermal emittance, above 0 to 1. [1]
    convection_W_per_m2_K : float
        Heat transfer to the air. [W/m²K]

    Examples
    --------
    >>> balance_temperature(310.0, 300.0, 0.95, 1000.0, 0.9, 12.0)
    355.7
    """
    radiation = emittance * STEFAN_BOLTZMANN
    gain = absorptance * sun_W_per_m2 + radiation * sky_temperature_K**4
    gain = gain + convection_W_per_m2_K * air_temperature_K
    # without convection it would be this hot: from above, a convex function is solved without overshoot
    temperature = (gain / radiation) ** (1 / 4)
    for _ in range(MOST_STEPS):
        excess = radiation * temperature**4 + convection_W_per_m2_K * temperature - gain
        step = excess / (4 * radiation * temperature**3 + convection_W_per_m2_K)
        temperature = temperature - step
        if np.max(np.abs(step)) < LARGEST_STEP_K:
            break
    return temperature


@law(
    unit="K",
    equation="T_sky = T_a - d",
    symbols={"T_a": "air_temperature_K", "d": "below_air_K"},
    source="definition: how much colder the sky is than the air",
)
def sky_temperature(air_temperature_K: Value, below_air_K: Value) -> Value:
    """Return the temperature of the sky that a roof radiates to. [K]

    Parameters
    ----------
    air_temperature_K : float
        Air temperature. [K]
    below_air_K : float
        How much colder the sky is. [K]

    Examples
    --------
    >>> sky_temperature(310.0, 10.0)
    300.0
    """
    return air_temperature_K - below_air_K


@law(
    unit="1",
    equation="a_d = minimum(1, a + d)",
    symbols={"a": "absorptance", "d": "dirt"},
    source="planning form: dirt adds to the absorptance of a clean surface",
)
def dirty_absorptance(absorptance: Value, dirt: Value) -> Value:
    """Return the solar absorptance of a surface that is no longer clean. [1]

    Parameters
    ----------
    absorptance : float
        Of the clean surface. [1]
    dirt : float
        What dirt adds. [1]

    Examples
    --------
    >>> float(dirty_absorptance(0.3, 0.1))
    0.4
    """
    return np.minimum(1.0, absorptance + dirt)


@law(
    unit="1",
    equation="a = maximum(a_1, a_2)",
    symbols={"a_1": "first_absorptance", "a_2": "second_absorptance"},
    source="safe side: a bond under an item is heated by the darker of roof and item",
)
def darker_absorptance(first_absorptance: Value, second_absorptance: Value) -> Value:
    """Return the solar absorptance of the darker of two surfaces. [1]

    Parameters
    ----------
    first_absorptance, second_absorptance : float
        Solar absorptance of each. [1]

    Examples
    --------
    >>> float(darker_absorptance(0.4, 0.95))
    0.95
    """
    return np.maximum(first_absorptance, second_absorptance)


@law(
    unit="K",
    equation="T = maximum(T_1, T_2)",
    symbols={"T_1": "first_K", "T_2": "second_K"},
    source="definition: the hotter of two estimates decides",
)
def hotter(first_K: Value, second_K: Value) -> Value:
    """Return the hotter of two temperatures. [K]

    Parameters
    ----------
    first_K, second_K : float
        Two estimates of one temperature. [K]

    Examples
    --------
    >>> float(hotter(366.0, 341.0))
    366.0
    """
    return np.maximum(first_K, second_K)


@law(
    unit="K",
    equation="T = minimum(T_1, T_2)",
    symbols={"T_1": "first_K", "T_2": "second_K"},
    source="definition: a bond in moving air is no hotter than it was in a calm",
)
def cooler(first_K: Value, second_K: Value) -> Value:
    """Return the cooler of two temperatures. [K]

    Parameters
    ----------
    first_K, second_K : float
        Parked, and in balance with moving air. [K]

    Examples
    --------
    >>> float(cooler(366.0, 325.0))
    325.0
    """
    return np.minimum(first_K, second_K)


@law(
    unit="W/m2K",
    equation="h_r = 4 * e * 5.670374419e-8 * T**3",
    symbols={"e": "emittance", "T": "temperature_K"},
    source="Stefan's law made linear; textbook",
)
def radiation_coefficient(emittance: Value, temperature_K: Value) -> Value:
    """Return the heat transfer by radiation for small differences around a temperature. [W/m²K]

    Parameters
    ----------
    emittance : float
        Thermal emittance. [1]
    temperature_K : float
        Temperature about which it is made linear. [K]

    Examples
    --------
    >>> radiation_coefficient(0.9, 310.0)
    6.08
    """
    return 4 * emittance * STEFAN_BOLTZMANN * temperature_K**3


@law(
    unit="W/m2",
    equation="dR = 5.670374419e-8 * (T_a**4 - T_s**4)",
    symbols={"T_a": "air_temperature_K", "T_s": "sky_temperature_K"},
    source="definition: what a black surface at air temperature loses to the sky",
)
def sky_deficit(air_temperature_K: Value, sky_temperature_K: Value) -> Value:
    """Return how much less a sky radiates than surroundings at air temperature would. [W/m²]

    Parameters
    ----------
    air_temperature_K, sky_temperature_K : float
        Of the air and of the sky. [K]

    Examples
    --------
    >>> sky_deficit(310.0, 300.0)
    64.4
    """
    return STEFAN_BOLTZMANN * (air_temperature_K**4 - sky_temperature_K**4)


@law(
    unit="W/m2K",
    equation="h_o = h_c + h_r",
    symbols={"h_c": "convection_W_per_m2_K", "h_r": "radiation_W_per_m2_K"},
    source="definition: two ways side by side",
)
def surface_coefficient(convection_W_per_m2_K: Value, radiation_W_per_m2_K: Value) -> Value:
    """Return the heat transfer of a surface by convection and radiation. [W/m²K]

    Parameters
    ----------
    convection_W_per_m2_K, radiation_W_per_m2_K : float
        Heat transfer by each. [W/m²K]

    Examples
    --------
    >>> surface_coefficient(12.0, 6.1)
    18.1
    """
    return convection_W_per_m2_K + radiation_W_per_m2_K


@law(
    unit="K",
    equation="T_e = T_a + a * G / h_o - e * dR / h_o",
    symbols={
        "T_a": "air_temperature_K",
        "a": "absorptance",
        "G": "sun_W_per_m2",
        "h_o": "surface_W_per_m2_K",
        "e": "emittance",
        "dR": "sky_deficit_W_per_m2",
    },
    source="sol-air temperature, ASHRAE Handbook Fundamentals, nonresidential cooling loads; form from memory",
)
def sol_air_temperature(
    air_temperature_K: Value,
    absorptance: Value,
    sun_W_per_m2: Value,
    surface_W_per_m2_K: Value,
    emittance: Value,
    sky_deficit_W_per_m2: Value,
) -> Value:
    """Return the sol-air temperature: the energy balance made linear, to follow by hand. [K]

    Parameters
    ----------
    air_temperature_K : float
        Air temperature. [K]
    absorptance : float
        Solar absorptance. [1]
    sun_W_per_m2 : float
        Sun on the surface. [W/m²]
    surface_W_per_m2_K : float
        Heat transfer by convection and radiation. [W/m²K]
    emittance : float
        Thermal emittance. [1]
    sky_deficit_W_per_m2 : float
        What the sky radiates less than the surroundings at air temperature. [W/m²]

    Examples
    --------
    >>> sol_air_temperature(308.15, 0.9, 950.0, 17.0, 1.0, 68.0)
    354.44
    """
    sun = absorptance * sun_W_per_m2 / surface_W_per_m2_K
    return air_temperature_K + sun - emittance * sky_deficit_W_per_m2 / surface_W_per_m2_K


@law(
    unit="K",
    equation="T = T_a + (T_n - 293.15) * G / 800",
    symbols={"T_a": "air_temperature_K", "T_n": "nominal_K", "G": "sun_W_per_m2"},
    source="IEC 61215, nominal operating temperature: 800 W/m2, 20 degC, wind of 1 m/s, open rack; from memory",
)
def nominal_module_temperature(air_temperature_K: Value, nominal_K: Value, sun_W_per_m2: Value) -> Value:
    """Return the temperature of a solar module on an open rack, from its nominal operating temperature. [K]

    Parameters
    ----------
    air_temperature_K : float
        Air temperature. [K]
    nominal_K : float
        Its temperature at 800 W/m², 20 °C and a wind of 1 m/s. [K]
    sun_W_per_m2 : float
        Sun on the module. [W/m²]

    Examples
    --------
    >>> nominal_module_temperature(308.15, 318.15, 1000.0)
    339.4
    """
    return air_temperature_K + (nominal_K - NOMINAL_AIR_K) * sun_W_per_m2 / NOMINAL_SUN_W_per_m2


@law(
    unit="K",
    equation="T = T_a + G / (25 + 6.84 * v)",
    symbols={"T_a": "air_temperature_K", "G": "sun_W_per_m2", "v": "air_speed_m_per_s"},
    source="Faiman, Prog. Photovolt. 16 (2008) 307, seven module types on open racks in a desert; from memory",
)
def windy_module_temperature(
    air_temperature_K: Value, sun_W_per_m2: Value, air_speed_m_per_s: Value
) -> Value:
    """Return the temperature of a solar module on an open rack in a wind. [K]

    Parameters
    ----------
    air_temperature_K : float
        Air temperature. [K]
    sun_W_per_m2 : float
        Sun on the module. [W/m²]
    air_speed_m_per_s : float
        Wind at the module. [m/s]

    Examples
    --------
    >>> windy_module_temperature(293.15, 1000.0, 1.0)
    324.56
    """
    return air_temperature_K + sun_W_per_m2 / (FAIMAN_CALM_W_per_m2_K + FAIMAN_WIND * air_speed_m_per_s)


@law(
    unit="K m2/W",
    equation="c = (T - T_a) / G",
    symbols={"T": "temperature_K", "T_a": "air_temperature_K", "G": "sun_W_per_m2"},
    source="planning form turned round: rise over air for each W/m2 of sun, as measured",
)
def measured_sun_factor(temperature_K: Value, air_temperature_K: Value, sun_W_per_m2: Value) -> Value:
    """Return the rise over air for each W/m² of sun that was measured. [K m²/W]

    Parameters
    ----------
    temperature_K, air_temperature_K : float
        Of the roof, bond or item, and of the air, at one time. [K]
    sun_W_per_m2 : float
        Sun on the horizontal at that time, above 0. [W/m²]

    Examples
    --------
    >>> measured_sun_factor(330.93, 295.93, 790.0)
    0.0443
    """
    return (temperature_K - air_temperature_K) / sun_W_per_m2


@law(
    unit="K m2/W",
    equation="c_0 = c * (h_w + h_r) / (h_0 + h_r)",
    symbols={
        "c": "sun_factor_K_m2_per_W",
        "h_w": "measured_convection_W_per_m2_K",
        "h_0": "calm_convection_W_per_m2_K",
        "h_r": "radiation_W_per_m2_K",
    },
    source="linear heat balance: the rise goes with one over the heat transfer of the surface",
)
def calm_sun_factor(
    sun_factor_K_m2_per_W: Value,
    measured_convection_W_per_m2_K: Value,
    calm_convection_W_per_m2_K: Value,
    radiation_W_per_m2_K: Value,
) -> Value:
    """Return a measured rise for each W/m² of sun as it would have been in a calm. [K m²/W]

    Parameters
    ----------
    sun_factor_K_m2_per_W : float
        As measured. [K m²/W]
    measured_convection_W_per_m2_K, calm_convection_W_per_m2_K : float
        Heat transfer to the air in the wind of the measurement, and in the calm that decides. [W/m²K]
    radiation_W_per_m2_K : float
        Heat transfer by radiation. [W/m²K]

    Examples
    --------
    >>> calm_sun_factor(0.030, 13.3, 5.0, 6.0)
    0.0526
    """
    then = measured_convection_W_per_m2_K + radiation_W_per_m2_K
    return sun_factor_K_m2_per_W * then / (calm_convection_W_per_m2_K + radiation_W_per_m2_K)


@law(
    unit="m/s",
    equation="v = v_g / g",
    symbols={"v_g": "gust_m_per_s", "g": "gust_factor"},
    source="definition of the gust factor: 3 s gust over the ten-minute mean",
)
def mean_wind(gust_m_per_s: Value, gust_factor: Value) -> Value:
    """Return the ten-minute mean wind in which a gust stands. [m/s]

    Parameters
    ----------
    gust_m_per_s : float
        Gust of 3 s. [m/s]
    gust_factor : float
        Gust over mean. [1]

    Examples
    --------
    >>> mean_wind(30.0, 1.5)
    20.0
    """
    return gust_m_per_s / gust_factor
