"""What one gauge reading tells of jets whose size is known: how well they really pass water."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from refgen.answers.ask import Ask
from refgen.answers.hose import flow_asked, hose_numbers, open_rig
from refgen.answers.spread import spread_rig
from refgen.answers.told import Amount, Number, Part, Sentence, say
from refgen.errors import OutOfRange
from refgen.hydraulics import Rig
from refgen.hydraulics.gauge_reading import share_by_gauge
from refgen.hydraulics.orifice import area_for, pressure_for, total_area
from refgen.hydraulics.wear import growth_of_bore
from refgen.model.base import Ref
from refgen.model.equipment import Pattern
from refgen.model.setup import NozzleSetup
from refgen.rigs import coefficient_of
from refgen.setups import found_in, wear_limit_of
from refgen.units import Quantity


def measured_share(ask: Ask) -> float | None:
    """Return the flow area by the reading over the one believed, or None if it tells nothing."""
    try:
        return _share(ask) if _asked(ask) else None
    except OutOfRange:
        return None


def calibrate_part(ask: Ask) -> Part | None:
    """Return the discharge coefficient that a gauge reading gives, or None without a reading.

    Raises:
        OutOfRange: If the reading cannot tell it, or tells what cannot be believed.
    """
    if not _asked(ask):
        return None
    assert ask.sized is not None
    share, rig = _share(ask), _rig(ask)
    coefficient = _coefficient(ask)
    area = total_area(ask.sized.jets)

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
    by_number = all(jet.by_number for jet in ask.sized.jets)
    said = [
        say(
            "The jets pass {share} of what their numbers say."
            if by_number
            else "The jets pass {coefficient} of the ideal flow, by this reading.",
            share=f"{share:.0%}",
            coefficient=told,
        ),
        say("All numbers here are worked out with that."),
    ]
    said += _worn(ask, rig, found["nozzle_pa"])
    said += _keep(ask, found["discharge_coefficient"], by_number)
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


def _worn(ask: Ask, rig: Rig, nozzle: float) -> Iterator[Sentence]:
    """Yield how far the bores have grown, if wear alone lets the jets pass more."""
    assert ask.sized is not None
    new = pressure_for(rig.pump.flow, total_area(ask.sized.jets), rig.water.density)
    if nozzle >= new:
        return
    growth, limit = growth_of_bore(new, nozzle), wear_limit_of(ask.catalog)
    yield say(
        "If wear alone makes the difference, the bores have grown by {growth}. "
        + ("Renew the jets." if growth >= limit else "They are renewed at {limit}."),
        growth=Amount(growth, "share", digits=2),
        limit=Amount(limit, "share", digits=2),
    )


def _keep(ask: Ask, coefficient: float, by_number: bool) -> Iterator[Sentence]:
    """Yield how the reading is kept, so that it need not be given again."""
    reading, nozzle = ask.setup.reading, ask.setup.nozzle
    assert reading is not None
    own = ask.machine is not None and ask.setup.hoses is None
    if own and isinstance(nozzle, Ref):
        shown = {"nozzle": nozzle.id, "gauge": _written(reading.gauge)}
        if reading.flow:
            shown["flow"] = _written(reading.flow)
        yield say(
            "Write '{field}' with the day under 'on' into the machine's record, and every page, "
            "table and setup of this machine uses it from then on.",
            field=f"calibration: {{{', '.join(f'{k}: {v}' for k, v in shown.items())}, on: …}}",
        )
    elif not by_number:
        yield say(
            f"Write 'discharge_coefficient: {coefficient:.2f}' into the nozzle's record, and every "
            "page and table uses it from then on."
        )


def _written(quantity: Quantity) -> str:
    """Return a quantity as it is written in a record, without a comma that would end it."""
    return f"{quantity.number} {quantity.unit.symbol}"


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
    return coefficient_of(ask.nozzle, pattern)


def _share(ask: Ask) -> float:
    reading, rig = ask.setup.reading, ask.sized
    assert reading is not None
    assert rig is not None
    flow = reading.flow.si if reading.flow else None
    by_number = all(jet.by_number for jet in rig.jets)
    return share_by_gauge(rig, reading.gauge.si, flow, None if by_number else _coefficient(ask))
