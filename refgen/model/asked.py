"""What a setup may ask beyond the working point: one section a question.

Most sections stand alone; what they take from pump, hoses or nozzle is told in `setup`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    Flow,
    HoseBore,
    Length,
    Mass,
    MaterialRef,
    Model,
    Of,
    PipeBore,
    Power,
    Pressure,
    Temperature,
    Time,
    Volume,
    Weight,
)
from refgen.model.equipment import Coefficient, TradeNumber
from refgen.units import Quantity

Share = Annotated[Quantity, Of("share", "0 %", "100 %")]
Growth = Annotated[Quantity, Of("share", "0 %", "50 %")]
Speeds = Annotated[Quantity, Of("share", "1 %", "110 %")]
Force = Annotated[Quantity, Of("force", "0 N", "100 kN")]
Walk = Annotated[Quantity, Of("speed", "0.1 m/min", "5 m/s")]
Density = Annotated[Quantity, Of("density", "1000 kg/m³", "2500 kg/m³")]
Efficiency = Annotated[Quantity, Of("share", "40 %", "100 %")]
Turning = Annotated[Quantity, Of("rotation", "1 rpm", "20000 rpm")]
Condition = Literal["unknown", "worn", "sound"]


class ReadingSetup(Model):
    """What the gauge at the pump shows while the jet is on."""

    gauge: Pressure = Field(description="The reading.")
    flow: Flow | None = Field(None, description="Flow meanwhile; the pump's if left out.")


class RegulatorSetup(Model):
    """How true the gauge is, and how far the unloader jumps."""

    dial: Pressure | None = Field(
        None, description="End of the gauge's dial; left out, one that suits the machine."
    )
    accuracy: Annotated[Quantity, Of("share", "0 %", "10 %")] | None = Field(
        None, description="Class of the gauge; 2.5 % of the dial if left out."
    )
    overshoot: Growth | None = Field(
        None, description="What the unloader adds as the flow stops; 10 % if left out."
    )


class BendSetup(Model):
    """A bend of the pipe."""

    at: Length = Field(description="How far in, along the hose.")
    angle: Annotated[Quantity, Of("angle", "0 deg", "180 deg")] = Field(description="Its angle.")


class PipeSetup(Model):
    """The pipe that is jetted."""

    material: MaterialRef | None = Field(None, description="What it is made of.")
    condition: Condition = Field("unknown", description="What a camera has shown of it.")
    ceiling: Pressure | None = Field(None, description="The owner's own limit at the nozzle.")
    bore: PipeBore | None = Field(None, description="Inside diameter.")
    length: Length | None = Field(None, description="Length from the access to its end or block.")
    slope: Annotated[Quantity, Of("share", "0 %", "100 %")] | None = Field(
        None, description="Fall over length."
    )
    way: Literal["up", "down"] = Field("up", description="Which way the nozzle goes.")
    manning_n: Annotated[float, Field(ge=0.008, le=0.035, allow_inf_nan=False)] | None = Field(
        None, description="Manning's n; left out, the material's, or 0.013."
    )
    also_running: Flow | None = Field(None, description="Flow that runs in besides the jets.")
    filled: Share | None = Field(None, description="Share of it already full behind a block.")
    bends: tuple[BendSetup, ...] = Field((), description="Its bends.")


class ChooseSetup(Model):
    """Asks which nozzle suits the pump and its hose."""

    jets: tuple[Annotated[int, Field(ge=1, le=60)], ...] = Field(
        (1, 4, 6, 8), description="Numbers of equal jets to give a bore for."
    )
    numbers: tuple[TradeNumber, ...] = Field(
        (), description="Trade numbers of whole nozzles to try."
    )
    discharge_coefficient: Coefficient = Field(0.75, description="Share of the ideal flow.")
    headroom: Growth | None = Field(
        None, description="Share of the limit to keep free under the unloader."
    )
    stock: bool = Field(False, description="Whether to look through the nozzles in stock.")


class PluggedSetup(Model):
    """Holes that are plugged."""

    rear: Annotated[int, Field(ge=0, le=60)] = Field(0, description="To the rear.")
    front: Annotated[int, Field(ge=0, le=60)] = Field(0, description="To the front.")


class ReachSetup(Model):
    """Asks how far the nozzle pulls its hose."""

    pull: Force | None = Field(None, description="Pull, if not that of the nozzle.")
    weight: Weight | None = Field(None, description="Weight of the empty hose, if not in stock.")
    outer_diameter: HoseBore | None = Field(
        None, description="Outside diameter of the hose, for a pipe that stands full."
    )
    drag: Force | None = Field(None, description="What reel and hand hold back.")


class SupplySetup(Model):
    """The water that comes in: its flow, or how long a bucket takes to fill."""

    flow: Flow | None = Field(None, description="Flow of the supply.")
    bucket: Volume | None = Field(None, description="Volume of the bucket.")
    time: Time | None = Field(None, description="Time it takes to fill.")

    @model_validator(mode="after")
    def _flow_or_bucket(self) -> SupplySetup:
        timed = self.bucket is not None and self.time is not None
        if (self.flow is not None) == timed or (self.bucket is None) != (self.time is None):
            hint = "Give 'flow', or 'bucket' and 'time'."
            raise PydanticCustomError("supply", "needs a flow or a bucket test", {"hint": hint})
        return self


class RunSetup(Model):
    """A run up the pipe and back."""

    length: Length = Field(description="Length of pipe.")
    out: Walk = Field(description="Speed going up.")
    back: Walk = Field(description="Speed pulling back.")


class TankSetup(Model):
    """The water on board."""

    volume: Volume = Field(description="Water above the low-water cut-out.")


class BypassSetup(Model):
    """Asks how fast the water warms that goes round through the unloader."""

    volume: Volume = Field(description="Water that goes round: the tank, or the loop at the pump.")
    to: Temperature = Field(description="Temperature it must not pass.")


class SuctionSetup(Model):
    """The feed from the tank to the pump."""

    bores: tuple[HoseBore, ...] = Field(min_length=1, description="Bores to compare.")
    length: Length = Field(description="Length of the feed hose.")
    height: Annotated[Quantity, Of("length", "-10 m", "50 m")] = Field(
        description="Height of the water above the pump's inlet; negative below it."
    )
    fittings: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)] = Field(
        0.0, description="Loss of valve, elbows and strainer in velocity heads."
    )
    altitude: Annotated[Quantity, Of("length", "0 ft", "10000 ft")] | None = Field(
        None, description="Height above the sea."
    )


class EngineSetup(Model):
    """An engine, where it stands and in which air."""

    power: Power | None = Field(None, description="Rated power at sea level.")
    altitude: Annotated[Quantity, Of("length", "0 ft", "10000 ft")] | None = Field(
        None, description="Height above the sea; 0 if left out."
    )
    moved_to: Annotated[Quantity, Of("length", "0 ft", "10000 ft")] | None = Field(
        None, description="Height it is moved to."
    )
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


class AntifreezeSetup(Model):
    """Antifreeze to fill the machine, and what becomes of it."""

    other: Volume | None = Field(None, description="What pump and plumbing hold besides hoses.")
    put_in: Volume | None = Field(None, description="Antifreeze put in.")
    strength: Annotated[Quantity, Of("share", "0 %", "100 %")] | None = Field(
        None, description="Its share of propylene glycol by volume."
    )
    water_left: Volume | None = Field(None, description="Water left in the machine.")
    coldest: Temperature | None = Field(None, description="Coldest air expected.")

    @model_validator(mode="after")
    def _mixes_whole(self) -> AntifreezeSetup:
        mixing = (self.put_in, self.strength, self.water_left)
        if any(part is not None for part in mixing) and None in mixing:
            hint = "Give all of 'put_in', 'strength' and 'water_left'."
            raise PydanticCustomError("mix", "the mixture is not whole", {"hint": hint})
        return self


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

    bore: HoseBore | PipeBore = Field(description="Bore of the fill pipe.")
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
