import json
from dataclasses import replace
from math import cos, pi, radians, sqrt
from pathlib import Path

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, area_of_bore, working_point
from refgen.hydraulics.hose import pressure_loss, reynolds_number
from refgen.hydraulics.water import GRAVITY, water_at
from tests.rigs import rig_of_vector

VECTORS = json.loads((Path(__file__).parent / "vectors" / "hydraulics.json").read_text("utf-8"))

SETUP = Rig(
    water_temperature=288.15,
    pump=Pump(flow=5e-4, pressure=20e6),
    hoses=(Segment(bore=0.0095, length=60.0, roughness=1e-5),),
    jets=(Jet(6, area_of_bore(0.0011, 0.75), radians(20)),),
    velocity_coefficient=0.97,
)


@pytest.mark.parametrize("case", VECTORS["operating_point"])
def test_the_working_point_agrees_with_an_independent_library(case):
    rig, right = rig_of_vector(case["setup"]), case["expect"]
    duty = working_point(rig)
    assert duty.state == right["state"]
    assert duty.flow == pytest.approx(right["flow_m3_per_s"], rel=1e-3)
    assert duty.gauge == pytest.approx(right["gauge_pa"], rel=1e-3)
    assert duty.hose_loss == pytest.approx(right["hose_loss_pa"], rel=1e-3)
    assert duty.nozzle == pytest.approx(right["nozzle_pa"], rel=1e-3)
    assert duty.bypass == pytest.approx(right["bypass_m3_per_s"], abs=1e-3 * rig.pump.flow)
    assert duty.jet_velocity == pytest.approx(right["jet_velocity_m_per_s"], rel=1e-3)
    assert duty.jet_power == pytest.approx(right["jet_power_w"], rel=1e-3)
    # Pull is a difference of large forces, so its tolerance goes with the rear jets' force.
    rear = sum(
        998.0 * flow * duty.jet_velocity * cos(jet.angle)
        for jet, flow in zip(rig.jets, duty.jet_flows, strict=True)
        if jet.faces == "rear"
    )
    assert duty.pull == pytest.approx(right["pull_n"], abs=1e-3 * rear)


def test_without_hose_the_nozzle_takes_all():
    rig = replace(SETUP, hoses=())
    duty = working_point(rig)
    pressure = water_at(288.15).density / 2 * (5e-4 / (6 * 0.75 * pi / 4 * 0.0011**2)) ** 2
    assert duty.state == "full flow"
    assert (duty.flow, duty.bypass, duty.hose_loss) == (5e-4, 0.0, 0.0)
    assert duty.gauge == duty.nozzle == pytest.approx(pressure)


def test_the_unloader_holds_the_gauge_at_the_lower_of_the_two_limits():
    # Half the pressure that full flow takes passes √½ of the flow.
    rig = replace(SETUP, hoses=())
    full = working_point(rig).gauge
    regulated = working_point(replace(rig, pump=Pump(5e-4, 20e6, unloader=full / 2)))
    assert regulated.state == "regulated"
    assert regulated.gauge == full / 2
    assert regulated.flow == pytest.approx(5e-4 * sqrt(0.5), rel=1e-13)
    assert regulated.bypass == pytest.approx(5e-4 * (1 - sqrt(0.5)))
    assert working_point(replace(rig, pump=Pump(5e-4, full / 2, unloader=20e6))) == regulated


def test_a_nozzle_below_the_pump_lowers_the_gauge_by_the_weight_of_the_water():
    level = working_point(SETUP)
    below = working_point(replace(SETUP, below_pump=10.0))
    assert below.nozzle == level.nozzle
    fall = water_at(288.15).density * GRAVITY * 10
    assert level.gauge - below.gauge == pytest.approx(fall)


def test_all_jets_plugged_sends_everything_to_the_tank():
    duty = working_point(replace(SETUP, jets=(Jet(0, 1e-6, 0.0),), below_pump=2.0))
    assert (duty.state, duty.flow, duty.bypass) == ("regulated", 0.0, 5e-4)
    assert (duty.gauge, duty.pull, duty.jet_power) == (20e6, 0.0, 0.0)
    assert duty.nozzle == pytest.approx(20e6 + water_at(288.15).density * GRAVITY * 2)
    assert duty.notes == ("all-jets-plugged",)


