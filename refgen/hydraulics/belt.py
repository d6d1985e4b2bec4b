"""Belt drive: sheave diameters and speeds. Diameters are pitch diameters, slip is not counted."""

from __future__ import annotations

from math import pi

from refgen.hydraulics.ranges import require_positive


def driven_speed(driver_speed: float, driver: float, driven: float) -> float:
    """Return the speed of the driven shaft, in the unit of `driver_speed`.

    >>> driven_speed(3600, 0.1, 0.25)
    1440.0

    Args:
        driver_speed: Speed of the engine.
        driver: Diameter of its sheave [m].
        driven: Diameter of the pump's sheave [m].
    """
    require_positive("speed of the engine", driver_speed)
    require_positive("diameter of the engine's sheave [m]", driver)
    require_positive("diameter of the pump's sheave [m]", driven)
    return driver_speed * driver / driven


def driven_sheave(driver_speed: float, driver: float, wanted_speed: float) -> float:
    """Return the diameter [m] of the pump's sheave for a wanted pump speed."""
    require_positive("wanted speed of the pump", wanted_speed)
    return driver * driven_speed(driver_speed, driver, driver) / wanted_speed


def driver_sheave(driver_speed: float, driven: float, wanted_speed: float) -> float:
    """Return the diameter [m] of the engine's sheave for a wanted pump speed."""
    require_positive("wanted speed of the pump", wanted_speed)
    return driven * wanted_speed / driven_speed(driver_speed, driven, driven)


def belt_speed(speed: float, diameter: float) -> float:
    """Return the speed of the belt [m/s] on a sheave [m] that turns so often a second [1/s]."""
    require_positive("speed of the sheave [1/s]", speed)
    require_positive("diameter of the sheave [m]", diameter)
    return pi * diameter * speed
