"""Laws of a rough road: its spectrum, what the vehicle passes on, what an item on its pads makes of it."""

from __future__ import annotations

import numpy as np

from staydown.foundation.law import law
from staydown.foundation.numbers import Value

ISO_8608 = "ISO 8608:2016, exponent 2; from memory"


@law(
    unit="m2/Hz",
    equation="G = G_0 * n_0**2 * v / f**2",
    symbols={
        "G_0": "roughness_m2_m",
        "n_0": "reference_one_per_m",
        "v": "speed_m_per_s",
        "f": "frequency_Hz",
    },
    source=ISO_8608,
)
def road_spectrum(
    roughness_m2_m: Value, reference_one_per_m: Value, speed_m_per_s: Value, frequency_Hz: Value
) -> Value:
    """Return the spectrum of the road's height that a wheel meets. [m²/Hz]

    Parameters
    ----------
    roughness_m2_m : float or array
        Spectrum of the road's height at the reference, per cycle per metre. [m² m]
    reference_one_per_m : float
        Reference spatial frequency; 0.1 cycle per metre in the standard. [1/m]
    speed_m_per_s : float or array
        Speed over the road. [m/s]
    frequency_Hz : float or array
        Frequency, above 0. [Hz]

    Examples
    --------
    >>> road_spectrum(256e-6, 0.1, 25.0, 1.0)
    6.4e-5
    """
    return roughness_m2_m * reference_one_per_m**2 * speed_m_per_s / frequency_Hz**2


@law(
    unit="m2/s3",
    equation="S = (2 * pi * f)**4 * G",
    symbols={"f": "frequency_Hz", "G": "displacement_m2_per_Hz"},
    source="definition: two derivatives of a movement",
)
def acceleration_spectrum(frequency_Hz: Value, displacement_m2_per_Hz: Value) -> Value:
    """Return the spectrum of the acceleration of a movement whose spectrum is known. [m²/s³]

    Parameters
    ----------
    frequency_Hz : float or array
        Frequency. [Hz]
    displacement_m2_per_Hz : float or array
        Spectrum of the movement. [m²/Hz]

    Examples
    --------
    >>> acceleration_spectrum(1.0, 6.4e-5)
    0.09975
    """
    return (2 * np.pi * frequency_Hz) ** 4 * displacement_m2_per_Hz


@law(
    unit="1",
    equation=(
        "T = k**2 * (1 + 4 * z**2 * (f / f_b)**2)"
        " / ((k - (1 + m) * (f / f_b)**2 - (f / f_b)**2 * (k - m * (f / f_b)**2))**2"
        " + 4 * z**2 * (f / f_b)**2 * (k - (1 + m) * (f / f_b)**2)**2)"
    ),
    symbols={
        "f": "frequency_Hz",
        "f_b": "body_frequency_Hz",
        "z": "damping",
        "k": "tyre_over_spring",
        "m": "wheel_mass_share",
    },
    source="two masses on spring, damper and tyre (quarter car): Wong, Theory of Ground Vehicles; from memory",
)
def passed_on(
    frequency_Hz: Value,
    body_frequency_Hz: Value,
    damping: Value,
    tyre_over_spring: Value,
    wheel_mass_share: Value,
) -> Value:
    """Return the spectrum of the body's movement over that of the road: the square of a quarter car's response. [1]

    Parameters
    ----------
    frequency_Hz : float or array
        Frequency. [Hz]
    body_frequency_Hz : float
        Natural frequency of the body on its spring alone. [Hz]
    damping : float
        Damping ratio of the body on its spring. [1]
    tyre_over_spring : float
        Stiffness of the tyre over that of the spring. [1]
    wheel_mass_share : float
        Mass of wheel and axle over that of the body. [1]

    Examples
    --------
    >>> passed_on(1e-3, 1.3, 0.3, 8.0, 0.12)
    1.0
    """
    square = (frequency_Hz / body_frequency_Hz) ** 2
    tyre = tyre_over_spring - (1 + wheel_mass_share) * square
    still = tyre - square * (tyre_over_spring - wheel_mass_share * square)
    damped = 4 * damping**2 * square
    return tyre_over_spring**2 * (1 + damped) / (still**2 + damped * tyre**2)


