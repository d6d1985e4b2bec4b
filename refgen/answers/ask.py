"""What is asked: a setup with its records, and what several answers need of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from refgen.catalog import Catalog
from refgen.hydraulics import Duty, Margins, Pump, Reading, Rig, Segment, margins, working_point
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.setting import gauge_error
from refgen.hydraulics.water import Water
from refgen.model.base import Ref
from refgen.model.equipment import Hose, Nozzle
from refgen.model.machines import Machine
from refgen.model.setup import NozzleSetup, Setup
from refgen.rigs import GAUGE_CLASS, Calibration, calibration_of, dial_for
from refgen.setups import antifreeze_in, found_in, hoses_in, pump_in, rig_of, water_of


@dataclass(frozen=True)
class Ask:
    """A setup and the data its names are found in.

    Attributes:
        setup: The setup.
        catalog: The records, where there are any.
        measured: Share by which the jets' flow area differs from the one believed, where a
            gauge reading told it.
    """

    setup: Setup
    catalog: Catalog | None = None
    measured: float | None = None

    def gauge(self, pressure: float) -> tuple[float, float]:
        """Return the end of the dial [Pa] and the class [-] of a gauge that shows a pressure."""
        told = self.setup.regulator
        units = self.catalog.brand.units_first if self.catalog else "us"
        dial = told.dial.si if told.dial else dial_for(pressure, units)
        return dial, told.accuracy.si if told.accuracy else GAUGE_CLASS

    @cached_property
    def temperature(self) -> float:
        """Temperature of the water [K]."""
        return water_of(self.setup)

    @cached_property
    def antifreeze(self) -> float:
        """Share of glycol in the water by volume [-]."""
        return antifreeze_in(self.setup)

    @cached_property
    def water(self) -> Water:
        """The water."""
        return mixture_at(self.temperature, self.antifreeze)

    @cached_property
    def machine(self) -> Machine | None:
        """The machine, where one is named."""
        ref = self.setup.machine
        return found_in(self.catalog, ref, Machine) if ref else None

    @cached_property
    def nozzle(self) -> Nozzle | None:
        """The nozzle in stock, where one is named."""
        ref = self.setup.nozzle
        if ref is None or isinstance(ref, NozzleSetup):
            return None
        return found_in(self.catalog, ref, Nozzle)

    @cached_property
    def pump(self) -> Pump | None:
        """The pump, where its pressure is known."""
        return pump_in(self.setup, self.catalog)

    @cached_property
    def plungers(self) -> int:
        """How many plungers the pump has."""
        if self.machine is not None:
            return self.machine.plungers
        return self.setup.pump.plungers if self.setup.pump else 3

    @cached_property
    def flow(self) -> float | None:
        """Flow of the pump [m³/s]."""
        if self.pump is not None:
            return self.pump.flow
        return self.setup.pump.flow.si if self.setup.pump else None

    @cached_property
    def hoses(self) -> tuple[Segment, ...]:
        """The hoses from pump to nozzle."""
        return hoses_in(self.setup, self.catalog)

    @cached_property
    def below(self) -> float:
        """How far the nozzle lies below the pump [m]."""
        return self.setup.nozzle_below_pump.si if self.setup.nozzle_below_pump else 0.0

    def hose_in_stock(self, place: int) -> Hose | None:
        """Return the record of one of the hoses, where it is one in stock."""
        if self.setup.hoses is not None:
            ref = self.setup.hoses[place].hose
        else:
            ref = self.machine.hoses[0].hose if self.machine else None
        return found_in(self.catalog, ref, Hose) if ref else None

    @cached_property
    def calibration(self) -> Calibration:
        """What the reading here tells of the jets, or else the machine's own."""
        if self.measured is not None:
            nozzle, taken, rig = self.setup.nozzle, self.setup.reading, self.sized
            assert taken is not None
            assert rig is not None  # by both of which it was measured
            error = gauge_error(*self.gauge(rig.pump.limit))
            reading = Reading(rig, taken.gauge.si, error, taken.flow.si if taken.flow else None)
            name = nozzle.id if isinstance(nozzle, Ref) else ""
            return Calibration(self.measured, name, reading=reading)
        if self.machine is None or self.catalog is None:
            return Calibration()
        return calibration_of(self.catalog, self.machine)

    @cached_property
    def sized(self) -> Rig | None:
        """Pump, hoses and nozzle, where all are there; its jets as their sizes say."""
        return None if self.setup.nozzle is None else rig_of(self.setup, self.catalog)

    @cached_property
    def rig(self) -> Rig | None:
        """Pump, hoses and nozzle, where all are there; its jets as a reading showed them."""
        sized = self.sized
        return None if sized is None else replace(sized, jets=self.calibration.of(sized.jets))

    @cached_property
    def duty(self) -> Duty | None:
        """The working point, where there is a nozzle."""
        return working_point(self.rig) if self.rig else None

    @cached_property
    def margins(self) -> Margins | None:
        """How far the working point can be off."""
        return self.margins_of(self.rig) if self.rig else None

    def margins_of(self, rig: Rig) -> Margins:
        """Return how far a rig's working point can be off; otherwise with jets that were read."""
        nozzle = self.setup.nozzle
        name = nozzle.id if isinstance(nozzle, Ref) else ""
        return margins(rig, reading=self.calibration.reading_with(name))

    @cached_property
    def use(self) -> float | None:
        """Flow that leaves through the nozzle [m³/s], or the pump's where there is none."""
        return self.duty.flow if self.duty else self.flow
