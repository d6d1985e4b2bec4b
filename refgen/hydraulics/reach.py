"""How far a nozzle pulls its hose: weight, slope, friction and bends.

No measurement of a hose's friction in a wet drain was found, so a reach is a range between
two friction coefficients, never one number. Rubber on wet concrete is 0.25 to 0.75 in tables;
smooth hose in wet plastic or clay is taken as 0.2 to 0.4, in sand 0.5 to 0.7.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, exp, pi, radians, sin

from refgen.errors import OutOfRange
from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import GRAVITY

EASY_FRICTION = 0.2
HARD_FRICTION = 0.6


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend in the pipe: where, along the hose from the access [m], and its angle [rad]."""

    at: float
    angle: float

    def __post_init__(self) -> None:
        require("place of a bend [m]", self.at, 0.0)
        require("angle of a bend [rad]", self.angle, 0.0, pi)


def hose_weight(dry_mass: float, bore: float, density: float = 1000.0) -> float:
    """Return the weight of a metre of hose full of water, lying in air [N/m].

    Args:
        dry_mass: Mass of a metre of empty hose [kg/m].
        bore: Inner diameter [m].
        density: Density of the water [kg/m³].
    """
    require_positive("mass of the hose [kg/m]", dry_mass)
    require_positive("bore of a hose [m]", bore)
    return (dry_mass + density * pi / 4 * bore * bore) * GRAVITY


def weight_in_water(
    dry_mass: float, bore: float, outer_diameter: float, density: float = 1000.0
) -> float:
    """Return the weight of a metre of full hose under water [N/m]: lift taken off.

    Raises:
        OutOfRange: If the hose would float; then it drags along the crown and no reach is given.
    """
    require("outer diameter of the hose [m]", outer_diameter, bore)
    lift = density * pi / 4 * outer_diameter**2 * GRAVITY
    weight = hose_weight(dry_mass, bore, density) - lift
    if weight <= 0:
        raise OutOfRange("a hose this light floats")
    return weight


def pull_needed(
    length: float,
    weight: float,
    friction: float,
    slope: float = 0.0,
    bends: Iterable[Bend] = (),
    drag: float = 0.0,
) -> float:
    """Return the pull [N] at the nozzle that draws so much hose into the pipe.

    Each metre adds weight·(friction·cos slope + sin slope); each bend already passed
    multiplies what is behind it by e^(friction·angle).

    Args:
        length: Hose in the pipe [m].
        weight: Weight of a metre of hose [N/m].
        friction: Coefficient of friction between hose and pipe [-], 0.05 to 1.
        slope: Rise of the pipe towards the nozzle [rad], −π/2 to π/2; downhill negative.
        bends: The bends of the pipe.
        drag: What holds the hose back at the access: reel, roller, hand [N].

    Raises:
        OutOfRange: If the hose would run downhill by itself, or an argument is out of range.

    Source:
        Euler-Eytelwein (capstan) equation for the bends.
    """
    require("length of hose in the pipe [m]", length, 0.0)
    a_metre = _drag_of_a_metre(weight, friction, slope, drag)
    tension, place = drag, 0.0
    for bend in sorted(bends, key=lambda bend: bend.at):
        if bend.at >= length:
            break
        tension = (tension + a_metre * (bend.at - place)) * exp(friction * bend.angle)
        place = bend.at
    return tension + a_metre * (length - place)


def reach(
    pull: float,
    weight: float,
    friction: float,
    slope: float = 0.0,
    bends: Iterable[Bend] = (),
    drag: float = 0.0,
) -> float:
    """Return how much hose [m] a pull [N] draws into the pipe before it stalls.

    A pull that cannot take the hose round a bend ends at that bend; 0 if it cannot even
    overcome the drag at the access. Arguments as for `pull_needed`.
    """
    a_metre = _drag_of_a_metre(weight, friction, slope, drag)
    if pull <= drag:
        return 0.0
    tension, place = drag, 0.0
    for bend in sorted(bends, key=lambda bend: bend.at):
        here = tension + a_metre * (bend.at - place)
        if here > pull:
            break
        tension, place = here * exp(friction * bend.angle), bend.at
        if tension > pull:
            return place
    return place + (pull - tension) / a_metre


def reach_range(
    pull: float,
    weight: float,
    slope: float = 0.0,
    bends: Iterable[Bend] = (),
    drag: float = 0.0,
    friction: tuple[float, float] = (EASY_FRICTION, HARD_FRICTION),
) -> tuple[float, float]:
    """Return the shortest and the longest reach [m] between two friction coefficients."""
    easy, hard = min(friction), max(friction)
    fixed = tuple(bends)
    return (
        reach(pull, weight, hard, slope, fixed, drag),
        reach(pull, weight, easy, slope, fixed, drag),
    )


def _drag_of_a_metre(weight: float, friction: float, slope: float, drag: float) -> float:
    require_positive("weight of the hose [N/m]", weight)
    require("coefficient of friction [-]", friction, 0.05, 1.0)
    require("slope of the pipe [rad]", slope, radians(-90), radians(90))
    require("drag at the access [N]", drag, 0.0)
    a_metre = weight * (friction * cos(slope) + sin(slope))
    if a_metre <= 0:
        raise OutOfRange("the hose runs down this slope by itself and has to be held back")
    return a_metre
