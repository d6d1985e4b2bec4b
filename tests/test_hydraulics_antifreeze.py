import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Segment
from refgen.hydraulics.antifreeze import (
    antifreeze_to_fill,
    freezing_point,
    hose_contents,
    mixed_strength,
    strength_for,
)
from refgen.units import FOOT, INCH, US_GALLON


@pytest.mark.parametrize(
    ("percent", "fahrenheit"),
    # The same handbook table gives Fahrenheit in a column of its own.
    [(5, 30), (10, 28), (15, 25), (20, 20), (25, 16), (30, 9), (35, 3), (40, -5), (45, -16)],
)
def test_freezing_point_agrees_with_the_fahrenheit_column(percent, fahrenheit):
    kelvin = freezing_point(percent / 100)
    assert kelvin * 1.8 - 459.67 == pytest.approx(fahrenheit, abs=0.6)


@pytest.mark.parametrize(("percent", "celsius"), [(30, -13), (40, -21), (50, -33)])
def test_freezing_point_agrees_with_trade_figures(percent, celsius):
    assert freezing_point(percent / 100) - 273.15 == pytest.approx(celsius, abs=0.5)


def test_between_two_points_the_line_is_straight():
    # 32 %: −12.8 + 2/5 · (−16.1 + 12.8) = −14.12 °C
    assert freezing_point(0.32) - 273.15 == pytest.approx(-14.12)
    assert freezing_point(0.0) == 273.15


@pytest.mark.parametrize("strength", [0.0, 0.12, 0.30, 0.477, 0.50])
def test_strength_undoes_freezing_point(strength):
    assert strength_for(freezing_point(strength)) == pytest.approx(strength)


def test_water_left_behind_thins_the_antifreeze():
    assert mixed_strength(10, 0.5, 10) == pytest.approx(0.25)
    assert mixed_strength(10, 0.5, 0) == 0.5


def test_a_hose_holds_4_08_d_squared_gallons_in_100_feet():
    hose = Segment(0.5 * INCH, 100 * FOOT, 0.0)
    assert hose_contents([hose]) / US_GALLON == pytest.approx(4.08 * 0.25, rel=1e-3)
    assert antifreeze_to_fill([hose, hose], 0.002) == pytest.approx(
        2 * hose_contents([hose]) + 0.002
    )


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: freezing_point(0.51),
        lambda: freezing_point(-0.1),
        lambda: strength_for(230.0),
        lambda: strength_for(280.0),
        lambda: mixed_strength(0.0, 0.5, 1.0),
        lambda: mixed_strength(1.0, 1.5, 1.0),
        lambda: antifreeze_to_fill([], -1.0),
    ],
)
def test_outside_the_table_there_is_no_number(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
