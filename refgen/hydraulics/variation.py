"""What may be off in a rig: each input with its width, and the rig with that input moved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from refgen.hydraulics.antifreeze import freezing_point
from refgen.hydraulics.duty import Rig
from refgen.hydraulics.hose import Segment
from refgen.hydraulics.mixture import WARMEST
from refgen.hydraulics.orifice import Jet
from refgen.hydraulics.ranges import require
from refgen.hydraulics.water import COLDEST, HOTTEST


@dataclass(frozen=True, slots=True)
class Variations:
    """How far each input may be off; 0 leaves it alone.

    Shares of the value unless told otherwise. The defaults are for a rig nobody measured.

    Attributes:
        discharge_coefficient: Of jets given by bore; 0 for a nozzle calibrated on a gauge.
        trade_number: Of the flow area of jets given by trade number.
        velocity_coefficient: Of the jets' speed, which never passes the ideal one.
        hose_bore: Of the bore of every hose.
        smoothest: Lowest roughness of the hose wall [m].
        roughest: Highest roughness of the hose wall [m].
        couplings: What couplings, swivel and an old liner add to the hose loss; upward only.
        coil: Of the friction that the coil on the reel adds.
        pump_flow: Of the pump's rated flow.
        pressure_limit: Of rated pressure and unloader setting: the gauge they were set by.
        water_temperature: Either way [K], kept where the water is liquid and its formula holds.
        antifreeze: Of the share of glycol, either way, where there is any.
    """

    discharge_coefficient: float = 0.10
    trade_number: float = 0.05
    velocity_coefficient: float = 0.02
    hose_bore: float = 0.02
    smoothest: float = 0.0
    roughest: float = 2e-5
    couplings: float = 0.15
    coil: float = 0.15
    pump_flow: float = 0.05
    pressure_limit: float = 0.025
    water_temperature: float = 10.0
    antifreeze: float = 0.03

    def __post_init__(self) -> None:
        for share in (
            self.discharge_coefficient,
            self.trade_number,
            self.velocity_coefficient,
            self.hose_bore,
            self.couplings,
            self.coil,
            self.pump_flow,
            self.pressure_limit,
            self.antifreeze,
        ):
            require("variation of an input [-]", share, 0.0, 0.5)
        require("variation of the water temperature [K]", self.water_temperature, 0.0, 80.0)
        require("roughness of a hose [m]", self.smoothest, 0.0, self.roughest)


CALIBRATED = Variations(discharge_coefficient=0.0, trade_number=0.0)

# `side` is −1 for the lowest value of the input, +1 for the highest.
Vary = Callable[[Rig, Variations, int], Rig]


def _jets(rig: Rig, by_number: bool, share: float) -> Rig:
    def varied(jet: Jet) -> Jet:
        return replace(jet, flow_area=jet.flow_area * share)

    return replace(
        rig,
        jets=tuple(varied(jet) if jet.by_number is by_number else jet for jet in rig.jets),
    )


def _discharge_coefficient(rig: Rig, by: Variations, side: int) -> Rig:
    return _jets(rig, False, 1 + side * by.discharge_coefficient)


def _trade_number(rig: Rig, by: Variations, side: int) -> Rig:
    return _jets(rig, True, 1 + side * by.trade_number)


def _velocity_coefficient(rig: Rig, by: Variations, side: int) -> Rig:
    value = rig.velocity_coefficient * (1 + side * by.velocity_coefficient)
    return replace(rig, velocity_coefficient=min(value, 1.0))


def _hoses(rig: Rig, varied: Callable[[Segment], Segment]) -> Rig:
    return replace(rig, hoses=tuple(varied(hose) for hose in rig.hoses))


def _hose_bore(rig: Rig, by: Variations, side: int) -> Rig:
    return _hoses(rig, lambda hose: replace(hose, bore=hose.bore * (1 + side * by.hose_bore)))


def _roughness(rig: Rig, by: Variations, side: int) -> Rig:
    # A roughness outside the usual width was written on purpose: the width then ends at it.
    if side < 0:
        return _hoses(rig, lambda hose: replace(hose, roughness=min(hose.roughness, by.smoothest)))
    return _hoses(rig, lambda hose: replace(hose, roughness=max(hose.roughness, by.roughest)))


def _couplings(rig: Rig, by: Variations, side: int) -> Rig:
    share = 1 + by.couplings if side > 0 else 1.0
    return _hoses(
        rig,
        lambda hose: replace(hose, length=hose.length * share, on_reel=hose.on_reel * share),
    )


def _coil(rig: Rig, by: Variations, side: int) -> Rig:
    # What the coil adds at a jetter's flow goes with (1 + d/D)·(d/D)^0.53, so the diameter
    # that makes it so much more or less stands for it; each pass is 20 times closer to it.
    def varied(hose: Segment) -> Segment:
        if hose.reel_diameter is None:
            return hose
        ratio = sought = hose.bore / hose.reel_diameter
        for _ in range(6):
            share = (1 + side * by.coil) * (1 + ratio) / (1 + sought)
            sought = ratio * float(share ** (1 / 0.53))
        return replace(hose, reel_diameter=hose.bore / sought)

    return _hoses(rig, varied)


def _pump_flow(rig: Rig, by: Variations, side: int) -> Rig:
    return replace(rig, pump=replace(rig.pump, flow=rig.pump.flow * (1 + side * by.pump_flow)))


def _pressure_limit(rig: Rig, by: Variations, side: int) -> Rig:
    share = 1 + side * by.pressure_limit
    pump = rig.pump
    unloader = None if pump.unloader is None else pump.unloader * share
    return replace(rig, pump=replace(pump, pressure=pump.pressure * share, unloader=unloader))


def _water_temperature(rig: Rig, by: Variations, side: int) -> Rig:
    value = rig.water_temperature + side * by.water_temperature
    coldest, hottest = COLDEST, HOTTEST
    if rig.antifreeze:
        coldest, hottest = freezing_point(rig.antifreeze), WARMEST
    return replace(rig, water_temperature=min(max(value, coldest), hottest))


def _antifreeze(rig: Rig, by: Variations, side: int) -> Rig:
    if not rig.antifreeze:
        return rig
    return replace(rig, antifreeze=max(rig.antifreeze + side * by.antifreeze, 0.0))


INPUTS: dict[str, Vary] = {
    "discharge-coefficient": _discharge_coefficient,
    "trade-number": _trade_number,
    "velocity-coefficient": _velocity_coefficient,
    "hose-bore": _hose_bore,
    "roughness": _roughness,
    "couplings": _couplings,
    "coil": _coil,
    "pump-flow": _pump_flow,
    "pressure-limit": _pressure_limit,
    "water-temperature": _water_temperature,
    "antifreeze": _antifreeze,
}
