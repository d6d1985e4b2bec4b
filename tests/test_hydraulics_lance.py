import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.lance import flow_for_push, hold, lance_push
from refgen.units import POUND_FORCE, PSI, US_GALLON

GPM = US_GALLON / 60


@pytest.mark.parametrize(
    ("psi", "braced", "machine"),
    # Flow in gpm that pushes 150 N and 250 N: F [N] = 0.2355·Q [L/min]·√(P [bar]), rounded.
    [(1500, 16.5, 27.6), (2000, 14.3, 23.9), (3000, 11.7, 19.5), (4000, 10.1, 16.9)],
)
def test_the_flow_from_which_a_lance_must_be_held(psi, braced, machine):
    assert flow_for_push(150, psi * PSI) / GPM == pytest.approx(braced, rel=5e-3)
    assert flow_for_push(250, psi * PSI) / GPM == pytest.approx(machine, rel=5e-3)


def test_push_in_trade_units():
    # 0.0526 · 10 · √3000 = 28.8 lbf
    assert lance_push(10 * GPM, 3000 * PSI) / POUND_FORCE == pytest.approx(28.8, rel=3e-3)


def test_push_and_flow_are_each_others_inverse():
    assert lance_push(flow_for_push(180.0, 15e6), 15e6) == pytest.approx(180.0)


@pytest.mark.parametrize(
    ("push", "by"),
    [(0, "hands"), (150, "hands"), (150.1, "body"), (250, "body"), (250.1, "machine")],
)
def test_who_may_hold_it(push, by):
    assert hold(push) == by


@pytest.mark.parametrize(
    "attempt",
    [lambda: hold(-1.0), lambda: lance_push(-1.0, 1e7), lambda: flow_for_push(0.0, 1e7)],
)
def test_what_no_lance_does_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
