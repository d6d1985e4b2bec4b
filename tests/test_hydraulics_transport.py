import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.open_channel import part_full
from refgen.hydraulics.transport import SEWER_SAND, largest_grain_moved, threshold_shear
from refgen.hydraulics.water import Water, water_at

SEA_WATER = Water(density=1027.0, viscosity=1.36e-6 * 1027.0)


@pytest.mark.parametrize(
    ("millimetres", "pascals"),
    # U.S. Geological Survey, Sea Floor Stress and Sediment Mobility Database, appendix, table 5
    # (critical stress for quartz sand after Soulsby 1997, sea water at 10 °C).
    [(2.00, 1.17), (1.00, 0.48), (0.50, 0.26), (0.25, 0.19), (0.125, 0.15), (0.0625, 0.12)],
)
def test_threshold_agrees_with_a_published_table(millimetres, pascals):
    found = threshold_shear(millimetres / 1000, SEA_WATER)
    assert found == pytest.approx(pascals, rel=0.05)


def test_sand_of_two_millimetres_by_hand():
    # ν = 1.1394e-6 m²/s, s = 2650/999.1: D* = 0.002·(9.80665·1.6524/ν²)^⅓ = 46.4.
    # θ = 0.30/(1 + 55.7) + 0.055·(1 − e^−0.928) = 0.0385; θ·1650.9·9.80665·0.002 = 1.248 Pa.
    assert threshold_shear(0.002, water_at(288.15)) == pytest.approx(1.248, rel=2e-3)


def test_the_shear_that_keeps_a_sewers_sand_moving_is_the_manuals():
    # 0.0181 lbf/ft², at 47.880 Pa each.
    assert pytest.approx(0.0181 * 47.880, abs=0.002) == SEWER_SAND


def test_gravel_follows_a_constant_shields_number():
    # Fully rough: θ = 0.055, so 20 mm of quartz take 0.055·1650·9.80665·0.02 = 17.8 Pa.
    water = Water(density=1000.0, viscosity=1e-3)
    assert threshold_shear(0.02, water) == pytest.approx(17.8, rel=0.01)


def test_the_largest_grain_is_the_one_at_the_threshold():
    water = water_at(288.15)
    grain = largest_grain_moved(1.0, water)
    assert threshold_shear(grain, water) == pytest.approx(1.0, rel=1e-5)


def test_no_grain_and_every_grain():
    water = water_at(288.15)
    assert largest_grain_moved(0.01, water) is None
    assert largest_grain_moved(100.0, water) == 0.02


def test_light_grains_move_more_easily():
    water = water_at(288.15)
    assert threshold_shear(0.003, water, 1300.0) < threshold_shear(0.003, water)


def test_a_small_jetter_s_flow_moves_sand_in_a_steep_enough_pipe():
    # 8 gpm at 1 % in 4 in: 1.24 Pa, more than the 0.867 Pa for sand in sewers.
    flow = part_full(8 * 0.003785411784 / 60, 0.1016, 0.01, 0.013)
    assert flow is not None
    assert flow.shear > SEWER_SAND


@pytest.mark.parametrize(
    "attempt",
    [
        lambda water: threshold_shear(1e-5, water),
        lambda water: threshold_shear(0.05, water),
        lambda water: threshold_shear(0.001, water, 1000.0),
        lambda water: largest_grain_moved(-1.0, water),
    ],
)
def test_outside_its_range_there_is_no_threshold(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt(water_at(288.15))
