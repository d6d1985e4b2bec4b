"""The machines of the fleet, each with the hoses on it and what its plate and gauge say."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, ClassVar

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model.base import (
    NUMBER,
    Day,
    Flow,
    HazardRef,
    HoseRef,
    Item,
    Length,
    LocalItem,
    Model,
    NozzleRef,
    PartRef,
    Plain,
    Power,
    Pressure,
    Ref,
    Temperature,
    Volume,
)
from refgen.model.equipment import check_reel
from refgen.model.record import Record


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
        check_reel(self.length, self.on_reel, self.reel_diameter)
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
    plungers: Annotated[int, Field(ge=1, le=7), NUMBER] = Field(
        3, description="Plungers of the pump."
    )
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
