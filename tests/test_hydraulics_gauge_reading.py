"""What one reading of the gauge tells of the jets, by sums of their own."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, area_of_bore, working_point
from refgen.hydraulics.gauge_reading import share_by_gauge
from refgen.hydraulics.hose import pressure_loss
from refgen.hydraulics.orifice import area_for
from refgen.hydraulics.water import water_at

WATER = water_at(288.15)
# Jets that take 5e-4 m³/s at 10 MPa.
BARE = Rig(288.15, Pump(5e-4, 25e6), (), (Jet(1, area_for(5e-4, 10e6, WATER.density), 0.0),), 1.0)
HOSE = Segment(0.0127, 60.0, 1.5e-6)


@pytest.mark.parametrize(("gauge", "share"), [(10e6, 1.0), (12.1e6, 1 / 1.1), (8.1e6, 1 / 0.9)])
def test_area_goes_with_one_over_the_root_of_the_pressure(gauge, share):
    assert share_by_gauge(BARE, gauge) == pytest.approx(share, rel=1e-12)


def test_hose_and_height_are_taken_off_the_gauge():
    rig = replace(BARE, hoses=(HOSE, HOSE), below_pump=20.0)
    lost = 2 * pressure_loss(HOSE, 5e-4, WATER)
    height = WATER.density * 9.80665 * 20
    assert share_by_gauge(rig, 10e6 + lost - height) == pytest.approx(1.0, rel=1e-12)


def test_the_working_point_then_stands_where_the_gauge_did():
    rig = replace(BARE, hoses=(HOSE,))
    share = share_by_gauge(rig, 11e6)
    jets = tuple(replace(jet, flow_area=jet.flow_area * share) for jet in rig.jets)
    assert working_point(replace(rig, jets=jets)).gauge == pytest.approx(11e6, rel=1e-9)


def test_a_measured_flow_goes_before_the_plates():
    assert share_by_gauge(BARE, 10e6, 4.5e-4) == pytest.approx(0.9, rel=1e-12)


def test_a_quarter_off_is_believed_and_no_more():
    # The area goes with 1/√p: 0.75 and 1.25 of it at 10/0.75² and 10/1.25² MPa.
    low, high = 10e6 / 0.75**2, 10e6 / 1.25**2
    assert share_by_gauge(BARE, low * 0.999) == pytest.approx(0.75, rel=1e-3)
    assert share_by_gauge(BARE, high * 1.001) == pytest.approx(1.25, rel=1e-3)
    with pytest.raises(OutOfRange, match=r"such jets cannot be believed .*; a jet is plugged"):
        share_by_gauge(BARE, low * 1.001)
    with pytest.raises(OutOfRange, match=r"such jets cannot be believed .*; a jet is worn"):
        share_by_gauge(BARE, high * 0.999)


@pytest.mark.parametrize(("coefficient", "share"), [(0.55, 0.5 / 0.55), (0.9, 1 / 0.9)])
def test_a_coefficient_outside_a_half_and_one_is_not_believed(coefficient, share):
    near, away = (0.999, 1.001) if share < 1 else (1.001, 0.999)
    at = 10e6 / share**2
    assert share_by_gauge(BARE, at * near, None, coefficient) == pytest.approx(share, rel=1e-3)
    with pytest.raises(OutOfRange, match=f"a discharge coefficient of {coefficient * share:.2f} "):
        share_by_gauge(BARE, at * away, None, coefficient)


def test_the_ends_of_what_can_be_believed_belong_to_it():
    # As told, the share is 1; a flow measured a quarter higher or lower makes it 1.25 or 0.75.
    assert share_by_gauge(BARE, 10e6, None, 0.5) == share_by_gauge(BARE, 10e6, None, 1.0) == 1.0
    assert share_by_gauge(BARE, 10e6, 6.25e-4) == 1.25
    assert share_by_gauge(BARE, 10e6, 3.75e-4) == 0.75
    with pytest.raises(OutOfRange, match=r"of 0.45 cannot be believed \(100% .*; a jet is plugged"):
        share_by_gauge(BARE, 10e6, None, 0.45)


def test_a_gauge_at_the_limit_tells_nothing_unless_the_flow_is_measured():
    # 2.5 % under 25 MPa: the unloader may be open.
    small = replace(BARE, jets=(Jet(1, area_for(5e-4, 24.5e6, WATER.density), 0.0),))
    with pytest.raises(OutOfRange, match="part of the flow goes back unseen"):
        share_by_gauge(small, 25e6 * (1 - 0.025))
    assert share_by_gauge(small, 0.9749 * 25e6) == pytest.approx(sqrt(24.5 / 24.3725), rel=1e-9)
    assert share_by_gauge(small, 24.5e6, 5e-4) == pytest.approx(1.0, rel=1e-12)


def test_a_hose_that_would_take_it_all_is_told():
    thin = replace(BARE, hoses=(Segment(0.006, 100.0, 1.5e-6),))
    with pytest.raises(OutOfRange, match="the hose alone would take more"):
        share_by_gauge(thin, 5e6)
    # 900 m of water weigh 8.8 MPa.
    with pytest.raises(OutOfRange, match="the hose alone would take more"):
        share_by_gauge(replace(BARE, below_pump=-900.0), 8.7e6)


def test_what_cannot_be_a_reading_is_refused():
    for gauge, flow in ((0.0, None), (10e6, 0.0), (float("nan"), None)):
        with pytest.raises(OutOfRange, match="must be more than 0"):
            share_by_gauge(BARE, gauge, flow)
    plugged = replace(BARE, jets=(Jet(0, area_of_bore(0.001, 0.75), 0.0),))
    with pytest.raises(OutOfRange, match="flow area of the jets"):
        share_by_gauge(plugged, 10e6)
