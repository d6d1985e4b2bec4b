"""What comes out of a setup, as data and as a person reads it."""

from __future__ import annotations

import json
import re
from math import cos, pi, radians, sqrt
from pathlib import Path
from typing import Any

import pytest
import yaml

from refgen.answers import Answer, answer, read_setup
from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.units import parse_quantity

VECTORS = json.loads((Path(__file__).parent / "vectors" / "hydraulics.json").read_text("utf-8"))
POINTS = VECTORS["operating_point"]
ONE_GPM_AT_4000_PSI = (0.003785411784 / 60, 4000 * 6894.757293168361)


def answered(setup: dict[str, Any]) -> Answer:
    """Return the answer to a setup that went the whole way from YAML."""
    return answer(read_setup(yaml.safe_dump(setup), "setup.yml"))


def rear_force(setup: dict[str, Any], right: dict[str, float]) -> float:
    """Return Σ rear ρ·Q·v·cos a from the vector's own numbers."""
    nozzle = setup["nozzle"]
    speed = right["jet_velocity_m_per_s"]
    if not speed:
        return 0.0
    # v = Cv·√(2Δp/ρ), so the density that the vector was made with is 2Δp·Cv²/v².
    density = 2 * right["nozzle_pa"] * nozzle["velocity_coefficient"] ** 2 / speed**2
    areas = []
    for jet in nozzle["jets"]:
        if "number" in jet:
            flow, pressure = ONE_GPM_AT_4000_PSI
            area = jet["number"] * flow / sqrt(2 * pressure / 999.1)
        else:
            bore = parse_quantity(jet["bore"]).si
            area = nozzle["discharge_coefficient"] * pi / 4 * bore**2
        areas.append(jet["count"] * area)
    return sum(
        density * right["flow_m3_per_s"] * area / sum(areas) * speed
        * cos(radians(float(jet["angle"].split()[0])))
        for jet, area in zip(nozzle["jets"], areas, strict=True)
        if jet["faces"] == "rear"
    )  # fmt: skip


def test_the_vectors_cover_both_states_and_both_ways_to_size_a_jet() -> None:
    assert len(POINTS) == 90
    assert {point["expect"]["state"] for point in POINTS} == {"full flow", "regulated"}
    jets = [jet for point in POINTS for jet in point["setup"]["nozzle"]["jets"]]
    assert any("number" in jet for jet in jets)
    assert any("bore" in jet for jet in jets)


@pytest.mark.parametrize("point", POINTS, ids=[str(n) for n in range(len(POINTS))])
def test_a_setup_from_yaml_gives_the_vectors_numbers(point: dict[str, Any]) -> None:
    setup, right = point["setup"], point["expect"]
    found = answered(setup).data()
    assert found["state"] == right["state"]
    for name in right.keys() - {"state", "bypass_m3_per_s", "pull_n"}:
        assert found[name] == pytest.approx(right[name], rel=1e-3), name
    pump = parse_quantity(setup["pump"]["flow"]).si
    assert found["bypass_m3_per_s"] == pytest.approx(right["bypass_m3_per_s"], abs=1e-3 * pump)
    force = rear_force(setup, right)
    assert found["pull_n"] == pytest.approx(right["pull_n"], abs=1e-3 * force)


def test_data_have_each_number_with_its_margin_and_can_be_written_as_json() -> None:
    data = answered(POINTS[0]["setup"]).data()
    numbers = POINTS[0]["expect"].keys() - {"state"}
    assert data.keys() >= {*numbers, "state", "margins", "notes"}
    assert data["margins"].keys() == numbers
    for margin in data["margins"].values():
        assert margin.keys() == {"lower", "upper", "cause"}
        assert margin["lower"] >= 0
        assert margin["upper"] >= 0
    assert json.loads(json.dumps(data)) == data


BARROW = """
pump: {flow: 8 gpm, pressure: 3000 psi}
hoses: [{bore: 1/2 in, length: 50 ft}]
nozzle: {jets: [{count: 6, bore: 1 mm, angle: 30 deg, faces: rear}]}
"""
NUMBERS = (
    "Flow through the nozzle", "Gauge at the pump", "Lost in the hose", "Left at the nozzle",
    "Back to the tank", "Speed of the jets", "Pull of the nozzle", "Power in the jets",
)  # fmt: skip


def lines_of(text: str, first: str = "us") -> list[str]:
    system: Any = first
    return answer(read_setup(text, "a.yml")).text(system).splitlines()


def test_every_number_stands_in_both_units_with_its_margin_in_both() -> None:
    lines = lines_of(BARROW)
    for title in NUMBERS:
        at = next(n for n, line in enumerate(lines) if line.startswith(f"  {title}"))
        assert re.search(r" [\d.,]+ (gpm|psi|ft/s|lbf|hp) \([\d.,]+ [A-Za-z/]+\)$", lines[at])
        if title != "Back to the tank":
            assert re.fullmatch(
                r" +may be [\d.,]+ (\S+) to [\d.,]+ \1 \([\d.,]+ (\S+) to [\d.,]+ \2\), "
                r"most from [a-z ]+",
                lines[at + 1],
            )


