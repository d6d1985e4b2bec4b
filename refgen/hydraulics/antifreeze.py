"""Antifreeze: how much fills the machine, what is left of its strength, when it freezes.

Propylene glycol in water, by volume. A "burst" rating on a label lies lower than the freezing
point and does not keep a pump able to turn.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from refgen.hydraulics.hose import Segment
from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.stored_water import pipe_volume

STRONGEST = 0.50

# Share of propylene glycol by volume, freezing point [°C]: Lange's Handbook of Chemistry,
# 15th ed. (1999), table 5.13. Pure glycol; a product with its own table goes by that.
FREEZING = (
    (0.00, 0.0),
    (0.05, -1.1),
    (0.10, -2.2),
    (0.15, -3.9),
    (0.20, -6.7),
    (0.25, -8.9),
    (0.30, -12.8),
    (0.35, -16.1),
    (0.40, -20.6),
    (0.45, -26.7),
    (0.50, -33.3),
)


def hose_contents(hoses: Iterable[Segment]) -> float:
    """Return what hoses hold [m³]."""
    return sum(pipe_volume(hose.bore, hose.length) for hose in hoses)


def antifreeze_to_fill(hoses: Iterable[Segment], other: float = 0.0) -> float:
    """Return the antifreeze [m³] that just fills hoses, pump and plumbing.

    Buy more: the first of it is thinned by the water left behind.

    Args:
        hoses: All hoses, on the reel and off it.
        other: What pump, unloader and pipes hold [m³].
    """
    require("contents of pump and plumbing [m³]", other, 0.0)
    return hose_contents(hoses) + other


def mixed_strength(antifreeze: float, strength: float, water: float) -> float:
    """Return the share of glycol by volume [-] once antifreeze and water have mixed.

    >>> round(mixed_strength(3.0, 0.5, 2.0), 3)
    0.3

    Args:
        antifreeze: Antifreeze put in, in the unit of `water`, above 0.
        strength: Its share of glycol by volume [-], 0 to 1.
        water: Water left behind.
    """
    require_positive("antifreeze put in", antifreeze)
    require("share of glycol [-]", strength, 0.0, 1.0)
    require("water left behind", water, 0.0)
    return antifreeze * strength / (antifreeze + water)


def freezing_point(strength: float) -> float:
    """Return the freezing point [K] of propylene glycol in water.

    Straight between the points of the table, which lie 5 % apart. Below it the mixture is
    slush, which no pump moves.

    >>> round(freezing_point(0.30) - 273.15, 1)
    -12.8

    Args:
        strength: Share of glycol by volume [-], 0 to 0.50.

    Raises:
        OutOfRange: If the share lies outside the table.

    Source:
        Lange's Handbook of Chemistry, 15th ed. (1999), table 5.13.
    """
    require("share of glycol by volume [-]", strength, 0.0, STRONGEST)
    return 273.15 + _between(strength, FREEZING)


def strength_for(temperature: float) -> float:
    """Return the least share of glycol by volume [-] that stays liquid at a temperature.

    Args:
        temperature: Coldest temperature expected [K], 239.85 to 273.15.

    Raises:
        OutOfRange: If the temperature lies outside the table.
    """
    coldest = 273.15 + FREEZING[-1][1]
    require("coldest temperature [K]", temperature, coldest, 273.15)
    points = tuple((point, share) for share, point in reversed(FREEZING))
    return _between(temperature - 273.15, points)


def _between(x: float, points: tuple[tuple[float, float], ...]) -> float:
    """Return y on the straight line between the two points beside x; x lies within them."""
    (left, low), (right, high) = next(pair for pair in pairwise(points) if x <= pair[1][0])
    return low + (high - low) * (x - left) / (right - left)
