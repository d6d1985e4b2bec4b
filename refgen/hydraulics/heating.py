"""How fast water heats while it goes round through the bypass.

All the power that goes in stays in the water that goes round; what the tank's walls lose is
not counted, so real water is a little slower.
"""

from __future__ import annotations

from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import COLDEST, HOTTEST

# Specific heat of water between 5 and 60 °C, within 0.5 % [J/(kg K)]: IAPWS SR6-08(2011).
SPECIFIC_HEAT = 4186.0


def heating_rate(power: float, volume: float, density: float = 1000.0) -> float:
    """Return how fast the water warms [K/s]: power / (ρ·c·V).

    Args:
        power: Power into the water: pressure × flow through the bypass [W].
        volume: Water that goes round: the tank, or the short loop at the pump [m³].
        density: Density of the water [kg/m³].
    """
    require("power into the water [W]", power, 0.0)
    require_positive("water that goes round [m³]", volume)
    return power / (density * SPECIFIC_HEAT * volume)


def time_to_warm(power: float, volume: float, start: float, end: float) -> float:
    """Return how long [s] the water takes from one temperature [K] to a higher one.

    Args:
        power: Power into the water [W], above 0.
        volume: Water that goes round [m³].
        start: Temperature now [K], 274.15 to 353.15.
        end: Temperature asked for [K], `start` to 353.15.
    """
    require_positive("power into the water [W]", power)
    require("water temperature [K]", start, COLDEST, HOTTEST)
    require("water temperature asked for [K]", end, start, HOTTEST)
    return (end - start) / heating_rate(power, volume)
