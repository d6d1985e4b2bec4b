"""Short sums that a setup may ask: each section has all that its sum needs."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from refgen.model.asked import Altitude, FeedBore, Share
from refgen.model.base import Flow, Length, Mass, Model, Of, PipeBore, Power, Pressure, Volume
from refgen.units import Quantity

Density = Annotated[Quantity, Of("density", "1000 kg/m³", "2500 kg/m³")]
Efficiency = Annotated[Quantity, Of("share", "40 %", "100 %")]
Turning = Annotated[Quantity, Of("rotation", "1 rpm", "20000 rpm")]


class EngineSetup(Model):
    """An engine, where it stands and in which air."""

    power: Power | None = Field(None, description="Rated power at sea level.")
    altitude: Altitude | None = Field(None, description="Height above the sea; 0 if left out.")
    moved_to: Altitude | None = Field(None, description="Height it is moved to.")
    air: Annotated[Quantity, Of("temperature", "-40 degC", "55 degC")] | None = Field(
        None, description="Temperature of the air it draws."
    )
    fuel: Literal["petrol", "diesel"] = Field("petrol", description="What it burns.")


class OutletSetup(Model):
    """A single-phase electric outlet that drives a pump."""

    volts: Annotated[Quantity, Of("voltage", "1 V", "1000 V")] = Field(
        description="Voltage at the machine."
    )
    amps: tuple[Annotated[Quantity, Of("current", "0.1 A", "500 A")], ...] = Field(
        min_length=1, description="Currents of the circuits to compare."
    )
    pressure: Pressure = Field(description="Pressure at the pump.")
    motor_efficiency: Efficiency | None = Field(None, description="75 % if left out.")
    pump_efficiency: Annotated[Quantity, Of("share", "50 %", "100 %")] | None = Field(
        None, description="85 % if left out."
    )
    power_factor: Efficiency | None = Field(None, description="100 % if left out.")


class SheavesSetup(Model):
    """A belt drive."""

    engine_speed: Turning = Field(description="Speed of the engine.")
    engine_sheave: Length = Field(description="Pitch diameter of its sheave.")
    pump_sheave: Length = Field(description="Pitch diameter of the pump's sheave.")
    wanted_speed: Turning | None = Field(None, description="Speed wanted at the pump.")


class JetSpeedSetup(Model):
    """Asks how fast a jet is at a pressure."""

    pressures: tuple[Pressure, ...] = Field(min_length=1, description="Pressures at the nozzle.")


class LanceSetup(Model):
    """A hand lance with one straight jet."""

    flow: Flow = Field(description="Its flow.")
    pressure: Pressure = Field(description="Pressure at its nozzle.")


class StackSetup(Model):
    """A pipe that stands full behind a cap."""

    height: Annotated[Quantity, Of("length", "0 m", "300 m")] = Field(
        description="Height of the water above the middle of the opening."
    )
    opening: PipeBore = Field(description="Bore of the opening.")


class AirGapSetup(Model):
    """The fill pipe over a tank."""

    bore: FeedBore = Field(description="Bore of the fill pipe.")
    beside_wall: bool = Field(False, description="Whether it ends close beside a wall.")


class TurnRoundSetup(Model):
    """Asks whether a nozzle can turn round in a pipe."""

    stiff_length: Length = Field(description="Length that cannot bend, hose end included.")
    bore: PipeBore = Field(description="Widest bore or chamber it may enter.")


class CulvertSetup(Model):
    """A culvert packed with soil."""

    bore: PipeBore = Field(description="Its bore.")
    length: Length = Field(description="Packed length.")
    filled: Share | None = Field(None, description="Share of the bore packed; all if left out.")
    soil: Density | None = Field(None, description="Weight of the soil; 1800 kg/m³ if left out.")
    solids: Annotated[Quantity, Of("share", "2 %", "40 %")] | None = Field(
        None, description="Solids in the slurry by volume; 10 % if left out."
    )
    flows: tuple[Flow, ...] = Field((), description="Flows to wash it out with.")


class TrailerSetup(Model):
    """A trailer and what it may carry."""

    gross: Mass = Field(description="Greatest weight on its plate.")
    empty: Mass = Field(description="Weight with fuel and empty tank.")
    tank: Volume = Field(description="Water in the tank.")
    other: Mass | None = Field(None, description="Tools and spare hose.")
