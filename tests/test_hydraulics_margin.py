from dataclasses import replace
from math import hypot, pi, radians

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import (
    CALIBRATED,
    Jet,
    Pump,
    Reading,
    Rig,
    Segment,
    Variations,
    area_of_bore,
    area_of_number,
    margins,
    working_point,
)
from tests.rigs import EXACT

BARE = Rig(288.15, Pump(5e-4, 50e6), (), (Jet(6, area_of_bore(0.0011, 0.75), radians(20)),), 0.97)


def test_two_inputs_of_a_bare_nozzle_by_hand():
    # Full flow, no hose: p = ρ/2·(Q/CdA)². Cd ±10 % makes it 1/1.1² and 1/0.9² of itself,
    # the pump's flow ±5 % makes it 0.95² and 1.05²: −17.36 % and +23.46 %, −9.75 % and +10.25 %.
    by = replace(EXACT, discharge_coefficient=0.10, pump_flow=0.05)
    pressure = working_point(BARE).nozzle
    found = margins(BARE, by)
    assert found.nozzle.lower == pytest.approx(pressure * hypot(1 - 1 / 1.21, 1 - 0.95**2))
    assert found.nozzle.upper == pytest.approx(pressure * hypot(1 / 0.81 - 1, 1.05**2 - 1))
    assert found.nozzle.cause == "discharge-coefficient"
    # The flow is the pump's alone.
    assert found.flow.lower == pytest.approx(0.05 * 5e-4)
    assert found.flow.upper == pytest.approx(0.05 * 5e-4)
    assert found.flow.cause == "pump-flow"
    # v goes with √p, so with 1/Cd and with Q.
    speed = working_point(BARE).jet_velocity
    assert found.jet_velocity.upper == pytest.approx(speed * hypot(1 / 0.9 - 1, 0.05))


def test_a_rig_that_starts_to_regulate_is_followed_across_the_bend():
    # Set 5 % above the pressure of full flow: with Cd 10 % lower, full flow would take 23 %
    # more, so the gauge stops at the limit and the flow falls to 0.9·√1.05 of the pump's.
    limit = 1.05 * working_point(BARE).gauge
    rig = replace(BARE, pump=Pump(5e-4, limit))
    found = margins(rig, replace(EXACT, discharge_coefficient=0.10))
    assert found.gauge.upper == pytest.approx(limit / 1.05 * 0.05)
    assert found.flow.lower == pytest.approx(5e-4 * (1 - 0.9 * 1.05**0.5))
    assert found.bypass.upper == pytest.approx(found.flow.lower)
    assert found.flow.upper == 0.0


def test_roughness_and_couplings_move_the_laminar_loss_as_they_should():
    # Laminar: roughness has no part; loss = 128·μ·L·Q/(π·d⁴) goes with length and bore⁻⁴.
    rig = Rig(278.15, Pump(9e-6, 5e6), (Segment(0.006, 50.0, 1e-6),), (Jet(1, 1e-6, 0.0),), 1.0)
    lost = working_point(rig).hose_loss
    found = margins(rig, replace(EXACT, roughest=2e-5, couplings=0.15, hose_bore=0.02))
    assert found.hose_loss.upper == pytest.approx(lost * hypot(0.15, 0.98**-4 - 1))
    assert found.hose_loss.lower == pytest.approx(lost * (1 - 1.02**-4))
    assert found.hose_loss.cause == "couplings"


def test_the_coil_alone_moves_what_the_coil_adds():
    hose = Segment(0.0095, 60.0, 0.0, 60.0, 0.6)
    rig = replace(BARE, hoses=(hose,))
    lost = working_point(rig).hose_loss
    straight = working_point(replace(rig, hoses=(Segment(0.0095, 60.0, 0.0),))).hose_loss
    found = margins(rig, replace(EXACT, coil=0.15))
    assert found.hose_loss.upper == pytest.approx(0.15 * (lost - straight))
    assert found.hose_loss.lower == pytest.approx(0.15 * (lost - straight))
    assert found.hose_loss.cause == "coil"


def test_nothing_varied_gives_no_margin_and_no_cause():
    found = margins(BARE, EXACT)
    assert (found.pull.lower, found.pull.upper, found.pull.cause) == (0.0, 0.0, "")
    assert found.left_out == ()


def test_a_calibrated_nozzle_is_not_blamed():
    numbered = replace(BARE, jets=(Jet(1, area_of_number(8.0), 0.0, by_number=True),))
    for rig in (BARE, numbered):
        causes = {margins(rig, CALIBRATED).nozzle.cause, margins(rig, CALIBRATED).pull.cause}
        assert causes <= {"pump-flow", "velocity-coefficient", "pressure-limit"}


LAMINAR = Rig(278.15, Pump(9e-6, 5e6), (Segment(0.006, 50.0, 1e-6),), (Jet(1, 1e-6, 0.0),), 1.0)


def read_on(rig: Rig, error: float = 0.0, flow: float | None = None) -> tuple[Rig, Reading]:
    """Return a rig whose jets are sized by a gauge that shows its own working point."""
    return rig, Reading(rig, working_point(rig).gauge, error, flow)


