import json
from math import sqrt
from pathlib import Path

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.orifice import (
    Jet,
    area_for,
    area_of_bore,
    area_of_number,
    bore_for_flow,
    flow_through,
    jet_speed,
    number_of_area,
    pressure_for,
    reaction,
    total_area,
)
from refgen.hydraulics.water import density
from refgen.units import FOOT, INCH, POUND_FORCE, PSI, US_GALLON

VECTORS = json.loads((Path(__file__).parent / "vectors" / "hydraulics.json").read_text("utf-8"))
GPM = US_GALLON / 60


@pytest.mark.parametrize("right", VECTORS["bore_for_flow"])
def test_bore_for_flow_agrees_with_an_independent_library(right):
    bore = bore_for_flow(
        right["flow_gpm"] * GPM,
        right["pressure_psi"] * PSI,
        right["count"],
        right["discharge_coefficient"],
        density(right["temperature_c"] + 273.15),
    )
    assert bore * 1000 == pytest.approx(right["bore_mm"], rel=1e-3)


@pytest.mark.parametrize(
    ("number", "psi", "gpm"),
    # By definition the number is the flow in US gpm at 4000 psi; flow goes with the root.
    [(4.0, 4000, 4.0), (9.0, 4000, 9.0), (9.2, 3000, 9.2 * sqrt(0.75)), (3.0, 1000, 1.5)],
)
def test_a_trade_number_is_its_flow_at_4000_psi(number, psi, gpm):
    flow = flow_through(area_of_number(number), psi * PSI, density(288.15))
    assert flow == pytest.approx(gpm * GPM, rel=1e-12)


def test_number_and_area_are_each_others_inverse():
    assert number_of_area(area_of_number(4.5)) == pytest.approx(4.5, rel=1e-14)


def test_flow_in_trade_units_is_the_handbook_formula():
    # Q [gpm] = 29.84·Cd·d²·√P, d in inches, P in psi (water at 62.4 lb/ft³).
    flow = flow_through(area_of_bore(0.047 * INCH, 0.75), 3000 * PSI, 999.55)
    assert flow / GPM == pytest.approx(29.84 * 0.75 * 0.047**2 * sqrt(3000), rel=1e-3)


def test_pressure_and_area_undo_flow():
    area = area_of_bore(0.0012, 0.8)
    flow = flow_through(area, 12e6, 998.0)
    assert pressure_for(flow, area, 998.0) == pytest.approx(12e6)
    assert area_for(flow, 12e6, 998.0) == pytest.approx(area)


@pytest.mark.parametrize(("psi", "speed"), [(75, 105.6), (3000, 667.6)])
def test_ideal_jet_speed(psi, speed):
    # v [ft/s] = √(2·32.174 ft/s²·2.31 ft/psi·P)
    assert jet_speed(psi * PSI, 998.2) / FOOT == pytest.approx(speed, rel=2e-3)


def test_reaction_in_trade_units_is_the_handbook_formula():
    # F [lbf] = 0.0526·Q·√P, Q in gpm, P in psi, ideal speed.
    force = reaction(18 * GPM, jet_speed(2500 * PSI, 998.2), 998.2)
    assert force / POUND_FORCE == pytest.approx(0.0526 * 18 * sqrt(2500), rel=2e-3)


def test_total_area_counts_every_hole():
    assert total_area([Jet(4, 2e-6, 0.3), Jet(1, 3e-6, 0.0, "front")]) == pytest.approx(11e-6)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: area_of_bore(0.0, 0.7), "bore of a jet [m] must be more than 0, not 0"),
        (
            lambda: area_of_bore(0.001, 1.1),
            "discharge coefficient [-] must be from 0 to 1, not 1.1",
        ),
        (lambda: area_of_number(-2.0), "trade number must be more than 0, not -2"),
        (lambda: Jet(-1, 1e-6, 0.0), "count of jets must be 0 or more, not -1"),
        (lambda: Jet(1, 1e-6, 2.0), "angle of a jet [rad] must be from 0 to 1.5708, not 2"),
        (lambda: bore_for_flow(1e-3, 1e7, 0, 0.7, 998.0), "count of jets must be 1 or more, not 0"),
        (
            lambda: flow_through(1e-6, -1.0, 998.0),
            "pressure across a jet [Pa] must be 0 or more, not -1",
        ),
    ],
)
def test_what_no_jet_can_be_is_refused(make, sentence):
    with pytest.raises(OutOfRange) as refused:
        make()
    assert str(refused.value) == sentence
