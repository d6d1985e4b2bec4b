import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.stored_water import (
    head_pressure,
    load_left,
    pipe_volume,
    push_on_cap,
    time_to_back_up,
    water_mass,
)
from refgen.units import FOOT, INCH, POUND, POUND_FORCE, PSI, US_GALLON


def test_a_foot_of_water_is_0_433_psi():
    assert head_pressure(FOOT) / PSI == pytest.approx(0.4335, abs=1e-3)


@pytest.mark.parametrize(
    ("bore", "feet", "pounds"),
    # 0.4335 psi/ft times the area of the cap: 12.57 in² for 4 in, 7.07 for 3, 28.27 for 6.
    [(4, 1, 5.45), (3, 1, 3.06), (6, 1, 12.26), (4, 10, 54.5), (4, 40, 218)],
)
def test_push_on_a_cap(bore, feet, pounds):
    push = push_on_cap(feet * FOOT, bore * INCH) / POUND_FORCE
    assert push == pytest.approx(pounds, rel=3e-3)


def test_a_plug_in_a_culvert_under_a_pond():
    # 2 ft culvert, middle 3 ft under the pond: 62.4 lb/ft³ · 3 ft · π ft² = 588 lbf.
    assert push_on_cap(3 * FOOT, 2 * FOOT) / POUND_FORCE == pytest.approx(588, rel=2e-3)


@pytest.mark.parametrize(
    ("bore", "gallons"),
    # Gallons in 100 ft: 4.08·d², d in inches.
    [(2, 16.32), (4, 65.3), (6, 146.9), (12, 587.5)],
)
def test_what_100_feet_of_pipe_hold(bore, gallons):
    assert pipe_volume(bore * INCH, 100 * FOOT) / US_GALLON == pytest.approx(gallons, rel=1e-3)


def test_ten_gallons_a_minute_fill_100_feet_of_4_inch_in_six_and_a_half_minutes():
    gpm = US_GALLON / 60
    full = time_to_back_up(10 * gpm, 4 * INCH, 100 * FOOT)
    assert full / 60 == pytest.approx(6.53, abs=0.01)
    assert time_to_back_up(10 * gpm, 4 * INCH, 100 * FOOT, 0.5) == pytest.approx(full / 2)


def test_100_gallons_weigh_834_pounds():
    assert water_mass(100 * US_GALLON, 999.0) / POUND == pytest.approx(834, rel=1e-3)


def test_a_full_tank_can_overload_a_trailer():
    # 1500 kg on the plate, 900 empty, 50 of tools: 550 kg for water.
    assert load_left(1500, 900, 0.5, 50) == pytest.approx(50)
    assert load_left(1500, 900, 0.6, 50) == pytest.approx(-50)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: head_pressure(-1.0),
        lambda: push_on_cap(1.0, 0.0),
        lambda: time_to_back_up(0.0, 0.1, 10.0),
        lambda: time_to_back_up(1e-3, 0.1, 10.0, 1.2),
        lambda: water_mass(-1.0),
    ],
)
def test_what_cannot_stand_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
