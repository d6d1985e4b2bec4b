import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.belt import belt_speed, driven_sheave, driven_speed, driver_sheave


def test_speeds_go_inversely_with_the_sheaves():
    # 3600 rpm, 4 in on the engine, 10 in on the pump: 1440 rpm.
    assert driven_speed(3600, 0.1016, 0.254) == pytest.approx(1440)


def test_either_sheave_can_be_asked_for():
    assert driven_sheave(3600, 0.1016, 1440) == pytest.approx(0.254)
    assert driver_sheave(3600, 0.254, 1440) == pytest.approx(0.1016)


def test_belt_speed():
    # 6 in at 3600 rpm: π · 0.5 ft · 3600 = 5655 ft/min
    assert belt_speed(60.0, 0.1524) * 60 / 0.3048 == pytest.approx(5655, rel=1e-4)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: driven_speed(0.0, 0.1, 0.2),
        lambda: driven_sheave(3600, 0.1, 0.0),
        lambda: driver_sheave(3600, 0.0, 1440),
        lambda: belt_speed(60.0, -0.1),
    ],
)
def test_a_sheave_of_nothing_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be more than 0"):
        attempt()
