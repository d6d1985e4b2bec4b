"""Density and viscosity of fresh water, from its temperature.

Source of every equation here: IAPWS SR6-08(2011), Revised Supplementary Release on
Properties of Liquid Water at 0.1 MPa, explicit equations for the specific volume and the
viscosity. The release holds from 253.15 to 383.15 K; a jetter's water is liquid and below
the boiling point, so the range here is 1 to 80 °C. Water is taken as incompressible.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from refgen.hydraulics.ranges import require

COLDEST = 274.15
HOTTEST = 353.15
GRAVITY = 9.80665

# Specific volume: v = (R·10 K/p) · (constant + Σ coefficient·α^power + Σ coefficient·β^power),
# α = 10 K/(593 K − T), β = 10 K/(T − 232 K), R = 461.51805 J/(kg K), p = 0.1 MPa.
CONSTANT = 1.93763157e-2
ALPHA = (
    (6.74458446e3, 4),
    (-2.22521604e5, 5),
    (1.00231247e8, 7),
    (-1.63552118e9, 8),
    (8.32299658e9, 9),
)
BETA = (
    (5.78545292e-3, 1),
    (-1.53195665e-2, 2),
    (3.11337859e-2, 3),
    (-4.23546241e-2, 4),
    (3.38713507e-2, 5),
    (-1.19946761e-2, 6),
)
# Viscosity: Σ coefficient · (T/300 K)^power, in micropascal seconds.
VISCOSITY = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))


@dataclass(frozen=True, slots=True)
class Water:
    """What flow needs to know of the water: density [kg/m³] and viscosity [Pa s]."""

    density: float
    viscosity: float


@lru_cache(maxsize=256)
def density(temperature: float) -> float:
    """Return the density of fresh water [kg/m³] at 0.1 MPa.

    >>> round(density(288.15), 1)
    999.1

    Args:
        temperature: Water temperature [K], 274.15 to 353.15.

    Raises:
        OutOfRange: If the temperature lies outside.

    Source:
        IAPWS SR6-08(2011), equation for the specific volume.
    """
    require("water temperature [K]", temperature, COLDEST, HOTTEST)
    alpha = 10.0 / (593.0 - temperature)
    beta = 10.0 / (temperature - 232.0)
    series = (
        CONSTANT
        + sum(factor * alpha**power for factor, power in ALPHA)
        + sum(factor * beta**power for factor, power in BETA)
    )
    return 0.1e6 / (461.51805 * 10.0 * series)


@lru_cache(maxsize=256)
def viscosity(temperature: float) -> float:
    """Return the dynamic viscosity of fresh water [Pa s] at 0.1 MPa.

    >>> round(viscosity(293.15) * 1000, 3)
    1.002

    Args:
        temperature: Water temperature [K], 274.15 to 353.15.

    Raises:
        OutOfRange: If the temperature lies outside.

    Source:
        IAPWS SR6-08(2011), equation for the viscosity.
    """
    require("water temperature [K]", temperature, COLDEST, HOTTEST)
    series = sum(factor * float((temperature / 300.0) ** power) for factor, power in VISCOSITY)
    return 1e-6 * series


@lru_cache(maxsize=256)
def water_at(temperature: float) -> Water:
    """Return the water of this temperature [K], 274.15 to 353.15."""
    return Water(density(temperature), viscosity(temperature))
