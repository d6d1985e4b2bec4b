"""A setup: what a person puts together and asks what comes out of it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from refgen.model import asked, sums
from refgen.model.base import (
    NUMBER,
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
from refgen.model.equipment import Coefficient, Facing, Roughness, TradeNumber, check_reel
from refgen.units import PSI, NotAQuantity, Quantity, group, parse_quantity, round_to

Head = Annotated[Quantity, Of("length", "-300 m", "300 m")]
DrillNumber = Annotated[int, Field(ge=1, le=80), NUMBER]


def _psi_for_bar(text: Any) -> Any:
    """Refuse a pressure in bar that only psi can mean; anything else goes on."""
    try:
        quantity = parse_quantity(str(text), "pressure")
    except NotAQuantity:
        return text
    if quantity.unit.symbol == "bar" and quantity.si > 25_000 * PSI:
        psi = float(quantity.si / 1e5) * PSI
        raise PydanticCustomError(
            "units",
            "'{text}' is {psi} psi, more than any jetter makes",
            {
                "text": str(text),
                "psi": group(round_to(quantity.si / PSI, 3)),
                "hint": f"Did you mean {quantity.number} psi ({round_to(psi / 1e5, 3)} bar)?",
            },
        )
    return text


def _drill_for_bore(text: Any) -> Any:
    """Refuse a drill's number where a bore belongs; anything else goes on."""
    found = re.fullmatch(r"(?:no\.?|#|number|drill)\s*(\d{1,2})", str(text).strip().lower())
    if found:
        hint = f"Write 'drill: {found[1]}' for the drill, 'number: …' for a trade number."
        details = {"text": str(text), "hint": hint}
        raise PydanticCustomError("units", "'{text}' is a number, not a bore", details)
    return text


JetPressure = Annotated[Pressure, BeforeValidator(_psi_for_bar)]
DrilledBore = Annotated[JetBore, BeforeValidator(_drill_for_bore)]


class WaterSetup(Model):
    """The water."""

    temperature: Temperature | None = Field(None, description="Temperature; 15 °C if left out.")
    antifreeze: Annotated[Quantity, Of("share", "0 %", "50 %")] | None = Field(
        None, description="Share of propylene glycol in it by volume; none if left out."
    )


class PumpSetup(Model):
    """The pump."""

    flow: Flow = Field(description="Rated flow.")
    pressure: JetPressure | None = Field(
        None, description="Rated pressure; a working point needs it."
    )
    unloader: JetPressure | None = Field(None, description="Setting of the unloader.")
    plungers: Annotated[int, Field(ge=1, le=7), NUMBER] = Field(
        3, description="Plungers of the pump."
    )


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
        check_reel(self.length, self.on_reel, self.reel_diameter)
        return self


class JetSetup(Model):
    """Equal jets."""

    count: Annotated[int, Field(ge=1, le=60), NUMBER] = Field(1, description="How many.")
    bore: DrilledBore | None = Field(None, description="Bore of each.")
    drill: DrillNumber | None = Field(None, description="US number of the drill they fit.")
    number: TradeNumber | None = Field(None, description="Trade number: US gpm at 4000 psi.")
    angle: Angle = Field(description="Angle from the hose's axis.")
    faces: Facing = Field(description="Which way they point.")

    @model_validator(mode="after")
    def _one_of_them(self) -> JetSetup:
        if [self.bore, self.drill, self.number].count(None) != 2:
            hint = "Give each group of jets either its bore or its trade number."
            raise PydanticCustomError("jets", "needs either a bore or a number", {"hint": hint})
        return self


class NozzleSetup(Model):
    """The nozzle, written out."""

    discharge_coefficient: Coefficient = Field(0.75, description="Share of the ideal flow.")
    velocity_coefficient: Coefficient = Field(0.97, description="Share of the ideal speed.")
    jets: tuple[JetSetup, ...] = Field(min_length=1, description="Groups of equal jets.")


class WhatIfSetup(Model):
    """Asks what changes, one change at a time."""

    worn_by: tuple[asked.Growth, ...] = Field((), description="Growth of the jets' bore.")
    plugged: tuple[asked.PluggedSetup, ...] = Field((), description="Holes that are plugged.")
    pulse: bool = Field(False, description="Whether to switch the pulse on.")
    throttle: tuple[asked.Speeds, ...] = Field(
        (), description="Speeds, as a share of the rated speed."
    )
    bores: tuple[HoseBore, ...] = Field((), description="Other bores of the same hose.")
    hoses: tuple[tuple[HoseSetup, ...], ...] = Field((), description="Other hoses in its place.")


