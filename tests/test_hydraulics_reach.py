from math import exp, pi, radians, sin

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.reach import (
    Bend,
    hose_weight,
    pull_needed,
    reach,
    reach_range,
    weight_in_water,
)
from refgen.units import FOOT, POUND, POUND_FORCE

# 3/8 in hose of light make, full of water: 0.22 lb/ft.
WEIGHT = 0.22 * POUND_FORCE / FOOT
PULL = 19 * POUND_FORCE


def test_a_straight_level_run_by_hand():
    # L = F/(μ·w) = 19/(0.4 · 0.22) = 216 ft
    assert reach(PULL, WEIGHT, 0.4) / FOOT == pytest.approx(19 / (0.4 * 0.22))


def test_one_square_bend_near_the_nozzle_by_hand():
    # The hose behind the bend may pull with F/e^(0.4·π/2) = 19/1.874 = 10.1 lbf, so it is
    # 115 ft long; the bend lies there, just behind the nozzle.
    behind = 19 / exp(0.4 * pi / 2) / (0.4 * 0.22)
    assert behind == pytest.approx(115, abs=0.5)
    bend = Bend(behind * FOOT, pi / 2)
    assert reach(PULL, WEIGHT, 0.4, bends=[bend]) / FOOT == pytest.approx(behind)


def test_a_bend_at_the_access_costs_nothing_but_what_the_reel_holds_back():
    assert reach(PULL, WEIGHT, 0.4, bends=[Bend(0.0, pi / 2)]) == pytest.approx(
        reach(PULL, WEIGHT, 0.4)
    )
    # Drag 5 lbf round a square bend becomes 5·1.874 = 9.4 lbf.
    with_drag = reach(PULL, WEIGHT, 0.4, bends=[Bend(0.0, pi / 2)], drag=5 * POUND_FORCE)
    assert with_drag / FOOT == pytest.approx((19 - 5 * exp(0.2 * pi)) / 0.088)


def test_a_pull_that_cannot_round_a_bend_ends_there():
    # At 150 ft the hose pulls with 13.2 lbf; times 1.874 is 24.7, more than there is.
    bend = Bend(150 * FOOT, pi / 2)
    assert reach(PULL, WEIGHT, 0.4, bends=[bend]) == pytest.approx(150 * FOOT)


def test_a_bend_beyond_the_reach_does_not_matter():
    far = [Bend(500.0, pi)]
    assert reach(PULL, WEIGHT, 0.4, bends=far) == reach(PULL, WEIGHT, 0.4)
    assert pull_needed(60.0, WEIGHT, 0.4, bends=far) == pull_needed(60.0, WEIGHT, 0.4)


def test_uphill_the_weight_itself_pulls_back():
    # Straight up: only the weight, 19/0.22 = 86 ft.
    assert reach(PULL, WEIGHT, 0.4, slope=pi / 2) / FOOT == pytest.approx(19 / 0.22)
    # 30°: 0.4·cos 30° + sin 30° = 0.8464
    assert reach(PULL, WEIGHT, 0.4, slope=radians(30)) / FOOT == pytest.approx(
        19 / (0.22 * 0.846410), rel=1e-6
    )


@pytest.mark.parametrize("drag", [0.0, 10.0])
def test_pull_needed_undoes_reach(drag):
    bends = [Bend(20.0, pi / 4), Bend(5.0, pi / 2)]
    far = reach(300.0, 3.0, 0.3, radians(2), bends, drag)
    assert far > 20
    assert pull_needed(far, 3.0, 0.3, radians(2), bends, drag) == pytest.approx(300.0)


def test_two_bends_by_hand():
    # 5 m at μ·w = 0.9 N/m: 4.5 N; × e^(0.3·π/2) = 7.209; 15 m more: 20.709;
    # × e^(0.3·π/4) = 26.211; 10 m more: 35.211 N.
    bends = [Bend(5.0, pi / 2), Bend(20.0, pi / 4)]
    first = (5 * 0.9) * exp(0.15 * pi)
    second = (first + 15 * 0.9) * exp(0.075 * pi)
    assert second + 9.0 == pytest.approx(35.211, abs=1e-3)
    assert pull_needed(30.0, 3.0, 0.3, bends=bends) == pytest.approx(second + 9.0)


def test_the_range_lies_between_two_frictions():
    shortest, longest = reach_range(PULL, WEIGHT)
    assert shortest / FOOT == pytest.approx(19 / (0.6 * 0.22))
    assert longest / FOOT == pytest.approx(19 / (0.2 * 0.22))
    assert reach_range(PULL, WEIGHT, friction=(0.6, 0.2)) == (shortest, longest)


def test_a_pull_below_the_drag_goes_nowhere():
    assert reach(10.0, 3.0, 0.4, drag=10.0) == 0.0


def test_a_full_hose_weighs_rubber_and_water():
    # 3/8 in: 0.048 lb/ft of water; with 0.17 lb/ft of hose 0.218 lb/ft.
    weight = hose_weight(0.17 * POUND / FOOT, 0.375 * 0.0254)
    assert weight / (POUND_FORCE / FOOT) == pytest.approx(0.218, abs=0.001)


def test_under_water_the_hose_is_lighter_by_what_it_displaces():
    # 0.5 kg/m, bore 12.7 mm, outside 21 mm: 0.5 + 0.12668 − 0.34636 = 0.28032 kg/m.
    assert weight_in_water(0.5, 0.0127, 0.021) == pytest.approx(0.28032 * 9.80665, rel=1e-4)


@pytest.mark.parametrize(
    ("attempt", "sentence"),
    [
        (lambda: weight_in_water(0.1, 0.0095, 0.02), "a hose this light floats"),
        (
            lambda: reach(100.0, 3.0, 0.2, slope=radians(-15)),
            "the hose runs down this slope by itself and has to be held back",
        ),
        (
            lambda: reach(100.0, 3.0, 0.01),
            "coefficient of friction [-] must be from 0.05 to 1, not 0.01",
        ),
        (lambda: Bend(-1.0, 1.0), "place of a bend [m] must be 0 or more, not -1"),
    ],
)
def test_what_has_no_reach_is_refused(attempt, sentence):
    with pytest.raises(OutOfRange) as refused:
        attempt()
    assert str(refused.value) == sentence


def test_a_gentle_fall_helps():
    assert sin(radians(2)) < 0.2
    assert reach(100.0, 3.0, 0.2, slope=radians(-2)) > reach(100.0, 3.0, 0.2)
