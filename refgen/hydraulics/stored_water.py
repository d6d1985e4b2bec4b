"""Water that stands: its pressure and push behind a cap or plug, and how soon a pipe fills."""

from __future__ import annotations

from math import pi

from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import GRAVITY


def head_pressure(height: float, density: float = 1000.0) -> float:
    """Return the pressure [Pa] under a column of water: ρ·g·h.

    Args:
        height: Height of the water above the place asked for [m], 0 or more.
        density: Density [kg/m³].
    """
    require("height of the water [m]", height, 0.0)
    return density * GRAVITY * height


def push_on_cap(height: float, bore: float, density: float = 1000.0) -> float:
    """Return the force [N] on a cap or plug in a round opening: ρ·g·h·π/4·d².

    Args:
        height: Height of the water above the middle of the opening [m], at least half of
            the bore where the opening stands upright, so that all of it is under water.
        bore: Diameter of the opening [m].
        density: Density [kg/m³].
    """
    require_positive("bore of the opening [m]", bore)
    return head_pressure(height, density) * pi / 4 * bore * bore


def pipe_volume(bore: float, length: float) -> float:
    """Return what a round pipe or hose holds [m³]: π/4·d²·length."""
    require_positive("bore [m]", bore)
    require("length [m]", length, 0.0)
    return pi / 4 * bore * bore * length


def time_to_back_up(flow: float, bore: float, length: float, filled: float = 0.0) -> float:
    """Return how long [s] a pipe blocked at its low end takes to fill up to a point.

    After that the water comes up at the lowest opening.

    Args:
        flow: All that runs in: the jets and whatever else drains there [m³/s], above 0.
        bore: Bore of the pipe [m].
        length: Pipe from the block up to that opening [m].
        filled: Share of it that is full already [-], 0 to 1.
    """
    require_positive("flow [m³/s]", flow)
    require("share of the pipe already full [-]", filled, 0.0, 1.0)
    return pipe_volume(bore, length) * (1 - filled) / flow


def water_mass(volume: float, density: float = 1000.0) -> float:
    """Return the mass of water in a tank [kg]."""
    require("volume of water [m³]", volume, 0.0)
    return volume * density


def load_left(gross_limit: float, empty_mass: float, volume: float, other: float = 0.0) -> float:
    """Return what a trailer may still carry [kg] with its tank filled; negative if overloaded.

    Args:
        gross_limit: Gross mass on the plate [kg].
        empty_mass: Mass of the machine with fuel and an empty tank [kg].
        volume: Water in the tank [m³].
        other: Tools and spare hose on board [kg].
    """
    require_positive("gross limit of the trailer [kg]", gross_limit)
    require_positive("mass of the empty machine [kg]", empty_mass)
    require("mass of other load [kg]", other, 0.0)
    return gross_limit - empty_mass - water_mass(volume) - other