def test_each_hose_and_each_ring_of_jets_is_told():
    hoses = (*SETUP.hoses, Segment(0.0064, 5.0, 1e-6))
    jets = (*SETUP.jets, Jet(1, area_of_bore(0.001, 0.75), 0.0, "front"))
    duty = working_point(replace(SETUP, hoses=hoses, jets=jets))
    water = water_at(288.15)
    for hose, lost, number in zip(hoses, duty.segment_losses, duty.reynolds, strict=True):
        assert lost == pytest.approx(pressure_loss(hose, duty.flow, water))
        assert number == pytest.approx(reynolds_number(duty.flow, hose.bore, water))
    assert sum(duty.segment_losses) == pytest.approx(duty.hose_loss)
    assert sum(duty.jet_flows) == pytest.approx(duty.flow)
    # Areas are as 6 · 1.1² to 1 · 1.0².
    assert duty.jet_flows[0] / duty.jet_flows[1] == pytest.approx(6 * 1.21)


def test_hose_on_the_reel_past_the_published_range_is_told():
    # One inch at 60 gpm: Re = 4·Q/(π·d·ν) = 4 · 3.785e-3/(π · 0.0254 · 1.1386e-6) ≈ 167 000.
    big = Rig(
        288.15,
        Pump(3.785e-3, 20e6),
        (Segment(0.0254, 120.0, 1e-5, 60.0, 1.0),),
        (Jet(8, area_of_bore(0.0022, 0.8), 0.2),),
        0.97,
    )
    duty = working_point(big)
    assert duty.reynolds[0] == pytest.approx(167_000, rel=0.01)
    assert duty.notes == ("coil-beyond-published-range",)
    straight = replace(big, hoses=(Segment(0.0254, 120.0, 1e-5),))
    assert working_point(straight).notes == ()


# A long, thin hose with a small nozzle, cold water: flows slow enough for every regime.
SLOW_HOSE = Segment(bore=0.006, length=100.0, roughness=0.0)
SLOW_AREA = area_of_bore(0.0008, 0.7)


def slow_rig(limit, flow=2e-4):
    return Rig(278.15, Pump(flow, limit), (SLOW_HOSE,), (Jet(1, SLOW_AREA, 0.0),), 0.97)


def slow_flow(reynolds):
    water = water_at(278.15)
    return reynolds * pi * SLOW_HOSE.bore * water.viscosity / (4 * water.density)


def slow_demand(reynolds):
    water, flow = water_at(278.15), slow_flow(reynolds)
    return pressure_loss(SLOW_HOSE, flow, water) + water.density / 2 * (flow / SLOW_AREA) ** 2


def test_a_laminar_working_point_is_the_root_of_its_quadratic():
    # 128·μ·L·Q/(π·d⁴) + (ρ/2)·(Q/A)² = p, solved for Q by hand.
    water = water_at(278.15)
    limit = slow_demand(1500)
    b = 128 * water.viscosity * SLOW_HOSE.length / (pi * SLOW_HOSE.bore**4)
    a = water.density / 2 / SLOW_AREA**2
    duty = working_point(slow_rig(limit))
    assert duty.state == "regulated"
    assert duty.flow == pytest.approx((-b + sqrt(b * b + 4 * a * limit)) / (2 * a), rel=1e-12)
    assert duty.reynolds[0] == pytest.approx(1500)


def test_a_turbulent_working_point_just_above_the_gap_is_found():
    duty = working_point(slow_rig(slow_demand(4001)))
    assert duty.flow == pytest.approx(slow_flow(4001), rel=1e-12)


@pytest.mark.parametrize("share", [0.01, 0.5, 0.99])
def test_a_working_point_in_the_gap_is_refused(share):
    below, above = slow_demand(2039.99), slow_demand(4000.01)
    with pytest.raises(OutOfRange) as refused:
        working_point(slow_rig(below + share * (above - below)))
    assert str(refused.value) == (
        "hose 1 would run between calm and broken flow (Re 2040 to 4000), "
        "where no friction formula holds"
    )


def test_full_flow_in_the_gap_is_refused():
    with pytest.raises(OutOfRange, match="hose 1 would run between calm and broken flow"):
        working_point(slow_rig(20e6, slow_flow(3000)))


def test_a_rated_flow_in_the_gap_does_not_hide_an_answer_below_it():
    duty = working_point(slow_rig(slow_demand(1500), slow_flow(3000)))
    assert duty.flow == pytest.approx(slow_flow(1500), rel=1e-12)


def test_the_hose_in_the_gap_is_named():
    # The wide hose is in the gap where the narrow one before it is not: Re goes with 1/bore.
    wide = Segment(bore=0.012, length=10.0, roughness=0.0)
    rig = replace(slow_rig(20e6, slow_flow(6000)), hoses=(SLOW_HOSE, wide))
    with pytest.raises(OutOfRange, match="hose 2 would run between calm and broken flow"):
        working_point(rig)


def coiled_rig(flow, limit):
    hose = Segment(0.0254, 100.0, 1e-5, 100.0, 1.0)
    return Rig(288.15, Pump(flow, limit), (hose,), (Jet(8, area_of_bore(0.003, 0.8), 0.2),), 0.97)


