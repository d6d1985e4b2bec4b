"""Constants of the hydraulics, for the same formulas in the page's script."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from refgen.hydraulics import (
    antifreeze,
    choice,
    derate,
    duty,
    flow_path,
    geometry,
    hose,
    lance,
    open_channel,
    orifice,
    power,
    reach,
    resistance,
    suction,
    transport,
    variation,
    water,
)
from refgen.rigs import DIALS, GAUGE_CLASS, STANDARD_WATER
from refgen.units import System, parse_quantity
from refgen.worksheet.limits import range_of

# Ranges that the script checks within a working point: its name for each, who requires it, and how
# it is called there.
_CHECKED = (
    ("rough", hose, "roughness over bore of a hose [-]"),
    ("coil", hose, "bore over reel diameter [-]"),
    ("cv", duty, "velocity coefficient [-]"),
    ("below", duty, "height of the pump above the nozzle [m]"),
    ("count", orifice, "count of jets"),
    ("angle", orifice, "angle of a jet [rad]"),
    ("slope", open_channel, "slope of the pipe [-]"),
    ("n", open_channel, "Manning's n"),
)
CAUSES = {
    "discharge-coefficient": "ws_cause_discharge_coefficient",
    "trade-number": "ws_cause_trade_number",
    "velocity-coefficient": "ws_cause_velocity_coefficient",
    "hose-bore": "ws_cause_hose_bore",
    "roughness": "ws_cause_roughness",
    "couplings": "ws_cause_couplings",
    "coil": "ws_cause_coil",
    "pump-flow": "ws_cause_pump_flow",
    "pressure-limit": "ws_cause_pressure_limit",
    "water-temperature": "ws_cause_water_temperature",
}
"""The word for each cause of a margin; the worksheet's water has no antifreeze in it."""
NOMINAL_BORES = (
    "1/8in",
    "3/16in",
    "1/4in",
    "5/16in",
    "3/8in",
    "1/2in",
    "5/8in",
    "3/4in",
    "1in",
    "1-1/4in",
)
"""Bores that jet hose is made in, for what another would give; as they stand in an address."""
NUMBER_STEP = choice.numbers_beside.__defaults__


def constants(first: System) -> dict[str, Any]:
    """Return what the formulas in the script need, SI throughout; `first` is read on gauges."""
    assert NUMBER_STEP is not None  # the step between trade numbers on sale has a default
    return {
        "ranges": {name: range_of(module, what) for name, module, what in _CHECKED},
        "gravity": water.GRAVITY,
        "coldest": water.COLDEST,
        "hottest": water.HOTTEST,
        "volume": water.CONSTANT,
        "alpha": water.ALPHA,
        "beta": water.BETA,
        "viscosity": water.VISCOSITY,
        "areaOfOne": orifice.AREA_OF_ONE,
        "laminarTo": hose.LAMINAR_TO,
        "turbulentFrom": hose.TURBULENT_FROM,
        "coilFrom": hose.COIL_FROM,
        "coilStep": hose.COIL_STEP,
        "coilPublishedTo": hose.COIL_PUBLISHED_TO,
        "coilTo": hose.COIL_TO,
        "inside": resistance.INSIDE,
        "close": flow_path.CLOSE,
        "causes": list(CAUSES.values()),
        "widths": [_widths(variation.Variations()), _widths(variation.CALIBRATED)],
        "fullFrom": open_channel.FULL_FROM,
        "shearDensity": open_channel.SHEAR_DENSITY,
        "smallestGrain": transport.SMALLEST_GRAIN,
        "largestGrain": transport.LARGEST_GRAIN,
        "quartz": transport.QUARTZ,
        "numberStep": NUMBER_STEP[0],
        "easyFriction": reach.EASY_FRICTION,
        "hardFriction": reach.HARD_FRICTION,
        "pumpEfficiency": power.PUMP_EFFICIENCY,
        "per1000Feet": derate.PER_1000_FT,
        "heat": derate.HEAT,
        "highest": derate.HIGHEST,
        "freezing": antifreeze.FREEZING,
        "criticalTemperature": suction.CRITICAL_TEMPERATURE,
        "criticalPressure": suction.CRITICAL_PRESSURE,
        "saturation": suction.SATURATION,
        "inch": geometry.INCH,
        "careful": geometry.CAREFUL,
        "bracedAbove": lance.BRACED_ABOVE,
        "machineAbove": lance.MACHINE_ABOVE,
        "standardWater": STANDARD_WATER,
        "dials": list(DIALS[first]),
        "gaugeClass": GAUGE_CLASS,
        "bores": [(text, parse_quantity(text).si) for text in NOMINAL_BORES],
    }


def _widths(widths: variation.Variations) -> list[float | list[float]]:
    """Return the widths in the order of the causes; of the roughness its two ends."""
    by_name = {name.replace("_", "-"): width for name, width in asdict(widths).items()}
    ends: float | list[float] = [widths.smoothest, widths.roughest]
    return [ends if name == "roughness" else by_name[name] for name in CAUSES]