def test_what_the_hose_really_takes_goes_into_the_nozzle_and_not_into_a_gauge_that_was_read():
    # Laminar: the loss goes with bore⁻⁴ and with the flow. The gauge was seen where it stands, so
    # whatever the hose takes more is missing at the nozzle, and the other way round.
    rig, reading = read_on(LAMINAR)
    lost = working_point(rig).hose_loss
    found = margins(rig, replace(EXACT, hose_bore=0.02, pump_flow=0.05), reading)
    less, more = lost * (1 - 1.02**-4), lost * (0.98**-4 - 1)
    assert found.gauge.upper == pytest.approx(0, abs=1e-6 * lost)
    assert found.nozzle.upper == pytest.approx(hypot(less, 0.05 * lost))
    assert found.nozzle.lower == pytest.approx(hypot(more, 0.05 * lost))
    assert found.nozzle.cause == "hose-bore"
    assert found.flow.upper == pytest.approx(0.05 * 9e-6)


def test_what_a_gauge_that_was_read_is_off_is_off_at_the_nozzle_too():
    rig, reading = read_on(LAMINAR, error=1e4)
    found = margins(rig, EXACT, reading)
    for margin in (found.gauge, found.nozzle):
        assert (margin.lower, margin.upper) == pytest.approx((1e4, 1e4))
        assert margin.cause == "pressure-limit"


def test_with_a_flow_that_was_measured_the_pump_may_give_more_another_day():
    # The jets are then known apart from the pump: 5 % more flow is 10.25 % more at the nozzle.
    rig, reading = read_on(BARE, flow=BARE.pump.flow)
    found = margins(rig, replace(EXACT, pump_flow=0.05), reading)
    assert found.nozzle.upper == pytest.approx(0.1025 * working_point(rig).nozzle)
    rig, reading = read_on(BARE)
    found = margins(rig, replace(EXACT, pump_flow=0.05), reading)
    assert found.nozzle.upper == pytest.approx(0, abs=1)


def test_the_water_of_the_day_was_not_read():
    rig, reading = read_on(LAMINAR)
    by = replace(EXACT, water_temperature=10.0)
    assert margins(rig, by, reading).hose_loss == margins(rig, by).hose_loss


def test_jets_that_were_read_are_not_blamed():
    rig, reading = read_on(BARE, error=1e5)
    found = margins(rig, reading=reading)
    assert found.nozzle.cause == "pressure-limit"
    assert found.nozzle.upper < 0.5 * margins(rig).nozzle.upper


def test_jets_by_number_and_by_bore_have_widths_of_their_own():
    numbered = replace(BARE, jets=(Jet(1, area_of_number(8.0), 0.0, by_number=True),))
    bore_only = replace(EXACT, discharge_coefficient=0.1)
    assert margins(numbered, bore_only).nozzle.cause == ""
    number_only = replace(EXACT, trade_number=0.05)
    assert margins(BARE, number_only).nozzle.cause == ""
    pressure = working_point(numbered).nozzle
    assert margins(numbered, number_only).nozzle.upper == pytest.approx(
        pressure * (1 / 0.95**2 - 1)
    )


def test_an_input_whose_swing_leaves_a_formula_is_told():
    # The flow sits at Re 4100; 5 % less would be in the gap between laminar and turbulent.
    viscosity_over_density = 1.5182e-6
    flow = 4100 * pi * 0.006 * viscosity_over_density / 4
    rig = Rig(278.15, Pump(flow, 50e6), (Segment(0.006, 5.0, 0.0),), (Jet(1, 1e-6, 0.0),), 1.0)
    found = margins(rig, replace(EXACT, pump_flow=0.05))
    assert found.left_out == ("pump-flow",)
    assert found.flow.upper == pytest.approx(0.05 * flow)


def test_a_hose_that_cannot_be_thinner_is_told_as_left_out():
    # 0.5 mm of roughness are a twentieth of 10 mm, the most there may be; 2 % less is too thin.
    rig = replace(BARE, hoses=(Segment(0.010, 20.0, 0.0005),))
    found = margins(rig, replace(EXACT, hose_bore=0.02, roughest=0.0005))
    assert found.left_out == ("hose-bore",)
    assert found.hose_loss.lower > 0


def test_water_is_never_varied_past_its_range():
    # 1 °C: ten degrees colder would be ice, so only the warm side counts.
    cold = replace(BARE, water_temperature=274.15)
    found = margins(cold, replace(EXACT, water_temperature=10.0))
    assert found.left_out == ()
    assert found.nozzle.cause == "water-temperature"


def test_a_rig_without_a_working_point_has_no_margin():
    with pytest.raises(OutOfRange, match="cannot lift"):
        margins(replace(BARE, below_pump=-900.0, pump=Pump(5e-4, 1e6)))


def test_a_variation_of_more_than_half_is_refused():
    with pytest.raises(OutOfRange, match=r"variation of an input \[-\] must be from 0 to 0.5"):
        Variations(coil=0.6)
