"""The worksheet's fields: what each asks for, in which range, what it starts from, how far off.

A short sum's margin comes from its fields: each is moved by what a crew's figure may be off, one at
a time, as `hydraulics.margin` does for the working point.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from refgen.hydraulics import (
    culvert,
    derate,
    open_channel,
    plunger,
    power,
    setting,
    suction,
    variation,
    water,
)
from refgen.model.base import (
    Angle,
    Flow,
    HoseBore,
    JetBore,
    Length,
    PipeBore,
    Power,
    Pressure,
    Volume,
    Weight,
)
from refgen.model.equipment import Coefficient, Roughness, TradeNumber
from refgen.model.setup import Head, JetSetup, NozzleSetup
from refgen.setups import SMOOTH_LINER, STANDARD_WATER
from refgen.units import System
from refgen.worksheet.limits import Range, range_of, range_of_type

_WIDTHS = variation.Variations()
_COUNT = range_of_type(JetSetup.model_fields["count"])
_WATER: Range = (water.COLDEST, water.HOTTEST)
_ANY: Range = (0.0, None)
_LINER = f"{SMOOTH_LINER * 1e3:g} mm"
_FIFTEEN = f"{STANDARD_WATER - 273.15:g} degC"


def _share(less: float, more: float | None = None) -> tuple[str, float, float]:
    return ("share", less, less if more is None else more)


def _shift(si: float) -> tuple[str, float, float]:
    return ("shift", si, si)


# How far a figure may be off: those of the working point, and what a tape, a watch, a label, a
# pace or a look into a tank gives in practice.
_BORE = _share(_WIDTHS.hose_bore)
_FLOW = _share(_WIDTHS.pump_flow)
_GAUGE = _share(_WIDTHS.pressure_limit)
_WARMTH = _shift(_WIDTHS.water_temperature)
_ROUGH = ("to", _WIDTHS.smoothest, _WIDTHS.roughest)
_COUPLED = _share(0.0, _WIDTHS.couplings)
_TAPE = _share(0.01)
_LOOK = _share(0.05)
_PACE = _share(0.10)
_WATCH = _shift(1.0)


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form.

    Attributes:
        id: Name in the address.
        word: Name of its label among the words.
        dimension: Of its quantity; `number`, `count` or `choice` where it has no unit.
        range: Lowest and highest value, SI.
        us: What it starts from where US customary units come first.
        metric: What it starts from where metric units come first; as `us` if left out.
        needed: Whether there is no answer without it.
        above: Whether the lowest value itself is refused.
        off: How far it may be off: `share` of the value, `shift` in SI, or `to` two values.
        choices: Words to choose from, by the value that stands for each.
    """

    id: str
    word: str
    dimension: str
    range: Range = _ANY
    us: str = ""
    metric: str | None = None
    needed: bool = True
    above: bool = False
    off: tuple[str, float, float] | None = None
    choices: tuple[tuple[str, str], ...] = ()

    def told(self, first: System) -> dict[str, Any]:
        """Return the field for the script, without what is not there."""
        start = self.us if first == "us" or self.metric is None else self.metric
        told = {
            "id": self.id,
            "word": self.word,
            "of": self.dimension,
            "low": self.range[0],
            "high": self.range[1],
            "is": start,
            "needed": self.needed,
            "above": self.above,
            "off": self.off,
            "choices": self.choices,
        }
        return {name: value for name, value in told.items() if value not in ("", None, False, ())}


def _optional(*args: Any, **more: Any) -> Field:
    return Field(*args, needed=False, **more)


_FLOWS = range_of_type(Flow)
_PRESSURES = range_of_type(Pressure)
_LENGTHS = range_of_type(Length)
_VOLUMES = range_of_type(Volume)
_HEADS = range_of_type(Head)
_HOSE_BORES = range_of_type(HoseBore)
_PIPE_BORES = range_of_type(PipeBore)
_YES_NO = (("no", "ws_no"), ("yes", "ws_yes"))


def _default(name: str) -> str:
    return f"{NozzleSetup.model_fields[name].default:g}"


