"""Values at the very points where a formula turns, against a table or a sum of their own."""

from dataclasses import replace
from itertools import pairwise
from math import acos, pi, sin

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, Variations, margins, working_point
from refgen.hydraulics.antifreeze import antifreeze_to_fill, freezing_point, strength_for
from refgen.hydraulics.choice import numbers_beside
from refgen.hydraulics.drill import drills_beside, metric_drills, number_drills
from refgen.hydraulics.hose import coil_factor, friction_factor, pressure_loss
from refgen.hydraulics.open_channel import part_full
from refgen.hydraulics.orifice import area_for
from refgen.hydraulics.reach import Bend, pull_needed, weight_in_water
from refgen.hydraulics.resistance import Resistance, gap, loss, resistance
from refgen.hydraulics.stored_water import load_left, time_to_back_up
from refgen.hydraulics.suction import air_pressure, loss_head, suction_head
from refgen.hydraulics.variation import INPUTS
from refgen.hydraulics.water import water_at
from refgen.units import US_GALLON

# Lange's Handbook of Chemistry, 15th ed., table 5.13: propylene glycol by volume, °C.
LANGE = {
    0: 0.0, 5: -1.1, 10: -2.2, 15: -3.9, 20: -6.7, 25: -8.9, 30: -12.8, 35: -16.1, 40: -20.6,
    45: -26.7, 50: -33.3,
}  # fmt: skip


@pytest.mark.parametrize(("percent", "celsius"), LANGE.items())
def test_freezing_points_are_the_handbooks(percent, celsius):
    assert freezing_point(percent / 100) - 273.15 == pytest.approx(celsius, abs=1e-6)
    assert strength_for(273.15 + celsius) == pytest.approx(percent / 100, abs=1e-9)


def test_nothing_besides_hoses_is_filled_unless_it_is_told():
    assert antifreeze_to_fill([]) == 0.0
    assert antifreeze_to_fill([], 2e-3) == 2e-3


@pytest.mark.parametrize(
    ("number", "beside"),
    [(9.24, (9.0, 9.5)), (4.5, (4.5, 4.5)), (0.3, (0.0, 0.5)), (4.5 + 1e-12, (4.5, 4.5))],
)
def test_trade_numbers_are_on_sale_in_halves(number, beside):
    assert numbers_beside(number) == beside


def test_metric_drills_step_by_five_hundredths():
    bores = [drill.bore for drill in metric_drills()]
    assert bores[0] == pytest.approx(0.30e-3, rel=1e-12)
    assert bores[-1] == pytest.approx(6.00e-3, rel=1e-12)
    steps = [high - low for low, high in pairwise(bores)]
    assert steps == pytest.approx([0.05e-3] * 114, rel=1e-9)


def test_a_bore_a_micrometre_off_a_drill_lies_between_two():
    near = [drill.name for drill in drills_beside(1.3009e-3, metric_drills()) if drill]
    assert near == ["1.30 mm", "1.30 mm"]
    off = [drill.name for drill in drills_beside(1.30105e-3, metric_drills()) if drill]
    assert off == ["1.30 mm", "1.35 mm"]


def test_at_the_end_of_a_set_there_is_no_drill_beyond():
    below, above = drills_beside(0.2e-3, metric_drills())
    assert below is None
    assert above is not None
    assert above.name == "0.30 mm"
    below, above = drills_beside(7e-3, number_drills())
    assert above is None
    assert below is not None
    assert below.name == "No. 1"


# ---- hose on the reel


def rig(gpm, reel=0.5, on_reel=10.0):
    flow = gpm * US_GALLON / 60
    hose = Segment(0.0127, 30.0, 1.5e-6, on_reel, reel)
    jets = (Jet(1, area_for(flow, 5e6, 999.1), 0.0),)
    return Rig(288.15, Pump(flow, 60e6), (hose,), jets, 1.0)


@pytest.mark.parametrize(
    ("gpm", "told"),
    # Re = 4·Q/(π·0.0127·1.1394e-6): 26.9 gpm is 149 300, 27.2 gpm 151 000.
    [(26.9, ()), (27.2, ("coil-beyond-published-range",))],
)
def test_the_coils_formula_is_told_of_from_the_end_of_its_published_range(gpm, told):
    duty = working_point(rig(gpm))
    assert (duty.reynolds[0] > 150_000) is bool(told)
    assert duty.notes == told


