import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.setting import gauge_error, regulator_setting
from refgen.units import PSI


def test_a_class_2_5_gauge_to_5000_psi_may_be_125_psi_off():
    assert gauge_error(5000 * PSI, 0.025) / PSI == pytest.approx(125)


def test_a_ceiling_with_everything_against_it_by_hand():
    # 1740 psi at the nozzle, 10 m below the pump: 10 · 9.80665 · 1000 Pa = 14.22 psi of water.
    # (1740 − 14.22)/1.10 − 125 = 1443.9 psi on the gauge.
    setting = regulator_setting(1740 * PSI, 125 * PSI, 0.10, below_pump=10.0)
    assert setting / PSI == pytest.approx((1740 - 14.2233) / 1.1 - 125, abs=0.01)


def test_a_perfect_machine_sets_the_ceiling_itself():
    assert regulator_setting(12e6) == 12e6


def test_a_nozzle_above_the_pump_is_given_nothing():
    assert regulator_setting(12e6, below_pump=-20.0) == 12e6


def test_the_lowest_rating_wins():
    assert regulator_setting(20e6, ratings=(21e6, 17e6)) == 17e6


def test_nothing_left_to_set_is_refused():
    with pytest.raises(OutOfRange, match="leave no pressure to set"):
        regulator_setting(5e5, error=6e5)


@pytest.mark.parametrize("overshoot", [-0.1, 0.6])
def test_an_absurd_overshoot_is_refused(overshoot):
    with pytest.raises(OutOfRange, match="overshoot of the unloader"):
        regulator_setting(12e6, overshoot=overshoot)
