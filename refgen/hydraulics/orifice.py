"""Jets: flow through a hole, its speed, and how hard it pushes back.

A hole is known by its flow area Cd·A [m²]: the opening times its discharge coefficient.
Everything a jet does follows from that area, the pressure before it and the density.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import pi, radians, sqrt
from typing import Literal

from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import density

Facing = Literal["rear", "front"]

# A trade number is the flow in US gallons a minute at 4000 psi, water at 15 °C.
_US_GPM = 0.003785411784 / 60
_NUMBER_PRESSURE = 4000 * 6894.757293168361
_NUMBER_DENSITY = density(288.15)
AREA_OF_ONE = _US_GPM / sqrt(2 * _NUMBER_PRESSURE / _NUMBER_DENSITY)
"""Cd·A of a jet of trade number 1 [m²]."""


@dataclass(frozen=True, slots=True)
class Jet:
    """A ring of equal holes in a nozzle.

    Attributes:
        count: Holes in the ring, 0 (all plugged) or more.
        flow_area: Cd·A of one hole [m²], from `area_of_bore` or `area_of_number`.
        angle: Angle between the jet and the hose axis [rad], 0 to π/2.
        faces: Where the jet points: `rear` pulls the hose on, `front` pushes it back.
        by_number: True if the area comes from a trade number, not from a bore and a
            discharge coefficient; the margins vary the two differently.
    """

    count: int
    flow_area: float
    angle: float
    faces: Facing = "rear"
    by_number: bool = False

    def __post_init__(self) -> None:
        require("count of jets", self.count, 0)
        require_positive("flow area of a jet [m²]", self.flow_area)
        require("angle of a jet [rad]", self.angle, 0.0, radians(90))


def area_of_bore(bore: float, discharge_coefficient: float) -> float:
    """Return Cd·A [m²] of a round hole.

    Args:
        bore: Diameter of the hole [m].
        discharge_coefficient: Cd [-], above 0 to 1: about 0.62 for a sharp edge, 0.75 for a
            drilled hole, 0.90 for a tapered insert.
    """
    require_positive("bore of a jet [m]", bore)
    require_positive("discharge coefficient [-]", discharge_coefficient)
    require("discharge coefficient [-]", discharge_coefficient, 0.0, 1.0)
    return discharge_coefficient * pi / 4 * bore * bore


def area_of_number(number: float) -> float:
    """Return Cd·A [m²] of a jet given by its trade number.

    The number is by definition the flow in US gallons a minute at 4000 psi (water at 15 °C),
    so it holds its own discharge coefficient.
    """
    require_positive("trade number", number)
    return number * AREA_OF_ONE


def number_of_area(flow_area: float) -> float:
    """Return the trade number of a jet with this Cd·A [m²].

    >>> round(number_of_area(area_of_number(4.5)), 9)
    4.5
    """
    require_positive("flow area [m²]", flow_area)
    return flow_area / AREA_OF_ONE


def total_area(jets: Iterable[Jet]) -> float:
    """Return Cd·A of all jets together [m²]."""
    return sum(jet.count * jet.flow_area for jet in jets)


def flow_through(flow_area: float, pressure: float, density: float) -> float:
    """Return the flow [m³/s]: Cd·A·√(2Δp/ρ), Δp = pressure across the hole [Pa]."""
    require("pressure across a jet [Pa]", pressure, 0.0)
    return flow_area * sqrt(2 * pressure / density)


def pressure_for(flow: float, flow_area: float, density: float) -> float:
    """Return the pressure [Pa] that drives this flow [m³/s] through Cd·A [m²]."""
    require("flow [m³/s]", flow, 0.0)
    require_positive("flow area [m²]", flow_area)
    return density / 2 * (flow / flow_area) ** 2


def area_for(flow: float, pressure: float, density: float) -> float:
    """Return the Cd·A [m²] that passes this flow [m³/s] at this pressure [Pa]."""
    require_positive("flow [m³/s]", flow)
    require_positive("pressure across a jet [Pa]", pressure)
    return flow / sqrt(2 * pressure / density)


def bore_for_flow(
    flow: float, pressure: float, count: int, discharge_coefficient: float, density: float
) -> float:
    """Return the bore [m] that `count` equal holes need to pass this flow at this pressure.

    Args:
        flow: Flow of all holes together [m³/s].
        pressure: Pressure at the nozzle [Pa].
        count: Number of holes, 1 or more.
        discharge_coefficient: Cd [-], above 0 to 1.
        density: Density of the water [kg/m³].
    """
    require("count of jets", count, 1)
    require_positive("discharge coefficient [-]", discharge_coefficient)
    require("discharge coefficient [-]", discharge_coefficient, 0.0, 1.0)
    return sqrt(4 * area_for(flow, pressure, density) / (pi * count * discharge_coefficient))


def jet_speed(pressure: float, density: float, velocity_coefficient: float = 1.0) -> float:
    """Return the speed of a jet [m/s]: Cv·√(2Δp/ρ). Cv = 1 gives the ideal speed."""
    require("pressure across a jet [Pa]", pressure, 0.0)
    require("velocity coefficient [-]", velocity_coefficient, 0.0, 1.0)
    return velocity_coefficient * sqrt(2 * pressure / density)


def reaction(flow: float, speed: float, density: float) -> float:
    """Return the force [N] with which a jet pushes back: ρ·Q·v."""
    return density * flow * speed
