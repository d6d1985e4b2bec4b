from math import pi

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.plunger import (
    displacement_flow,
    pulsed_flow,
    throttled_flow,
    throttled_pressure,
)


def test_a_triplex_delivers_its_swept_volume_times_its_efficiency():
    # 20 mm plungers, 24 mm stroke, 3 of them, 1450 rpm: π/4·0.02²·0.024·3·24.17 = 0.547 L/s.
    flow = displacement_flow(0.020, 0.024, 3, 1450 / 60, 1.0)
    assert flow == pytest.approx(pi / 4 * 4e-4 * 0.072 * 1450 / 60)
    assert flow == pytest.approx(0.547e-3, rel=1e-3)
    assert displacement_flow(0.020, 0.024, 3, 1450 / 60, 0.9) == pytest.approx(0.9 * flow)


@pytest.mark.parametrize(("plungers", "share"), [(3, 2 / 3), (5, 4 / 5), (2, 1 / 2)])
def test_one_idle_plunger_takes_its_share(plungers, share):
    assert pulsed_flow(1e-3, plungers) == pytest.approx(share * 1e-3)


def test_half_speed_is_half_the_flow_and_a_quarter_of_the_pressure():
    assert throttled_flow(1e-3, 1700, 3400) == pytest.approx(0.5e-3)
    assert throttled_pressure(20e6, 1700, 3400) == pytest.approx(5e6)


@pytest.mark.parametrize(
    ("attempt", "sentence"),
    [
        (lambda: pulsed_flow(1e-3, 1), "plungers of the pump must be from 2 to 7, not 1"),
        (
            lambda: throttled_flow(1e-3, 3800, 3400),
            "speed of the pump over its rated speed [-] must be from 0 to 1.1, not 1.11765",
        ),
        (
            lambda: displacement_flow(0.02, 0.024, 3, 0.0),
            "speed of the pump must be more than 0, not 0",
        ),
    ],
)
def test_what_no_pump_does_is_refused(attempt, sentence):
    with pytest.raises(OutOfRange) as refused:
        attempt()
    assert str(refused.value) == sentence
