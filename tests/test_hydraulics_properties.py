"""What must hold for every rig, whatever its numbers."""

from dataclasses import replace
from math import isclose

import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, margins, working_point
from refgen.hydraulics.water import GRAVITY, water_at

few = settings(derandomize=True, max_examples=150, deadline=None)


def floats(low, high):
    return st.floats(low, high, allow_nan=False)


@st.composite
def segments(draw):
    bore = draw(floats(0.003, 0.033))
    length = draw(floats(0.5, 250.0))
    reel = draw(st.booleans())
    return Segment(
        bore,
        length,
        draw(floats(0.0, 5e-5)),
        draw(floats(0.0, 1.0)) * length if reel else 0.0,
        draw(floats(0.3, 1.5)) if reel else None,
    )


@st.composite
def rigs(draw):
    return Rig(
        water_temperature=draw(floats(274.15, 353.15)),
        pump=Pump(
            draw(floats(3e-5, 5e-3)),
            draw(floats(2e6, 40e6)),
            draw(st.none() | floats(2e6, 40e6)),
        ),
        hoses=tuple(draw(st.lists(segments(), max_size=3))),
        jets=tuple(
            draw(
                st.lists(
                    st.builds(
                        Jet,
                        count=st.integers(0, 10),
                        flow_area=floats(2e-7, 5e-6),
                        angle=floats(0.0, 1.5),
                        faces=st.sampled_from(["rear", "front"]),
                    ),
                    min_size=1,
                    max_size=3,
                )
            )
        ),
        velocity_coefficient=draw(floats(0.9, 1.0)),
        below_pump=draw(floats(-30.0, 30.0)),
    )


def duty_of(rig):
    """Return the duty, or skip a rig that the model refuses."""
    try:
        return working_point(rig)
    except OutOfRange:
        return reject()


@few
@given(rigs())
def test_energy_closes(rig):
    # What the pump puts in = hoses + jets + what the bypass throws away − what the fall gives.
    duty = duty_of(rig)
    fall = water_at(rig.water_temperature).density * GRAVITY * rig.below_pump
    taken = (
        duty.hose_loss * duty.flow + duty.jet_power + duty.gauge * duty.bypass - fall * duty.flow
    )
    assert duty.gauge * rig.pump.flow == pytest.approx(taken, rel=1e-9, abs=1e-6)


@few
@given(rigs())
def test_flows_add_up_and_nothing_passes_its_limit(rig):
    duty = duty_of(rig)
    assert 0 <= duty.flow <= rig.pump.flow
    assert duty.flow + duty.bypass == pytest.approx(rig.pump.flow)
    assert sum(duty.jet_flows) == pytest.approx(duty.flow)
    assert duty.gauge <= rig.pump.limit
    assert (duty.state == "full flow") is (duty.bypass == 0.0)
    assert sum(duty.segment_losses) == pytest.approx(duty.hose_loss, rel=0.02, abs=1.0)


@few
@given(rigs(), floats(1.01, 3.0))
def test_flow_never_rises_with_hose_length(rig, factor):
    assume(rig.hoses)
    first = rig.hoses[0]
    longer = replace(first, length=first.length * factor)
    before = duty_of(rig)
    after = duty_of(replace(rig, hoses=(longer, *rig.hoses[1:])))
    assert after.flow <= before.flow * (1 + 1e-9)
    assert after.nozzle <= before.nozzle * (1 + 1e-9)


@few
@given(rigs(), floats(1.01, 1.8))
def test_a_larger_bore_never_raises_the_gauge(rig, factor):
    assume(rig.hoses)
    first = replace(rig.hoses[0], on_reel=0.0, reel_diameter=None)
    wider = replace(first, bore=first.bore * factor)
    before = duty_of(replace(rig, hoses=(first, *rig.hoses[1:])))
    after = duty_of(replace(rig, hoses=(wider, *rig.hoses[1:])))
    assert after.gauge <= before.gauge * (1 + 1e-9)
    assert after.flow >= before.flow * (1 - 1e-9)


@few
@given(rigs())
def test_regulated_and_full_flow_meet_without_a_jump(rig):
    # Set the limit a hair above and a hair below the gauge that full flow takes.
    full = duty_of(replace(rig, pump=Pump(rig.pump.flow, 1e12)))
    assume(full.state == "full flow")
    assume(full.gauge > 1e4)
    head = full.hose_loss + full.nozzle - full.gauge
    assume(abs(head) < 0.5 * full.gauge)
    above = duty_of(replace(rig, pump=Pump(rig.pump.flow, full.gauge * (1 + 1e-7))))
    below = duty_of(replace(rig, pump=Pump(rig.pump.flow, full.gauge * (1 - 1e-7))))
    assert (above.state, below.state) == ("full flow", "regulated")
    assert isclose(above.flow, below.flow, rel_tol=1e-6)
    assert isclose(above.nozzle, below.nozzle, rel_tol=1e-6)
    assert isclose(above.gauge, below.gauge, rel_tol=1e-6)


@few
@given(rigs())
def test_the_answer_does_not_depend_on_how_the_rig_is_cut_up(rig):
    # Each hose as two halves, each ring of jets twice with half the area: the same rig.
    halves = tuple(
        replace(hose, length=hose.length / 2, on_reel=hose.on_reel / 2)
        for hose in rig.hoses
        for _ in range(2)
    )
    rings = tuple(replace(jet, flow_area=jet.flow_area / 2) for jet in rig.jets for _ in range(2))
    whole, cut = duty_of(rig), duty_of(replace(rig, hoses=halves, jets=rings))
    assert cut.state == whole.state
    for name in ("flow", "gauge", "nozzle", "pull", "jet_power"):
        assert getattr(cut, name) == pytest.approx(getattr(whole, name), rel=1e-9, abs=1e-9)
    assert cut.hose_loss == pytest.approx(whole.hose_loss, rel=1e-6, abs=1.0)


@few
@given(rigs())
def test_twice_the_flow_through_twice_the_holes_has_the_same_pressure(rig):
    # Without hose the pressure knows only flow over area: doubling both changes no pressure.
    small = replace(rig, hoses=())
    large = replace(
        small,
        pump=replace(rig.pump, flow=2 * rig.pump.flow),
        jets=tuple(replace(jet, count=2 * jet.count) for jet in rig.jets),
    )
    one, two = duty_of(small), duty_of(large)
    assert two.gauge == pytest.approx(one.gauge, rel=1e-12)
    assert two.flow == pytest.approx(2 * one.flow, rel=1e-12)
    assert two.pull == pytest.approx(2 * one.pull, rel=1e-12, abs=1e-9)


@settings(few, max_examples=40)
@given(rigs())
def test_margins_are_distances(rig):
    duty_of(rig)
    found = margins(rig)
    for name in ("flow", "gauge", "hose_loss", "nozzle", "bypass", "jet_velocity", "pull"):
        margin = getattr(found, name)
        assert margin.lower >= 0
        assert margin.upper >= 0
        assert bool(margin.cause) is (margin.lower > 0 or margin.upper > 0)
