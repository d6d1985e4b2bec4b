"""What crews ask, with answers from first principles: inputs in their units, right to a tolerance.

Water 15 °C, smooth hose of 0.0015 mm roughness, couplings not counted, unless a test says so.
"""

from math import inf

import pytest

from refgen.hydraulics import Jet, Pump, Rig, Segment, area_of_bore, area_of_number, working_point
from refgen.hydraulics.antifreeze import (
    antifreeze_to_fill,
    freezing_point,
    hose_contents,
    mixed_strength,
)
from refgen.hydraulics.choice import fitting_nozzle
from refgen.hydraulics.culvert import plug_volume, slurry_water, soil_mass, washing_time
from refgen.hydraulics.derate import altitude_share
from refgen.hydraulics.geometry import air_gap, can_turn_round, turn_round_length
from refgen.hydraulics.hose import pressure_loss
from refgen.hydraulics.lance import hold, lance_push
from refgen.hydraulics.orifice import flow_through, jet_speed, pressure_for
from refgen.hydraulics.power import outlet_flow
from refgen.hydraulics.stored_water import head_pressure, push_on_cap
from refgen.hydraulics.suction import loss_head
from refgen.hydraulics.tank import (
    bucket_flow,
    length_per_tank,
    pass_time,
    pass_water,
    refill_time,
    run_time,
    shortfall,
)
from refgen.hydraulics.water import water_at
from refgen.units import FOOT, INCH, POUND, POUND_FORCE, PSI, US_GALLON

GPM = US_GALLON / 60
BAR = 1e5
FIFTEEN = 288.15
WATER = water_at(FIFTEEN)
SMOOTH = 1.5e-6


def within(percent, value):
    return pytest.approx(value, rel=percent / 100)


def loss_psi(gpm, inches, feet):
    return pressure_loss(Segment(inches * INCH, feet * FOOT, SMOOTH), gpm * GPM, WATER) / PSI


def test_an_engine_taken_from_5000_to_3000_feet():
    for rule, points in (("air density", 5.3), ("mild", 6.0), ("cautious", 7.0)):
        low, high = (altitude_share(feet * FOOT, rule) for feet in (3000, 5000))
        assert 100 * (low - high) == pytest.approx(points, abs=0.1)
        assert 5.0 <= 100 * (low - high) <= 7.1


def test_the_right_tip_for_4_gpm_at_4000_psi_and_the_wrong_ones():
    pump = Pump(4 * GPM, 4000 * PSI, 4000 * PSI)
    assert fitting_nozzle(pump, (), FIFTEEN).number == within(2, 4.0)

    def duty(number):
        return working_point(Rig(FIFTEEN, pump, (), (Jet(1, area_of_number(number), 0.0),), 1.0))

    large = duty(6.5)
    assert large.state == "full flow"
    assert large.nozzle / PSI == within(3, 1515)
    small = duty(3)
    assert small.state == "regulated"
    assert small.gauge / PSI == within(0.1, 4000)
    assert small.flow / GPM == within(3, 3.0)
    assert small.bypass / GPM == within(8, 1.0)
    needed = pressure_for(4 * GPM, area_of_number(3), WATER.density)
    assert needed / PSI == within(3, 7111)


@pytest.mark.parametrize(("number", "psi"), [(9, 3160), (20, 640)])
def test_pressure_of_8_gpm_through_a_tip(number, psi):
    assert pressure_for(8 * GPM, area_of_number(number), WATER.density) / PSI == within(3, psi)


def test_friction_and_height_apart():
    friction = loss_psi(3, 0.375, 100)
    height = head_pressure(50 * FOOT, WATER.density) / PSI
    assert friction == within(5, 41.86)
    assert 39.77 <= friction <= 49.44
    assert height == within(2, 21.66)
    assert 61.0 <= friction + height <= 72.0
    # The same from the working point: lifting the nozzle 50 ft raises the gauge by the height.
    rig = Rig(
        FIFTEEN,
        Pump(3 * GPM, 4000 * PSI),
        (Segment(0.375 * INCH, 100 * FOOT, SMOOTH),),
        (Jet(1, area_of_number(4), 0.0),),
        1.0,
        -50 * FOOT,
    )
    duty = working_point(rig)
    assert (duty.gauge - duty.nozzle) / PSI == within(0.1, friction + height)


