"""What the water running in the pipe carries away: its pull on the bed against a threshold.

`open_channel.part_full` gives the mean boundary shear of a flow; here is what it takes to move
what lies there. These are least values for loose, clean grains. Grease, fines and time bind a
deposit, and then it takes many times more: that is what the jet is for.
"""

from __future__ import annotations

from math import exp

from refgen.hydraulics.ranges import require
from refgen.hydraulics.water import GRAVITY, Water

# Shear [Pa] at which sanitary sewers keep 1 mm sand grains moving: ASCE Manual of Practice 60 /
# WEF Manual FD-5, Gravity Sanitary Sewer Design and Construction, 2nd ed. (2007), after Merritt.
SEWER_SAND = 0.867
SMALLEST_GRAIN = 6e-5
LARGEST_GRAIN = 0.02
QUARTZ = 2650.0


def threshold_shear(grain: float, water: Water, grain_density: float = QUARTZ) -> float:
    """Return the boundary shear [Pa] at which loose grains of one size begin to move.

    θ = 0.30/(1 + 1.2·D*) + 0.055·(1 − e^(−0.020·D*)), D* = grain·(g·(s − 1)/ν²)^⅓,
    shear = θ·(ρs − ρ)·g·grain. Single measurements scatter by about a third either way.

    Args:
        grain: Diameter of the grains [m], 0.06 to 20 mm.
        water: The water.
        grain_density: Density of the grains [kg/m³], 1060 to 4250: sand and stone 2650.

    Raises:
        OutOfRange: If an argument lies outside its range.

    Source:
        Soulsby (1997), Dynamics of Marine Sands, eq. 77 (Soulsby and Whitehouse), a curve
        through Shields (1936) and later data. Densities as in Shields's tests.
    """
    require("diameter of the grains [m]", grain, SMALLEST_GRAIN, LARGEST_GRAIN)
    require("density of the grains [kg/m³]", grain_density, 1060.0, 4250.0)
    lighter = grain_density / water.density - 1
    kinematic = water.viscosity / water.density
    size = grain * float((GRAVITY * lighter / kinematic**2) ** (1 / 3))
    shields = 0.30 / (1 + 1.2 * size) + 0.055 * (1 - exp(-0.020 * size))
    return shields * lighter * water.density * GRAVITY * grain


def largest_grain_moved(shear: float, water: Water, grain_density: float = QUARTZ) -> float | None:
    """Return the largest loose grain [m] that a boundary shear [Pa] moves.

    None if it moves not even 0.06 mm (fine sand); 20 mm if it moves that and perhaps more.

    Args:
        shear: Mean boundary shear [Pa], from `open_channel.part_full`.
        water: The water.
        grain_density: Density of the grains [kg/m³], 1060 to 4250.
    """
    require("boundary shear [Pa]", shear, 0.0)
    low, high = SMALLEST_GRAIN, LARGEST_GRAIN
    if shear < threshold_shear(low, water, grain_density):
        return None
    if shear >= threshold_shear(high, water, grain_density):
        return high
    while high - low > 1e-9:
        middle = (low + high) / 2
        if threshold_shear(middle, water, grain_density) <= shear:
            low = middle
        else:
            high = middle
    return low
