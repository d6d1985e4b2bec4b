"""The worksheet's form for a setup, and the places for its answers."""

from __future__ import annotations

from refgen.hydraulics import derate, open_channel, plunger, setting
from refgen.measures import FOOT, System, unit_named
from refgen.model.base import Angle, JetBore, Power, Weight
from refgen.model.equipment import Coefficient
from refgen.model.setup import JetSetup, NozzleSetup
from refgen.units import both_ways, parse_quantity, show
from refgen.worksheet.constants import NOMINAL_BORES
from refgen.worksheet.fields import (
    FIFTEEN,
    FLOWS,
    HEADS,
    HOSE_BORES,
    LENGTHS,
    LINER,
    NUMBERS,
    PIPE_BORES,
    PRESSURES,
    ROUGHNESSES,
    SUPPLIES,
    VOLUMES,
    WATER,
    Field,
    optional,
)
from refgen.worksheet.limits import range_of, range_of_type

_COUNT = range_of_type(JetSetup.model_fields["count"])


def _default(name: str) -> str:
    return f"{NozzleSetup.model_fields[name].default:g}"


# The setup: what `refgen solve` takes, and what is asked of the pipe.
SETUP: dict[str, tuple[Field, ...]] = {
    "pump": (
        Field("flow", "flow", "flow", FLOWS, above=True),
        Field("pressure", "pressure", "pressure", PRESSURES, above=True),
        optional("unloader", "unloader_set_to", "pressure", PRESSURES, above=True),
        Field("plungers", "plungers", "count", range_of(plunger, "plungers of the pump"), "3"),
        optional("power", "power", "power", range_of_type(Power), above=True),
        optional("tank", "ws_water_in_tank", "volume", VOLUMES),
        optional("supply", "ws_supply", "flow", SUPPLIES),
    ),
    "hose": (
        Field("bore", "bore", "length", HOSE_BORES),
        Field("length", "ws_length", "length", LENGTHS, us="ft", metric="m"),
        optional("onReel", "ws_on_reel", "length", LENGTHS, "ft", "m"),
        optional("reel", "ws_reel", "length", LENGTHS, "in", "mm", above=True),
        Field("roughness", "roughness", "length", ROUGHNESSES, LINER),
        optional("weight", "weight_empty", "mass per length", range_of_type(Weight), above=True),
    ),
    "nozzle": (
        Field(
            "cd", "ws_cd", "number", range_of_type(Coefficient), _default("discharge_coefficient")
        ),
        Field(
            "cv", "ws_cv", "number", range_of_type(Coefficient), _default("velocity_coefficient")
        ),
        optional("stiff", "stiff_length", "length", LENGTHS, above=True),
    ),
    "jet": (
        Field("count", "ws_count", "count", _COUNT, "1"),
        optional("bore", "ws_jet_bore", "length", range_of_type(JetBore)),
        optional("number", "ws_jet_number", "number", NUMBERS),
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
        Field("water", "ws_water", "temperature", WATER, *FIFTEEN),
        Field("below", "ws_below", "length", HEADS, "0 ft", "0 m"),
        optional("pipe", "ws_pipe_bore", "length", PIPE_BORES),
        Field(
            "fall",
            "ws_fall",
            "share",
            range_of(open_channel, "slope of the pipe [-]"),
            "2 %",
            above=True,
        ),
        Field("n", "ws_manning", "number", range_of(open_channel, "Manning's n"), "0.013"),
        optional("also", "ws_also_running", "flow", SUPPLIES),
        Field("way", "ws_way", "choice", us="up", choices=(("up", "ws_up"), ("down", "ws_down"))),
        Field("bends", "ws_bends", "count", (0.0, 20.0), "0"),
        optional("bendAt", "ws_bend_at", "length", LENGTHS, "ft", "m"),
        Field(
            "overshoot",
            "ws_overshoot",
            "share",
            range_of(setting, "overshoot of the unloader [-]"),
            "10 %",
        ),
    ),
}


# Name of the number, its word, and what kind of quantity it is.
ANSWERS = (
    ("gauge", "gauge_at_pump", "pressure"),
    ("nozzle", "left_at_nozzle", "pressure"),
    ("hose_loss", "lost_in_hose", "pressure"),
    ("flow", "ws_through_nozzle", "flow"),
    ("bypass", "back_to_tank", "flow"),
    ("pull", "pull", "force"),
    ("near", "ws_reach_near", "length"),
    ("far", "ws_reach_far", "length"),
    ("setting", "ws_setting", "pressure"),
    ("needs", "ws_needs", "pressure"),
    ("lasts", "ws_lasts", "time"),
    ("push", "ws_as_lance", "force"),
    ("jet_velocity", "ws_jet_velocity", "speed"),
    ("jet_power", "ws_jet_power", "power"),
    ("engine", "ws_engine", "power"),
    ("depth", "ws_depth", "small length"),
    ("velocity", "ws_water_speed", "speed"),
    ("grain", "ws_grain", "small length"),
)
DIFFERENCES = ("gauge", "nozzle", "hose_loss", "flow", "bypass", "pull")
"""Answers that are laid side by side when something is changed."""


def changes(first: System) -> tuple[tuple[str, str, tuple[tuple[str, str], ...]], ...]:
    """Return what can be changed with a tap: its name, its word, and each value with its text.

    Texts that begin with `ws_` are words.
    """
    bores = tuple((text, both_ways(parse_quantity(text), first)[0]) for text in NOMINAL_BORES)
    feet, metre = unit_named("ft"), unit_named("m")
    assert feet is not None
    assert metre is not None
    if first == "us":
        heights = [show(thousands * 1000 * FOOT, feet) for thousands in (2.5, 5, 7.5, 10)]
        ups = [thousands * 1000 * FOOT for thousands in (2.5, 5, 7.5, 10)]
    else:
        heights = [show(up, metre) for up in (500, 1000, 2000, 3000)]
        ups = [500, 1000, 2000, 3000]
    highest = derate.HIGHEST
    return (
        ("bore", "ws_if_bore", (("", "ws_as_is"), *bores)),
        (
            "length",
            "ws_if_length",
            (("", "ws_as_is"), ("0.5", "ws_half"), ("1.5", "ws_half_more"), ("2", "ws_twice")),
        ),
        ("rear", "ws_if_plugged_rear", (("", "ws_none"), *((str(n), str(n)) for n in range(1, 7)))),
        ("front", "ws_if_plugged_front", (("", "ws_none"), *((str(n), str(n)) for n in (1, 2)))),
        (
            "worn",
            "ws_if_worn",
            (("", "ws_as_is"), ("0.05", "5%"), ("0.1", "10%"), ("0.2", "20%")),
        ),
        ("pulse", "ws_if_pulse", (("", "ws_off"), ("on", "ws_on"))),
        (
            "throttle",
            "ws_if_throttle",
            (("", "ws_as_is"), *((f"{tenth / 10:g}", f"{tenth}0%") for tenth in (9, 8, 7, 6, 5))),
        ),
        (
            "up",
            "ws_if_up",
            (
                ("", "ws_as_is"),
                *((f"{min(up, highest):g}", text) for up, text in zip(ups, heights, strict=True)),
            ),
        ),
        ("unloader", "ws_if_unloader", (("", "ws_as_is"), ("on", "ws_for_this_pipe"))),
    )
