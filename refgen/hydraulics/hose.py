"""Pressure lost to friction in a hose, straight or on the reel.

Darcy-Weisbach; couplings are not counted. Laminar flow follows Hagen-Poiseuille to Re 2040,
turbulent flow Colebrook-White from Re 4000; between them no formula holds and none is used.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi

from refgen.errors import OutOfRange
from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import Water

LAMINAR_TO = 2040.0
TURBULENT_FROM = 4000.0
COIL_FROM = 10_000.0
COIL_STEP = 22_000.0
COIL_PUBLISHED_TO = 150_000.0
COIL_TO = 250_000.0

_TWO_OVER_LN_10 = 2 / log(10)


@dataclass(frozen=True, slots=True)
class Segment:
    """One length of hose of one bore.

    Attributes:
        bore: Inner diameter [m].
        length: Whole length, what is on the reel included [m].
        roughness: Height of the wall's roughness [m]; relative to the bore 0 to 0.05.
        on_reel: How much of the length is still on the reel [m].
        reel_diameter: Diameter of the coil [m]; needed as soon as hose is on the reel.
    """

    bore: float
    length: float
    roughness: float
    on_reel: float = 0.0
    reel_diameter: float | None = None

    def __post_init__(self) -> None:
        require_positive("bore of a hose [m]", self.bore)
        require("length of a hose [m]", self.length, 0.0)
        require("roughness over bore of a hose [-]", self.roughness / self.bore, 0.0, 0.05)
        require("hose on the reel [m]", self.on_reel, 0.0, self.length)
        if self.on_reel:
            if self.reel_diameter is None:
                raise OutOfRange("hose on the reel needs the diameter of the reel")
            require_positive("diameter of the reel [m]", self.reel_diameter)
            require("bore over reel diameter [-]", self.bore / self.reel_diameter, 0.0, 0.2)


def reynolds_number(flow: float, bore: float, water: Water) -> float:
    """Return the Reynolds number [-] of a flow [m³/s] in a full round bore [m]."""
    return 4 * water.density * flow / (pi * bore * water.viscosity)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Return the Darcy friction factor [-] of a full, round pipe.

    Laminar flow follows Hagen-Poiseuille, turbulent flow Colebrook-White, solved to machine
    precision. Between the two limits the flow flips from one to the other and no formula
    holds, so the caller gets an error, not a guess.

    >>> round(friction_factor(1e5, 1e-4), 4)
    0.0185

    Args:
        reynolds: Reynolds number [-], above 0 to 1e8, outside 2040 to 4000.
        relative_roughness: Wall roughness over inner diameter [-], 0 to 0.05.

    Raises:
        OutOfRange: If either argument lies outside its range.

    Source:
        Colebrook (1939), J. Inst. Civ. Eng. 11, 133-156. The laminar limit 2040: Avila et
        al. (2011), Science 333, 192-196.
    """
    require("relative roughness of a hose [-]", relative_roughness, 0.0, 0.05)
    require("Reynolds number [-]", reynolds, 0.0, 1e8)
    require_positive("Reynolds number [-]", reynolds)
    if reynolds >= TURBULENT_FROM:
        return turbulent_factor(reynolds, relative_roughness / 3.7)
    if reynolds <= LAMINAR_TO:
        return 64 / reynolds
    raise OutOfRange(
        f"Reynolds number {reynolds:.0f} lies between 2040 and 4000, where no friction formula "
        "holds: the flow may run calm or broken"
    )


def turbulent_factor(reynolds: float, roughness_term: float) -> float:
    """Return Colebrook-White's friction factor [-]; `roughness_term` is (ε/d)/3.7.

    Solves x + 2·lg(ε/(3.7·d) + 2.51·x/Re) = 0 for x = 1/√f. No range check: for callers that
    made one.
    """
    slope = 2.51 / reynolds
    # One pass of the equation itself from x = 7 lands within 5 %; each Newton step then
    # squares the error, and the third reaches the last bit.
    x = -_TWO_OVER_LN_10 * log(roughness_term + slope * 7.0)
    for _ in range(3):
        inner = roughness_term + slope * x
        x -= (x + _TWO_OVER_LN_10 * log(inner)) / (1 + _TWO_OVER_LN_10 * slope / inner)
    return 1 / (x * x)


def coil_factor(reynolds: float, bore_over_diameter: float) -> float:
    """Return how many times the friction of a straight hose a coiled one has [-].

    Published to Re 150 000. Larger hoses run past that: the second formula is used to
    250 000 (the caller must tell the reader so), and nothing beyond.

    >>> round(coil_factor(50_000, 0.0254 / 0.6), 2)
    1.24

    Args:
        reynolds: Reynolds number [-], 10 000 to 250 000.
        bore_over_diameter: Inner diameter of the hose over diameter of the coil [-],
            0 (straight) to 0.2.

    Raises:
        OutOfRange: If either argument lies outside its range.

    Source:
        Schmidt (1967), Chem.-Ing.-Tech. 39, 781-789.
    """
    require("bore over reel diameter [-]", bore_over_diameter, 0.0, 0.2)
    require("Reynolds number of hose on the reel [-]", reynolds, COIL_FROM, COIL_TO)
    low, high = coil_terms(bore_over_diameter)
    return float(1 + (low / reynolds if reynolds < COIL_STEP else high * reynolds**0.25))


def coil_terms(bore_over_diameter: float) -> tuple[float, float]:
    """Return Schmidt's two terms [-]: what stands before 1/Re, and before Re^0.25."""
    ratio = bore_over_diameter
    return 28_800 * float(ratio**0.62), 0.0823 * (1 + ratio) * float(ratio**0.53)


def pressure_loss(segment: Segment, flow: float, water: Water) -> float:
    """Return the pressure [Pa] that a flow [m³/s] loses in a segment.

    Raises:
        OutOfRange: If no formula holds at this flow; see `friction_factor`, `coil_factor`.
    """
    require("flow [m³/s]", flow, 0.0)
    if flow == 0 or segment.length == 0:
        return 0.0
    reynolds = reynolds_number(flow, segment.bore, water)
    factor = friction_factor(reynolds, segment.roughness / segment.bore)
    length = segment.length
    if segment.on_reel and segment.reel_diameter is not None:
        length += segment.on_reel * (
            coil_factor(reynolds, segment.bore / segment.reel_diameter) - 1
        )
    return factor * length * 8 * water.density * flow**2 / (pi**2 * segment.bore**5)
