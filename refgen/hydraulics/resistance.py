"""One segment of hose for one water, with all that does not depend on the flow worked out.

Gives the same loss as `hose.pressure_loss`, for the solver that asks for many flows.
"""

from __future__ import annotations

from math import inf, pi
from typing import NamedTuple

from refgen.errors import OutOfRange
from refgen.hydraulics.hose import (
    COIL_FROM,
    COIL_STEP,
    COIL_TO,
    LAMINAR_TO,
    TURBULENT_FROM,
    Segment,
    coil_terms,
    turbulent_factor,
)
from refgen.hydraulics.water import Water

# A span ends this share inside its limit, so that rounding cannot step over it.
INSIDE = 1e-12


class Resistance(NamedTuple):
    """Loss = friction factor · `straight` · flow².

    The coil multiplies it by 1 + `coil_low`/Re or 1 + `coil_high`·Re^0.25, weighted with the
    share of the hose on the reel (Schmidt, see `hose.coil_factor`).
    """

    reynolds_per_flow: float
    roughness_term: float
    straight: float
    coil_low: float
    coil_high: float


def resistance(hose: Segment, water: Water) -> Resistance:
    """Return what a segment does to a flow of this water."""
    bore = hose.bore
    low = high = 0.0
    if hose.on_reel and hose.reel_diameter is not None:
        share = hose.on_reel / hose.length
        low, high = (share * term for term in coil_terms(bore / hose.reel_diameter))
    return Resistance(
        4 * water.density / (pi * bore * water.viscosity),
        hose.roughness / (3.7 * bore),
        8 * water.density * hose.length / (pi * pi * bore**5),
        low,
        high,
    )


def loss(segment: Resistance, flow: float) -> float:
    """Return the pressure [Pa] that a flow [m³/s] loses.

    Raises:
        OutOfRange: If there is no formula at this flow.
    """
    per_flow, roughness_term, straight, coil_low, coil_high = segment
    reynolds = per_flow * flow
    if reynolds >= TURBULENT_FROM and not (coil_high and not COIL_FROM <= reynolds <= COIL_TO):
        lost = turbulent_factor(reynolds, roughness_term) * straight * flow * flow
        if not coil_high:
            return lost
        if reynolds < COIL_STEP:
            return lost * (1 + coil_low / reynolds)
        return float(lost * (1 + coil_high * reynolds**0.25))
    if reason := gap(segment, reynolds):
        raise OutOfRange(f"a hose would run {reason}")
    return 64 / per_flow * straight * flow


def gap(segment: Resistance, reynolds: float) -> str:
    """Return why there is no formula at this Reynolds number, or nothing if there is one."""
    if segment.coil_high:
        if 0 < reynolds < COIL_FROM:
            return "too slowly on the reel (below Re 10,000), where no coil formula holds"
        if reynolds > COIL_TO:
            return "too fast on the reel (above Re 250,000), where no coil formula holds"
    elif LAMINAR_TO < reynolds < TURBULENT_FROM:
        return "between calm and broken flow (Re 2040 to 4000), where no friction formula holds"
    return ""


def covered(segment: Resistance) -> tuple[tuple[float, float], ...]:
    """Return the spans of flow [m³/s] in which this segment has a formula."""
    unit = 1 / segment.reynolds_per_flow
    if segment.coil_high:
        return ((COIL_FROM * unit * (1 + INSIDE), COIL_TO * unit * (1 - INSIDE)),)
    return (
        (0.0, LAMINAR_TO * unit * (1 - INSIDE)),
        (TURBULENT_FROM * unit * (1 + INSIDE), inf),
    )
