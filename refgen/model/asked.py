"""What a setup may ask about its machine, pipe and water beyond the working point."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    NUMBER,
    Flow,
    HoseBore,
    Length,
    MaterialRef,
    Model,
    Of,
    PipeBore,
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
Altitude = Annotated[Quantity, Of("length", "0 ft", "10000 ft")]
FeedBore = Annotated[Quantity, Of("length", "5 mm", "300 mm")]
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
    slope: Share | None = Field(None, description="Fall over length.")
    way: Literal["up", "down"] = Field("up", description="Which way the nozzle goes.")
    manning_n: Annotated[float, Field(ge=0.008, le=0.035, allow_inf_nan=False), NUMBER] | None = (
        Field(None, description="Manning's n; left out, the material's, or 0.013.")
    )
    also_running: Flow | None = Field(None, description="Flow that runs in besides the jets.")
    filled: Share | None = Field(None, description="Share of it already full behind a block.")
    bends: tuple[BendSetup, ...] = Field((), description="Its bends.")


class ChooseSetup(Model):
    """Asks which nozzle suits the pump and its hose."""

    jets: tuple[Annotated[int, Field(ge=1, le=60), NUMBER], ...] = Field(
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

    rear: Annotated[int, Field(ge=0, le=60), NUMBER] = Field(0, description="To the rear.")
    front: Annotated[int, Field(ge=0, le=60), NUMBER] = Field(0, description="To the front.")


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

    bores: tuple[FeedBore, ...] = Field(min_length=1, description="Bores to compare.")
    length: Length = Field(description="Length of the feed hose.")
    height: Annotated[Quantity, Of("length", "-10 m", "50 m")] = Field(
        description="Height of the water above the pump's inlet; negative below it."
    )
    fittings: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False), NUMBER] = Field(
        0.0, description="Loss of valve, elbows and strainer in velocity heads."
    )
    altitude: Altitude | None = Field(None, description="Height above the sea.")


class AntifreezeSetup(Model):
    """Antifreeze to fill the machine, and what becomes of it."""

    other: Volume | None = Field(None, description="What pump and plumbing hold besides hoses.")
    put_in: Volume | None = Field(None, description="Antifreeze put in.")
    strength: Share | None = Field(None, description="Its share of propylene glycol by volume.")
    water_left: Volume | None = Field(None, description="Water left in the machine.")
    coldest: Temperature | None = Field(None, description="Coldest air expected.")

    @model_validator(mode="after")
    def _mixes_whole(self) -> AntifreezeSetup:
        mixing = (self.put_in, self.strength, self.water_left)
        if any(part is not None for part in mixing) and None in mixing:
            hint = "Give all of 'put_in', 'strength' and 'water_left'."
            raise PydanticCustomError("mix", "the mixture is not whole", {"hint": hint})
        return self
