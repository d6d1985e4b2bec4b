"""Tank and supply: how long the water lasts, how long filling takes, how far a tank goes."""

from __future__ import annotations

from refgen.hydraulics.ranges import require, require_positive


def run_time(volume: float, use: float, supply: float = 0.0) -> float | None:
    """Return how long a tank lasts [s] while it is filled, or None if it never runs dry.

    The tank is divided by the shortfall, not by the pump's flow. Bypass that returns to the
    tank is no use of water: `use` is then what leaves through the nozzle.

    Args:
        volume: Water in the tank above the low-water cut-out [m³].
        use: Flow out [m³/s].
        supply: Flow in [m³/s].
    """
    require("water in the tank [m³]", volume, 0.0)
    short = shortfall(use, supply)
    return volume / short if short else None


def refill_time(volume: float, supply: float, use: float = 0.0) -> float | None:
    """Return how long filling takes [s], or None if the water is used faster than it comes.

    Args:
        volume: Volume to fill [m³].
        supply: Flow in [m³/s].
        use: Flow out meanwhile [m³/s]; 0 with the pump off.
    """
    require("volume to fill [m³]", volume, 0.0)
    spare = shortfall(supply, use)
    return volume / spare if spare else None


def shortfall(use: float, supply: float) -> float:
    """Return by how much the use is more than the supply [m³/s]; 0 if the supply is enough."""
    require("flow out [m³/s]", use, 0.0)
    require("flow in [m³/s]", supply, 0.0)
    return max(use - supply, 0.0)


def bucket_flow(volume: float, seconds: float) -> float:
    """Return the flow [m³/s] that fills a bucket [m³] in so many seconds."""
    require_positive("volume of the bucket [m³]", volume)
    require_positive("time to fill the bucket [s]", seconds)
    return volume / seconds


def pass_time(length: float, out_speed: float, back_speed: float) -> float:
    """Return how long one pass takes [s]: up the pipe at one speed, back at another [m/s]."""
    require("length of the pipe [m]", length, 0.0)
    require_positive("speed going up [m/s]", out_speed)
    require_positive("speed pulling back [m/s]", back_speed)
    return length / out_speed + length / back_speed


def pass_water(length: float, out_speed: float, back_speed: float, flow: float) -> float:
    """Return the water [m³] that one pass uses at full flow both ways [m³/s]."""
    require("flow [m³/s]", flow, 0.0)
    return pass_time(length, out_speed, back_speed) * flow


def length_per_tank(volume: float, out_speed: float, back_speed: float, flow: float) -> float:
    """Return the length of pipe [m] that one pass cleans on a tank of water [m³]."""
    require("water in the tank [m³]", volume, 0.0)
    require_positive("flow [m³/s]", flow)
    return volume / pass_water(1.0, out_speed, back_speed, flow)