def test_which_of_two_hoses_wastes_more():
    half, three_quarters = loss_psi(18, 0.5, 400), loss_psi(18, 0.75, 800)
    assert half == within(5, 1040)
    assert three_quarters == within(5, 293.6)
    assert half / three_quarters == within(5, 3.542)
    assert 3.3 <= half / three_quarters <= 4.1


def test_what_is_left_after_800_feet_of_one_inch():
    lost = loss_psi(65, 1.0, 800)
    assert lost == within(5, 747.1)
    assert 1500 - lost == within(5, 752.9)
    assert loss_psi(65, 1.25, 800) == within(5, 253.7)


@pytest.mark.parametrize(("psi", "feet_a_second"), [(75, 105.6), (3000, 667.6)])
def test_pressure_into_jet_speed(psi, feet_a_second):
    assert jet_speed(psi * PSI, WATER.density) / FOOT == within(2.5, feet_a_second)


def test_kick_of_a_lance_at_18_gpm_and_2500_psi():
    push = lance_push(18 * GPM, 2500 * PSI, WATER.density)
    assert push / POUND_FORCE == within(5, 47.38)
    assert push == within(5, 210.8)
    assert hold(push) == "body"


def test_antifreeze_for_two_hoses():
    small = Segment(0.375 * INCH, 200 * FOOT, SMOOTH)
    large = Segment(0.5 * INCH, 300 * FOOT, SMOOTH)
    assert hose_contents([small]) / US_GALLON == within(2, 1.147)
    assert hose_contents([large]) / US_GALLON == within(2, 3.06)
    total = antifreeze_to_fill([small, large], 0.5 * US_GALLON)
    assert total / US_GALLON == within(3, 4.707)


def test_half_strength_glycol_thinned_in_the_hose():
    strength = mixed_strength(3, 0.50, 2)
    assert 100 * strength == within(2, 30)
    assert -15 <= freezing_point(strength) - 273.15 <= -11
    assert -36 <= freezing_point(0.50) - 273.15 <= -31


def test_a_tank_between_a_weak_tap_and_the_pump():
    tank = 65 * US_GALLON
    assert run_time(tank, 8 * GPM, 5 * GPM) / 60 == within(2, 21.67)
    assert refill_time(tank, 5 * GPM) / 60 == within(2, 13.0)


def test_the_air_gap_of_a_three_inch_fill():
    assert air_gap(3 * INCH) / INCH == pytest.approx(6.0)
    assert air_gap(3 * INCH) * 1000 == within(1, 152.4)


@pytest.mark.parametrize(
    ("inches", "feet_of_water", "low", "high"),
    [(0.5, 34.81, 33.0, 43.0), (0.75, 4.986, 4.6, 6.0), (1.0, 1.263, 1.2, 1.5)],
)
def test_which_feed_hose_starves_the_pump(inches, feet_of_water, low, high):
    hose = Segment(inches * INCH, 25 * FOOT, SMOOTH)
    lost = loss_head(hose, 8 * GPM, WATER) / FOOT
    assert lost == within(5, feet_of_water)
    assert low <= lost <= high
    assert (lost < 2.0) is (inches == 1.0)


def test_a_culvert_packed_with_soil():
    soil = plug_volume(2 * FOOT, 25 * FOOT)
    assert soil / FOOT**3 == within(2, 78.54)
    assert soil / (3 * FOOT) ** 3 == within(2, 2.909)
    assert soil_mass(soil, 110 * POUND / FOOT**3) / POUND == within(2, 8639)
    water = slurry_water(soil, 0.1)
    assert water / US_GALLON == within(3, 5288)
    assert washing_time(water, 4 * GPM) / 3600 == within(3, 22.03)
    assert washing_time(water, 60 * GPM) / 3600 == within(3, 1.469)


