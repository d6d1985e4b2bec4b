"""What one reading of the gauge, with a known nozzle on a known hose, tells of the jets.

At full flow the gauge shows hose loss and nozzle pressure together: Δp = gauge − hose loss +
ρ·g·(height of the pump above the nozzle). Flow and hose are known, so what is left tells how well
the jets really pass water: with a discharge coefficient that also holds what the pump gives less
than its plate.
"""

from __future__ import annotations

from dataclasses import dataclass

from refgen.errors import OutOfRange
from refgen.hydraulics.duty import Rig
from refgen.hydraulics.hose import pressure_loss
from refgen.hydraulics.orifice import area_for, total_area
from refgen.hydraulics.ranges import require_positive
from refgen.hydraulics.water import GRAVITY

LEAST, MOST = 0.5, 1.0
"""Discharge coefficients that can be believed of an open jet."""
FURTHEST = 0.25
"""How far the flow area can differ from the one believed before something else is wrong."""
AT_LIMIT = 0.025
"""How near its limit a gauge may stand and the unloader still be shut, as a share."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a gauge showed, all of the flow leaving through jets of unknown flow area.

    Attributes:
        rig: The rig it was read on; its jets have no part.
        gauge: What the gauge showed [Pa].
        error: How far the gauge may be off [Pa].
        flow: Flow measured meanwhile [m³/s]; None for all of the pump's.
    """

    rig: Rig
    gauge: float
    error: float = 0.0
    flow: float | None = None

    def flow_area(self) -> float:
        """Return the flow area of the jets [m²]: Q/√(2Δp/ρ), Δp as above.

        Raises:
            OutOfRange: If the hose alone would take more than the gauge showed.
        """
        water, flow = self.rig.water, self.rig.pump.flow if self.flow is None else self.flow
        lost = sum(pressure_loss(hose, flow, water) for hose in self.rig.hoses)
        nozzle = self.gauge - lost + water.density * GRAVITY * self.rig.below_pump
        if nozzle <= 0:
            raise OutOfRange("the hose alone would take more than the gauge shows")
        return area_for(flow, nozzle, water.density)


def share_by_gauge(
    rig: Rig, gauge: float, flow: float | None = None, coefficient: float | None = None
) -> float:
    """Return the jets' flow area by a reading over the one believed [-].

    Cd·A = Q/√(2Δp/ρ), Δp = gauge − hose loss + ρ·g·(height of the pump above the nozzle).

    Args:
        rig: The rig as it is believed to be.
        gauge: What its gauge shows [Pa], above 0.
        flow: Flow measured at the nozzle [m³/s]; left out, all of the pump's.
        coefficient: Discharge coefficient believed [-]; left out where trade numbers size the jets.

    Raises:
        OutOfRange: If the reading cannot tell it, because the unloader may be open or the hose
            alone would take more, or if it tells what cannot be believed: a flow area more than a
            quarter off, or a coefficient outside 0.5 to 1.
    """
    require_positive("reading of the gauge [Pa]", gauge)
    if flow is None and gauge >= rig.pump.limit * (1 - AT_LIMIT):
        raise OutOfRange(
            "the gauge stands at the unloader's limit, so part of the flow goes back unseen; "
            "measure with larger jets or at lower speed"
        )
    believed = total_area(rig.jets)
    require_positive("flow area of the jets [m²]", believed)
    share = Reading(rig, gauge, flow=flow).flow_area() / believed
    possible = coefficient is None or LEAST <= coefficient * share <= MOST
    if possible and abs(share - 1) <= FURTHEST:
        return share
    what = "such jets"
    if coefficient is not None:
        what = f"a discharge coefficient of {coefficient * share:.2f}"
    cause = (
        "a jet is worn, or the pump gives less than its plate"
        if share > 1
        else "a jet is plugged, or the hose is kinked or longer than told"
    )
    raise OutOfRange(f"{what} cannot be believed ({share:.0%} of the flow area told); {cause}")
