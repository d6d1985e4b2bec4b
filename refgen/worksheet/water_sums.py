"""Short sums about water: tank and tap, antifreeze, suction, culverts, the run up and back."""

from __future__ import annotations

from refgen.hydraulics import culvert, derate, suction
from refgen.worksheet.fields import (
    ANY,
    BORE,
    COUPLED,
    FIFTEEN,
    FLOW,
    FLOWS,
    HOSE_BORES,
    LENGTHS,
    LINER,
    LOOK,
    PACE,
    PIPE_BORES,
    ROUGH,
    ROUGHNESSES,
    SUPPLIES,
    TAPE,
    VOLUMES,
    WARMTH,
    WATCH,
    WATER,
    Field,
    Sum,
    optional,
    share,
    shift,
)
from refgen.worksheet.limits import range_of

_YES_NO = (("no", "ws_no"), ("yes", "ws_yes"))
_HEIGHTS = range_of(derate, "height above the sea [m]")

WATER_SUMS = (
    Sum(
        "tank",
        "ws_sum_tank",
        (
            Field("tank", "ws_water_in_tank", "volume", VOLUMES, "65 gal", "250 L", off=LOOK),
            Field("use", "ws_use", "flow", FLOWS, "8 gpm", "30 L/min", off=FLOW),
            Field("supply", "ws_supply", "flow", SUPPLIES, "5 gpm", "18 L/min", off=LOOK),
        ),
        (
            ("lasts", "ws_lasts", "time"),
            ("short", "ws_short_by", "flow"),
            ("refill", "ws_refill", "time"),
            ("running", "ws_refill_running", "time"),
        ),
        ("ws_say_low_water",),
    ),
    Sum(
        "bucket",
        "ws_sum_bucket",
        (
            Field("bucket", "ws_bucket", "volume", VOLUMES, "5 gal", "20 L", above=True, off=LOOK),
            Field("time", "ws_fill_time", "time", ANY, "50 s", above=True, off=WATCH),
            optional("use", "ws_use", "flow", FLOWS, "8 gpm", "30 L/min", off=FLOW),
        ),
        (
            ("flow", "ws_supply", "flow"),
            ("short", "ws_short_by", "flow"),
            ("spare", "ws_spare", "flow"),
        ),
        ("ws_say_at_hose_end",),
    ),
    Sum(
        "gap",
        "ws_sum_gap",
        (
            Field("fill", "ws_fill_bore", "length", PIPE_BORES, "3 in", "75 mm", off=TAPE),
            Field("wall", "ws_beside_wall", "choice", us="no", choices=_YES_NO),
        ),
        (("gap", "ws_gap", "small length"),),
        ("ws_say_gap",),
    ),
    Sum(
        "glycol",
        "ws_sum_glycol",
        (
            Field("bore", "bore", "length", HOSE_BORES, "3/8 in", "10 mm", off=BORE),
            Field("length", "ws_length", "length", LENGTHS, "200 ft", "60 m", off=TAPE),
            optional("bore2", "ws_other_bore", "length", HOSE_BORES, off=BORE),
            optional("length2", "ws_other_length", "length", LENGTHS, off=TAPE),
            Field("other", "ws_in_pump", "volume", VOLUMES, "0.5 gal", "2 L", off=share(0.2)),
        ),
        (
            ("first", "ws_in_first_hose", "volume"),
            ("second", "ws_in_other_hose", "volume"),
            ("total", "ws_together", "volume"),
        ),
        ("ws_say_buy_more",),
    ),
    Sum(
        "mix",
        "ws_sum_mix",
        (
            Field("put", "ws_put_in", "volume", VOLUMES, "3 gal", "12 L", above=True, off=LOOK),
            Field("strength", "ws_strength", "share", (0.0, 1.0), "50 %", off=shift(0.02)),
            Field("left", "ws_water_left", "volume", VOLUMES, "2 gal", "8 L", off=share(0.2)),
            optional("cold", "ws_coldest", "temperature", (203.15, 273.15), "10 degF", "-12 degC"),
        ),
        (
            ("strength", "ws_mixed", "share"),
            ("freezes", "ws_freezes", "temperature"),
            ("neat", "ws_neat_freezes", "temperature"),
            ("needed", "ws_strength_needed", "share"),
        ),
        ("ws_say_burst_rating",),
    ),
    Sum(
        "suction",
        "ws_sum_suction",
        (
            Field("flow", "flow", "flow", FLOWS, "8 gpm", "30 L/min", off=FLOW),
            Field("bore", "bore", "length", HOSE_BORES, "1 in", "25 mm", off=BORE),
            Field("length", "ws_length", "length", LENGTHS, "25 ft", "8 m", off=COUPLED),
            Field(
                "height",
                "ws_water_above_inlet",
                "length",
                range_of(suction, "height of the water above the inlet [m]"),
                "2 ft",
                "0.6 m",
                off=shift(0.05),
            ),
            Field(
                "fittings",
                "ws_fittings",
                "number",
                range_of(suction, "loss of the fittings [-]"),
                "0",
                off=share(0.3),
            ),
            Field("roughness", "roughness", "length", ROUGHNESSES, LINER, off=ROUGH),
            Field("water", "ws_water", "temperature", WATER, *FIFTEEN, off=WARMTH),
            Field("up", "ws_altitude", "length", _HEIGHTS, "0 ft", "0 m", off=shift(50.0)),
        ),
        (
            ("lost", "ws_head_lost", "head"),
            ("left", "ws_head_left", "head"),
            ("npsh", "ws_npsh", "head"),
        ),
        ("ws_say_suction",),
    ),
    Sum(
        "culvert",
        "ws_sum_culvert",
        (
            Field("bore", "ws_culvert_bore", "length", PIPE_BORES, "24 in", "600 mm", off=LOOK),
            Field("length", "ws_packed_length", "length", LENGTHS, "25 ft", "8 m", off=LOOK),
            Field(
                "filled",
                "ws_filled",
                "share",
                range_of(culvert, "share of the bore that is packed [-]"),
                "100 %",
                off=share(0.1, 0.0),
            ),
            Field(
                "soil",
                "ws_soil",
                "density",
                range_of(culvert, "bulk density of soil [kg/m³]"),
                "110 lb/ft³",
                "1800 kg/m³",
                off=PACE,
            ),
            Field(
                "solids",
                "ws_solids",
                "share",
                range_of(culvert, "solids in the slurry [-]"),
                f"{culvert.SLURRY_SOLIDS * 100:g} %",
                off=share(0.5),
            ),
            Field("flow", "flow", "flow", FLOWS, "60 gpm", "200 L/min", off=FLOW),
        ),
        (
            ("soil", "ws_soil_volume", "soil"),
            ("loose", "ws_soil_volume", "loose"),
            ("mass", "ws_soil_mass", "mass"),
            ("water", "ws_water_to_wash", "volume"),
            ("time", "ws_time_to_wash", "time"),
        ),
        (
            "ws_say_culvert",
            "ws_say_flow_carries",
        ),
    ),
    Sum(
        "volume",
        "ws_sum_volume",
        (
            optional("bore", "ws_round_bore", "length", PIPE_BORES, "4 in", "100 mm", off=TAPE),
            Field("length", "ws_length", "length", LENGTHS, "100 ft", "30 m", off=TAPE),
            optional("width", "ws_width", "length", LENGTHS, off=TAPE),
            optional("depth", "ws_box_depth", "length", LENGTHS, off=TAPE),
        ),
        (
            ("volume", "ws_holds", "volume"),
            ("loose", "ws_holds", "loose"),
            ("mass", "ws_weighs", "mass"),
        ),
        ("ws_say_weight",),
    ),
    Sum(
        "run",
        "ws_sum_run",
        (
            Field("length", "ws_length", "length", LENGTHS, "300 ft", "90 m", off=TAPE),
            Field("out", "ws_out", "speed", ANY, "60 ft/min", "18 m/min", above=True, off=PACE),
            Field("back", "ws_back", "speed", ANY, "30 ft/min", "9 m/min", above=True, off=PACE),
            Field("flow", "flow", "flow", FLOWS, "60 gpm", "230 L/min", off=FLOW),
            optional("tank", "ws_water_in_tank", "volume", VOLUMES, "1500 gal", "6 m³", off=LOOK),
        ),
        (
            ("time", "ws_time_both_ways", "time"),
            ("water", "ws_water_used", "volume"),
            ("perTank", "ws_per_tank", "length"),
        ),
        ("ws_say_run",),
    ),
)
