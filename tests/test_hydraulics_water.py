import json
from pathlib import Path

import pytest

from refgen.errors import OutOfRange
from refgen.hydraulics.water import density, viscosity, water_at

VECTORS = json.loads((Path(__file__).parent / "vectors" / "hydraulics.json").read_text("utf-8"))


@pytest.mark.parametrize("right", VECTORS["water"], ids=lambda case: f"{case['temperature_c']} °C")
def test_density_and_viscosity_agree_with_an_independent_library(right):
    temperature = right["temperature_c"] + 273.15
    assert density(temperature) == pytest.approx(right["density_kg_per_m3"], rel=1e-4)
    assert viscosity(temperature) == pytest.approx(right["viscosity_pa_s"], rel=5e-4)


def test_viscosity_at_20_degrees_is_the_international_reference_value():
    # ISO/TR 3666:1998: 1.0016 mPa s at 20 °C, to 0.17 %.
    assert viscosity(293.15) == pytest.approx(1.0016e-3, rel=1.7e-3)


def test_water_is_heaviest_at_4_degrees():
    # CIPM 2001 (Tanaka et al., Metrologia 38, 301): 999.975 kg/m³ at 3.983 °C.
    assert density(277.133) == pytest.approx(999.975, abs=0.003)
    assert density(277.133) > max(density(276.15), density(278.15))


def test_water_at_holds_both_properties():
    water = water_at(288.15)
    assert (water.density, water.viscosity) == (density(288.15), viscosity(288.15))


@pytest.mark.parametrize("formula", [density, viscosity])
@pytest.mark.parametrize("temperature", [274.1, 353.2])
def test_no_number_outside_1_to_80_degrees(formula, temperature):
    with pytest.raises(OutOfRange) as refused:
        formula(temperature)
    assert str(refused.value) == (
        f"water temperature [K] must be from 274.15 to 353.15, not {temperature:g}"
    )


def test_not_a_number_is_refused():
    with pytest.raises(OutOfRange, match="not a number"):
        density(float("nan"))