def test_the_numbers_are_those_of_a_calculation_by_hand() -> None:
    # 8 gpm = 5.0472e-4 m³/s; six jets of 1 mm, Cd 0.75: Cd·A = 3.5343e-6 m²;
    # Δp = ρ/2·(Q/CdA)² = 999.1/2·142.81² = 10.19 MPa = 1478 psi; v = 0.97·142.8 = 138.5 m/s;
    # pull = 999.1·5.0472e-4·138.5·cos 30° = 60.5 N = 13.6 lbf; power = 10.19e6·5.0472e-4 = 5.14 kW.
    text = "\n".join(lines_of(BARROW))
    assert "Flow through the nozzle  8 gpm (30.3 L/min)" in text
    # Off by more than a tenth, so that two digits are all it bears: 1,478 and 101.9.
    assert "Left at the nozzle       1,500 psi (100 bar)" in text
    assert "Back to the tank         0 gpm (0 L/min)" in text
    data = answer(read_setup(BARROW, "a.yml")).data()
    assert data["nozzle_pa"] == pytest.approx(10.19e6, rel=1e-3)
    assert data["jet_velocity_m_per_s"] == pytest.approx(138.5, rel=1e-3)
    assert data["pull_n"] == pytest.approx(60.5, rel=1e-3)
    assert data["jet_power_w"] == pytest.approx(5143, rel=1e-3)


def test_metric_comes_first_where_asked_for() -> None:
    assert "  Flow through the nozzle  30.3 L/min (8 gpm)" in lines_of(BARROW, "metric")


def test_the_working_shows_water_jets_hoses_and_the_balance_at_the_gauge() -> None:
    lines = lines_of(BARROW + "water: {temperature: 20 degC}\nnozzle_below_pump: 10 m\n")
    working = [line.strip() for line in lines[lines.index("Working") + 1 :] if line.strip()]
    # 20 °C: 998.2 kg/m³ and 1.002 mPa·s in any table of water.
    assert working[0] == (
        "water at 20 °C: density 998.2 kg/m³, viscosity 1.002 mPa·s (IAPWS SR6-08)"
    )
    # 0.75·π/4·1² = 0.589 mm².
    assert working[1] == "6 to the rear at 30°: Cd·A = 0.589 mm² each, Q = Cd·A·√(2Δp/ρ)"
    # Re = 4Q/(π·d·ν) = 4·5.0472e-4/(π·0.0127·1.0038e-6) = 50 410.
    assert working[2].startswith("hose 0.500 in (12.7 mm) bore, 50 ft (15.2 m): Re = 50,4")
    # 998.2·9.80665·10 = 97.9 kPa = 14.2 psi.
    assert working[3].endswith("− 14.2 psi (0.979 bar)")
    assert working[4].startswith("limit at the gauge: 3,000 psi (207 bar)")


def test_full_flow_and_a_regulated_pump_are_told_apart_in_the_first_line() -> None:
    assert lines_of(BARROW)[0] == "Full flow: all the pump's water goes through the nozzle."
    # At 1000 psi the jets of BARROW, without hose, take √(1000/1478)·8 = 6.58 gpm; 18 % goes back.
    low = BARROW.replace("3000 psi", "1000 psi").replace("length: 50 ft", "length: 0 ft")
    assert lines_of(low)[0] == (
        "Regulated: the jets are too small for all the water, so 18% of it goes back to the tank."
    )


def test_the_last_word_is_that_plate_tag_and_ceiling_go_first() -> None:
    assert lines_of(BARROW)[-1] == (
        "The machine's plate, the hose's tag and the pipe's ceiling go before these numbers."
    )


def test_a_note_is_told_in_a_sentence() -> None:
    # Re = 4Q/(π·d·ν) = 4·2.21e-3/(π·0.0127·1.14e-6) = 194 000, beyond the 150 000 of the paper.
    coil = "on_reel: 20 ft, reel_diameter: 20 in"
    text = BARROW.replace("8 gpm", "35 gpm").replace("50 ft}", f"50 ft, {coil}}}")
    text = text.replace("bore: 1 mm", "bore: 3 mm")
    found = answer(read_setup(text, "a.yml"))
    assert found.data()["notes"] == ["coil-beyond-published-range"]
    assert (
        "The coil's friction is used beyond the range in which it was published "
        "(Reynolds number 150,000)." in found.text()
    )


def test_where_no_formula_holds_no_number_is_given() -> None:
    # 0.5 gpm in 1/2 in: Re = 4·3.15e-5/(π·0.0127·1.139e-6) = 2774, between laminar and turbulent.
    with pytest.raises(OutOfRange, match="2040"):
        answer(read_setup(BARROW.replace("8 gpm", "0.5 gpm"), "a.yml"))


def test_names_are_answered_as_what_they_stand_for(small: Catalog) -> None:
    named = answer(read_setup("machine: barrow\nnozzle: small-egg\n", "a.yml"), small)
    written = read_setup(
        "pump: {flow: 8 gpm, pressure: 3000 psi, unloader: 2800 psi}\n"
        "hoses: [{bore: 1/2 in, length: 200 ft, on_reel: 50 ft, reel_diameter: 18 in}]\n"
        "nozzle:\n  discharge_coefficient: 0.8\n  velocity_coefficient: 0.95\n  jets:\n"
        "    - {count: 4, bore: 1.2 mm, angle: 30 deg, faces: rear}\n"
        "    - {number: 2, angle: 0 deg, faces: front}\n",
        "a.yml",
    )
    numbers = {"state", "margins", "notes", *POINTS[0]["expect"]}
    by_name, by_value = named.data(), answer(written).data()
    assert {name: by_name[name] for name in numbers} == {name: by_value[name] for name in numbers}
