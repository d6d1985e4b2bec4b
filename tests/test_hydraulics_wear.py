from dataclasses import replace

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics import Jet, Pump, Rig, working_point
from refgen.hydraulics.wear import growth_of_bore, plugged, pressure_when_worn, worn

JET = Jet(6, 1e-6, 0.3)
RIG = Rig(288.15, Pump(5e-4, 80e6), (), (JET,), 1.0)


def test_five_percent_of_wear_costs_18_percent_of_pressure():
    # 1/1.05⁴ = 0.8227
    assert pressure_when_worn(20e6, 0.05) == pytest.approx(0.8227 * 20e6, rel=1e-4)


def test_a_worn_nozzle_in_the_model_agrees_with_the_rule():
    new = working_point(RIG).nozzle
    now = working_point(replace(RIG, jets=(worn(JET, 0.08),))).nozzle
    assert now == pytest.approx(pressure_when_worn(new, 0.08))
    assert growth_of_bore(new, now) == pytest.approx(0.08)


def test_half_the_jets_plugged_takes_four_times_the_pressure():
    whole = working_point(RIG).nozzle
    half = working_point(replace(RIG, jets=(plugged(JET, 3),))).nozzle
    assert half == pytest.approx(4 * whole)


def test_all_jets_can_plug():
    assert plugged(JET, 6).count == 0


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: worn(JET, -0.01),
        lambda: worn(JET, 0.6),
        lambda: plugged(JET, 7),
        lambda: growth_of_bore(20e6, 21e6),
        lambda: growth_of_bore(20e6, 3e6),
    ],
)
def test_what_wear_cannot_be_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be from"):
        attempt()
