from math import pi

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.culvert import plug_volume, slurry_water, soil_mass, washing_time


def test_a_packed_culvert_by_hand():
    # Bore 0.6 m, 10 m: π/4·0.36·10 = 2.827 m³; 1800 kg/m³: 5.09 t; water 9 × = 25.4 m³;
    # at 1 L/s 7.07 h.
    soil = plug_volume(0.6, 10.0)
    assert soil == pytest.approx(pi * 0.9)
    assert soil_mass(soil, 1800) == pytest.approx(5089, rel=1e-3)
    water = slurry_water(soil)
    assert water == pytest.approx(9 * soil)
    assert washing_time(water, 1e-3) / 3600 == pytest.approx(7.07, abs=0.01)


def test_half_packed_is_half_the_soil():
    assert plug_volume(0.6, 10.0, 0.5) == pytest.approx(plug_volume(0.6, 10.0) / 2)


def test_a_thinner_slurry_takes_more_water():
    assert slurry_water(1.0, 0.05) == pytest.approx(19.0)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: plug_volume(0.6, 10.0, 1.1),
        lambda: soil_mass(1.0, 500.0),
        lambda: slurry_water(1.0, 0.6),
        lambda: washing_time(1.0, 0.0),
    ],
)
def test_what_no_culvert_holds_is_refused(attempt):
    with pytest.raises(OutOfRange, match="must be"):
        attempt()
