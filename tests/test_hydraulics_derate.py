import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.derate import altitude_share, heat_share
from refgen.units import FOOT


@pytest.mark.parametrize(
    ("feet", "mild", "cautious"),
    # Power left, percent: 3 % per 1000 ft above 500 ft, and 3.5 % per 1000 ft.
    [
        (0, 100, 100),
        (500, 100, 98.25),
        (3000, 92.5, 89.5),
        (5000, 86.5, 82.5),
        (7000, 80.5, 75.5),
        (10000, 71.5, 65),
    ],
)
def test_both_altitude_rules(feet, mild, cautious):
    assert 100 * altitude_share(feet * FOOT, "mild") == pytest.approx(mild)
    assert 100 * altitude_share(feet * FOOT) == pytest.approx(cautious)


@pytest.mark.parametrize(
    ("metres", "ratio"),
    # ISO 2533:1975, density over that at sea level: 1.1117/1.2250 at 1000 m, 1.0066 at 2000 m,
    # 0.9093 at 3000 m.
    [(0, 1.0), (1000, 1.1117 / 1.2250), (2000, 1.0066 / 1.2250), (3000, 0.9093 / 1.2250)],
)
def test_air_density_follows_the_standard_atmosphere(metres, ratio):
    assert altitude_share(metres, "air density") == pytest.approx(ratio, rel=2e-4)


def fahrenheit(degrees):
    return (degrees + 459.67) / 1.8


@pytest.mark.parametrize(
    ("degrees", "fuel", "share"),
    [
        (60, "petrol", 1.0),
        (77, "petrol", 1.0),
        (97, "petrol", 0.98),
        (117, "petrol", 0.96),
        (85, "diesel", 1.0),
        (105, "diesel", 0.96),
    ],
)
def test_heat_costs_power(degrees, fuel, share):
    assert heat_share(fahrenheit(degrees), fuel) == pytest.approx(share, abs=1e-6)


@pytest.mark.parametrize(
    "attempt",
    [lambda: altitude_share(-100.0), lambda: altitude_share(3100.0), lambda: heat_share(340.0)],
)
def test_no_rule_is_stretched(attempt):
    with pytest.raises(OutOfRange, match="must be from"):
        attempt()
