"""Short sums about pressure, jets, engine and what is in the pipe."""

from __future__ import annotations

from refgen.hydraulics import derate, power
from refgen.model.equipment import Coefficient
from refgen.worksheet.fields import (
    ANY,
    BORE,
    COUPLED,
    FIFTEEN,
    FLOW,
    FLOWS,
    GAUGE,
    HEADS,
    HOSE_BORES,
    LENGTHS,
    LINER,
    LOOK,
    NUMBERS,
    PIPE_BORES,
    PRESSURES,
    ROUGH,
    ROUGHNESSES,
    TAPE,
    WARMTH,
    WATER,
    WIDTHS,
    Field,
    Sum,
    optional,
    share,
    shift,
)
from refgen.worksheet.limits import range_of, range_of_type

_HEIGHTS = range_of(derate, "height above the sea [m]")
_EFFICIENCIES = range_of(power, "efficiency of the motor [-]")

MACHINE_SUMS = (
    Sum(
        "hose",
        "ws_sum_hose",
        (
            Field("flow", "flow", "flow", FLOWS, "8 gpm", "30 L/min", off=FLOW),
            optional("gauge", "gauge_at_pump", "pressure", PRESSURES, off=GAUGE),
            Field("bore", "bore", "length", HOSE_BORES, "3/8 in", "10 mm", off=BORE),
            Field("length", "ws_length", "length", LENGTHS, "300 ft", "90 m", off=COUPLED),
            optional("bore2", "ws_other_bore", "length", HOSE_BORES, off=BORE),
            optional("length2", "ws_other_length", "length", LENGTHS, off=COUPLED),
            Field("above", "ws_nozzle_above", "length", HEADS, "0 ft", "0 m", off=TAPE),
            Field("roughness", "roughness", "length", ROUGHNESSES, LINER, off=ROUGH),
            Field("water", "ws_water", "temperature", WATER, *FIFTEEN, off=WARMTH),
        ),
        (
            ("lost", "lost_in_hose", "pressure"),
            ("height", "ws_height_costs", "pressure"),
            ("total", "ws_together", "pressure"),
            ("left", "left_at_nozzle", "pressure"),
            ("other", "ws_lost_in_other", "pressure"),
            ("otherLeft", "ws_left_with_other", "pressure"),
            ("ratio", "ws_times_other", "number"),
        ),
        ("ws_say_gauge_before_hose",),
    ),
    Sum(
        "jet",
        "ws_sum_jet",
        (
            optional("flow", "flow", "flow", FLOWS, "8 gpm", "30 L/min", off=FLOW),
            optional("pressure", "left_at_nozzle", "pressure", PRESSURES, off=GAUGE, above=True),
            optional(
                "number",
                "ws_jet_number",
                "number",
                NUMBERS,
                "9",
                off=share(WIDTHS.trade_number),
            ),
            Field("cv", "ws_cv", "number", range_of_type(Coefficient), "1", off=share(0.05, 0.0)),
        ),
        (
            ("pressure", "left_at_nozzle", "pressure"),
            ("flow", "flow", "flow"),
            ("number", "ws_jet_number", "number"),
            ("speed", "ws_jet_velocity", "speed"),
            ("push", "ws_push_back", "force"),
        ),
        (
            "ws_say_at_nozzle",
            "ws_say_lance",
        ),
    ),
    Sum(
        "outlet",
        "ws_sum_outlet",
        (
            Field("volts", "ws_volts", "voltage", ANY, "115 V", "230 V", above=True, off=LOOK),
            Field("amps", "ws_amps", "current", ANY, "15 A", "13 A", above=True),
            Field(
                "pressure",
                "pressure",
                "pressure",
                PRESSURES,
                "1500 psi",
                "100 bar",
                above=True,
                off=GAUGE,
            ),
            Field("motor", "ws_motor", "share", _EFFICIENCIES, "75 %", off=LOOK),
            Field(
                "pump",
                "ws_pump_share",
                "share",
                range_of(power, "efficiency of the pump [-]"),
                f"{power.PUMP_EFFICIENCY * 100:g} %",
                off=LOOK,
            ),
            Field(
                "factor", "ws_power_factor", "share", range_of(power, "power factor [-]"), "100 %"
            ),
        ),
        (("flow", "ws_most_flow", "flow"),),
        ("ws_say_outlet",),
    ),
    Sum(
        "sheaves",
        "ws_sum_sheaves",
        (
            Field("engine", "ws_engine_speed", "rotation", ANY, "3600 rpm", above=True, off=TAPE),
            Field("driver", "ws_driver", "length", ANY, "4 in", "100 mm", above=True, off=TAPE),
            Field("driven", "ws_driven", "length", ANY, "10 in", "250 mm", above=True, off=TAPE),
            optional("wanted", "ws_wanted_speed", "rotation", ANY, "1450 rpm", above=True),
        ),
        (
            ("speed", "ws_pump_speed", "turning"),
            ("belt", "ws_belt", "belt"),
            ("newDriven", "ws_driven_for", "small length"),
            ("newDriver", "ws_driver_for", "small length"),
        ),
        ("ws_say_sheaves",),
    ),
    Sum(
        "altitude",
        "ws_sum_altitude",
        (
            Field("up", "ws_altitude", "length", _HEIGHTS, "5000 ft", "1500 m", off=shift(50.0)),
            optional("to", "ws_altitude_to", "length", _HEIGHTS, off=shift(50.0)),
            optional(
                "air",
                "ws_air",
                "temperature",
                range_of(derate, "air temperature [K]"),
                off=shift(2.0),
            ),
            Field(
                "fuel",
                "ws_fuel",
                "choice",
                us="petrol",
                choices=(("petrol", "ws_petrol"), ("diesel", "ws_diesel")),
            ),
        ),
        (
            ("cautious", "ws_rule_cautious", "share"),
            ("mild", "ws_rule_mild", "share"),
            ("air", "ws_rule_air", "share"),
            ("heat", "ws_heat_left", "share"),
            ("gain-cautious", "ws_gain_cautious", "share"),
            ("gain-mild", "ws_gain_mild", "share"),
            ("gain-air", "ws_gain_air", "share"),
        ),
        ("ws_say_altitude",),
    ),
    Sum(
        "cap",
        "ws_sum_cap",
        (
            Field("height", "ws_stack", "length", HEADS, "10 ft", "3 m", off=LOOK),
            Field("bore", "ws_opening", "length", PIPE_BORES, "4 in", "100 mm", off=TAPE),
        ),
        (
            ("pressure", "ws_cap_pressure", "pressure"),
            ("push", "ws_cap_push", "force"),
        ),
        ("ws_say_cap",),
    ),
    Sum(
        "turn",
        "ws_sum_turn",
        (
            Field(
                "stiff", "stiff_length", "length", LENGTHS, "5 in", "130 mm", above=True, off=TAPE
            ),
            Field("bore", "ws_widest", "length", PIPE_BORES, "8 in", "200 mm", off=TAPE),
        ),
        (
            ("least", "ws_least_stiff", "small length"),
            ("careful", "ws_careful_stiff", "small length"),
        ),
        (),
    ),
)