def test_five_stiff_inches_in_an_eight_inch_main():
    assert can_turn_round(5 * INCH, 8 * INCH)
    assert turn_round_length(8 * INCH, 1.0) / INCH == pytest.approx(8.0)
    assert turn_round_length(8 * INCH) / INCH == pytest.approx(12.0)


@pytest.mark.parametrize(("amps", "gpm"), [(15, 1.685), (20, 2.247)])
def test_what_a_wall_outlet_can_drive(amps, gpm):
    assert outlet_flow(115, amps, 1500 * PSI, 0.75, 0.85) / GPM == within(4, gpm)


def test_nozzle_behind_300_feet_of_three_eighths_and_of_half_inch():
    lost = loss_psi(8, 0.375, 300)
    assert lost == within(5, 723.5)
    assert 3000 - lost == within(5, 2277)
    assert loss_psi(8, 0.5, 300) == within(5, 180.9)


def test_time_and_water_for_300_feet_of_main():
    out, back, flow = 60 * FOOT / 60, 30 * FOOT / 60, 60 * GPM
    assert pass_time(300 * FOOT, out, back) / 60 == within(2, 15)
    assert pass_water(300 * FOOT, out, back, flow) / US_GALLON == within(2, 900)
    assert length_per_tank(1500 * US_GALLON, out, back, flow) / FOOT == within(2, 500)


@pytest.mark.parametrize("rear", [6, 3])
def test_rear_jets_open_and_half_of_them_plugged(rear):
    rig = Rig(
        FIFTEEN,
        Pump(12 * GPM, 3500 * PSI, 3500 * PSI),
        (
            Segment(0.5 * INCH, 200 * FOOT, SMOOTH),
            Segment(0.375 * INCH, 100 * FOOT, SMOOTH),
        ),
        (
            Jet(1, area_of_bore(0.040 * INCH, 0.8), 0.0, "front"),
            Jet(rear, area_of_bore(0.047 * INCH, 0.8), 0.3),
        ),
        1.0,
    )
    duty = working_point(rig)
    if rear == 6:
        assert duty.state == "full flow"
        assert duty.nozzle / PSI == within(3, 1145)
        assert duty.gauge / PSI == within(5, 1898)
        assert duty.bypass == 0.0
    else:
        assert duty.state == "regulated"
        assert duty.gauge / PSI == within(1, 3500)
        assert 10.2 <= duty.flow / GPM <= 10.75
        assert 1.25 <= duty.bypass / GPM <= 1.8
        assert duty.nozzle / PSI == within(5, 2901)


def test_a_bucket_against_an_8_gpm_pump():
    tap = bucket_flow(5 * US_GALLON, 50)
    assert tap / GPM == within(2, 6.0)
    assert shortfall(8 * GPM, tap) / GPM == within(3, 2.0)


def test_a_metric_crew():
    hose = Segment(0.013, 80.0, SMOOTH)
    lost = pressure_loss(hose, 70e-3 / 60, WATER) / BAR
    assert lost == within(5, 44.13)
    assert 200 - lost == within(5, 155.9)


def test_a_stack_behind_a_cleanout_cap():
    # 0.43 psi and about 5.4 lb on a 4 in cap for each foot.
    assert head_pressure(FOOT) / PSI == within(1, 0.43)
    assert push_on_cap(FOOT, 4 * INCH) / POUND_FORCE == within(1, 5.4)


def test_flow_of_a_tip_at_another_pressure():
    # A number 8 passes 8 gpm at 4000 psi and half of it at 1000.
    assert flow_through(area_of_number(8), 1000 * PSI, WATER.density) / GPM == within(0.1, 4.0)


def test_a_supply_as_large_as_the_use_lasts():
    assert (run_time(0.2, 3e-4, 4e-4) or inf) == inf