@law(
    unit="m2/s3",
    equation="S_b = T * S",
    symbols={"T": "share", "S": "spectrum_m2_per_s3"},
    source="definition of the response",
)
def body_spectrum(share: Value, spectrum_m2_per_s3: Value) -> Value:
    """Return the spectrum of the body's acceleration. [m²/s³]

    Parameters
    ----------
    share : float or array
        Spectrum of the body's movement over that of the road. [1]
    spectrum_m2_per_s3 : float or array
        Spectrum of acceleration at the wheel. [m²/s³]

    Examples
    --------
    >>> body_spectrum(0.01, 40.0)
    0.4
    """
    return share * spectrum_m2_per_s3


@law(
    unit="m/s2",
    equation="a = sqrt(pi / 2 * f * Q * S)",
    symbols={"f": "frequency_Hz", "Q": "amplification", "S": "spectrum_m2_per_s3"},
    source="Miles 1954; R. Simmons, Miles' Equation, NASA Goddard 2001",
)
def miles_acceleration(frequency_Hz: Value, amplification: Value, spectrum_m2_per_s3: Value) -> Value:
    """Return the root mean square acceleration of an item whose base shakes with an even spectrum. [m/s²]

    Parameters
    ----------
    frequency_Hz : float or array
        Natural frequency of the item. [Hz]
    amplification : float or array
        Q, one over twice the damping ratio; 10 or more for 0.5 %, 3 for 5 % error. [1]
    spectrum_m2_per_s3 : float or array
        Spectrum of the base's acceleration at that frequency. [m²/s³]

    Examples
    --------
    >>> float(miles_acceleration(200.0, 20.0, 0.01))
    7.9267
    """
    return np.sqrt(np.pi / 2 * frequency_Hz * amplification * spectrum_m2_per_s3)


@law(
    unit="m",
    equation="y = sqrt(Q * S / (32 * pi**3 * f**3))",
    symbols={"f": "frequency_Hz", "Q": "amplification", "S": "spectrum_m2_per_s3"},
    source="R. Simmons, Miles' Equation, NASA Goddard 2001",
)
def miles_movement(frequency_Hz: Value, amplification: Value, spectrum_m2_per_s3: Value) -> Value:
    """Return the root mean square movement of an item against its shaking base. [m]

    Parameters
    ----------
    frequency_Hz : float or array
        Natural frequency of the item, above 0. [Hz]
    amplification : float or array
        Q, one over twice the damping ratio. [1]
    spectrum_m2_per_s3 : float or array
        Spectrum of the base's acceleration at that frequency. [m²/s³]

    Examples
    --------
    >>> float(miles_movement(200.0, 20.0, 0.01 * 9.80665**2))
    4.923e-5
    """
    return np.sqrt(amplification * spectrum_m2_per_s3 / (32 * np.pi**3 * frequency_Hz**3))


@law(
    unit="m/s2",
    equation="a_p = s * a",
    symbols={"s": "deviations", "a": "rms_m_per_s2"},
    source="practice: three standard deviations of a normal process as its peak; GSFC-STD-7000 2.4, from memory",
)
def peak_of_random(deviations: Value, rms_m_per_s2: Value) -> Value:
    """Return the acceleration that a random shaking is designed for. [m/s²]

    Parameters
    ----------
    deviations : float
        How many standard deviations count as the peak. [1]
    rms_m_per_s2 : float or array
        Root mean square. [m/s²]

    Examples
    --------
    >>> peak_of_random(3.0, 4.0)
    12.0
    """
    return deviations * rms_m_per_s2
