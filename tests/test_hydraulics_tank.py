import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.tank import (
    bucket_flow,
    length_per_tank,
    pass_time,
    pass_water,
    refill_time,
    run_time,
    shortfall,
)


def test_the_tank_is_divided_by_the_shortfall():
    # 100 L, 20 L/min out, 12 L/min in: 12.5 min; without supply 5 min.
    assert run_time(0.1, 20e-3 / 60, 12e-3 / 60) == pytest.approx(12.5 * 60)
    assert run_time(0.1, 20e-3 / 60) == pytest.approx(5 * 60)


def test_enough_supply_never_runs_dry():
    assert run_time(0.1, 3e-4, 3e-4) is None
    assert shortfall(3e-4, 5e-4) == 0.0


def test_refill_with_the_pump_off_and_on():
    assert refill_time(0.1, 10e-3 / 60) == pytest.approx(600)
    assert refill_time(0.1, 10e-3 / 60, 6e-3 / 60) == pytest.approx(1500)
    assert refill_time(0.1, 1e-4, 2e-4) is None


def test_a_bucket_tells_the_tap():
    # 20 L in 80 s: 0.25 L/s = 15 L/min
    assert bucket_flow(0.020, 80) * 60_000 == pytest.approx(15)


def test_a_pass_up_and_back():
    # 60 m up at 0.3 m/s and back at 0.15: 200 + 400 s; at 1 L/s 600 L, so 1200 L go 120 m.
    assert pass_time(60, 0.3, 0.15) == pytest.approx(600)
    assert pass_water(60, 0.3, 0.15, 1e-3) == pytest.approx(0.6)
    assert length_per_tank(1.2, 0.3, 0.15, 1e-3) == pytest.approx(120)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: run_time(-1.0, 1e-3),
        lambda: bucket_flow(0.02, 0.0),
        lambda: pass_time(10.0, 0.0, 0.1),
        lambda: length_per_tank(1.0, 0.3, 0.15, 0.0),
        lambda: shortfall(1e-3, -1e-3),
    ],
)
def test_what_no_tank_does_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
