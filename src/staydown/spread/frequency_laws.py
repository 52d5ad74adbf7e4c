"""Laws of an item that swings on its pads: mass, frequency, answer to a bump, vortices off its edge."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

KIYA_SASAKI = (
    "Kiya and Sasaki, J. Fluid Mech. 137 (1983) 83: frequencies go with speed over the bubble's length"
)
_STEP = 1e-6  # a pulse of exactly half a period divides by zero; the limit is smooth


@law(
    unit="kgm2",
    equation="J = m * (a**2 + b**2) / 12",
    symbols={"m": "mass_kg", "a": "side_m", "b": "other_side_m"},
    source="mechanics: moment of inertia of an even box about an axis through its middle",
)
def box_inertia(mass_kg: Value, side_m: Value, other_side_m: Value) -> Value:
    """Return how hard an even box is to turn about the axis at right angles to two of its sides. [kg m²]

    Parameters
    ----------
    mass_kg : float or array
        Its mass. [kg]
    side_m : float or array
        One side. [m]
    other_side_m : float or array
        The other. [m]

    Examples
    --------
    >>> box_inertia(12.0, 1.0, 2.0)
    5.0
    """
    return mass_kg * (side_m**2 + other_side_m**2) / 12


@law(
    unit="1",
    method=(
        "largest displacement during and after the pulse over that of the same force at rest, no damping:"
        " 2 r/(2 r - 1) sin(2 pi k/(2 r + 1)) for a pulse of r > 1/2 periods, 4 r cos(pi r)/(1 - 4 r^2) below"
    ),
    source="Harris, Shock and Vibration Handbook: undamped response to a half-sine pulse; from memory",
)
def half_sine_factor(pulse_s: Value, frequency_Hz: Value) -> Value:
    """Return how much more a half-sine pulse does than the same force at rest. [1]

    Parameters
    ----------
    pulse_s : float or array
        Length of the pulse, above 0. [s]
    frequency_Hz : float or array
        Natural frequency of what is hit, above 0. [Hz]

    Examples
    --------
    >>> float(half_sine_factor(0.0081, 100.0)), float(half_sine_factor(10.0, 100.0))
    (1.768, 1.00)
    """
    periods = np.asarray(pulse_s * frequency_Hz, dtype=float)
    periods = np.where(np.abs(periods - 0.5) < _STEP, 0.5 + _STEP, periods)
    after = np.abs(4 * periods * np.cos(np.pi * periods) / (1 - 4 * periods**2))
    # peaks during the pulse stand at 2 k/(2 r + 1) of it; the largest is the one nearest its middle
    count = np.maximum(1.0, np.stack([np.floor((2 * periods + 1) / 4), np.ceil((2 * periods + 1) / 4)]))
    peaks = np.max(np.sin(np.minimum(np.pi, 2 * np.pi * count / (2 * periods + 1))), axis=0)
    during = 2 * periods / np.where(periods > 0.5, 2 * periods - 1, 1.0) * peaks
    factor: Value = np.where(periods > 0.5, np.maximum(during, after), after)
    return factor


@law(
    unit="m",
    equation="x_R = c * t",
    symbols={"c": "bubble_over_thickness", "t": "thickness_m"},
    source="definition; lengths of bubbles behind square edges by Cherry et al. 1984, Kiya and Sasaki 1983",
)
def bubble_length(bubble_over_thickness: Value, thickness_m: Value) -> Value:
    """Return the length of the bubble that the flow makes behind a square windward edge. [m]

    Parameters
    ----------
    bubble_over_thickness : float or array
        Length over the item's thickness. [1]
    thickness_m : float or array
        The item's thickness. [m]

    Examples
    --------
    >>> bubble_length(5.0, 0.035)
    0.175
    """
    return bubble_over_thickness * thickness_m


@law(
    unit="Hz",
    equation="f_v = S * U / x_R",
    symbols={"S": "vortex_number", "U": "speed_m_per_s", "x_R": "bubble_m"},
    source=KIYA_SASAKI,
)
def vortex_frequency(vortex_number: Value, speed_m_per_s: Value, bubble_m: Value) -> Value:
    """Return how often vortices leave the bubble, or how often it flaps. [Hz]

    Parameters
    ----------
    vortex_number : float
        0.6 for vortices, 0.2 for flapping. [1]
    speed_m_per_s : float or array
        Speed of the air. [m/s]
    bubble_m : float or array
        Length of the bubble. [m]

    Examples
    --------
    >>> vortex_frequency(0.6, 30.0, 0.175)
    102.857
    """
    return vortex_number * speed_m_per_s / bubble_m


@law(
    unit="m/s",
    equation="U = f * x_R / S",
    symbols={"f": "frequency_Hz", "x_R": "bubble_m", "S": "vortex_number"},
    source=KIYA_SASAKI,
)
def meeting_speed(frequency_Hz: Value, bubble_m: Value, vortex_number: Value) -> Value:
    """Return the speed at which the vortices come at the item's own frequency. [m/s]

    Parameters
    ----------
    frequency_Hz : float or array
        Natural frequency of the item. [Hz]
    bubble_m : float or array
        Length of the bubble. [m]
    vortex_number : float
        0.6 for vortices, 0.2 for flapping. [1]

    Examples
    --------
    >>> meeting_speed(102.857, 0.175, 0.6)
    30.0
    """
    return frequency_Hz * bubble_m / vortex_number
