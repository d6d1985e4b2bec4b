import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.plunger import pulsed_flow, throttled_flow


@pytest.mark.parametrize(("plungers", "share"), [(3, 2 / 3), (5, 4 / 5), (2, 1 / 2)])
def test_one_idle_plunger_takes_its_share(plungers, share):
    assert pulsed_flow(1e-3, plungers) == pytest.approx(share * 1e-3)


def test_half_speed_is_half_the_flow():
    assert throttled_flow(1e-3, 1700, 3400) == pytest.approx(0.5e-3)


@pytest.mark.parametrize(
    ("attempt", "sentence"),
    [
        (lambda: pulsed_flow(1e-3, 1), "plungers of the pump must be from 2 to 7, not 1"),
        (
            lambda: throttled_flow(1e-3, 3800, 3400),
            "speed of the pump over its rated speed [-] must be from 0 to 1.1, not 1.11765",
        ),
    ],
)
def test_what_no_pump_does_is_refused(attempt, sentence):
    with pytest.raises(OutOfRange) as refused:
        attempt()
    assert str(refused.value) == sentence
