"""A setup: what a person puts together and asks what comes out of it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    Angle,
    Flow,
    HoseBore,
    HoseRef,
    JetBore,
    Length,
    MachineRef,
    Model,
    NozzleRef,
    Of,
    Pressure,
    Temperature,
)
from refgen.model.equipment import Coefficient, Facing, Roughness, TradeNumber
from refgen.units import Quantity

Head = Annotated[Quantity, Of("length", "-300 m", "300 m")]


class WaterSetup(Model):
    """The water."""

    temperature: Temperature | None = Field(None, description="Temperature; 15 °C if left out.")


class PumpSetup(Model):
    """The pump."""

    flow: Flow = Field(description="Rated flow.")
    pressure: Pressure = Field(description="Rated pressure.")
    unloader: Pressure | None = Field(None, description="Setting of the unloader.")


class HoseSetup(Model):
    """One length of hose: a hose in stock by `hose`, or its own bore and roughness."""

    hose: HoseRef | None = Field(None, description="A hose in stock.")
    bore: HoseBore | None = Field(None, description="Inside diameter.")
    length: Length = Field(description="Length, with what is on the reel.")
    roughness: Roughness | None = Field(None, description="Roughness; 0.0015 mm if left out.")
    on_reel: Length | None = Field(None, description="The part still on the reel.")
    reel_diameter: Length | None = Field(None, description="Mean diameter of the coils.")

    @model_validator(mode="after")
    def _has_a_bore(self) -> HoseSetup:
        if (self.hose is None) == (self.bore is None):
            hint = "Give 'hose: id' or 'bore: 3/8 in'."
            raise PydanticCustomError("setup", "needs either a hose or a bore", {"hint": hint})
        if self.on_reel and not self.reel_diameter:
            hint = "Give the mean diameter of the coils."
            raise PydanticCustomError("physics", "'on_reel' needs 'reel_diameter'", {"hint": hint})
        if self.on_reel and self.on_reel.si > self.length.si:
            raise PydanticCustomError(
                "physics", "more hose on the reel than there is", {"hint": "Check 'on_reel'."}
            )
        return self


class JetSetup(Model):
    """Equal jets."""

    count: Annotated[int, Field(ge=1, le=60)] = Field(1, description="How many.")
    bore: JetBore | None = Field(None, description="Bore of each.")
    number: TradeNumber | None = Field(None, description="Trade number: US gpm at 4000 psi.")
    angle: Angle = Field(description="Angle from the hose's axis.")
    faces: Facing = Field(description="Which way they point.")

    @model_validator(mode="after")
    def _one_of_two(self) -> JetSetup:
        if (self.bore is None) == (self.number is None):
            hint = "Give each group of jets either its bore or its trade number."
            raise PydanticCustomError("jets", "needs either a bore or a number", {"hint": hint})
        return self


class NozzleSetup(Model):
    """The nozzle, written out."""

    discharge_coefficient: Coefficient = Field(0.75, description="Share of the ideal flow.")
    velocity_coefficient: Coefficient = Field(0.97, description="Share of the ideal speed.")
    jets: tuple[JetSetup, ...] = Field(min_length=1, description="Groups of equal jets.")


class Setup(Model):
    """A pump, hoses and a nozzle, written out or named."""

    water: WaterSetup = Field(WaterSetup(), description="The water.")
    machine: MachineRef | None = Field(None, description="A machine: its pump and hoses.")
    pump: PumpSetup | None = Field(None, description="The pump, if not a machine's.")
    hoses: tuple[HoseSetup, ...] | None = Field(None, description="Hoses from pump to nozzle.")
    nozzle: NozzleRef | NozzleSetup = Field(description="A nozzle in stock, or written out.")
    nozzle_below_pump: Head | None = Field(None, description="Height of the pump over the nozzle.")

    @property
    def names_records(self) -> bool:
        """Whether it needs the data, because it names a machine, hose or nozzle."""
        hoses = self.hoses or ()
        return bool(
            self.machine
            or not isinstance(self.nozzle, NozzleSetup)
            or any(hose.hose for hose in hoses)
        )

    @model_validator(mode="after")
    def _has_a_pump(self) -> Setup:
        if (self.machine is None) == (self.pump is None):
            hint = "Give 'machine: id', or 'pump:' with flow and pressure."
            raise PydanticCustomError("setup", "needs either a machine or a pump", {"hint": hint})
        if self.machine is None and self.hoses is None:
            hint = "Give 'hoses:' with bore and length each."
            raise PydanticCustomError("setup", "names no hoses", {"hint": hint})
        return self