def test_hose_with_nothing_on_its_reel_is_straight_hose():
    # 1 gpm in 1/2 in runs at Re 5550, below the coil's range; a reel that holds nothing is no coil.
    bare = Segment(0.0127, 30.0, 1.5e-6)
    reeled = replace(bare, reel_diameter=0.5)
    water, flow = water_at(288.15), US_GALLON / 60
    assert pressure_loss(reeled, flow, water) == pressure_loss(bare, flow, water)
    assert working_point(rig(1.0, on_reel=0.0)).state == "full flow"


# One Reynolds number a unit of flow, so that a limit is met to the last bit.
STRAIGHT = Resistance(1.0, 1e-5, 1.0, 0.0, 0.0)
COILED = Resistance(1.0, 1e-5, 1.0, 100.0, 0.01)


def test_a_limit_of_a_formula_belongs_to_its_range():
    assert gap(STRAIGHT, 2040.0) == gap(STRAIGHT, 4000.0) == ""
    assert gap(COILED, 10_000.0) == gap(COILED, 250_000.0) == gap(COILED, 0.0) == ""
    for reynolds in (0.5, 9999.0, 250_001.0):
        assert "no coil formula holds" in gap(COILED, reynolds)
    assert loss(STRAIGHT, 2040.0) == pytest.approx(64 * 2040)


def test_at_its_lowest_broken_flow_follows_colebrook():
    right = friction_factor(4000.0, 3.7e-5) * 4000.0**2
    assert loss(STRAIGHT, 4000.0) == pytest.approx(right, rel=1e-12)


@pytest.mark.parametrize(
    ("reynolds", "adds"),
    [
        (10_000.0, 100 / 10_000),
        (21_999.0, 100 / 21_999),
        (22_000.0, 0.01 * 22_000**0.25),
        (250_000.0, 0.01 * 250_000**0.25),
    ],
)
def test_at_each_limit_of_the_coils_formulas_the_right_one_holds(reynolds, adds):
    straight = friction_factor(reynolds, 3.7e-5) * reynolds**2
    assert loss(COILED, reynolds) == pytest.approx(straight * (1 + adds), rel=1e-12)


def test_a_hose_of_no_length_loses_nothing_beside_any_reel():
    none = Segment(0.0127, 0.0, 1.5e-6, 0.0, 0.5)
    assert loss(resistance(none, water_at(288.15)), 5e-4) == 0.0


def test_at_the_step_between_the_coils_formulas_the_upper_one_holds():
    # 1 + 0.0823·(1 + d/D)·(d/D)^0.53·Re^0.25 from Re 22 000 on; below it 1 + 28 800·(d/D)^0.62/Re.
    ratio = 0.04
    upper = 1 + 0.0823 * (1 + ratio) * ratio**0.53 * 22_000**0.25
    assert coil_factor(22_000.0, ratio) == pytest.approx(upper, rel=1e-12)
    assert coil_factor(21_999.0, ratio) == pytest.approx(1 + 28_800 * ratio**0.62 / 21_999)


def test_a_flow_the_wrong_way_is_refused_even_in_no_hose_at_all():
    with pytest.raises(OutOfRange, match=r"flow \[m³/s\] must be 0 or more"):
        pressure_loss(Segment(0.0127, 0.0, 0.0), -1e-4, water_at(288.15))


def test_a_reel_without_width_is_refused():
    with pytest.raises(OutOfRange, match="diameter of the reel"):
        Segment(0.0127, 30.0, 1.5e-6, 10.0, 0.0)


# ---- how far the hose goes


def test_a_bend_at_the_nozzle_itself_is_not_yet_passed():
    # 30 m of 4 N/m at 0.4: 48 N, with a bend at 30 m or without.
    assert pull_needed(30.0, 4.0, 0.4, bends=[Bend(30.0, pi / 2)]) == pytest.approx(48.0)
    assert pull_needed(30.0, 4.0, 0.4, bends=[Bend(29.99, pi / 2)]) > 80.0


