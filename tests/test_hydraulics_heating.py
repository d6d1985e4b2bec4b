import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.heating import heating_rate, time_to_warm
from refgen.units import US_GALLON

HORSEPOWER = 745.6998715822702


@pytest.mark.parametrize(
    ("horsepower", "gallons", "fahrenheit_a_minute"),
    # 42.4 Btu/min for each hp, into 8.34 lb for each gallon: ΔT = 42.4·hp/(8.34·gal).
    [
        (20, 100, 42.4 * 20 / 834),
        (20, 5, 42.4 * 20 / (8.34 * 5)),
        (10, 2, 42.4 * 10 / (8.34 * 2)),
    ],
)
def test_bypass_heat_in_trade_units(horsepower, gallons, fahrenheit_a_minute):
    rate = heating_rate(horsepower * HORSEPOWER, gallons * US_GALLON) * 60 * 1.8
    assert rate == pytest.approx(fahrenheit_a_minute, rel=5e-3)


def test_time_to_the_thermal_valve():
    # 10 kW into 10 L from 15 to 60 °C: 10 · 4.186 · 45/10 = 188 s.
    assert time_to_warm(10e3, 0.010, 288.15, 333.15) == pytest.approx(188.4, abs=0.1)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: heating_rate(-1.0, 1.0),
        lambda: heating_rate(1.0, 0.0),
        lambda: time_to_warm(0.0, 0.01, 288.15, 333.15),
        lambda: time_to_warm(1e4, 0.01, 333.15, 288.15),
        lambda: time_to_warm(1e4, 0.01, 288.15, 373.15),
    ],
)
def test_what_no_loop_does_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
