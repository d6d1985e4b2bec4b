"""What the crew brings to a machine: nozzle patterns, nozzles in stock, hoses, and parts."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    NUMBER,
    Angle,
    HazardRef,
    HoseBore,
    Item,
    JetBore,
    Length,
    LocalItem,
    Mass,
    Of,
    PatternRef,
    PipeBore,
    Plain,
    Pressure,
    ProcedureRef,
    SymptomRef,
    Temperature,
    Text,
    Weight,
)
from refgen.model.fit import FittedItem
from refgen.model.record import Caution, Record
from refgen.units import Quantity

Coefficient = Annotated[float, Field(ge=0.5, le=1.0, allow_inf_nan=False), NUMBER]
TradeNumber = Annotated[float, Field(ge=0.1, le=200, allow_inf_nan=False), NUMBER]
Roughness = Annotated[Quantity, Of("length", "0 mm", "0.5 mm")]
Facing = Literal["rear", "front"]


class JetGroup(Item):
    """Jets alike in angle and facing."""

    count: Annotated[int, Field(ge=1, le=60), NUMBER] = Field(description="How many jets.")
    angle: Angle = Field(description="Angle from the hose's axis.")
    faces: Facing = Field(description="Which way the jets point.")


class Pattern(Record):
    """A nozzle pattern: where its jets point and what that does."""

    kind: ClassVar[str] = "patterns"

    jets: tuple[JetGroup, ...] = Field(min_length=1, description="Groups of equal jets.")
    discharge_coefficient: Coefficient = Field(description="Share of the ideal flow a jet passes.")
    velocity_coefficient: Coefficient = Field(0.97, description="Share of the ideal jet speed.")
    turns: bool = Field(False, description="Whether the head spins.")
    does: tuple[Text, ...] = Field(min_length=1, description="What it does well.")
    does_not: tuple[Text, ...] = Field(min_length=1, description="What it does not do.")
    pipe_from: PipeBore | None = Field(None, description="Smallest pipe bore it suits.")
    pipe_to: PipeBore | None = Field(None, description="Largest pipe bore it suits.")
    care: tuple[Text, ...] = Field((), description="How to look after it.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed when using it.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards of using it.")


class DrilledJets(LocalItem):
    """The jets of one group of the pattern, as drilled in this nozzle."""

    bore: JetBore | None = Field(None, description="Bore of each jet.")
    number: TradeNumber | None = Field(None, description="Trade number: US gpm at 4000 psi.")

    @model_validator(mode="after")
    def _one_of_two(self) -> DrilledJets:
        if (self.bore is None) == (self.number is None):
            hint = "Give each group of jets either its bore or its trade number."
            raise PydanticCustomError("jets", "needs either a bore or a number", {"hint": hint})
        return self


class Nozzle(Record):
    """A nozzle in stock: a pattern in one size."""

    kind: ClassVar[str] = "nozzles"

    pattern: PatternRef = Field(description="Its pattern.")
    jets: tuple[DrilledJets, ...] = Field(min_length=1, description="Sizes, by jet group's id.")
    thread: Plain = Field(description="Thread by which it is screwed on.")
    stiff_length: Length = Field(description="Length that cannot bend, hose end included.")
    weight: Mass | None = Field(None, description="Weight.")
    discharge_coefficient: Coefficient | None = Field(None, description="If known for this one.")


class Hose(Record):
    """A hose in stock."""

    kind: ClassVar[str] = "hoses"

    bore: HoseBore = Field(description="Inside diameter.")
    working_pressure: Pressure = Field(description="Most pressure by its tag.")
    burst_pressure: Pressure = Field(description="Pressure at which a new one bursts, by its tag.")
    roughness: Roughness = Field(description="Roughness of the liner.")
    weight: Weight | None = Field(None, description="Weight of the empty hose by length.")
    minimum_bend: Length | None = Field(None, description="Least bend radius, inside the bend.")
    warmest: Temperature | None = Field(None, description="Warmest water by its tag.")
    cover: Plain | None = Field(None, description="Make of liner and cover.")

    @model_validator(mode="after")
    def _bursts_later(self) -> Hose:
        if self.working_pressure.si >= self.burst_pressure.si:
            raise PydanticCustomError(
                "physics",
                "{work} is not below the burst pressure of {burst}",
                {
                    "work": str(self.working_pressure),
                    "burst": str(self.burst_pressure),
                    "hint": "Copy both from the hose's tag.",
                    "at": ("working_pressure",),
                },
            )
        return self


class Failing(FittedItem):
    """One way in which a part fails."""

    looks: Text = Field(description="What one sees, hears or feels.")
    do: Text = Field(description="What to do about it.")
    symptoms: tuple[SymptomRef, ...] = Field((), description="Pages on what it leads to.")


class Setting(FittedItem):
    """One thing to do to use or set a part."""

    text: Text = Field(description="What to do.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed before.")


class Part(Record):
    """A control or component."""

    kind: ClassVar[str] = "parts"

    ask: bool = Field(False, description="Whether every machine must say if it has it.")
    drive: bool = Field(False, description="Whether it is what turns the pump.")
    does: Text = Field(description="What it does.")
    set: tuple[Setting, ...] = Field((), description="How to use and set it.")
    failing: tuple[Failing, ...] = Field((), description="What failing looks like.")
    care: tuple[Text, ...] = Field((), description="How to look after it.")
    cautions: tuple[Caution, ...] = Field((), description="What to heed.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards it brings.")
    procedures: tuple[ProcedureRef, ...] = Field((), description="Procedures that use it.")


def check_reel(length: Quantity, on_reel: Quantity | None, diameter: Quantity | None) -> None:
    """Make sure that a reel holds no more hose than there is, and that its size is told.

    Raises:
        PydanticCustomError: If not.
    """
    if on_reel and on_reel.si > length.si:
        hint = "Check 'on_reel'."
        raise PydanticCustomError("physics", "more hose on the reel than there is", {"hint": hint})
    if on_reel and not diameter:
        hint = "Give the mean diameter of the coils."
        raise PydanticCustomError("physics", "'on_reel' needs 'reel_diameter'", {"hint": hint})
