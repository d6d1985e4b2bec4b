"""What wear and plugging do to a nozzle, and what the gauge tells of it."""

from __future__ import annotations

from dataclasses import replace

from refgen.hydraulics.orifice import Jet
from refgen.hydraulics.ranges import require, require_positive


def worn(jet: Jet, growth: float) -> Jet:
    """Return a jet whose bore has grown by a share: Cd·A × (1 + growth)².

    Args:
        jet: The jet as new.
        growth: Growth of the bore [-], 0 to 0.5.
    """
    require("growth of the bore [-]", growth, 0.0, 0.5)
    return replace(jet, flow_area=jet.flow_area * (1 + growth) ** 2)


def pressure_when_worn(pressure: float, growth: float) -> float:
    """Return the nozzle pressure [Pa] at the same flow after wear: p / (1 + growth)⁴.

    >>> round(pressure_when_worn(1.0, 0.05), 3)
    0.823

    Args:
        pressure: Nozzle pressure as new [Pa].
        growth: Growth of the bore [-], 0 to 0.5.
    """
    require("pressure at the nozzle [Pa]", pressure, 0.0)
    require("growth of the bore [-]", growth, 0.0, 0.5)
    return float(pressure / (1 + growth) ** 4)


def growth_of_bore(new: float, now: float) -> float:
    """Return how much the bores have grown [-] if the same flow gives less nozzle pressure.

    Args:
        new: Nozzle pressure as new [Pa].
        now: Nozzle pressure at the same flow now [Pa], at least a fifth of it, at most `new`.
    """
    require_positive("pressure at the nozzle as new [Pa]", new)
    require("pressure at the nozzle now [Pa]", now, new / 5.0625, new)
    return float((new / now) ** 0.25 - 1)


def plugged(jet: Jet, holes: int) -> Jet:
    """Return a ring of jets with so many of its holes plugged, 0 to all."""
    require("plugged holes", holes, 0, jet.count)
    return replace(jet, count=jet.count - holes)
