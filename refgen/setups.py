"""A setup as people write it, turned into a rig in SI units."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from refgen.catalog import Catalog
from refgen.errors import RefgenError, did_you_mean
from refgen.hydraulics import Jet, Pump, Rig, Segment, area_of_bore, area_of_number
from refgen.hydraulics.drill import number_drills
from refgen.layers import Key
from refgen.model.base import Ref
from refgen.model.equipment import Hose, Nozzle, Pattern
from refgen.model.machines import CarriedHose, Machine
from refgen.model.record import Record
from refgen.model.setup import HoseSetup, JetSetup, NozzleSetup, Setup
from refgen.rigs import STANDARD_WATER, jets_of, pump_of, segment_of

R = TypeVar("R", bound=Record)

SMOOTH_LINER = 1.5e-6
"""Roughness of a thermoplastic liner [m], where none is given."""
HEADROOM = 0.10
"""Head-room under the unloader's setting [-], where the data tell no other."""
WEAR_LIMIT = 0.05
"""Growth of a jet's bore at which it is renewed [-], where the data tell no other."""
OVERSHOOT = 0.10
"""What an unloader adds as the flow stops [-], where none is given."""


class UnknownId(RefgenError):
    """A setup names a record that the data do not have."""


def rig_of(setup: Setup, catalog: Catalog | None = None) -> Rig:
    """Return the rig a setup describes; it has a pump with its pressure, hoses and a nozzle.

    Its jets pass water as their sizes say, whatever a gauge showed since.

    Args:
        setup: Pump, hoses and nozzle, written out or named.
        catalog: Where the named machines, hoses and nozzles are found.

    Raises:
        UnknownId: If a name is not in the catalog, or there is none.
    """
    pump = pump_in(setup, catalog)
    assert pump is not None  # the model asks for it where there is a nozzle
    assert setup.nozzle is not None
    hoses = hoses_in(setup, catalog)
    if isinstance(setup.nozzle, NozzleSetup):
        nozzle = setup.nozzle
        jets = tuple(_jet(jet, nozzle.discharge_coefficient) for jet in nozzle.jets)
        velocity_coefficient = nozzle.velocity_coefficient
    else:
        finder = _Finder(catalog)
        stock = finder.find(setup.nozzle, Nozzle)
        pattern = finder.find(stock.pattern, Pattern)
        jets = jets_of(stock, pattern)
        velocity_coefficient = pattern.velocity_coefficient
    return Rig(
        water_temperature=water_of(setup),
        pump=pump,
        hoses=hoses,
        jets=jets,
        velocity_coefficient=velocity_coefficient,
        below_pump=setup.nozzle_below_pump.si if setup.nozzle_below_pump else 0.0,
        antifreeze=antifreeze_in(setup),
    )


def water_of(setup: Setup) -> float:
    """Return the temperature of a setup's water [K]."""
    temperature = setup.water.temperature
    return temperature.si if temperature else STANDARD_WATER


def antifreeze_in(setup: Setup) -> float:
    """Return the share of glycol in a setup's water by volume [-]."""
    return setup.water.antifreeze.si if setup.water.antifreeze else 0.0


def pump_in(setup: Setup, catalog: Catalog | None = None) -> Pump | None:
    """Return a setup's pump, or None where it names none or not its pressure."""
    if setup.machine is not None:
        return pump_of(_Finder(catalog).find(setup.machine, Machine))
    given = setup.pump
    if given is None or given.pressure is None:
        return None
    return Pump(given.flow.si, given.pressure.si, given.unloader.si if given.unloader else None)


def hoses_in(setup: Setup, catalog: Catalog | None = None) -> tuple[Segment, ...]:
    """Return a setup's hoses: its own, or the first of its machine."""
    finder = _Finder(catalog)
    if setup.hoses is not None:
        return tuple(finder.hose(hose) for hose in setup.hoses)
    if setup.machine is not None:
        return (finder.carried(finder.find(setup.machine, Machine).hoses[0]),)
    return ()


def line_of(hoses: Iterable[HoseSetup], catalog: Catalog | None = None) -> tuple[Segment, ...]:
    """Return hoses in a row as they are written in a setup."""
    return tuple(_Finder(catalog).hose(hose) for hose in hoses)


def found_in(catalog: Catalog | None, ref: Ref, kind: type[R]) -> R:
    """Return a record that a setup names.

    Raises:
        UnknownId: If the catalog has none of that name, or there is no catalog.
    """
    return _Finder(catalog).find(ref, kind)


def headroom_of(catalog: Catalog | None) -> float:
    """Return the share of the unloader's setting under which a nozzle should run [-]."""
    figures = catalog.figures if catalog else {}
    figure = figures.get(("parts", "unloader", "head-room"))
    return figure.is_.si if figure and figure.is_ else HEADROOM


def wear_limit_of(catalog: Catalog | None) -> float:
    """Return the growth of a jet's bore at which it is renewed [-]."""
    figures = catalog.figures if catalog else {}
    figure = figures.get(("symptoms", "jets-worn", "wear-limit"))
    return figure.is_.si if figure and figure.is_ else WEAR_LIMIT


def _jet(jet: JetSetup, discharge_coefficient: float) -> Jet:
    by_number = jet.number is not None
    if jet.number is not None:
        area = area_of_number(jet.number)
    elif jet.drill is not None:
        area = area_of_bore(number_drills()[80 - jet.drill].bore, discharge_coefficient)
    else:
        assert jet.bore is not None  # the model takes a bore, a drill or a number
        area = area_of_bore(jet.bore.si, discharge_coefficient)
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