def test_a_hose_that_hardly_sinks_still_has_a_weight():
    # 0.05 kg/m over a bore of 20 mm and 22 mm outside: 0.05 − 1000·π/4·(0.022² − 0.02²) kg/m
    # would float; 0.11 kg/m sinks with 0.11 − 0.06597 = 0.044 kg/m, 0.43 N/m.
    assert weight_in_water(0.11, 0.02, 0.022) == pytest.approx(0.4318, rel=1e-3)
    with pytest.raises(OutOfRange, match="floats"):
        weight_in_water(0.05, 0.02, 0.022)


@pytest.mark.parametrize("slope", [-1.58, 1.58])
def test_no_pipe_is_steeper_than_straight_up_or_down(slope):
    with pytest.raises(OutOfRange, match="slope of the pipe"):
        pull_needed(10.0, 4.0, 0.4, slope)


def test_a_gentle_fall_leaves_a_hose_that_has_to_be_drawn():
    # Down at 0.2 rad and friction 0.4: 4·(0.4·cos 0.2 − sin 0.2) = 0.7735 N a metre.
    assert pull_needed(10.0, 4.0, 0.4, -0.2) == pytest.approx(7.735, rel=1e-3)
    with pytest.raises(OutOfRange, match="runs down this slope by itself"):
        pull_needed(10.0, 4.0, 0.4, -pi / 2)


# ---- what is left out


def test_what_is_left_out_counts_as_nothing():
    assert load_left(2000.0, 1000.0, 0.5) == 500.0
    assert time_to_back_up(1e-3, 0.1, 10.0) == pytest.approx(pi / 4 * 0.01 * 10 / 1e-3)
    hose, water = Segment(0.0254, 8.0, 1.5e-6), water_at(288.15)
    assert loss_head(hose, 5e-4, water) == loss_head(hose, 5e-4, water, 0.0)
    assert suction_head(1.0, 0.5, 288.15) == suction_head(1.0, 0.5, 288.15, 0.0)


def test_the_air_at_the_sea_presses_as_the_standard_says():
    assert air_pressure(0.0) == 101_325.0
    # ISO 2533, table: 701.085 hPa at a geopotential height of 3000 m.
    assert air_pressure(3000.0) == pytest.approx(70_108.5, abs=0.5)


def test_a_trickle_in_a_wide_pipe_still_follows_manning():
    found = part_full(1e-7, 0.3, 0.01, 0.013)
    assert found is not None
    angle = 2 * acos(1 - 2 * found.depth_ratio)
    area = 0.3**2 / 8 * (angle - sin(angle))
    radius = area / (0.15 * angle)
    assert area * radius ** (2 / 3) * 0.1 / 0.013 == pytest.approx(1e-7, rel=1e-6)
    assert angle < 1.0


def test_the_cause_that_moves_a_number_most_is_blamed_though_it_moves_it_one_way_only():
    # Couplings add up to a half of the hose loss; the flow, looked at later, a few hundredths.
    widths = Variations(hose_bore=0.0, roughest=1.5e-6, couplings=0.5, pump_flow=0.01)
    assert margins(rig(12.0), widths).hose_loss.cause == "couplings"


# ---- how inputs are moved

BORED = Jet(2, 1e-6, 0.1)
NUMBERED = Jet(1, 2e-6, 0.0, by_number=True)
WHOLE = Rig(
    288.15,
    Pump(5e-4, 20e6, 18e6),
    (Segment(0.0127, 30.0, 1.5e-6, 10.0, 0.5),),
    (BORED, NUMBERED),
    0.97,
)
WIDE = Variations(
    discharge_coefficient=0.11,
    trade_number=0.06,
    velocity_coefficient=0.021,
    hose_bore=0.03,
    smoothest=5e-7,
    roughest=3e-5,
    couplings=0.2,
    coil=0.1,
    pump_flow=0.07,
    pressure_limit=0.04,
    water_temperature=12.0,
)


