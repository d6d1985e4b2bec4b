"""A setup as people write it, turned into a rig in SI units."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, radians, sqrt

import pytest

from refgen.answers import read_setup
from refgen.catalog import Catalog
from refgen.errors import DataError
from refgen.hydraulics import Rig
from refgen.rigs import dial_for
from refgen.setups import (
    SMOOTH_LINER,
    UnknownId,
    headroom_of,
    rig_of,
    wear_limit_of,
)

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


def test_a_jet_may_be_given_by_the_us_number_of_its_drill() -> None:
    # No. 55 is 0.0520 in by any table of number drills; No. 80 0.0135 in, No. 1 0.2280 in.
    for drill, inches in ((55, 0.0520), (80, 0.0135), (1, 0.2280)):
        jets = f"jets: [{{drill: {drill}, angle: 0 deg, faces: rear}}]"
        found = rig(f"pump: {{flow: 8 gpm, pressure: 1 bar}}\nhoses: []\nnozzle: {{{jets}}}\n")
        assert found.jets[0].flow_area == pytest.approx(0.75 * pi / 4 * (inches * INCH) ** 2)


@pytest.mark.parametrize(
    ("limit", "dial"),
    [(1000, 1500), (1001, 2000), (2800, 5000), (3333, 5000), (3334, 6000), (20000, 30000)],
)
def test_a_gauge_is_taken_on_which_the_limit_stands_at_two_thirds(limit: int, dial: int) -> None:
    # Beyond 20 000 psi no dial is listed: one and a half times the limit.
    assert dial_for(limit * PSI, "us") / PSI == pytest.approx(dial, rel=1e-3)


@pytest.mark.parametrize(("limit", "dial"), [(60, 100), (106, 160), (107, 250), (190, 400)])
def test_whoever_reads_in_bar_has_a_dial_in_bar(limit: int, dial: int) -> None:
    # Two thirds of 100, 160, 250 and 400 bar, ranges of EN 837-1: 66, 106, 166 and 266 bar.
    assert dial_for(limit * 1e5, "metric") == pytest.approx(dial * 1e5)


def test_limits_of_parts_come_from_the_data_where_they_are_there(
    small: Catalog, catalog_of: Callable[..., Catalog]
) -> None:
    assert (headroom_of(None), wear_limit_of(None)) == (0.10, 0.05)
    assert headroom_of(small) == 0.10
    own = "figures: {head-room: {is: 15 %, basis: practice, why: Ours.}}\n"
    assert headroom_of(catalog_of({"parts/unloader": own})) == pytest.approx(0.15)


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
            "pump: {flow: 8 gpm}\n" + HOSES + NOZZLE,
            ["a.yml:1: pump: 'pressure' is missing\n    Add 'pressure: …' here, from the plate."],
        ),
        (
            PUMP,
            [
                "a.yml:1: asks nothing\n"
                "    Give pump, hoses and nozzle, or a section such as 'tank:'."
            ],
        ),
        (
            PUMP.replace("3000 psi", "3000 bar") + HOSES + NOZZLE,
            [
                "a.yml:1: pump.pressure: '3000 bar' is 43,500 psi, more than any jetter makes\n"
                "    Did you mean 3000 psi (207 bar)?"
            ],
        ),
        (
            PUMP + HOSES + NOZZLE.replace("1 mm", "No. 55"),
            [
                "a.yml:3: nozzle.jets.1.bore: 'No. 55' is a number, not a bore\n"
                "    Write 'drill: 55' for the drill, 'number: …' for a trade number."
            ],
        ),
        (
            "tank: {volume: 65 gal}\n",
            ["a.yml:1: tank: needs a flow\n    Give 'machine: id', or 'pump:' with its flow."],
        ),
        (
            PUMP + HOSES + "what_if: {pulse: true}\n",
            ["a.yml:3: what_if: needs a nozzle\n    Give 'nozzle: id', or its jets."],
        ),
        (
            PUMP + HOSES + "what_if: {}\n",
            ["a.yml:3: what_if: asks nothing\n    Give a change, such as 'worn_by: [10 %]'."],
        ),
        (
            "reach: {pull: 50 N}\n",
            ["a.yml:1: reach: needs the hose\n    Give 'hoses:' with bore and length each."],
        ),
        (
            HOSES + "reach: {}\n",
            ["a.yml:2: reach: needs a pull\n    Give 'pull: …', or pump, hoses and nozzle."],
        ),
        (
            "choose: {}\npump: {flow: 8 gpm}\n",
            ["a.yml:1: choose: needs the pump's pressure\n    Give 'pressure: …' under 'pump:'."],
        ),
        (
            "reading: {gauge: 1500 psi}\n" + HOSES,
            [
                "a.yml:1: reading: needs a flow and the hoses\n"
                "    Give pump, or 'flow', and 'hoses:'."
            ],
        ),
        (
            "supply: {bucket: 5 gal}\n",
            [
                "a.yml:1: supply: needs a flow or a bucket test\n"
                "    Give 'flow', or 'bucket' and 'time'."
            ],
        ),
        (
            "antifreeze: {put_in: 3 gal}\n",
            [
                "a.yml:1: antifreeze: the mixture is not whole\n"
                "    Give all of 'put_in', 'strength' and 'water_left'."
            ],
        ),
        (
            "antifreeze: {}\n",
            ["a.yml:1: antifreeze: asks nothing\n    Give 'hoses:', a mixture, or 'coldest: …'."],
        ),
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
