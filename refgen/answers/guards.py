"""Where a unit or a size may have been mixed up, told in words with what it may have meant."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi
from typing import Any

from pydantic import BaseModel

from refgen.answers.ask import Ask
from refgen.answers.told import Amount, Sentence, say
from refgen.hydraulics.orifice import number_of_area, total_area
from refgen.model.setup import NozzleSetup
from refgen.units import IMPERIAL_GALLON, PSI, US_GALLON, Quantity, parse_quantity

_LOW_PUMP = 500 * PSI
"""A pump set lower than this [Pa] was perhaps written in psi and meant in bar."""
_FAST = 15.0
"""Water faster than this in a hose [m/s] was perhaps litres, written as gallons."""
_BORES = tuple(
    parse_quantity(f"{size} in").si
    for size in (
        "1/8",
        "3/16",
        "1/4",
        "5/16",
        "3/8",
        "1/2",
        "5/8",
        "3/4",
        "1",
        "1 1/4",
        "1 1/2",
        "2",
    )
) + tuple(size / 1000 for size in (5, 6, 8, 10, 12, 13, 16, 19, 20, 25, 32, 40, 50))
"""Bores that jet hose is made in [m]."""
_NEAR = 0.04
"""How far a bore may be from one that hose is made in [-] and still be meant as it."""


def mix_ups(ask: Ask) -> Iterator[Sentence]:
    """Yield what should be looked at once more before the numbers are used."""
    yield from _psi_or_bar(ask)
    yield from _gallons_or_litres(ask)
    yield from _bore_or_outside(ask)
    yield from _drill_or_number(ask)


def _psi_or_bar(ask: Ask) -> Iterator[Sentence]:
    pump = ask.setup.pump
    if pump is None or pump.pressure is None:
        return
    pressure = pump.pressure
    if pressure.unit.symbol == "psi" and pressure.si < _LOW_PUMP:
        meant = float(pressure.si / PSI) * 1e5
        yield say(
            "{written} at the pump is little for a jetter. Did you mean {number} bar ({meant})?",
            written=Amount(pressure.si, "pressure"),
            number=pressure.number,
            meant=Amount(meant, "pressure").text("us").split(" (")[0],
        )


def _gallons_or_litres(ask: Ask) -> Iterator[Sentence]:
    flow = ask.setup.pump.flow if ask.setup.pump else None
    if flow is None or not ask.hoses or "gpm" not in flow.unit.symbol:
        return
    narrowest = min(hose.bore for hose in ask.hoses)
    speed = flow.si / (pi / 4 * narrowest**2)
    if speed > _FAST:
        yield say(
            "{flow} would run at {speed} through a bore of {bore}. Did you mean {number} L/min?",
            flow=Amount(flow.si, "flow"),
            speed=Amount(speed, "speed", digits=2),
            bore=Amount(narrowest, "bore"),
            number=flow.number,
        )


def _bore_or_outside(ask: Ask) -> Iterator[Sentence]:
    for hose in ask.setup.hoses or ():
        if hose.bore is None:
            continue
        bore = hose.bore.si
        if all(abs(made / bore - 1) > _NEAR for made in _BORES):
            yield say(
                "Jet hose is not made with a bore of {bore}. Is that its outside diameter? The "
                "bore stands on the tag; a dash number counts sixteenths of an inch of bore.",
                bore=Amount(bore, "bore"),
            )


def _drill_or_number(ask: Ask) -> Iterator[Sentence]:
    nozzle, rig = ask.setup.nozzle, ask.rig
    if not isinstance(nozzle, NozzleSetup) or rig is None:
        return
    needed = rig.pump.flow / (US_GALLON / 60) * (4000 * PSI / rig.pump.limit) ** 0.5
    whole = number_of_area(total_area(rig.jets))
    if whole > 4 * needed and any(jet.number is not None for jet in nozzle.jets):
        yield say(
            f"Trade number {whole:.0f} in all is far beyond the {needed:.1f} that this pump needs. "
            "Did you mean drill numbers? Then write 'drill: …' in place of 'number: …'."
        )


def which_gallon(ask: Ask) -> Iterator[Sentence]:
    """Yield which gallon is meant, where one was written."""
    for quantity in _written(ask.setup):
        if quantity.unit.symbol == "gpm":
            imperial = quantity.si * 60 / IMPERIAL_GALLON
            yield say(
                f"gpm and gal are US here: {quantity} are {imperial:.3g} imperial gallons a "
                "minute. Write 'imp gpm' or 'imp gal' for those."
            )
            return
        if quantity.unit.symbol == "gal":
            imperial = quantity.si / IMPERIAL_GALLON
            yield say(
                f"gal are US gallons here: {quantity} are {imperial:.3g} imperial gallons. Write "
                "'imp gal' for those."
            )
            return


def _written(value: Any) -> Iterator[Quantity]:
    """Yield every quantity of a setup in the order of its fields."""
    if isinstance(value, Quantity):
        yield value
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _written(getattr(value, name))
    elif isinstance(value, tuple):
        for inner in value:
            yield from _written(inner)
