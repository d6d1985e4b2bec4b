"""Water with propylene glycol in it: density and viscosity, for the flow of antifreeze in a hose.

Cold antifreeze is many times thicker than water, so a hose may run laminar with it, or in the gap
where no friction formula holds.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp

from refgen.errors import OutOfRange
from refgen.hydraulics.antifreeze import freezing_point
from refgen.hydraulics.ranges import require
from refgen.hydraulics.water import Water, water_at

WARMEST = 313.15

# Density of propylene glycol and of water at 20 °C [kg/m³], for a share by volume as one by mass:
# CRC Handbook of Chemistry and Physics.
_GLYCOL, _WATER = 1036.0, 998.2

# Melinder's polynomial: Σ row i, column j · (w − 30.7031 %)^i · (t − 32.7089 °C)^j, w by mass.
_MIDDLE_STRENGTH, _MIDDLE_TEMPERATURE = 30.7031, 32.7089
_DENSITY = (
    (1.018e3, -5.406e-1, -2.666e-3, 1.347e-5),
    (7.604e-1, -9.450e-3, 5.541e-5, -1.343e-7),
    (-2.498e-3, 2.700e-5, -4.018e-7, 3.376e-9),
    (-1.550e-4, 2.829e-6, -7.175e-9),
    (-1.131e-6, -2.221e-8),
    (2.342e-8,),
)
_LOG_VISCOSITY = (
    (6.837e-1, -3.045e-2, 2.525e-4, -1.399e-6),
    (3.328e-2, -3.984e-4, 4.332e-6, -1.860e-8),
    (5.453e-5, -8.600e-8, -1.593e-8, -4.465e-11),
    (-3.900e-6, 1.054e-7, -1.589e-9),
    (-1.587e-8, 4.475e-10),
    (3.564e-9,),
)


@lru_cache(maxsize=256)
def mixture_at(temperature: float, share: float) -> Water:
    """Return density and viscosity of propylene glycol in water; without glycol, of water.

    Published tables of the viscosity differ by a tenth, near the freezing point by a quarter.

    >>> round(mixture_at(273.15, 0.30).viscosity * 1e3, 1)
    7.4

    Args:
        temperature: Temperature of the mixture [K], from its freezing point to 313.15; without
            glycol 274.15 to 353.15.
        share: Share of glycol by volume [-], 0 to 0.50.

    Raises:
        OutOfRange: If the mixture is slush, or an argument lies outside its range.

    Source:
        Melinder (2010), Properties of Secondary Working Fluids for Indirect Systems,
        International Institute of Refrigeration: propylene glycol.
    """
    if share == 0:
        return water_at(temperature)
    freezing = freezing_point(share)
    if temperature < freezing:
        raise OutOfRange(
            f"water with {share:.0%} glycol is slush below {freezing - 273.15:.0f} °C "
            f"({freezing * 1.8 - 459.67:.0f} °F), and no pump moves it"
        )
    require("temperature of antifreeze [K]", temperature, freezing, WARMEST)
    mass = 100 * share * _GLYCOL / (share * _GLYCOL + (1 - share) * _WATER)
    celsius = temperature - 273.15
    return Water(
        _polynomial(_DENSITY, mass, celsius),
        1e-3 * exp(_polynomial(_LOG_VISCOSITY, mass, celsius)),
    )


def _polynomial(rows: tuple[tuple[float, ...], ...], mass: float, celsius: float) -> float:
    strength, warmth = mass - _MIDDLE_STRENGTH, celsius - _MIDDLE_TEMPERATURE
    return sum(
        factor * strength**i * warmth**j
        for i, row in enumerate(rows)
        for j, factor in enumerate(row)
    )
