"""A machine's records as a rig in SI units, its jets as its own gauge showed them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics import (
    Jet,
    Pump,
    Reading,
    Rig,
    Segment,
    area_of_bore,
    area_of_number,
)
from refgen.hydraulics.gauge_reading import share_by_gauge
from refgen.hydraulics.setting import gauge_error
from refgen.model.equipment import Hose, Nozzle, Pattern
from refgen.model.lookup import Assumptions
from refgen.model.machines import CarriedHose, Machine
from refgen.units import PSI, Quantity, System

STANDARD_WATER = 288.15
"""Temperature of the water where none is given: 15 °C, as when trade numbers are defined."""
BAR = 1e5
GAUGE_CLASS = 0.025
"""Error of a gauge over the end of its dial [-], where none is given: class 2.5 by EN 837-1."""
_IN_PSI = (600, 1000, 1500, 2000, 2500, 3000, 4000, 5000, 6000, 7500, 10_000, 15_000, 20_000)
_IN_BAR = (40, 60, 100, 160, 250, 400, 600, 1000, 1600)
DIALS: Mapping[System, tuple[float, ...]] = {
    "us": tuple(end * PSI for end in _IN_PSI),
    "metric": tuple(end * BAR for end in _IN_BAR),
}
"""Ends of the dials that gauges are made with [Pa], in psi and in bar, these by EN 837-1."""


@dataclass(frozen=True, slots=True)
class Calibration:
    """What a machine's reading tells of its jets.

    Attributes:
        share: Flow area of its jets over the one their sizes say [-]; 1 where nothing tells it.
        nozzle: Id of the nozzle it was read with; '' without a reading, or where it is refused.
        refused: Why the reading is not used.
        reading: The reading itself, where it is used.
    """

    share: float = 1.0
    nozzle: str = ""
    refused: str = ""
    reading: Reading | None = None

    def reading_with(self, nozzle: str) -> Reading | None:
        """Return the reading, if it was taken with this nozzle: then it sized its jets."""
        return self.reading if nozzle == self.nozzle else None

    def of(self, jets: tuple[Jet, ...]) -> tuple[Jet, ...]:
        """Return jets as they pass water on this machine."""
        return tuple(replace(jet, flow_area=jet.flow_area * self.share) for jet in jets)


def calibration_of(catalog: Catalog, machine: Machine) -> Calibration:
    """Return what a machine's own gauge reading tells, or that it has none or is not believed."""
    reading = machine.calibration
    if reading is None:
        return Calibration()
    nozzle = catalog.entries["nozzles", reading.nozzle.id].record
    assert isinstance(nozzle, Nozzle)
    pattern = catalog.entries["patterns", nozzle.pattern.id].record
    assert isinstance(pattern, Pattern)
    carried = next(one for one in machine.hoses if reading.hose in (None, one.id))
    hose = catalog.entries["hoses", carried.hose.id].record
    assert isinstance(hose, Hose)
    jets = jets_of(nozzle, pattern)
    water = reading.water.si if reading.water else STANDARD_WATER
    rig = Rig(water, pump_of(machine), (segment_of(carried, hose),), jets, 1.0)
    flow = reading.flow.si if reading.flow else None
    coefficient = None if all(jet.by_number for jet in jets) else coefficient_of(nozzle, pattern)
    try:
        share = share_by_gauge(rig, reading.gauge.si, flow, coefficient)
    except OutOfRange as error:
        return Calibration(refused=str(error))
    units = catalog.brand.units_first
    off = gauge_error(dial_for(rig.pump.limit, units), GAUGE_CLASS)
    taken = Reading(rig, reading.gauge.si, off, flow)
    return Calibration(share, reading.nozzle.id, reading=taken)


def dial_for(pressure: float, system: System) -> float:
    """Return the end of the dial [Pa] of a gauge on which a working pressure [Pa] suits.

    The next dial that is made, in psi or in bar, on which the pressure stands at two thirds at
    most: what a pulsing pressure may. A gauge's error is a share of this end, so that a crew
    that reads in bar has another error than one that reads in psi.
    """
    for end in DIALS[system]:
        if pressure <= end * 2 / 3:
            return end
    return pressure * 1.5


def water_assumed(assume: Assumptions) -> float:
    """Return the temperature of the water that a table takes for granted [K]."""
    return assume.water.si if assume.water else STANDARD_WATER


def coefficient_of(nozzle: Nozzle, pattern: Pattern) -> float:
    """Return the discharge coefficient that is believed of a nozzle's drilled jets [-]."""
    return nozzle.discharge_coefficient or pattern.discharge_coefficient


def pump_of(machine: Machine) -> Pump:
    """Return a machine's pump."""
    unloader = machine.unloader.si if machine.unloader else None
    return Pump(machine.flow.si, machine.pressure.si, unloader)


def segment_of(carried: CarriedHose, hose: Hose) -> Segment:
    """Return a machine's hose as it usually lies, part of it on the reel."""
    return Segment(
        bore=hose.bore.si,
        length=carried.length.si,
        roughness=hose.roughness.si,
        on_reel=carried.on_reel.si if carried.on_reel else 0.0,
        reel_diameter=carried.reel_diameter.si if carried.reel_diameter else None,
    )


def jets_of(nozzle: Nozzle, pattern: Pattern) -> tuple[Jet, ...]:
    """Return the jets of a nozzle in stock."""
    coefficient = coefficient_of(nozzle, pattern)
    sizes = {jets.id: jets for jets in nozzle.jets}
    return tuple(
        Jet(
            count=group.count,
            flow_area=(
                area_of_number(number)
                if (number := sizes[group.id].number) is not None
                else _area_of(sizes[group.id].bore, coefficient)
            ),
            angle=group.angle.si,
            faces=group.faces,
            by_number=sizes[group.id].number is not None,
        )
        for group in pattern.jets
    )


def _area_of(bore: Quantity | None, discharge_coefficient: float) -> float:
    assert bore is not None  # the model takes either a bore or a number
    return area_of_bore(bore.si, discharge_coefficient)
