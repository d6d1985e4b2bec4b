"""A setup as people write it, turned into a rig in SI units."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, radians, sqrt

import pytest

from refgen.answers import read_setup
from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.hydraulics import Rig
from refgen.setups import SMOOTH_LINER, UnknownId, rig_of

PSI = 6894.757293168361
GPM = 0.003785411784 / 60
FT, INCH = 0.3048, 0.0254
# A jet of trade number 1 passes 1 US gpm at 4000 psi; water of 15 °C has 999.1 kg/m³.
NUMBER_ONE = GPM / sqrt(2 * 4000 * PSI / 999.1)

WRITTEN = """
pump: {flow: 8 gpm, pressure: 3000 psi, unloader: 2800 psi}
hoses: [{bore: 1/2 in, length: 200 ft, on_reel: 50 ft, reel_diameter: 18 in}]
nozzle:
  discharge_coefficient: 0.8
  velocity_coefficient: 0.95
  jets:
    - {count: 4, bore: 1.2 mm, angle: 30 deg, faces: rear}
    - {number: 2, angle: 0 deg, faces: front}
"""
NAMED = "machine: barrow\nnozzle: small-egg\n"


def rig(text: str, catalog: Catalog | None = None) -> Rig:
    return rig_of(read_setup(text, "a.yml"), catalog)


def told(text: str) -> list[str]:
    with pytest.raises(DataError) as caught:
        read_setup(text, "a.yml")
    return [str(problem) for problem in caught.value.problems]


def test_a_written_setup_becomes_si() -> None:
    found = rig(WRITTEN + "water: {temperature: 50 degF}\nnozzle_below_pump: -10 ft\n")
    assert found.water_temperature == pytest.approx(283.15)
    assert found.pump.flow == pytest.approx(8 * GPM)
    assert found.pump.pressure == pytest.approx(3000 * PSI)
    assert found.pump.unloader == pytest.approx(2800 * PSI)
    (hose,) = found.hoses
    assert (hose.bore, hose.length) == pytest.approx((0.5 * INCH, 200 * FT))
    assert (hose.on_reel, hose.reel_diameter) == pytest.approx((50 * FT, 18 * INCH))
    assert hose.roughness == SMOOTH_LINER == 1.5e-6
    rear, front = found.jets
    assert rear.flow_area == pytest.approx(0.8 * pi / 4 * 0.0012**2)
    assert (rear.count, rear.angle, rear.faces, rear.by_number) == (4, radians(30), "rear", False)
    # The nozzle's discharge coefficient has no say in a jet given by its number.
    assert front.flow_area == pytest.approx(2 * NUMBER_ONE, rel=1e-5)
    assert (front.count, front.angle, front.faces, front.by_number) == (1, 0.0, "front", True)
    assert found.velocity_coefficient == 0.95
    assert found.below_pump == pytest.approx(-10 * FT)


def test_what_is_left_out_is_as_the_model_says() -> None:
    found = rig(WRITTEN)
    assert (found.water_temperature, found.below_pump) == (288.15, 0.0)
    jets = "jets: [{bore: 1 mm, angle: 0 deg, faces: rear}]"
    bare = rig(f"pump: {{flow: 8 gpm, pressure: 1 bar}}\nhoses: []\nnozzle: {{{jets}}}\n")
    assert bare.pump.unloader is None
    assert bare.hoses == ()
    assert bare.jets[0].flow_area == pytest.approx(0.75 * pi / 4 * 1e-6)
    assert bare.velocity_coefficient == 0.97


def test_names_stand_for_what_the_data_say_of_them(small: Catalog) -> None:
    # tests/small has the machine, hose, pattern and nozzle that WRITTEN writes out.
    assert rig(NAMED, small) == rig(WRITTEN)


def test_a_hose_in_stock_may_lie_otherwise_than_on_the_machine(small: Catalog) -> None:
    found = rig(NAMED + "hoses: [{hose: half-line, length: 100 ft}]\n", small)
    (hose,) = found.hoses
    assert (hose.bore, hose.length) == pytest.approx((0.5 * INCH, 100 * FT))
    assert (hose.on_reel, hose.reel_diameter) == (0.0, None)
    assert found.pump == rig(NAMED, small).pump


def test_a_hose_may_be_rougher_than_in_stock(small: Catalog) -> None:
    hose = "hoses: [{hose: half-line, length: 100 ft, roughness: 0.01 mm}]\n"
    assert rig(NAMED + hose, small).hoses[0].roughness == pytest.approx(1e-5)


def test_a_nozzles_own_coefficient_goes_before_its_patterns(
    catalog_of: Callable[..., Catalog],
) -> None:
    catalog = catalog_of({"nozzles/small-egg": "discharge_coefficient: 0.6\n"})
    rear, front = rig(NAMED, catalog).jets
    assert rear.flow_area == pytest.approx(0.6 * pi / 4 * 0.0012**2)
    assert front.flow_area == pytest.approx(2 * NUMBER_ONE, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("machine: barow\nnozzle: small-egg\n", "no machine 'barow'. Did you mean 'barrow'?"),
        ("machine: barrow\nnozzle: small-eg\n", "no nozzle 'small-eg'. Did you mean 'small-egg'?"),
        (
            NAMED + "hoses: [{hose: wide, length: 10 ft}]\n",
            "no hose 'wide'. Known: half-line.",
        ),
    ],
)
def test_a_name_the_data_do_not_have_is_told(small: Catalog, text: str, message: str) -> None:
    with pytest.raises(UnknownId) as caught:
        rig(text, small)
    assert str(caught.value) == message


def test_a_name_without_data_is_told() -> None:
    with pytest.raises(UnknownId) as caught:
        rig(NAMED)
    assert str(caught.value) == (
        "no machine 'barrow'. Run it where the data are, or write the values out."
    )


@pytest.mark.parametrize(
    ("text", "named"),
    [
        (WRITTEN, False),
        (NAMED, True),
        (WRITTEN.split("nozzle:")[0] + "nozzle: small-egg\n", True),
        (WRITTEN.replace("bore: 1/2 in", "hose: half-line"), True),
    ],
)
def test_a_setup_knows_whether_it_needs_the_data(text: str, named: bool) -> None:
    assert read_setup(text, "a.yml").names_records is named


NOZZLE = "nozzle: {jets: [{bore: 1 mm, angle: 0 deg, faces: rear}]}\n"
PUMP = "pump: {flow: 8 gpm, pressure: 3000 psi}\n"
HOSES = "hoses: [{bore: 1/2 in, length: 200 ft}]\n"


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        ("", ["a.yml:1: the file is empty\n    Write the record."]),
        (
            HOSES + NOZZLE,
            [
                "a.yml:1: needs either a machine or a pump\n"
                "    Give 'machine: id', or 'pump:' with flow and pressure."
            ],
        ),
        (
            PUMP + "machine: barrow\n" + HOSES + NOZZLE,
            [
                "a.yml:1: needs either a machine or a pump\n"
                "    Give 'machine: id', or 'pump:' with flow and pressure."
            ],
        ),
        (PUMP + NOZZLE, ["a.yml:1: names no hoses\n    Give 'hoses:' with bore and length each."]),
        (
            PUMP + HOSES.replace("bore: 1/2 in, ", "") + NOZZLE,
            [
                "a.yml:2: hoses.1: needs either a hose or a bore\n"
                "    Give 'hose: id' or 'bore: 3/8 in'."
            ],
        ),
        (
            PUMP + HOSES + "nozzle: {jets: []}\n",
            ["a.yml:3: nozzle.jets: needs at least one entry\n    Add one, or remove the line."],
        ),
        (
            PUMP + HOSES + NOZZLE.replace("rear", "back"),
            [
                "a.yml:3: nozzle.jets.1.faces: 'back' is not one of the choices\n"
                "    Known: front, rear."
            ],
        ),
        (
            PUMP + HOSES + NOZZLE.replace("bore: 1 mm", "bore: 1 mm, number: 2"),
            [
                "a.yml:3: nozzle.jets.1: needs either a bore or a number\n"
                "    Give each group of jets either its bore or its trade number."
            ],
        ),
        (
            PUMP + HOSES + "nozzle: [small-egg]\n",
            ["a.yml:3: nozzle: must be text or a map of fields, not a list"],
        ),
        (
            PUMP + HOSES + "nozzle: Small Egg\n",
            [
                "a.yml:3: nozzle: 'Small Egg' is no reference\n"
                "    Ids have small letters, digits and single hyphens."
            ],
        ),
        (
            PUMP.replace("8 gpm", "8") + HOSES.replace("200 ft", "long") + NOZZLE,
            [
                "a.yml:1: pump.flow: '8' has no unit\n    Write a number and a unit "
                "(gpm, imp gpm, L/min, L/s, m³/h, m³/s), for example '8 gpm'.",
                "a.yml:2: hoses.1.length: 'long' is no length\n    Write a number and a unit "
                "(in, mm, cm, ft, yd, mile), for example '3/8 in'.",
            ],
        ),
    ],
)
def test_every_mistake_in_a_setup_is_told(text: str, messages: list[str]) -> None:
    assert told(text) == messages
