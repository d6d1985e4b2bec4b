"""The plunger pump itself: what it delivers at a speed, with a plunger idle, from its size."""

from __future__ import annotations

from math import pi

from refgen.hydraulics.ranges import require, require_positive


def displacement_flow(
    bore: float, stroke: float, plungers: int, speed: float, volumetric_efficiency: float = 0.95
) -> float:
    """Return the flow [m³/s] of a plunger pump: π/4·d²·stroke·n·speed·efficiency.

    Args:
        bore: Diameter of a plunger [m].
        stroke: Stroke [m].
        plungers: Their number, 1 to 7.
        speed: Turns a second [1/s].
        volumetric_efficiency: What the valves and packing let through [-], 0.5 to 1; 0.90 to
            0.97 for a pump in good order.
    """
    for what, value in (("bore", bore), ("stroke", stroke), ("speed", speed)):
        require_positive(f"{what} of the pump", value)
    require("plungers of the pump", plungers, 1, 7)
    require("volumetric efficiency [-]", volumetric_efficiency, 0.5, 1.0)
    return pi / 4 * bore * bore * stroke * plungers * speed * volumetric_efficiency


def pulsed_flow(flow: float, plungers: int) -> float:
    """Return the mean flow [m³/s] while one plunger idles (pulse on): flow × (n − 1)/n.

    >>> pulsed_flow(12.0, 3)
    8.0

    Args:
        flow: Flow with all plungers working [m³/s].
        plungers: Their number, 2 to 7.
    """
    require("flow [m³/s]", flow, 0.0)
    require("plungers of the pump", plungers, 2, 7)
    return flow * (plungers - 1) / plungers


def throttled_flow(flow: float, speed: float, rated_speed: float) -> float:
    """Return the flow [m³/s] at another speed; it goes with the speed.

    Args:
        flow: Flow at the rated speed [m³/s].
        speed: Speed now, in the unit of `rated_speed`, 0 to 1.1 times that.
        rated_speed: Rated speed.
    """
    return flow * _speed_share(speed, rated_speed)


def throttled_pressure(pressure: float, speed: float, rated_speed: float) -> float:
    """Return the nozzle pressure [Pa] at another speed; it goes with the speed squared.

    Holds for the same open nozzle at full flow; see `throttled_flow` for the arguments.
    """
    return pressure * _speed_share(speed, rated_speed) ** 2


def _speed_share(speed: float, rated_speed: float) -> float:
    require_positive("rated speed of the pump", rated_speed)
    require("speed of the pump over its rated speed [-]", speed / rated_speed, 0.0, 1.1)
    return speed / rated_speed
