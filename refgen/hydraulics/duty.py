"""What a machine does with a hose and a nozzle: the working point.

A plunger pump pushes its rated flow whatever stands in the way (`full flow`), until the
gauge would pass the lower of its rated pressure and the unloader's setting. Then the unloader
opens (`regulated`): the gauge stays at that limit, the flow is the one that the hose and the
nozzle pass at it, and the rest goes back to the tank.

    gauge = hose loss + nozzle pressure − ρ·g·(height of the pump above the nozzle)
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sqrt
from typing import Literal

from refgen.errors import OutOfRange
from refgen.hydraulics.flow_path import FlowPath
from refgen.hydraulics.hose import COIL_PUBLISHED_TO, Segment
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.orifice import Jet, total_area
from refgen.hydraulics.ranges import require, require_positive
from refgen.hydraulics.water import GRAVITY, Water

State = Literal["full flow", "regulated"]
Note = Literal["coil-beyond-published-range", "all-jets-plugged"]

UNLIMITED = 1e12
"""Rated pressure of a pump whose limit is not asked about [Pa]: none ever reaches it."""


@dataclass(frozen=True, slots=True)
class Pump:
    """A positive displacement pump: rated flow [m³/s], rated pressure [Pa], unloader [Pa]."""

    flow: float
    pressure: float
    unloader: float | None = None

    def __post_init__(self) -> None:
        require_positive("flow of the pump [m³/s]", self.flow)
        require_positive("rated pressure of the pump [Pa]", self.pressure)
        if self.unloader is not None:
            require_positive("setting of the unloader [Pa]", self.unloader)

    @property
    def limit(self) -> float:
        """The highest pressure the gauge reaches [Pa]."""
        return self.pressure if self.unloader is None else min(self.pressure, self.unloader)


@dataclass(frozen=True, slots=True)
class Rig:
    """Pump, hose and nozzle as they stand, ready to be asked for the working point.

    Attributes:
        water_temperature: Temperature of the water [K], 274.15 to 353.15; with antifreeze see
            `mixture.mixture_at`.
        pump: The pump.
        hoses: Segments in series, from the pump to the nozzle.
        jets: The holes of the nozzle.
        velocity_coefficient: Real over ideal speed of the jets [-], above 0 to 1.
        below_pump: How far the nozzle lies below the pump [m]; negative above it.
        antifreeze: Share of propylene glycol in the water by volume [-], 0 to 0.50.
    """

    water_temperature: float
    pump: Pump
    hoses: tuple[Segment, ...]
    jets: tuple[Jet, ...]
    velocity_coefficient: float
    below_pump: float = 0.0
    antifreeze: float = 0.0

    def __post_init__(self) -> None:
        require_positive("velocity coefficient [-]", self.velocity_coefficient)
        require("velocity coefficient [-]", self.velocity_coefficient, 0.0, 1.0)
        require("height of the pump above the nozzle [m]", self.below_pump, -1000.0, 1000.0)

    @property
    def water(self) -> Water:
        """The water that runs in it, with its antifreeze."""
        return mixture_at(self.water_temperature, self.antifreeze)


@dataclass(frozen=True, slots=True)
class Duty:
    """The working point of a rig.

    Attributes:
        state: `full flow`, or `regulated` when the unloader sends water back.
        flow: Flow through the nozzle [m³/s].
        gauge: Pressure at the pump [Pa].
        hose_loss: Pressure lost in all hoses [Pa].
        nozzle: Pressure across the jets [Pa].
        bypass: Flow back to the tank [m³/s].
        jet_velocity: Speed of the jets [m/s].
        pull: Net force of the jets along the hose [N]; negative pushes back.
        jet_power: Nozzle pressure times flow [W].
        jet_flows: Flow of each ring of jets [m³/s], in the order of the rig.
        reynolds: Reynolds number of each hose [-], in the order of the rig.
        segment_losses: Pressure lost in each hose [Pa], in the order of the rig.
        notes: What the reader must be told with the numbers.
    """

    state: State
    flow: float
    gauge: float
    hose_loss: float
    nozzle: float
    bypass: float
    jet_velocity: float
    pull: float
    jet_power: float
    jet_flows: tuple[float, ...]
    reynolds: tuple[float, ...]
    segment_losses: tuple[float, ...]
    notes: tuple[Note, ...]


def working_point(rig: Rig) -> Duty:
    """Return the duty of a rig: where pump, hose and nozzle agree.

    Raises:
        OutOfRange: If the answer lies where no formula holds: a hose between Re 2040 and
            4000, hose on the reel below Re 10 000 or above 250 000, water outside 1 to
            80 °C, slush, or a nozzle so far above or below the pump that the model has no answer.
    """
    water = rig.water
    pump = rig.pump
    limit = pump.limit
    head = water.density * GRAVITY * rig.below_pump
    target = limit + head
    if target <= 0:
        raise OutOfRange("the pump cannot lift water to the nozzle: its pressure is too low")
    area = total_area(rig.jets)
    if area == 0:
        return _duty(rig, "regulated", 0.0, limit, target, None)
    path = FlowPath(rig.hoses, area, water)
    flow, demand = path.flow_at(target, pump.flow)
    if flow < pump.flow:
        return _duty(rig, "regulated", flow, limit, target, path)
    gauge = demand - head
    if gauge < 0:
        raise OutOfRange(
            "the nozzle lies so far below the pump that the water runs by its own weight"
        )
    return _duty(rig, "full flow", flow, gauge, demand, path)


def _duty(
    rig: Rig, state: State, flow: float, gauge: float, demand: float, path: FlowPath | None
) -> Duty:
    """Return every number of the duty, once its flow and pressures are known.

    `demand` [Pa] is what hoses and nozzle take together. The hose loss is what the nozzle
    leaves of it, so the pressures add up.
    """
    density = rig.water.density
    notes: tuple[Note, ...] = ()
    if path is None:
        nozzle = demand
        losses = reynolds = (0.0,) * len(rig.hoses)
        flows: tuple[float, ...] = (0.0,) * len(rig.jets)
        notes = ("all-jets-plugged",)
    else:
        nozzle = path.nozzle(flow) if rig.hoses else demand
        losses = path.losses(flow)
        reynolds = path.reynolds(flow)
        share = flow / path.area
        flows = tuple([jet.count * jet.flow_area * share for jet in rig.jets])
        for hose, number in zip(rig.hoses, reynolds, strict=True):
            if hose.on_reel and number > COIL_PUBLISHED_TO:
                notes = ("coil-beyond-published-range",)
    speed = rig.velocity_coefficient * sqrt(2 * nozzle / density)
    pull = 0.0
    for jet, jet_flow in zip(rig.jets, flows, strict=True):
        along = jet_flow * cos(jet.angle)
        pull += along if jet.faces == "rear" else -along
    return Duty(
        state=state,
        flow=flow,
        gauge=gauge,
        hose_loss=max(demand - nozzle, 0.0),
        nozzle=nozzle,
        bypass=rig.pump.flow - flow,
        jet_velocity=speed,
        pull=density * speed * pull,
        jet_power=nozzle * flow,
        jet_flows=flows,
        reynolds=reynolds,
        segment_losses=losses,
        notes=notes,
    )
