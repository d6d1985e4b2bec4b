import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.drill import drills_beside, fraction_drills, metric_drills, number_drills
from refgen.units import INCH


def names(bore, drills):
    return [drill.name if drill else None for drill in drills_beside(bore, drills)]


@pytest.mark.parametrize(
    ("name", "inches"),
    # Spot checks against printed tables, and the decimal equivalents every shop wall has.
    [
        ("No. 80", 0.0135),
        ("No. 61", 0.0390),
        ("No. 60", 0.0400),
        ("No. 56", 0.0465),
        ("No. 55", 0.0520),
        ("No. 41", 0.0960),
        ("No. 40", 0.0980),
        ("No. 30", 0.1285),
        ("No. 21", 0.1590),
        ("No. 20", 0.1610),
        ("No. 7", 0.2010),
        ("No. 1", 0.2280),
    ],
)
def test_a_number_drill_has_its_published_size(name, inches):
    sizes = {drill.name: drill.bore for drill in number_drills()}
    assert len(sizes) == 80
    assert sizes[name] == pytest.approx(inches * INCH)


def test_number_drills_grow_as_their_number_falls():
    bores = [drill.bore for drill in number_drills()]
    assert bores == sorted(bores)
    assert len(set(bores)) == 80


def test_fraction_drills_are_in_lowest_terms():
    assert [drill.name for drill in fraction_drills()][:4] == [
        "1/64 in",
        "1/32 in",
        "3/64 in",
        "1/16 in",
    ]
    assert fraction_drills()[-1].name == "1/4 in"
    assert fraction_drills()[2].bore == pytest.approx(3 / 64 * INCH)


def test_the_drills_either_side_of_a_bore():
    # 1.34 mm = 0.05276 in lies between No. 55 (0.0520) and No. 54 (0.0550).
    assert names(0.00134, metric_drills()) == ["1.30 mm", "1.35 mm"]
    assert names(0.00134, number_drills()) == ["No. 55", "No. 54"]
    assert names(0.00134, fraction_drills()) == ["3/64 in", "1/16 in"]


def test_a_drill_that_fits_is_both_sides():
    assert names(0.0012, metric_drills()) == ["1.20 mm", "1.20 mm"]


def test_beyond_the_set_there_is_no_drill():
    assert names(0.0002, metric_drills()) == [None, "0.30 mm"]
    assert names(0.007, metric_drills()) == ["6.00 mm", None]


def test_a_bore_of_nothing_is_refused():
    with pytest.raises(OutOfRange, match="bore of a jet"):
        drills_beside(0.0, metric_drills())