def test_a_coil_beyond_every_range_is_refused_but_not_an_answer_below():
    # At 300 000 the coil has no number; the unloader may still keep the flow under 250 000.
    flow = 300_000 * pi * 0.0254 * water_at(288.15).viscosity / (4 * water_at(288.15).density)
    with pytest.raises(OutOfRange, match="too fast on the reel"):
        working_point(coiled_rig(flow, 50e6))
    duty = working_point(coiled_rig(flow, 2e6))
    assert duty.state == "regulated"
    assert duty.reynolds[0] < 250_000
    assert duty.hose_loss + duty.nozzle == pytest.approx(2e6)


def test_a_coil_a_hair_beyond_its_range_is_told_as_such():
    water = water_at(288.15)
    flow = 250_000 * (1 + 1e-10) * pi * 0.0254 * water.viscosity / (4 * water.density)
    with pytest.raises(OutOfRange, match="hose 1 would run too fast on the reel"):
        working_point(coiled_rig(flow, 50e6))


def test_a_coil_below_its_range_is_refused():
    with pytest.raises(OutOfRange) as refused:
        working_point(coiled_rig(2e-3, 2e3))
    assert str(refused.value) == (
        "hose 1 would run too slowly on the reel (below Re 10,000), where no coil formula holds"
    )


def test_a_pressure_inside_schmidt_s_step_still_has_a_flow():
    # At Re 22 000 the coil's two formulas differ by about 1 %: no flow takes a pressure between.
    hose = Segment(0.0095, 60.0, 0.0, 60.0, 0.5)
    water = water_at(288.15)
    flow = 22_000 * pi * hose.bore * water.viscosity / (4 * water.density)
    area = area_of_bore(0.003, 0.8)
    nozzle = water.density / 2 * (flow / area) ** 2
    low = pressure_loss(hose, flow * (1 - 1e-9), water)
    high = pressure_loss(hose, flow * (1 + 1e-9), water)
    assert high > 1.001 * low
    limit = nozzle + (low + high) / 2
    duty = working_point(Rig(288.15, Pump(5e-4, limit), (hose,), (Jet(1, area, 0.0),), 1.0))
    assert duty.flow == pytest.approx(flow, rel=1e-9)
    assert duty.gauge == limit
    assert duty.hose_loss + duty.nozzle == pytest.approx(limit, rel=1e-15)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            {"pump": Pump(5e-4, 1e5), "below_pump": -20.0},
            "the pump cannot lift water to the nozzle: its pressure is too low",
        ),
        (
            {"jets": (Jet(1, 1e-4, 0.0),), "hoses": (), "below_pump": 50.0},
            "the nozzle lies so far below the pump that the water runs by its own weight",
        ),
        (
            {"water_temperature": 360.0},
            "water temperature [K] must be from 274.15 to 353.15, not 360",
        ),
    ],
)
def test_a_rig_without_an_answer_is_refused(change, sentence):
    with pytest.raises(OutOfRange) as refused:
        working_point(replace(SETUP, **change))
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: Pump(0.0, 1e7), "flow of the pump [m³/s] must be more than 0, not 0"),
        (lambda: Pump(1e-3, -1.0), "rated pressure of the pump [Pa] must be more than 0, not -1"),
        (lambda: Pump(1e-3, 1e7, 0.0), "setting of the unloader [Pa] must be more than 0, not 0"),
        (
            lambda: replace(SETUP, velocity_coefficient=1.2),
            "velocity coefficient [-] must be from 0 to 1, not 1.2",
        ),
    ],
)
def test_what_no_rig_can_be_is_refused(make, sentence):
    with pytest.raises(OutOfRange) as refused:
        make()
    assert str(refused.value) == sentence


def pull_of(*jets):
    """Return the pull of a bare nozzle at 10 MPa."""
    return working_point(Rig(288.15, Pump(1.0, 10e6), (), jets, 0.97)).pull


def test_front_jets_push_back_against_the_rear_ones():
    area = area_of_bore(0.001, 0.9)
    ahead = Jet(1, area, 0.0, "front")
    # Each jet: ρ·Q·v = ρ·Cd·A·√(2p/ρ)·Cv·√(2p/ρ) = 2·Cv·p·Cd·A; 4·cos 60° − 1 = 1.
    one = 2 * 0.97 * 10e6 * 0.9 * pi / 4 * 0.001**2
    assert pull_of(Jet(4, area, radians(60)), ahead) == pytest.approx(one)
    assert pull_of(ahead) == pytest.approx(-one)


def test_pull_counts_the_cosine_from_the_hose_axis():
    share = pull_of(Jet(6, 1e-6, radians(20))) / pull_of(Jet(6, 1e-6, 0.0))
    assert share == pytest.approx(cos(radians(20)))
