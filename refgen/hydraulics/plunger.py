"""The plunger pump itself: what it delivers at a speed, and with a plunger idle."""

from __future__ import annotations

from refgen.hydraulics.ranges import require, require_positive


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
    require_positive("rated speed of the pump", rated_speed)
    require("speed of the pump over its rated speed [-]", speed / rated_speed, 0.0, 1.1)
    return flow * speed / rated_speed
