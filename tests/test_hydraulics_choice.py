from math import pi, sqrt

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, Segment, working_point
from refgen.hydraulics.choice import bore_each, fitting_nozzle, numbers_beside
from refgen.units import PSI, US_GALLON

GPM = US_GALLON / 60


def test_without_hose_the_number_follows_from_its_definition():
    # 8 gpm at 3000 psi: N = 8·√(4000/3000) = 9.238.
    choice = fitting_nozzle(Pump(8 * GPM, 3000 * PSI), (), 288.15)
    assert choice.number == pytest.approx(8 * sqrt(4 / 3), rel=1e-12)
    assert (choice.nozzle, choice.hose_loss) == (pytest.approx(3000 * PSI), 0.0)


@pytest.mark.parametrize("headroom", [0.0, 0.1])
@pytest.mark.parametrize("below_pump", [-10.0, 0.0, 5.0])
def test_the_chosen_nozzle_puts_the_pump_just_at_its_limit(headroom, below_pump):
    pump = Pump(8 * GPM, 3500 * PSI, 3000 * PSI)
    hoses = (Segment(0.0095, 60.0, 1e-5), Segment(0.0064, 3.0, 1e-5))
    choice = fitting_nozzle(pump, hoses, 288.15, below_pump, headroom)
    # A hair larger, so that rounding cannot make the pump regulate.
    jet = Jet(1, choice.flow_area * (1 + 1e-9), 0.0)
    duty = working_point(Rig(288.15, pump, hoses, (jet,), 0.97, below_pump))
    assert duty.state == "full flow"
    assert duty.gauge == pytest.approx(3000 * PSI * (1 - headroom), rel=1e-6)
    assert duty.hose_loss == pytest.approx(choice.hose_loss, rel=1e-6)


def test_the_area_is_shared_among_equal_holes():
    # 6 holes, Cd 0.75: 6·0.75·π/4·d² = A.
    bore = bore_each(6 * 0.75 * pi / 4 * 0.0011**2, 6, 0.75)
    assert bore == pytest.approx(0.0011, rel=1e-12)


def test_a_hose_that_eats_the_whole_pressure_leaves_no_nozzle():
    with pytest.raises(OutOfRange, match="no nozzle fits this flow"):
        fitting_nozzle(Pump(18 * GPM, 2000 * PSI), (Segment(0.0095, 100.0, 1e-5),), 288.15)


@pytest.mark.parametrize(
    ("number", "step", "beside"),
    [
        (9.24, 0.5, (9.0, 9.5)),
        (4.5, 0.5, (4.5, 4.5)),
        (8 * sqrt(4 / 3), 1.0, (9.0, 10.0)),
        (0.3, 0.5, (0.0, 0.5)),
        (0.1 + 0.2, 0.1, (pytest.approx(0.3), pytest.approx(0.3))),
    ],
)
def test_trade_numbers_either_side(number, step, beside):
    assert numbers_beside(number, step) == beside
