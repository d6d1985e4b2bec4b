"""A setup as people write it, turned into a rig in SI units."""

from __future__ import annotations

from typing import TypeVar

from refgen.catalog import Catalog
from refgen.errors import RefgenError, did_you_mean
from refgen.hydraulics import Jet, Pump, Rig, Segment, area_of_bore, area_of_number
from refgen.layers import Key
from refgen.model.base import Ref
from refgen.model.equipment import CarriedHose, Hose, Machine, Nozzle, Pattern
from refgen.model.record import Record
from refgen.model.setup import HoseSetup, JetSetup, NozzleSetup, Setup
from refgen.units import Quantity

R = TypeVar("R", bound=Record)

STANDARD_WATER = 288.15
"""Temperature of the water where none is given: 15 °C, as when trade numbers are defined."""
SMOOTH_LINER = 1.5e-6
"""Roughness of a thermoplastic liner [m], where none is given."""


class UnknownId(RefgenError):
    """A setup names a record that the data do not have."""


def rig_of(setup: Setup, catalog: Catalog | None = None) -> Rig:
    """Return the rig a setup describes.

    Args:
        setup: Pump, hoses and nozzle, written out or named.
        catalog: Where the named machines, hoses and nozzles are found.

    Raises:
        UnknownId: If a name is not in the catalog, or there is none.
    """
    finder = _Finder(catalog)
    water = setup.water.temperature
    hoses: tuple[Segment, ...] = ()
    if setup.machine is not None:
        machine = finder.find(setup.machine, Machine)
        pump = pump_of(machine)
        if setup.hoses is None:
            hoses = (finder.carried(machine.hoses[0]),)
    else:
        assert setup.pump is not None
        given = setup.pump
        unloader = given.unloader.si if given.unloader else None
        pump = Pump(given.flow.si, given.pressure.si, unloader)
    if setup.hoses is not None:
        hoses = tuple(finder.hose(hose) for hose in setup.hoses)
    if isinstance(setup.nozzle, NozzleSetup):
        nozzle = setup.nozzle
        jets = tuple(_jet(jet, nozzle.discharge_coefficient) for jet in nozzle.jets)
        velocity_coefficient = nozzle.velocity_coefficient
    else:
        stock = finder.find(setup.nozzle, Nozzle)
        pattern = finder.find(stock.pattern, Pattern)
        jets = jets_of(stock, pattern)
        velocity_coefficient = pattern.velocity_coefficient
    return Rig(
        water_temperature=water.si if water else STANDARD_WATER,
        pump=pump,
        hoses=hoses,
        jets=jets,
        velocity_coefficient=velocity_coefficient,
        below_pump=setup.nozzle_below_pump.si if setup.nozzle_below_pump else 0.0,
    )


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
    coefficient = nozzle.discharge_coefficient or pattern.discharge_coefficient
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


def _jet(jet: JetSetup, discharge_coefficient: float) -> Jet:
    by_number = jet.number is not None
    area = (
        area_of_number(jet.number)
        if jet.number is not None
        else _area_of(jet.bore, discharge_coefficient)
    )
    return Jet(jet.count, area, jet.angle.si, jet.faces, by_number)


class _Finder:
    def __init__(self, catalog: Catalog | None) -> None:
        self.catalog = catalog

    def find(self, ref: Ref, kind: type[R]) -> R:
        entries = self.catalog.entries if self.catalog else {}
        key: Key = (ref.kind, ref.id)
        if key not in entries:
            known = [name for k, name in entries if k == ref.kind]
            hint = did_you_mean(ref.id, known)
            if self.catalog is None:
                hint = "Run it where the data are, or write the values out."
            raise UnknownId(f"no {kind.__name__.lower()} '{ref.id}'. {hint}".strip())
        record = entries[key].record
        assert isinstance(record, kind)
        return record

    def carried(self, carried: CarriedHose) -> Segment:
        return segment_of(carried, self.find(carried.hose, Hose))

    def hose(self, hose: HoseSetup) -> Segment:
        if hose.hose is not None:
            stock = self.find(hose.hose, Hose)
            bore, roughness = stock.bore.si, stock.roughness.si
        else:
            assert hose.bore is not None
            bore, roughness = hose.bore.si, SMOOTH_LINER
        return Segment(
            bore=bore,
            length=hose.length.si,
            roughness=hose.roughness.si if hose.roughness else roughness,
            on_reel=hose.on_reel.si if hose.on_reel else 0.0,
            reel_diameter=hose.reel_diameter.si if hose.reel_diameter else None,
        )