@pytest.mark.parametrize(
    ("cause", "value_of", "low", "high"),
    [
        ("discharge-coefficient", lambda r: r.jets[0].flow_area, 0.89e-6, 1.11e-6),
        ("discharge-coefficient", lambda r: r.jets[1].flow_area, 2e-6, 2e-6),
        ("trade-number", lambda r: r.jets[1].flow_area, 1.88e-6, 2.12e-6),
        ("trade-number", lambda r: r.jets[0].flow_area, 1e-6, 1e-6),
        ("velocity-coefficient", lambda r: r.velocity_coefficient, 0.97 * 0.979, 0.97 * 1.021),
        ("hose-bore", lambda r: r.hoses[0].bore, 0.0127 * 0.97, 0.0127 * 1.03),
        ("roughness", lambda r: r.hoses[0].roughness, 5e-7, 3e-5),
        ("couplings", lambda r: r.hoses[0].length, 30.0, 36.0),
        ("couplings", lambda r: r.hoses[0].on_reel, 10.0, 12.0),
        ("pump-flow", lambda r: r.pump.flow, 4.65e-4, 5.35e-4),
        ("pressure-limit", lambda r: r.pump.pressure, 19.2e6, 20.8e6),
        ("pressure-limit", lambda r: r.pump.unloader, 17.28e6, 18.72e6),
        ("water-temperature", lambda r: r.water_temperature, 276.15, 300.15),
    ],
)
def test_each_input_is_moved_down_and_up_by_its_width(cause, value_of, low, high):
    moved = [value_of(INPUTS[cause](WHOLE, WIDE, side)) for side in (-1, 1)]
    assert moved == pytest.approx([low, high], rel=1e-12)


def test_the_coil_is_moved_so_that_it_adds_so_much_less_or_more():
    # What a coil adds goes with (1 + d/D)·(d/D)^0.53.
    def adds(rig):
        ratio = rig.hoses[0].bore / rig.hoses[0].reel_diameter
        return (1 + ratio) * ratio**0.53

    shares = [adds(INPUTS["coil"](WHOLE, WIDE, side)) / adds(WHOLE) for side in (-1, 1)]
    assert shares == pytest.approx([0.9, 1.1], rel=1e-6)
    straight = replace(WHOLE, hoses=(Segment(0.0127, 30.0, 1.5e-6),))
    assert INPUTS["coil"](straight, WIDE, 1) == straight


def test_no_input_is_moved_past_what_can_be():
    fast = replace(WHOLE, velocity_coefficient=0.99)
    assert INPUTS["velocity-coefficient"](fast, WIDE, 1).velocity_coefficient == 1.0
    cold, warm = replace(WHOLE, water_temperature=275.0), replace(WHOLE, water_temperature=350.0)
    assert INPUTS["water-temperature"](cold, WIDE, -1).water_temperature == 274.15
    assert INPUTS["water-temperature"](warm, WIDE, 1).water_temperature == 353.15
    # A roughness written outside the usual width is where the width ends.
    rough = replace(WHOLE, hoses=(Segment(0.0127, 30.0, 1e-4),))
    assert INPUTS["roughness"](rough, WIDE, 1).hoses[0].roughness == 1e-4
    smooth = replace(WHOLE, hoses=(Segment(0.0127, 30.0, 0.0),))
    assert INPUTS["roughness"](smooth, WIDE, -1).hoses[0].roughness == 0.0
    without = replace(WHOLE, pump=Pump(5e-4, 20e6))
    assert INPUTS["pressure-limit"](without, WIDE, 1).pump.unloader is None


def test_a_rig_that_nobody_measured_has_the_widths_that_are_documented():
    # Drilled jets 10 % and numbers 5 %, speed 2 %, bore 2 %, couplings and coil 15 %, flow 5 %,
    # gauge 2.5 %, water 10 K, glycol 3 points, liner from smooth to 0.02 mm.
    assert Variations() == Variations(
        discharge_coefficient=10 / 100,
        trade_number=5 / 100,
        velocity_coefficient=2 / 100,
        hose_bore=2 / 100,
        smoothest=0.0,
        roughest=0.02e-3,
        couplings=15 / 100,
        coil=15 / 100,
        pump_flow=5 / 100,
        pressure_limit=2.5 / 100,
        water_temperature=10.0,
        antifreeze=3 / 100,
    )