# The setup: what `refgen solve` takes, and what is asked of the pipe.
_SETUP: dict[str, tuple[Field, ...]] = {
    "pump": (
        Field("flow", "flow", "flow", _FLOWS, above=True),
        Field("pressure", "pressure", "pressure", _PRESSURES, above=True),
        _optional("unloader", "unloader_set_to", "pressure", _PRESSURES, above=True),
        Field("plungers", "plungers", "count", range_of(plunger, "plungers of the pump"), "3"),
        _optional("power", "power", "power", range_of_type(Power), above=True),
        _optional("tank", "ws_water_in_tank", "volume", _VOLUMES),
        _optional("supply", "ws_supply", "flow", (0.0, _FLOWS[1])),
    ),
    "hose": (
        Field("bore", "bore", "length", _HOSE_BORES),
        Field("length", "ws_length", "length", _LENGTHS, us="ft", metric="m"),
        _optional("onReel", "ws_on_reel", "length", _LENGTHS, us="ft", metric="m"),
        _optional("reel", "ws_reel", "length", _LENGTHS, us="in", metric="mm", above=True),
        Field("roughness", "roughness", "length", range_of_type(Roughness), _LINER),
        _optional(
            "weight", "weight_empty", "mass per length", range_of_type(Weight), above=True
        ),
    ),
    "nozzle": (
        Field("cd", "ws_cd", "number", range_of_type(Coefficient), _default("discharge_coefficient")),
        Field("cv", "ws_cv", "number", range_of_type(Coefficient), _default("velocity_coefficient")),
        _optional("stiff", "stiff_length", "length", _LENGTHS, above=True),
    ),
    "jet": (
        Field("count", "ws_count", "count", _COUNT, "1"),
        _optional("bore", "ws_jet_bore", "length", range_of_type(JetBore)),
        _optional("number", "ws_jet_number", "number", range_of_type(TradeNumber)),
        Field("angle", "ws_angle", "angle", range_of_type(Angle), "20 deg"),
        Field(
            "faces",
            "ws_faces",
            "choice",
            us="rear",
            choices=(("rear", "faces_rear"), ("front", "faces_front")),
        ),
    ),
    "job": (
        Field("water", "ws_water", "temperature", _WATER, "59 degF", _FIFTEEN),
        Field("below", "ws_below", "length", _HEADS, "0 ft", "0 m"),
        _optional("pipe", "ws_pipe_bore", "length", _PIPE_BORES),
        Field(
            "fall",
            "ws_fall",
            "share",
            range_of(open_channel, "slope of the pipe [-]"),
            "2 %",
            above=True,
        ),
        Field("n", "ws_manning", "number", range_of(open_channel, "Manning's n"), "0.013"),
        _optional("also", "ws_also_running", "flow", (0.0, _FLOWS[1])),
        Field("way", "ws_way", "choice", us="up", choices=(("up", "ws_up"), ("down", "ws_down"))),
        Field("bends", "ws_bends", "count", (0.0, 20.0), "0"),
        _optional("bendAt", "ws_bend_at", "length", _LENGTHS, us="ft", metric="m"),
        Field(
            "overshoot",
            "ws_overshoot",
            "share",
            range_of(setting, "overshoot of the unloader [-]"),
            "10 %",
        ),
    ),
}

_HEIGHTS = range_of(derate, "height above the sea [m]")
_EFFICIENCIES = range_of(power, "efficiency of the motor [-]")

