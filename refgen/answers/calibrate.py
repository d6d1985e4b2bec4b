"""What one gauge reading tells of jets whose size is known: how well they really pass water."""

from __future__ import annotations

from collections.abc import Mapping

from refgen.answers.ask import Ask
from refgen.answers.hose import flow_asked, hose_numbers, open_rig
from refgen.answers.spread import WIDTHS, spread_rig
from refgen.answers.told import Amount, Number, Part, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Rig
from refgen.hydraulics.orifice import area_for, total_area
from refgen.model.equipment import Pattern
from refgen.model.setup import NozzleSetup
from refgen.setups import found_in

LEAST, MOST = 0.5, 1.0
"""Discharge coefficients that can be believed of an open jet."""
FURTHEST = 0.25
"""How far the flow area can differ from the one believed before something else is wrong."""


def measured_share(ask: Ask) -> float | None:
    """Return the flow area by the reading over the one believed, or None if it tells nothing."""
    try:
        return _share(ask, _rig(ask)) if _asked(ask) else None
    except OutOfRange:
        return None


def calibrate_part(ask: Ask) -> Part | None:
    """Return the discharge coefficient that a gauge reading gives, or None without a reading.

    Raises:
        OutOfRange: If the reading cannot tell it, or tells what cannot be believed.
    """
    if not _asked(ask):
        return None
    # The jets as they are believed, whatever the reading made of them since.
    believed = Ask(ask.setup, ask.catalog)
    assert believed.rig is not None
    rig = _rig(believed)
    share = _share(believed, rig)
    coefficient = _coefficient(believed)
    area = total_area(believed.rig.jets)

    def numbers(varied: Rig) -> Mapping[str, float]:
        found = hose_numbers(varied)
        density = varied.water.density
        part = area_for(varied.pump.flow, found["nozzle_pa"], density) / area
        return {
            "discharge_coefficient": coefficient * part,
            "flow_area_share": part,
            "nozzle_pa": found["nozzle_pa"],
        }

    found = spread_rig(numbers, rig)
    told = found.amount("discharge_coefficient", "plain", 2)
    written = f"{found['discharge_coefficient']:.2f}"
    by_number = all(jet.by_number for jet in believed.rig.jets)
    said = [
        say(
            "The jets pass {share} of what their numbers say."
            if by_number
            else "The jets pass {coefficient} of the ideal flow, by this reading.",
            share=Amount(share, "share", digits=2),
            coefficient=told,
        ),
        say("All numbers here are worked out with that."),
    ]
    if not by_number:
        said.append(
            say(
                f"Write 'discharge_coefficient: {written}' into the nozzle's record, and every "
                "page and table uses it from then on."
            )
        )
    return Part(
        name="calibration",
        title="Calibration by the gauge",
        said=tuple(said),
        numbers=(
            Number("discharge_coefficient", "Discharge coefficient", told),
            found.number("flow_area_share", "Flow area over that believed", "share"),
            found.number("nozzle_pa", "Pressure at the nozzle", "pressure"),
        ),
        working=(
            say("nozzle = gauge − hose loss + ρ·g·height; Cd·A = Q/√(2Δp/ρ); Cd = Cd·A over A"),
            say(
                "believed before: {before}; a worn jet reads higher, a plugged one lower",
                before=Amount(coefficient, "plain", digits=2),
            ),
        ),
    )


def _asked(ask: Ask) -> bool:
    return ask.setup.reading is not None and ask.setup.nozzle is not None


def _rig(ask: Ask) -> Rig:
    assert ask.setup.reading is not None
    flow = flow_asked(ask)
    assert flow is not None  # the model asks for it beside a reading
    return open_rig(ask, flow, ask.setup.reading.gauge.si)


def _coefficient(ask: Ask) -> float:
    """Return the coefficient believed so far."""
    if isinstance(ask.setup.nozzle, NozzleSetup):
        return ask.setup.nozzle.discharge_coefficient
    assert ask.nozzle is not None
    pattern = found_in(ask.catalog, ask.nozzle.pattern, Pattern)
    return ask.nozzle.discharge_coefficient or pattern.discharge_coefficient


def _share(ask: Ask, rig: Rig) -> float:
    assert ask.rig is not None
    assert ask.setup.reading is not None
    limit = ask.pump.limit if ask.pump else None
    own_flow = ask.setup.reading.flow is not None
    if limit is not None and not own_flow and rig.pump.limit >= limit * (1 - WIDTHS.pressure_limit):
        raise OutOfRange(
            "the gauge stands at the unloader's limit, so part of the flow goes back unseen; "
            "measure with larger jets or at lower speed"
        )
    nozzle = hose_numbers(rig)["nozzle_pa"]
    if nozzle <= 0:
        raise OutOfRange("the hose alone would take more than the gauge shows")
    share = area_for(rig.pump.flow, nozzle, ask.water.density) / total_area(ask.rig.jets)
    coefficient = _coefficient(ask) * share
    by_bore = not all(jet.by_number for jet in ask.rig.jets)
    if abs(share - 1) > FURTHEST or (by_bore and not LEAST <= coefficient <= MOST):
        what = f"a discharge coefficient of {coefficient:.2f}" if by_bore else "such jets"
        cause = (
            "a jet is worn, or the pump gives less than its plate"
            if share > 1
            else ("a jet is plugged, or the hose is kinked or longer than told")
        )
        raise OutOfRange(f"{what} cannot be believed ({share:.0%} of the flow area told); {cause}")
    return share
