from math import pi

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Segment
from refgen.hydraulics.hose import pressure_loss
from refgen.hydraulics.suction import (
    air_pressure,
    head_left,
    loss_head,
    suction_head,
    vapour_pressure,
)
from refgen.hydraulics.water import water_at


def test_loss_as_head_is_pressure_over_weight():
    hose, water, flow = Segment(0.019, 3.0, 1e-5), water_at(288.15), 5e-4
    metres = pressure_loss(hose, flow, water) / (999.1 * 9.80665)
    assert loss_head(hose, flow, water) == pytest.approx(metres, rel=1e-5)
    # Two velocity heads on top: v = 1.7634 m/s, v²/g = 0.3171 m.
    speed = flow / (pi / 4 * 0.019**2)
    assert loss_head(hose, flow, water, 2.0) == pytest.approx(metres + speed**2 / 9.80665, rel=1e-5)


def test_head_left_can_be_less_than_nothing():
    assert head_left(0.6, 1.5) == pytest.approx(-0.9)


@pytest.mark.parametrize(
    ("celsius", "pascals"),
    # IAPWS steam tables.
    [(5, 872.6), (20, 2339.3), (40, 7384.9), (60, 19946), (80, 47414)],
)
def test_vapour_pressure_agrees_with_steam_tables(celsius, pascals):
    assert vapour_pressure(celsius + 273.15) == pytest.approx(pascals, rel=3e-4)


@pytest.mark.parametrize(
    ("metres", "pascals"),
    # ISO 2533:1975.
    [(0, 101_325), (1000, 89_875), (2000, 79_495), (3000, 70_109)],
)
def test_air_pressure_follows_the_standard_atmosphere(metres, pascals):
    assert air_pressure(metres) == pytest.approx(pascals, rel=2e-4)


def test_suction_head_by_hand():
    # Sea level, 20 °C: (101 325 − 2339)/(998.2 · 9.80665) = 10.112 m; + 0.5 − 1.2.
    assert suction_head(0.5, 1.2, 293.15) == pytest.approx(10.112 - 0.7, abs=2e-3)
    # Hot water starves the pump: at 60 °C 2 m less.
    assert suction_head(0.5, 1.2, 333.15) == pytest.approx(
        (101_325 - 19_946) / (983.2 * 9.80665) - 0.7, abs=2e-3
    )


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: head_left(-20.0, 1.0),
        lambda: head_left(1.0, -1.0),
        lambda: vapour_pressure(373.15),
        lambda: air_pressure(4000.0),
        lambda: loss_head(Segment(0.019, 3.0, 0.0), 5e-4, water_at(288.15), -1.0),
    ],
)
def test_what_no_suction_does_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