# The short sums, each with its own numbers; the formulas stand in `worksheet-sums.js`.
_SUMS: dict[str, tuple[str, tuple[Field, ...]]] = {
    "hose": (
        "ws_sum_hose",
        (
            Field("flow", "flow", "flow", _FLOWS, "8 gpm", "30 L/min", off=_FLOW),
            _optional("gauge", "ws_gauge", "pressure", _PRESSURES, off=_GAUGE),
            Field("bore", "bore", "length", _HOSE_BORES, "3/8 in", "10 mm", off=_BORE),
            Field("length", "ws_length", "length", _LENGTHS, "300 ft", "90 m", off=_COUPLED),
            _optional("bore2", "ws_other_bore", "length", _HOSE_BORES, off=_BORE),
            _optional("length2", "ws_other_length", "length", _LENGTHS, off=_COUPLED),
            Field("above", "ws_nozzle_above", "length", _HEADS, "0 ft", "0 m", off=_TAPE),
            Field("roughness", "roughness", "length", range_of_type(Roughness), _LINER, off=_ROUGH),
            Field("water", "ws_water", "temperature", _WATER, "59 degF", _FIFTEEN, off=_WARMTH),
        ),
    ),
    "jet": (
        "ws_sum_jet",
        (
            _optional("flow", "flow", "flow", _FLOWS, "8 gpm", "30 L/min", off=_FLOW),
            _optional("pressure", "left_at_nozzle", "pressure", _PRESSURES, off=_GAUGE, above=True),
            _optional(
                "number",
                "ws_jet_number",
                "number",
                range_of_type(TradeNumber),
                "9",
                off=_share(_WIDTHS.trade_number),
            ),
            Field("cv", "ws_cv", "number", range_of_type(Coefficient), "1", off=_share(0.05, 0.0)),
        ),
    ),
    "tank": (
        "ws_sum_tank",
        (
            Field("tank", "ws_water_in_tank", "volume", _VOLUMES, "65 gal", "250 L", off=_LOOK),
            Field("use", "ws_use", "flow", _FLOWS, "8 gpm", "30 L/min", off=_FLOW),
            Field("supply", "ws_supply", "flow", (0.0, _FLOWS[1]), "5 gpm", "18 L/min", off=_LOOK),
        ),
    ),
    "bucket": (
        "ws_sum_bucket",
        (
            Field(
                "bucket", "ws_bucket", "volume", _VOLUMES, "5 gal", "20 L", above=True, off=_LOOK
            ),
            Field("time", "ws_fill_time", "time", _ANY, "50 s", above=True, off=_WATCH),
            _optional("use", "ws_use", "flow", _FLOWS, "8 gpm", "30 L/min", off=_FLOW),
        ),
    ),
    "gap": (
        "ws_sum_gap",
        (
            Field("fill", "ws_fill_bore", "length", _PIPE_BORES, "3 in", "75 mm", off=_TAPE),
            Field("wall", "ws_beside_wall", "choice", us="no", choices=_YES_NO),
        ),
    ),
    "glycol": (
        "ws_sum_glycol",
        (
            Field("bore", "bore", "length", _HOSE_BORES, "3/8 in", "10 mm", off=_BORE),
            Field("length", "ws_length", "length", _LENGTHS, "200 ft", "60 m", off=_TAPE),
            _optional("bore2", "ws_other_bore", "length", _HOSE_BORES, off=_BORE),
            _optional("length2", "ws_other_length", "length", _LENGTHS, off=_TAPE),
            Field("other", "ws_in_pump", "volume", _VOLUMES, "0.5 gal", "2 L", off=_share(0.2)),
        ),
    ),
    "mix": (
        "ws_sum_mix",
        (
            Field(
                "put", "ws_put_in", "volume", _VOLUMES, "3 gal", "12 L", above=True, off=_LOOK
            ),
            Field("strength", "ws_strength", "share", (0.0, 1.0), "50 %", off=_shift(0.02)),
            Field("left", "ws_water_left", "volume", _VOLUMES, "2 gal", "8 L", off=_share(0.2)),
            _optional(
                "cold", "ws_coldest", "temperature", (203.15, 273.15), "10 degF", "-12 degC"
            ),
        ),
    ),
    "suction": (
        "ws_sum_suction",
        (
            Field("flow", "flow", "flow", _FLOWS, "8 gpm", "30 L/min", off=_FLOW),
            Field("bore", "bore", "length", _HOSE_BORES, "1 in", "25 mm", off=_BORE),
            Field("length", "ws_length", "length", _LENGTHS, "25 ft", "8 m", off=_COUPLED),
            Field(
                "height",
                "ws_water_above_inlet",
                "length",
                range_of(suction, "height of the water above the inlet [m]"),
                "2 ft",
                "0.6 m",
                off=_shift(0.05),
            ),
            Field(
                "fittings",
                "ws_fittings",
                "number",
                range_of(suction, "loss of the fittings [-]"),
                "0",
                off=_share(0.3),
            ),
            Field("roughness", "roughness", "length", range_of_type(Roughness), _LINER, off=_ROUGH),
            Field("water", "ws_water", "temperature", _WATER, "59 degF", _FIFTEEN, off=_WARMTH),
            Field("up", "ws_altitude", "length", _HEIGHTS, "0 ft", "0 m", off=_shift(50.0)),
        ),
    ),
    "outlet": (
        "ws_sum_outlet",
        (
            Field("volts", "ws_volts", "voltage", _ANY, "115 V", "230 V", above=True, off=_LOOK),
            Field("amps", "ws_amps", "current", _ANY, "15 A", "13 A", above=True),
            Field(
                "pressure", "pressure", "pressure", _PRESSURES, "1500 psi", "100 bar", above=True,
                off=_GAUGE,
            ),
            Field("motor", "ws_motor", "share", _EFFICIENCIES, "75 %", off=_LOOK),
            Field(
                "pump", "ws_pump_share", "share", range_of(power, "efficiency of the pump [-]"),
                f"{power.PUMP_EFFICIENCY * 100:g} %", off=_LOOK,
            ),
            Field("factor", "ws_power_factor", "share", range_of(power, "power factor [-]"), "100 %"),
        ),
    ),
    "sheaves": (
        "ws_sum_sheaves",
        (
            Field("engine", "ws_engine_speed", "rotation", _ANY, "3600 rpm", above=True, off=_TAPE),
            Field("driver", "ws_driver", "length", _ANY, "4 in", "100 mm", above=True, off=_TAPE),
            Field("driven", "ws_driven", "length", _ANY, "10 in", "250 mm", above=True, off=_TAPE),
            _optional("wanted", "ws_wanted_speed", "rotation", _ANY, "1450 rpm", above=True),
        ),
    ),
    "altitude": (
        "ws_sum_altitude",
        (
            Field("up", "ws_altitude", "length", _HEIGHTS, "5000 ft", "1500 m", off=_shift(50.0)),
            _optional("to", "ws_altitude_to", "length", _HEIGHTS, off=_shift(50.0)),
            _optional(
                "air", "ws_air", "temperature", range_of(derate, "air temperature [K]"),
                off=_shift(2.0),
            ),
            Field(
                "fuel",
                "ws_fuel",
                "choice",
                us="petrol",
                choices=(("petrol", "ws_petrol"), ("diesel", "ws_diesel")),
            ),
        ),
    ),
    "cap": (
        "ws_sum_cap",
        (
            Field("height", "ws_stack", "length", _HEADS, "10 ft", "3 m", off=_LOOK),
            Field("bore", "ws_opening", "length", _PIPE_BORES, "4 in", "100 mm", off=_TAPE),
        ),
    ),
    "culvert": (
        "ws_sum_culvert",
        (
            Field("bore", "ws_culvert_bore", "length", _PIPE_BORES, "24 in", "600 mm", off=_LOOK),
            Field("length", "ws_packed_length", "length", _LENGTHS, "25 ft", "8 m", off=_LOOK),
            Field(
                "filled", "ws_filled", "share",
                range_of(culvert, "share of the bore that is packed [-]"), "100 %",
                off=_share(0.1, 0.0),
            ),
            Field(
                "soil", "ws_soil", "density", range_of(culvert, "bulk density of soil [kg/m³]"),
                "110 lb/ft³", "1800 kg/m³", off=_PACE,
            ),
            Field(
                "solids", "ws_solids", "share", range_of(culvert, "solids in the slurry [-]"),
                f"{culvert.SLURRY_SOLIDS * 100:g} %", off=_share(0.5),
            ),
            Field("flow", "flow", "flow", _FLOWS, "60 gpm", "200 L/min", off=_FLOW),
        ),
    ),
    "volume": (
        "ws_sum_volume",
        (
            _optional("bore", "ws_round_bore", "length", _PIPE_BORES, "4 in", "100 mm", off=_TAPE),
            Field("length", "ws_length", "length", _LENGTHS, "100 ft", "30 m", off=_TAPE),
            _optional("width", "ws_width", "length", _LENGTHS, off=_TAPE),
            _optional("depth", "ws_depth", "length", _LENGTHS, off=_TAPE),
        ),
    ),
    "run": (
        "ws_sum_run",
        (
            Field("length", "ws_length", "length", _LENGTHS, "300 ft", "90 m", off=_TAPE),
            Field("out", "ws_out", "speed", _ANY, "60 ft/min", "18 m/min", above=True, off=_PACE),
            Field("back", "ws_back", "speed", _ANY, "30 ft/min", "9 m/min", above=True, off=_PACE),
            Field("flow", "flow", "flow", _FLOWS, "60 gpm", "230 L/min", off=_FLOW),
            _optional("tank", "ws_water_in_tank", "volume", _VOLUMES, "1500 gal", "6 m³", off=_LOOK),
        ),
    ),
    "turn": (
        "ws_sum_turn",
        (
            Field("stiff", "stiff_length", "length", _LENGTHS, "5 in", "130 mm", above=True, off=_TAPE),
            Field("bore", "ws_widest", "length", _PIPE_BORES, "8 in", "200 mm", off=_TAPE),
        ),
    ),
}


def form(first: System) -> dict[str, Any]:
    """Return the fields of the setup and of the short sums for the script."""
    return {
        "setup": {name: [f.told(first) for f in fields] for name, fields in _SETUP.items()},
        "sums": [
            {"id": name, "word": word, "fields": [f.told(first) for f in fields]}
            for name, (word, fields) in _SUMS.items()
        ],
    }


def words_used(told: Any) -> Iterator[str]:
    """Yield the names of the words that a form refers to."""
    if isinstance(told, dict):
        if "word" in told:
            yield told["word"]
        yield from (word for _, word in told.get("choices", ()))
        for value in told.values():
            yield from words_used(value)
    elif isinstance(told, list):
        for value in told:
            yield from words_used(value)
