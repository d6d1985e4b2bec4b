"""What the crew brings: nozzle patterns, nozzles in stock, hoses, parts and machines."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    Angle,
    Day,
    Flow,
    HazardRef,
    HoseBore,
    HoseRef,
    Item,
    JetBore,
    Length,
    LocalItem,
    Mass,
    Model,
    NozzleRef,
    Of,
    PartRef,
    PatternRef,
    PipeBore,
    Plain,
    Power,
    Pressure,
    ProcedureRef,
    Ref,
    SymptomRef,
    Temperature,
    Text,
    Volume,
    Weight,
)
from refgen.model.fit import FittedItem
from refgen.model.record import Caution, Record
from refgen.units import Quantity

Coefficient = Annotated[float, Field(ge=0.5, le=1.0, allow_inf_nan=False)]
TradeNumber = Annotated[float, Field(ge=0.1, le=200, allow_inf_nan=False)]
Roughness = Annotated[Quantity, Of("length", "0 mm", "0.5 mm")]
Facing = Literal["rear", "front"]


class JetGroup(Item):
    """Jets alike in angle and facing."""

    count: Annotated[int, Field(ge=1, le=60)] = Field(description="How many jets.")
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


class CarriedHose(Item):
    """A hose on a machine."""

    hose: HoseRef = Field(description="Which hose.")
    length: Length = Field(description="How much of it.")
    on_reel: Length | None = Field(None, description="Part that usually stays on the reel.")
    reel_diameter: Length | None = Field(None, description="Mean diameter of the coils.")
    nozzles: tuple[NozzleRef, ...] | None = Field(
        None, description="Nozzles that screw onto it; left out, all that the machine carries."
    )

    @model_validator(mode="after")
    def _reel_is_told(self) -> CarriedHose:
        if self.on_reel and self.on_reel.si > self.length.si:
            raise PydanticCustomError(
                "physics", "more hose on the reel than there is", {"hint": "Check 'on_reel'."}
            )
        if self.on_reel and not self.reel_diameter:
            hint = "Give the mean diameter of the coils."
            raise PydanticCustomError("physics", "'on_reel' needs 'reel_diameter'", {"hint": hint})
        return self


class CalibrationReading(Model):
    """One reading of the machine's gauge, jets clear and unloader shut, with a nozzle it knows."""

    nozzle: NozzleRef = Field(description="Nozzle it was read with, new or measured.")
    hose: Plain | None = Field(None, description="Id of the machine's hose; its first if left out.")
    gauge: Pressure = Field(description="What the gauge showed.")
    flow: Flow | None = Field(None, description="Flow measured meanwhile; the plate's if left out.")
    water: Temperature | None = Field(None, description="Water temperature; 15 °C if left out.")
    on: Day = Field(description="Day of the reading, such as 2026-11-20.")


class PlateLine(LocalItem):
    """A further line of the machine's plate."""

    label: Plain = Field(description="What it is.")
    value: Plain = Field(description="What it says.")


class Machine(Record):
    """A machine of the fleet."""

    kind: ClassVar[str] = "machines"

    flow: Flow = Field(description="Rated flow by the plate.")
    pressure: Pressure = Field(description="Rated pressure by the plate.")
    unloader: Pressure | None = Field(None, description="Setting of the unloader.")
    plungers: Annotated[int, Field(ge=1, le=7)] = Field(3, description="Plungers of the pump.")
    power: Power | None = Field(None, description="Rated power of the drive.")
    tank: Volume | None = Field(None, description="What the tank holds.")
    hoses: tuple[CarriedHose, ...] = Field(min_length=1, description="Its hoses.")
    nozzles: tuple[NozzleRef, ...] = Field((), description="Nozzles carried with it.")
    calibration: CalibrationReading | None = Field(
        None, description="A gauge reading that all numbers of this machine's jets go by."
    )
    fitted: tuple[PartRef, ...] = Field(description="Parts it has.")
    not_fitted: tuple[PartRef, ...] = Field((), description="Parts it does not have.")
    plate: tuple[PlateLine, ...] = Field((), description="Further lines of the plate.")
    hazards: tuple[HazardRef, ...] = Field((), description="Hazards to mind with it.")

    @model_validator(mode="after")
    def _unloader_below_plate(self) -> Machine:
        if self.unloader and self.unloader.si > self.pressure.si:
            raise PydanticCustomError(
                "physics",
                "{unloader} is above the plate's {plate}",
                {
                    "unloader": str(self.unloader),
                    "plate": str(self.pressure),
                    "hint": "An unloader is never set above the plate.",
                    "at": ("unloader",),
                },
            )
        return self

    @model_validator(mode="after")
    def _nozzles_are_carried(self) -> Machine:
        for number, carried in enumerate(self.hoses):
            for nozzle in carried.nozzles or ():
                if nozzle not in self.nozzles:
                    raise PydanticCustomError(
                        "nozzles",
                        "the machine carries no nozzle '{nozzle}'",
                        {
                            "nozzle": nozzle.id,
                            "hint": "Add it under the machine's own 'nozzles', or take it out.",
                            "at": ("hoses", number, "nozzles"),
                        },
                    )
        return self

    @model_validator(mode="after")
    def _calibrated_with_its_own(self) -> Machine:
        reading = self.calibration
        if reading is None:
            return self
        ids = [carried.id for carried in self.hoses]
        if reading.hose is not None and reading.hose not in ids:
            raise PydanticCustomError(
                "calibration",
                "the machine has no hose '{hose}'",
                {
                    "hose": reading.hose,
                    "hint": f"Its hoses are: {', '.join(ids)}.",
                    "at": ("calibration", "hose"),
                },
            )
        carried = next(one for one in self.hoses if reading.hose in (None, one.id))
        if reading.nozzle not in self.nozzles_for(carried):
            raise PydanticCustomError(
                "calibration",
                "no nozzle '{nozzle}' goes on that hose",
                {
                    "nozzle": reading.nozzle.id,
                    "hint": "Name the hose it was read on, under 'hose'.",
                    "at": ("calibration", "nozzle"),
                },
            )
        return self

    def nozzles_for(self, carried: CarriedHose) -> tuple[Ref, ...]:
        """Return the nozzles it carries that screw onto one of its hoses."""
        return self.nozzles if carried.nozzles is None else carried.nozzles

    @cached_property
    def parts(self) -> frozenset[str]:
        """Ids of the parts it has."""
        return frozenset(ref.id for ref in self.fitted)

    def has(self, part: Ref) -> bool:
        """Whether it has a part."""
        return part.id in self.parts