class Setup(Model):
    """A pump, hoses and a nozzle, written out or named, and what is asked of them."""

    water: WaterSetup = Field(WaterSetup(), description="The water.")
    machine: MachineRef | None = Field(None, description="A machine: its pump and hoses.")
    pump: PumpSetup | None = Field(None, description="The pump, if not a machine's.")
    hoses: tuple[HoseSetup, ...] | None = Field(None, description="Hoses from pump to nozzle.")
    nozzle: NozzleRef | NozzleSetup | None = Field(
        None, description="A nozzle in stock, or written out."
    )
    nozzle_below_pump: Head | None = Field(None, description="Height of the pump over the nozzle.")
    reading: asked.ReadingSetup | None = Field(None, description="What the gauge shows.")
    regulator: asked.RegulatorSetup = Field(
        asked.RegulatorSetup(), description="Gauge and unloader, for the setting for a pipe."
    )
    pipe: asked.PipeSetup | None = Field(None, description="The pipe.")
    choose: asked.ChooseSetup | None = Field(None, description="Asks for a nozzle.")
    what_if: WhatIfSetup | None = Field(None, description="Asks what a change would do.")
    reach: asked.ReachSetup | None = Field(None, description="Asks how far the hose goes.")
    tank: asked.TankSetup | None = Field(None, description="The water on board.")
    supply: asked.SupplySetup | None = Field(None, description="The water that comes in.")
    run: asked.RunSetup | None = Field(None, description="A run up the pipe and back.")
    bypass: asked.BypassSetup | None = Field(None, description="Asks how the bypass warms.")
    suction: asked.SuctionSetup | None = Field(None, description="The feed to the pump.")
    antifreeze: asked.AntifreezeSetup | None = Field(None, description="Antifreeze.")
    engine: sums.EngineSetup | None = Field(None, description="The engine.")
    outlet: sums.OutletSetup | None = Field(None, description="An electric outlet.")
    sheaves: sums.SheavesSetup | None = Field(None, description="A belt drive.")
    jet: sums.JetSpeedSetup | None = Field(None, description="Asks for the speed of a jet.")
    lance: sums.LanceSetup | None = Field(None, description="A hand lance.")
    stack: sums.StackSetup | None = Field(None, description="A pipe full behind a cap.")
    air_gap: sums.AirGapSetup | None = Field(None, description="The fill pipe over a tank.")
    turn_round: sums.TurnRoundSetup | None = Field(None, description="A nozzle in a wide pipe.")
    culvert: sums.CulvertSetup | None = Field(None, description="A culvert packed with soil.")
    trailer: sums.TrailerSetup | None = Field(None, description="A trailer's load.")

    @property
    def names_records(self) -> bool:
        """Whether it needs the data, because it names records or asks what is in stock."""
        other = self.what_if.hoses if self.what_if else ()
        hoses = [hose for line in (self.hoses or (), *other) for hose in line]
        return bool(
            self.machine
            or not (self.nozzle is None or isinstance(self.nozzle, NozzleSetup))
            or any(hose.hose for hose in hoses)
            or (self.pipe and self.pipe.material)
            or (self.choose and self.choose.stock)
        )

    @model_validator(mode="after")
    def _has_what_is_asked(self) -> Setup:
        for section, message, hint in self._lacking():
            context = {"hint": hint, "at": (section,) if section else ()}
            raise PydanticCustomError("setup", message, context)
        return self

    def _lacking(self) -> Iterator[tuple[str, Any, str]]:
        """Yield section, message and hint for what a question cannot do without."""
        source = self.machine or self.pump
        pressure = self.machine or (self.pump and self.pump.pressure)
        hoses = self.machine or self.hoses is not None
        both = self.machine is not None and self.pump is not None
        if both or (self.nozzle is not None and not source):
            hint = "Give 'machine: id', or 'pump:' with flow and pressure."
            yield "", "needs either a machine or a pump", hint
        if self.nozzle is not None and not hoses:
            yield "", "names no hoses", "Give 'hoses:' with bore and length each."
        if self.nozzle is not None and not pressure:
            yield "pump", "'pressure' is missing", "Add 'pressure: …' here, from the plate."
        yield from self._lacking_in_sections(bool(source), bool(pressure), bool(hoses))
        given = {"water", "regulator", "nozzle_below_pump", "machine", "pump", "hoses"}
        asks = any(getattr(self, name) for name in type(self).model_fields.keys() - given)
        if not asks and not (source and hoses):
            yield "", "asks nothing", "Give pump, hoses and nozzle, or a section such as 'tank:'."

    def _lacking_in_sections(
        self, source: bool, pressure: bool, hoses: bool
    ) -> Iterator[tuple[str, Any, str]]:
        pump = "Give 'machine: id', or 'pump:' with its flow."
        flow = source or (self.reading is not None and self.reading.flow is not None)
        change, froze = self.what_if, self.antifreeze
        if self.reading and not (flow and hoses):
            yield "reading", "needs a flow and the hoses", "Give pump, or 'flow', and 'hoses:'."
        if self.choose and not source:
            yield "choose", "needs a pump", pump
        if self.choose and not pressure and not self.choose.numbers:
            yield "choose", "needs the pump's pressure", "Give 'pressure: …' under 'pump:'."
        jets = change and (change.worn_by or change.plugged or change.pulse or change.throttle)
        if jets and self.nozzle is None:
            yield "what_if", "needs a nozzle", "Give 'nozzle: id', or its jets."
        if change and (change.bores or change.hoses) and not (flow and hoses):
            yield "what_if", "needs a flow and the hoses", "Give 'pump:' and 'hoses:'."
        if change and not any(getattr(change, name) for name in type(change).model_fields):
            yield "what_if", "asks nothing", "Give a change, such as 'worn_by: [10 %]'."
        if self.reach and not (self.reach.pull or self.nozzle):
            yield "reach", "needs a pull", "Give 'pull: …', or pump, hoses and nozzle."
        if self.reach and not hoses:
            yield "reach", "needs the hose", "Give 'hoses:' with bore and length each."
        for section in ("tank", "run", "suction"):
            if getattr(self, section) and not source:
                yield section, "needs a flow", pump
        if self.bypass and self.nozzle is None:
            yield "bypass", "needs a nozzle", "Give 'nozzle: id', or its jets."
        if froze and not (hoses or froze.other or froze.put_in or froze.coldest):
            yield "antifreeze", "asks nothing", "Give 'hoses:', a mixture, or 'coldest: …'."
