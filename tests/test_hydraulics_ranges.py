"""Every formula answers up to both ends of its range, and refuses just beyond."""

from collections.abc import Callable
from math import inf, nan, pi, radians

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, area_of_bore, area_of_number
from refgen.hydraulics.antifreeze import (
    antifreeze_to_fill,
    freezing_point,
    mixed_strength,
    strength_for,
)
from refgen.hydraulics.belt import belt_speed, driven_sheave, driven_speed, driver_sheave
from refgen.hydraulics.choice import bore_each, fitting_nozzle, numbers_beside
from refgen.hydraulics.culvert import plug_volume, slurry_water, soil_mass, washing_time
from refgen.hydraulics.derate import altitude_share, heat_share
from refgen.hydraulics.drill import drills_beside, metric_drills
from refgen.hydraulics.geometry import air_gap, can_turn_round, turn_round_length
from refgen.hydraulics.heating import heating_rate, time_to_warm
from refgen.hydraulics.hose import coil_factor, friction_factor, pressure_loss
from refgen.hydraulics.lance import flow_for_push, hold, lance_push
from refgen.hydraulics.mixture import mixture_at
from refgen.hydraulics.open_channel import full_flow, part_full
from refgen.hydraulics.orifice import (
    area_for,
    bore_for_flow,
    flow_through,
    jet_speed,
    number_of_area,
    pressure_for,
)
from refgen.hydraulics.plunger import (
    pulsed_flow,
    throttled_flow,
)
from refgen.hydraulics.power import engine_power, hydraulic_power, outlet_flow
from refgen.hydraulics.reach import Bend, hose_weight, pull_needed, reach, weight_in_water
from refgen.hydraulics.setting import gauge_error, regulator_setting
from refgen.hydraulics.stored_water import (
    head_pressure,
    load_left,
    pipe_volume,
    push_on_cap,
    time_to_back_up,
    water_mass,
)
from refgen.hydraulics.suction import (
    air_pressure,
    head_left,
    loss_head,
    vapour_pressure,
)
from refgen.hydraulics.tank import (
    bucket_flow,
    length_per_tank,
    pass_time,
    pass_water,
    refill_time,
    run_time,
)
from refgen.hydraulics.transport import largest_grain_moved, threshold_shear
from refgen.hydraulics.variation import Variations
from refgen.hydraulics.water import density, viscosity, water_at
from refgen.hydraulics.wear import growth_of_bore, plugged, pressure_when_worn, worn

Formula = Callable[[float], object]
WATER = water_at(288.15)
JET = Jet(4, 1e-6, 0.1)
HOSE = Segment(0.0127, 30.0, 1.5e-6)
PUMP = Pump(5e-4, 20e6)
MORE = "above 0"

