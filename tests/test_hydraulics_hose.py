from math import log10, pi, sqrt

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.hose import (
    Segment,
    coil_factor,
    friction_factor,
    pressure_loss,
    reynolds_number,
)
from refgen.hydraulics.resistance import loss, resistance
from refgen.hydraulics.water import Water, water_at
from refgen.units import FOOT, INCH, PSI, US_GALLON

GPM = US_GALLON / 60


@pytest.mark.parametrize("reynolds", [4e3, 2e4, 1e5, 1e7, 1e8])
@pytest.mark.parametrize("roughness", [0.0, 1e-5, 1e-3, 0.05])
def test_friction_factor_solves_the_colebrook_equation(reynolds, roughness):
    f = friction_factor(reynolds, roughness)
    colebrook = -2 * log10(roughness / 3.7 + 2.51 / (reynolds * sqrt(f)))
    assert 1 / sqrt(f) == pytest.approx(colebrook, rel=1e-13)


@pytest.mark.parametrize("reynolds", [1.0, 500.0, 2040.0])
def test_laminar_friction_is_64_over_reynolds(reynolds):
    assert friction_factor(reynolds, 1e-3) == pytest.approx(64 / reynolds)


@pytest.mark.parametrize("reynolds", [2041, 3000, 3999])
def test_no_number_is_given_where_no_formula_holds(reynolds):
    with pytest.raises(OutOfRange, match="lies between 2040 and 4000, where no friction formula"):
        friction_factor(reynolds, 1e-4)


@pytest.mark.parametrize(
    ("reynolds", "roughness", "sentence"),
    [
        (2e8, 0.0, "Reynolds number [-] must be from 0 to 1e+08, not 2e+08"),
        (1e5, 0.06, "relative roughness of a hose [-] must be from 0 to 0.05, not 0.06"),
        (0.0, 0.0, "Reynolds number [-] must be more than 0, not 0"),
        (float("nan"), 0.0, "Reynolds number [-]: not a number"),
    ],
)
def test_friction_factor_refuses_outside_its_range(reynolds, roughness, sentence):
    with pytest.raises(OutOfRange) as refused:
        friction_factor(reynolds, roughness)
    assert str(refused.value) == sentence


def test_coil_factor_below_22_000_by_hand():
    # d/D = 0.04, Re = 15 000: 1 + 28 800/15 000 · 0.04^0.62 = 1 + 1.92 · 0.135918
    assert coil_factor(15_000, 0.04) == pytest.approx(1.260963, abs=2e-6)


def test_coil_factor_above_22_000_by_hand():
    # d/D = 0.04, Re = 10^5: 1 + 0.0823 · 1.04 · 0.04^0.53 · 10^1.25
    #                      = 1 + 0.0823 · 1.04 · 0.181590 · 17.782794
    assert coil_factor(100_000, 0.04) == pytest.approx(1.276392, abs=2e-6)


def test_a_straight_hose_has_no_coil():
    assert coil_factor(50_000, 0.0) == 1.0


@pytest.mark.parametrize(("reynolds", "ratio"), [(9_999, 0.03), (250_001, 0.03), (1e5, 0.21)])
def test_coil_factor_refuses_outside_its_range(reynolds, ratio):
    with pytest.raises(OutOfRange, match=r"must be from"):
        coil_factor(reynolds, ratio)


# Straight loss in psi per 100 ft of smooth hose, water at 20 °C, worked out independently.
PUBLISHED_LOSSES = [
    (3 / 16, 3, 1150),
    (1 / 4, 4, 480),
    (3 / 8, 8, 235),
    (1 / 2, 18, 254),
    (5 / 8, 30, 218),
    (3 / 4, 40, 152),
    (1, 65, 91),
    (1.25, 100, 68),
]


@pytest.mark.parametrize(("bore", "gpm", "psi"), PUBLISHED_LOSSES)
def test_straight_loss_agrees_with_a_table_for_smooth_hose(bore, gpm, psi):
    segment = Segment(bore * INCH, 100 * FOOT, 1.5e-6)
    lost = pressure_loss(segment, gpm * GPM, water_at(293.15)) / PSI
    assert lost == pytest.approx(psi, rel=0.02)


def test_laminar_loss_is_hagen_poiseuille():
    oil = Water(density=900.0, viscosity=0.1)
    flow, bore, length = 1e-4, 0.012, 10.0
    lost = pressure_loss(Segment(bore, length, 0.0), flow, oil)
    assert lost == pytest.approx(128 * 0.1 * length * flow / (pi * bore**4))


def test_only_the_hose_on_the_reel_is_coiled():
    water = water_at(288.15)
    flow = 5e-4
    straight = pressure_loss(Segment(0.0127, 100.0, 1e-5), flow, water)
    quarter = pressure_loss(Segment(0.0127, 100.0, 1e-5, 25.0, 0.6), flow, water)
    factor = coil_factor(reynolds_number(flow, 0.0127, water), 0.0127 / 0.6)
    assert quarter == pytest.approx(straight * (0.75 + 0.25 * factor))


def test_no_flow_and_no_length_lose_nothing():
    water = water_at(288.15)
    assert pressure_loss(Segment(0.01, 50.0, 0.0), 0.0, water) == 0.0
    assert pressure_loss(Segment(0.01, 0.0, 0.0), 3e-5, water) == 0.0


@pytest.mark.parametrize("flow", [1e-5, 1e-4, 2.0e-4, 5e-4])
@pytest.mark.parametrize(
    "segment",
    [Segment(0.0095, 60.0, 1e-5), Segment(0.0095, 60.0, 1e-5, 40.0, 0.5)],
    ids=["straight", "coiled"],
)
def test_the_solver_s_loss_is_the_plain_one(segment, flow):
    water = water_at(288.15)
    if segment.on_reel and reynolds_number(flow, segment.bore, water) < 10_000:
        for refuse in (
            lambda: pressure_loss(segment, flow, water),
            lambda: loss(resistance(segment, water), flow),
        ):
            with pytest.raises(OutOfRange):
                refuse()
        return
    assert loss(resistance(segment, water), flow) == pytest.approx(
        pressure_loss(segment, flow, water), rel=1e-12
    )


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((0.0, 10.0, 0.0), "bore of a hose [m] must be more than 0, not 0"),
        ((0.01, -1.0, 0.0), "length of a hose [m] must be 0 or more, not -1"),
        ((0.01, 10.0, 1e-3), "roughness over bore of a hose [-] must be from 0 to 0.05, not 0.1"),
        ((0.01, 10.0, 0.0, 11.0, 0.5), "hose on the reel [m] must be from 0 to 10, not 11"),
        ((0.01, 10.0, 0.0, 5.0), "hose on the reel needs the diameter of the reel"),
        (
            (0.01, 10.0, 0.0, 5.0, 0.04),
            "bore over reel diameter [-] must be from 0 to 0.2, not 0.25",
        ),
    ],
)
def test_what_no_hose_can_be_is_refused(arguments, sentence):
    with pytest.raises(OutOfRange) as refused:
        Segment(*arguments)
    assert str(refused.value) == sentence
