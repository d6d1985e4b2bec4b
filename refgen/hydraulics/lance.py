"""The push of a hand lance, and from where on nobody may hold it by hand."""

from __future__ import annotations

from typing import Literal

from refgen.hydraulics.orifice import jet_speed, reaction
from refgen.hydraulics.ranges import require, require_positive

Hold = Literal["hands", "body", "machine"]

# Above 150 N the lance must be braced against the body, above 250 N held by a machine: Norway,
# Regulations concerning the performance of work, section 20-1.
BRACED_ABOVE = 150.0
MACHINE_ABOVE = 250.0


def lance_push(
    flow: float, pressure: float, density: float = 1000.0, velocity_coefficient: float = 1.0
) -> float:
    """Return the steady push of a straight jet [N]: ρ·Q·v. The jerk at opening comes on top.

    Args:
        flow: Flow of the lance [m³/s].
        pressure: Pressure at its nozzle [Pa].
        density: Density of the water [kg/m³].
        velocity_coefficient: Real over ideal jet speed [-]; 1 is on the safe side.
    """
    require("flow [m³/s]", flow, 0.0)
    return reaction(flow, jet_speed(pressure, density, velocity_coefficient), density)


def hold(push: float) -> Hold:
    """Return what may hold a lance that pushes so hard [N]."""
    require("push of the lance [N]", push, 0.0)
    if push > MACHINE_ABOVE:
        return "machine"
    return "body" if push > BRACED_ABOVE else "hands"


def flow_for_push(push: float, pressure: float, density: float = 1000.0) -> float:
    """Return the flow [m³/s] at which a straight jet pushes with this force [N]."""
    require_positive("push of the lance [N]", push)
    require_positive("pressure at the nozzle [Pa]", pressure)
    return push / (density * jet_speed(pressure, density))
