"""Rigs for the tests of the sums: those of the written-out setups, and inputs that are exact."""

from __future__ import annotations

from typing import Any

from refgen.hydraulics import (
    Jet,
    Pump,
    Rig,
    Segment,
    Variations,
    area_of_bore,
    area_of_number,
)
from refgen.units import parse_quantity

EXACT = Variations(
    discharge_coefficient=0.0,
    trade_number=0.0,
    velocity_coefficient=0.0,
    hose_bore=0.0,
    roughest=0.0,
    couplings=0.0,
    coil=0.0,
    pump_flow=0.0,
    pressure_limit=0.0,
    water_temperature=0.0,
    antifreeze=0.0,
)
"""No input can be off; a test widens those it asks about."""


def si(text: str) -> float:
    """Return a quantity as written in SI units."""
    return parse_quantity(text).si


def rig_of_vector(setup: dict[str, Any]) -> Rig:
    """Return the rig of a setup of the vectors, read by no part of refgen but the units."""
    nozzle = setup["nozzle"]
    return Rig(
        water_temperature=si(setup["water"]["temperature"]),
        pump=Pump(**{name: si(value) for name, value in setup["pump"].items()}),
        hoses=tuple(
            Segment(**{name: si(value) for name, value in hose.items()}) for hose in setup["hoses"]
        ),
        jets=tuple(
            Jet(
                jet["count"],
                area_of_number(jet["number"])
                if "number" in jet
                else area_of_bore(si(jet["bore"]), nozzle["discharge_coefficient"]),
                si(jet["angle"]),
                jet["faces"],
            )
            for jet in nozzle["jets"]
        ),
        velocity_coefficient=nozzle["velocity_coefficient"],
        below_pump=si(setup["nozzle_below_pump"]),
    )
