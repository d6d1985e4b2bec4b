import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.geometry import air_gap, can_turn_round, turn_round_length
from refgen.units import INCH


@pytest.mark.parametrize(
    ("bore", "stiff"), [(2, 3), (3, 4.5), (4, 6), (6, 9), (8, 12), (10, 15), (12, 18)]
)
def test_the_careful_rule_is_one_and_a_half_bores(bore, stiff):
    assert turn_round_length(bore * INCH) / INCH == pytest.approx(stiff)


def test_the_geometry_alone_is_one_bore():
    # The longest chord of a round bore is the bore itself; only a shorter rod swings past it.
    assert turn_round_length(0.2, 1.0) == 0.2
    assert can_turn_round(0.199, 0.2)
    assert not can_turn_round(0.2, 0.2)


@pytest.mark.parametrize(
    ("bore", "beside_wall", "gap"),
    [(3, False, 6), (0.5, False, 1), (0.25, False, 1), (0.75, True, 2.25), (0.25, True, 1)],
)
def test_air_gap(bore, beside_wall, gap):
    assert air_gap(bore * INCH, beside_wall) / INCH == pytest.approx(gap)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: turn_round_length(0.0),
        lambda: turn_round_length(0.2, 0.9),
        lambda: can_turn_round(-1.0, 0.2),
        lambda: air_gap(0.0),
    ],
)
def test_what_no_pipe_is_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
