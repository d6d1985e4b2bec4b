"""Lengths that keep people safe: the stiff part of a nozzle, and the air gap of a fill pipe."""

from __future__ import annotations

from refgen.hydraulics.ranges import require, require_positive

# Stiff length over the widest bore the nozzle may enter. 1 only just jams square-on in a clean
# round pipe; 1.5 is the rule of the public-works trade press and leaves a margin.
CAREFUL = 1.5
INCH = 0.0254


def turn_round_length(bore: float, factor: float = CAREFUL) -> float:
    """Return the stiff length [m] from which a nozzle cannot turn round in a pipe.

    >>> round(turn_round_length(0.2), 3)
    0.3

    Args:
        bore: Widest pipe, main or chamber the nozzle may enter [m].
        factor: Stiff length over bore [-], 1 to 3: 1 is the geometry alone.
    """
    require_positive("bore of the pipe [m]", bore)
    require("stiff length over bore [-]", factor, 1.0, 3.0)
    return factor * bore


def can_turn_round(stiff_length: float, bore: float) -> bool:
    """Return whether a stiff part [m] shorter than the bore [m] can swing round in it.

    False says only that a straight rod jams; the careful rule is `turn_round_length`.
    """
    require_positive("stiff length [m]", stiff_length)
    require_positive("bore of the pipe [m]", bore)
    return stiff_length < bore


def air_gap(fill_bore: float, beside_wall: bool = False) -> float:
    """Return the least air gap [m] between a fill pipe and the rim of the tank.

    Twice the bore of the fill pipe, or three times close to a wall, and never below 1 in. The
    water supplier may ask for more, some 6 in where a tank is filled from a hydrant.

    Args:
        fill_bore: Bore of the fill pipe [m].
        beside_wall: Whether one wall stands nearer to the pipe than three bores, or two
            walls nearer than four.

    Source:
        ASME A112.1.2-2012, Air Gaps in Plumbing Systems; Wisconsin Administrative Code SPS
        382 for the walls.
    """
    require_positive("bore of the fill pipe [m]", fill_bore)
    return max((3 if beside_wall else 2) * fill_bore, INCH)
