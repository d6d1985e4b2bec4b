"""Water running part full in a sloping round pipe: depth, speed, and what it can carry.

Steady, uniform flow after Manning: the water surface is parallel to the pipe. Close behind a
nozzle, at a bend or before a block that is not so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, cos, pi, sin, sqrt

from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import GRAVITY

# Above 0.93 of the bore the pipe has two depths for one flow and jumps to full.
FULL_FROM = 0.93
# The angle [rad] under which the water surface is seen from the axis at that depth.
_ANGLE_FULL = 2 * acos(1 - 2 * FULL_FROM)
SHEAR_DENSITY = 1000.0


@dataclass(frozen=True, slots=True)
class PartFull:
    """Flow in a part-full pipe.

    Attributes:
        depth_ratio: Depth of the water over the bore [-], above 0 to 0.93.
        velocity: Mean speed [m/s].
        shear: Mean pull of the water on the wall and on what lies there [Pa].
    """

    depth_ratio: float
    velocity: float
    shear: float


def part_full(flow: float, diameter: float, slope: float, manning_n: float) -> PartFull | None:
    """Return depth, speed and shear of a flow in a sloping round pipe, or None if it is full.

    A pipe that would be deeper than 0.93 of its bore counts as full.

    Args:
        flow: Flow [m³/s], above 0.
        diameter: Bore of the pipe [m], above 0.
        slope: Fall over length [-], above 0 to 0.1.
        manning_n: Manning's n [s/m^⅓], 0.008 to 0.035: plastic about 0.010, clay, concrete
            and iron 0.013, corrugated metal 0.024.

    Raises:
        OutOfRange: If an argument lies outside its range.

    Source:
        Chow (1959), Open-Channel Hydraulics, chapters 5 and 6 (Manning's formula), 2.7
        (slopes below 1 in 10). Shear γ·R·S with γ = 1000 kg/m³ · g: chapter 7.
    """
    require_positive("flow [m³/s]", flow)
    require_positive("bore of the pipe [m]", diameter)
    _require_channel(slope, manning_n)
    wanted = flow * manning_n / sqrt(slope)
    low, high = 0.0, _ANGLE_FULL
    if _conveyance(high, diameter) < wanted:
        return None
    while True:
        middle = (low + high) / 2
        if not low < middle < high:
            break
        if _conveyance(middle, diameter) < wanted:
            low = middle
        else:
            high = middle
    area, radius = _section(high, diameter)
    return PartFull(
        depth_ratio=(1 - cos(high / 2)) / 2,
        velocity=flow / area,
        shear=SHEAR_DENSITY * GRAVITY * radius * slope,
    )


def full_flow(diameter: float, slope: float, manning_n: float) -> float:
    """Return the flow [m³/s] of a pipe that runs just full without pressure (Manning).

    Takes the same ranges and refuses the same way as `part_full`.
    """
    require_positive("bore of the pipe [m]", diameter)
    _require_channel(slope, manning_n)
    return _conveyance(2 * pi, diameter) * sqrt(slope) / manning_n


def _require_channel(slope: float, manning_n: float) -> None:
    require_positive("slope of the pipe [-]", slope)
    require("slope of the pipe [-]", slope, 0.0, 0.1)
    require("Manning's n", manning_n, 0.008, 0.035)


def _section(angle: float, diameter: float) -> tuple[float, float]:
    """Return wetted area [m²] and hydraulic radius [m]; `angle` [rad] is seen from the axis."""
    area = diameter * diameter / 8 * (angle - sin(angle))
    return area, area / (diameter / 2 * angle)


def _conveyance(angle: float, diameter: float) -> float:
    area, radius = _section(angle, diameter)
    return float(area * radius ** (2 / 3))