# What it is, the formula of one argument, its least and its greatest value. A least value of MORE
# is one that must be more than 0; None stands for no end.
RANGES: list[tuple[str, Formula, float | str | None, float | None]] = [
    ("other contents", lambda x: antifreeze_to_fill([HOSE], x), 0.0, None),
    ("antifreeze put in", lambda x: mixed_strength(x, 0.5, 1.0), MORE, None),
    ("its strength", lambda x: mixed_strength(1.0, x, 1.0), 0.0, 1.0),
    ("water left", lambda x: mixed_strength(1.0, 0.5, x), 0.0, None),
    ("strength that freezes", freezing_point, 0.0, 0.5),
    ("cold", strength_for, 273.15 - 33.3, 273.15),
    ("glycol in a mixture", lambda x: mixture_at(303.15, x), 0.0, 0.5),
    ("warmth of a mixture", lambda x: mixture_at(x, 0.3), 273.15 - 12.8, 313.15),
    ("driver speed", lambda x: driven_speed(x, 0.1, 0.2), MORE, None),
    ("driver sheave", lambda x: driven_speed(60.0, x, 0.2), MORE, None),
    ("driven sheave", lambda x: driven_speed(60.0, 0.1, x), MORE, None),
    ("speed wanted of the driven sheave", lambda x: driven_sheave(60.0, 0.1, x), MORE, None),
    ("speed wanted of the driver sheave", lambda x: driver_sheave(60.0, 0.1, x), MORE, None),
    ("speed of a belt's sheave", lambda x: belt_speed(x, 0.1), MORE, None),
    ("sheave of a belt", lambda x: belt_speed(60.0, x), MORE, None),
    ("headroom", lambda x: fitting_nozzle(PUMP, [], 288.15, 0.0, x), 0.0, 0.5),
    ("area for bores", lambda x: bore_each(x, 4, 0.75), MORE, None),
    ("count of bores", lambda x: bore_each(1e-6, int(x), 0.75), 1, None),
    ("coefficient of bores", lambda x: bore_each(1e-6, 4, x), MORE, 1.0),
    ("number to sell", numbers_beside, MORE, None),
    ("step of numbers", lambda x: numbers_beside(4.0, x), MORE, None),
    ("share packed", lambda x: plug_volume(1.0, 1.0, x), 0.0, 1.0),
    ("soil", lambda x: soil_mass(x, 1800.0), 0.0, None),
    ("weight of soil", lambda x: soil_mass(1.0, x), 1000.0, 2500.0),
    ("soil to wash", slurry_water, 0.0, None),
    ("solids", lambda x: slurry_water(1.0, x), 0.02, 0.4),
    ("water to wash with", lambda x: washing_time(x, 1e-3), 0.0, None),
    ("flow to wash with", lambda x: washing_time(1.0, x), MORE, None),
    ("height", altitude_share, 0.0, 3048.0),
    ("air", heat_share, 233.15, 328.15),
    ("bore to drill", lambda x: drills_beside(x, metric_drills()), MORE, None),
    ("widest bore", turn_round_length, MORE, None),
    ("rule of turning", lambda x: turn_round_length(0.1, x), 1.0, 3.0),
    ("stiff length", lambda x: can_turn_round(x, 0.1), MORE, None),
    ("bore to turn in", lambda x: can_turn_round(0.1, x), MORE, None),
    ("fill bore", air_gap, MORE, None),
    ("power into water", lambda x: heating_rate(x, 0.1), 0.0, None),
    ("water that goes round", lambda x: heating_rate(1e3, x), MORE, None),
    ("power that warms", lambda x: time_to_warm(x, 0.1, 300.0, 310.0), MORE, None),
    ("start of warming", lambda x: time_to_warm(1e3, 0.1, x, 353.15), 274.15, 353.15),
    ("end of warming", lambda x: time_to_warm(1e3, 0.1, 300.0, x), 300.0, 353.15),
    ("roughness of a factor", lambda x: friction_factor(1e5, x), 0.0, 0.05),
    ("calm flow", lambda x: friction_factor(x, 0.0), MORE, 2040.0),
    ("broken flow", lambda x: friction_factor(x, 1e-4), 4000.0, 1e8),
    ("flow on the reel", lambda x: coil_factor(x, 0.03), 10_000.0, 250_000.0),
    ("bore over reel", lambda x: coil_factor(5e4, x), 0.0, 0.2),
    ("flow in a hose", lambda x: pressure_loss(HOSE, x * 1e3, WATER), 0.0, None),
    ("bore of a hose", lambda x: Segment(x, 1.0, 0.0), MORE, None),
    ("length of a hose", lambda x: Segment(0.01, x, 0.0), 0.0, None),
    ("roughness of a hose", lambda x: Segment(0.01, 1.0, x), 0.0, 5e-4),
    ("hose on the reel", lambda x: Segment(0.01, 1.0, 0.0, x, 0.5), 0.0, 1.0),
    ("reel", lambda x: Segment(0.01, 1.0, 0.0, 1.0, x), 0.05, None),
    ("flow of a lance", lambda x: lance_push(x, 1e6), 0.0, None),
    ("pressure of a lance", lambda x: lance_push(1e-4, x), 0.0, None),
    ("push held", hold, 0.0, None),
    ("push wanted", lambda x: flow_for_push(x, 1e6), MORE, None),
    ("pressure of a push", lambda x: flow_for_push(100.0, x), MORE, None),
    ("flow in a pipe", lambda x: part_full(x, 0.1, 0.01, 0.013), MORE, None),
    ("bore of a pipe", lambda x: part_full(1e-3, x, 0.01, 0.013), MORE, None),
    ("slope", lambda x: part_full(1e-5, 0.1, x, 0.013), MORE, 0.1),
    ("Manning's n", lambda x: part_full(1e-5, 0.1, 0.01, x), 0.008, 0.035),
    ("bore of a full pipe", lambda x: full_flow(x, 0.01, 0.013), MORE, None),
    ("slope of a full pipe", lambda x: full_flow(0.1, x, 0.013), MORE, 0.1),
    ("n of a full pipe", lambda x: full_flow(0.1, 0.01, x), 0.008, 0.035),
    ("bore of a jet", lambda x: area_of_bore(x, 0.75), MORE, None),
    ("coefficient of a jet", lambda x: area_of_bore(1e-3, x), MORE, 1.0),
    ("trade number", area_of_number, MORE, None),
    ("area as a number", number_of_area, MORE, None),
    ("pressure on a jet", lambda x: flow_through(1e-6, x, 1000.0), 0.0, None),
    ("flow through a jet", lambda x: pressure_for(x, 1e-6, 1000.0), 0.0, None),
    ("area of a jet", lambda x: pressure_for(1e-4, x, 1000.0), MORE, None),
    ("flow for an area", lambda x: area_for(x, 1e6, 1000.0), MORE, None),
    ("pressure for an area", lambda x: area_for(1e-4, x, 1000.0), MORE, None),
    ("count for a flow", lambda x: bore_for_flow(1e-4, 1e6, int(x), 0.75, 1000.0), 1, None),
    ("coefficient for a flow", lambda x: bore_for_flow(1e-4, 1e6, 1, x, 1000.0), MORE, 1.0),
    ("pressure of a speed", lambda x: jet_speed(x, 1000.0), 0.0, None),
    ("share of the speed", lambda x: jet_speed(1e6, 1000.0, x), 0.0, 1.0),
    ("count of jets", lambda x: Jet(int(x), 1e-6, 0.0), 0, None),
    ("area of a ring's jet", lambda x: Jet(1, x, 0.0), MORE, None),
    ("angle of a jet", lambda x: Jet(1, 1e-6, x), 0.0, pi / 2),
    ("flow that pulses", lambda x: pulsed_flow(x, 3), 0.0, None),
    ("plungers that pulse", lambda x: pulsed_flow(1.0, int(x)), 2, 7),
    ("throttle", lambda x: throttled_flow(1.0, x, 100.0), 0.0, 110.0),
    ("rated speed", lambda x: throttled_flow(1.0, 0.0, x), MORE, None),
    ("flow of a power", lambda x: hydraulic_power(x, 1e6), 0.0, None),
    ("pressure of a power", lambda x: hydraulic_power(1e-4, x), 0.0, None),
    ("pump", lambda x: engine_power(1e-4, 1e6, x), 0.5, 1.0),
    ("drive", lambda x: engine_power(1e-4, 1e6, 0.85, x), 0.5, 1.0),
    ("power left", lambda x: engine_power(1e-4, 1e6, power_left=x), 0.3, 1.0),
    ("continuous", lambda x: engine_power(1e-4, 1e6, continuous=x), 0.5, 1.0),
    ("volts", lambda x: outlet_flow(x, 15.0, 1e7, 0.75), MORE, None),
    ("amps", lambda x: outlet_flow(115.0, x, 1e7, 0.75), MORE, None),
    ("pressure of an outlet", lambda x: outlet_flow(115.0, 15.0, x, 0.75), MORE, None),
    ("motor", lambda x: outlet_flow(115.0, 15.0, 1e7, x), 0.4, 1.0),
    ("pump of an outlet", lambda x: outlet_flow(115.0, 15.0, 1e7, 0.75, x), 0.5, 1.0),
    ("power factor", lambda x: outlet_flow(115.0, 15.0, 1e7, 0.75, 0.85, x), 0.4, 1.0),
    ("place of a bend", lambda x: Bend(x, 1.0), 0.0, None),
    ("angle of a bend", lambda x: Bend(1.0, x), 0.0, pi),
    ("dry hose", lambda x: hose_weight(x, 0.0127), MORE, None),
    ("bore that weighs", lambda x: hose_weight(0.3, x), MORE, None),
    ("outer diameter", lambda x: weight_in_water(9.0, 0.0127, x), 0.0127, None),
    ("length pulled", lambda x: pull_needed(x, 3.0, 0.3), 0.0, None),
    ("weight pulled", lambda x: reach(100.0, x, 0.3), MORE, None),
    ("friction", lambda x: reach(100.0, 3.0, x), 0.05, 1.0),
    ("slope of reach", lambda x: pull_needed(9.0, 3.0, 0.99, x), None, radians(90)),
    ("drag", lambda x: reach(100.0, 3.0, 0.3, drag=x), 0.0, None),
    ("dial", lambda x: gauge_error(x, 0.025), MORE, None),
    ("class", lambda x: gauge_error(1e7, x), 0.0, 0.1),
    ("ceiling", regulator_setting, MORE, None),
    ("error", lambda x: regulator_setting(1e12, x), 0.0, None),
    ("overshoot", lambda x: regulator_setting(1e7, overshoot=x), 0.0, 0.5),
    ("depth of the nozzle", lambda x: regulator_setting(1e8, below_pump=x), -300.0, 300.0),
    ("height of water", head_pressure, 0.0, None),
    ("height on a cap", lambda x: push_on_cap(x, 0.1), 0.0, None),
    ("bore of a cap", lambda x: push_on_cap(1.0, x), MORE, None),
    ("bore that holds", lambda x: pipe_volume(x, 1.0), MORE, None),
    ("length that holds", lambda x: pipe_volume(0.1, x), 0.0, None),
    ("flow that fills", lambda x: time_to_back_up(x, 0.1, 1.0), MORE, None),
    ("already full", lambda x: time_to_back_up(1e-3, 0.1, 1.0, x), 0.0, 1.0),
    ("water that weighs", water_mass, 0.0, None),
    ("gross limit", lambda x: load_left(x, 1.0, 0.0), MORE, None),
    ("empty trailer", lambda x: load_left(1.0, x, 0.0), MORE, None),
    ("water on a trailer", lambda x: load_left(1.0, 1.0, x), 0.0, None),
    ("tools on a trailer", lambda x: load_left(1.0, 1.0, 0.0, x), 0.0, None),
    ("fittings", lambda x: loss_head(HOSE, 5e-4, WATER, x), 0.0, 100.0),
    ("water over the inlet", lambda x: head_left(x, 0.0), -10.0, 50.0),
    ("head lost", lambda x: head_left(1.0, x), 0.0, None),
    ("water that boils", vapour_pressure, 274.15, 353.15),
    ("air at a height", air_pressure, 0.0, 3048.0),
    ("tank", lambda x: run_time(x, 1e-3), 0.0, None),
    ("use", lambda x: run_time(1.0, x), 0.0, None),
    ("supply", lambda x: run_time(1.0, 1e-3, x), 0.0, None),
    ("volume to fill", lambda x: refill_time(x, 1e-3), 0.0, None),
    ("bucket", lambda x: bucket_flow(x, 10.0), MORE, None),
    ("time of a bucket", lambda x: bucket_flow(0.02, x), MORE, None),
    ("length of a run", lambda x: pass_time(x, 1.0, 1.0), 0.0, None),
    ("way up", lambda x: pass_time(1.0, x, 1.0), MORE, None),
    ("way back", lambda x: pass_time(1.0, 1.0, x), MORE, None),
    ("flow of a run", lambda x: pass_water(1.0, 1.0, 1.0, x), 0.0, None),
    ("tank of a run", lambda x: length_per_tank(x, 1.0, 1.0, 1e-3), 0.0, None),
    ("flow of a tank's run", lambda x: length_per_tank(1.0, 1.0, 1.0, x), MORE, None),
    ("grain", lambda x: threshold_shear(x, WATER), 6e-5, 0.02),
    ("weight of a grain", lambda x: threshold_shear(1e-3, WATER, x), 1060.0, 4250.0),
    ("shear", lambda x: largest_grain_moved(x, WATER), 0.0, None),
    ("cold and warm water", density, 274.15, 353.15),
    ("water's viscosity", viscosity, 274.15, 353.15),
    ("growth of a jet", lambda x: worn(JET, x), 0.0, 0.5),
    ("pressure when worn", lambda x: pressure_when_worn(x, 0.1), 0.0, None),
    ("growth when worn", lambda x: pressure_when_worn(1e6, x), 0.0, 0.5),
    ("pressure as new", lambda x: growth_of_bore(x, x), MORE, None),
    ("pressure now", lambda x: growth_of_bore(5.0625, x), 1.0, 5.0625),
    ("holes plugged", lambda x: plugged(JET, int(x)), 0, 4),
    ("flow of a pump", lambda x: Pump(x, 1e7), MORE, None),
    ("pressure of a pump", lambda x: Pump(1e-3, x), MORE, None),
    ("unloader", lambda x: Pump(1e-3, 1e7, x), MORE, None),
    ("speed of a rig's jets", lambda x: Rig(288.15, PUMP, (), (JET,), x), MORE, 1.0),
    ("depth of a rig", lambda x: Rig(288.15, PUMP, (), (JET,), 1.0, x), -1000.0, 1000.0),
    ("variation of a coefficient", lambda x: Variations(discharge_coefficient=x), 0.0, 0.5),
    ("variation of a number", lambda x: Variations(trade_number=x), 0.0, 0.5),
    ("variation of a speed", lambda x: Variations(velocity_coefficient=x), 0.0, 0.5),
    ("variation of a bore", lambda x: Variations(hose_bore=x), 0.0, 0.5),
    ("variation by couplings", lambda x: Variations(couplings=x), 0.0, 0.5),
    ("variation of the coil", lambda x: Variations(coil=x), 0.0, 0.5),
    ("variation of the flow", lambda x: Variations(pump_flow=x), 0.0, 0.5),
    ("variation of the limit", lambda x: Variations(pressure_limit=x), 0.0, 0.5),
    ("variation of the glycol", lambda x: Variations(antifreeze=x), 0.0, 0.5),
    ("variation of the water", lambda x: Variations(water_temperature=x), 0.0, 80.0),
    ("smoothest liner", lambda x: Variations(smoothest=x), 0.0, 2e-5),
]  # fmt: skip
CASES = [pytest.param(*case[1:], id=case[0]) for case in RANGES]
A_HAIR = 1e-6


@pytest.mark.parametrize(("formula", "least", "most"), CASES)
def test_both_ends_of_a_range_are_answered(
    formula: Formula, least: float | str | None, most: float | None
) -> None:
    if isinstance(least, str):
        formula(A_HAIR)
    elif least is not None:
        formula(least)
    if most is not None:
        formula(most)


@pytest.mark.parametrize(("formula", "least", "most"), CASES)
def test_beyond_its_range_a_formula_refuses(
    formula: Formula, least: float | str | None, most: float | None
) -> None:
    beyond = [nan]
    if isinstance(least, str):
        beyond += [0.0, -1.0]
    elif isinstance(least, int):
        beyond = [least - 1]
    elif least is not None:
        beyond.append(least - A_HAIR * max(abs(least), 1.0))
    if isinstance(most, int):
        beyond = [*(x for x in beyond if x == x), most + 1]
    elif most is not None:
        beyond += [most + A_HAIR * max(abs(most), 1.0), inf]
    for value in beyond:
        with pytest.raises(OutOfRange):
            formula(value)
