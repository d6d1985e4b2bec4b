"""What crews ask, answered by `solve`: the question as a setup, the answer to its tolerance.

Expected values are from first principles, worked out apart from the program: water of 15 °C, smooth
hose of 0.0015 mm, couplings left out.
"""

from __future__ import annotations

from typing import Any

import pytest

from refgen.answers import answer, read_setup
from refgen.units import FOOT, INCH, POUND, POUND_FORCE, PSI, US_GALLON

GPM, BAR, YARD = US_GALLON / 60, 1e5, 3 * FOOT


def ask(text: str) -> tuple[dict[str, Any], str]:
    """Return the answer to a setup as data and as told."""
    found = answer(read_setup(text, "asked.yml"))
    return found.data(), found.text()


def within(percent: float, value: float) -> Any:
    return pytest.approx(value, rel=percent / 100)


def says(text: str, *phrases: str) -> None:
    for phrase in phrases:
        assert phrase in text, phrase


def test_how_much_power_an_engine_gets_back_lower_down() -> None:
    data, text = ask("engine: {altitude: 5000 ft, moved_to: 3000 ft}")
    gains = [100 * data["engine"][f"gain_{rule}"] for rule in ("air_density", "mild", "cautious")]
    assert gains == pytest.approx([5.3, 6.0, 7.0], abs=0.1)
    assert all(5.0 <= gain <= 7.1 for gain in gains)
    says(
        text, "it gains 5.3% to 7% of its sea-level rating", "A turbocharged engine loses far less"
    )


def test_the_right_tip_and_two_wrong_ones() -> None:
    data, text = ask(
        "pump: {flow: 4 gpm, pressure: 4000 psi, unloader: 4000 psi}\nchoose: {numbers: [6.5, 3]}"
    )
    assert data["choose"]["trade_number"] == within(2, 4.0)
    large, small = (case for case in data["choose"]["cases"] if "trade_number" in case)
    assert large["state"] == "full flow"
    assert large["nozzle_pa"] / PSI == within(3, 1515)
    assert small["full_flow_gauge_pa"] / PSI == within(3, 7111)
    assert small["flow_m3_per_s"] / GPM == within(3, 3.0)
    assert small["bypass_m3_per_s"] / GPM == within(8, 1.0)
    assert small["gauge_pa"] / PSI == within(0.1, 4000)
    says(
        text,
        "the pressure falls, nothing is harmed, but it cuts less",
        "the unloader opens, and part of the flow goes back to the tank",
        "never raise the setting to meet it",
    )


def test_pressure_of_one_flow_through_two_tips() -> None:
    data, text = ask("pump: {flow: 8 gpm}\nchoose: {numbers: [9, 20]}")
    nine, twenty = (case["nozzle_pa"] / PSI for case in data["choose"]["cases"])
    assert nine == within(3, 3160)
    assert twenty == within(3, 640)
    says(text, "The flow stays at 8 gpm", "the pressure falls with the square of the jet's size")


def test_friction_and_height_apart() -> None:
    data, text = ask(
        "pump: {flow: 3 gpm}\nhoses: [{bore: 3/8 in, length: 100 ft}]\nnozzle_below_pump: -50 ft"
    )
    found = data["hose"]
    assert found["hose_loss_pa"] / PSI == within(5, 41.86)
    assert found["height_pa"] / PSI == within(2, 21.66)
    assert 61.0 <= found["total_pa"] / PSI <= 72.0
    says(text, "The height takes", "whatever the flow", "0.43 psi a foot")


def test_which_of_two_hoses_wastes_more() -> None:
    data, text = ask(
        "pump: {flow: 18 gpm}\nhoses: [{bore: 1/2 in, length: 400 ft}]\n"
        "what_if: {hoses: [[{bore: 3/4 in, length: 800 ft}]]}"
    )
    (other,) = data["what_if"]["cases"]
    assert data["hose"]["hose_loss_pa"] / PSI == within(5, 1040)
    assert other["hose_loss_pa"] / PSI == within(5, 293.6)
    assert other["given_over_this"] == within(5, 3.542)
    assert 3.3 <= other["given_over_this"] <= 4.1
    says(text, "The hose as given loses 3.5 times as much", "one over bore^4.8")


def test_what_is_left_after_a_long_hose() -> None:
    data, text = ask(
        "hoses: [{bore: 1 in, length: 800 ft}]\nreading: {gauge: 1500 psi, flow: 65 gpm}\n"
        "what_if: {bores: [1 1/4 in]}"
    )
    assert data["hose"]["hose_loss_pa"] / PSI == within(5, 747.1)
    assert data["hose"]["nozzle_pa"] / PSI == within(5, 752.9)
    assert data["what_if"]["cases"][0]["hose_loss_pa"] / PSI == within(5, 253.7)
    says(text, "50% of the gauge is spent on the way", "a wider or shorter hose is the cure, not a")


def test_jet_speed_at_two_pressures() -> None:
    data, text = ask("jet: {pressures: [75 psi, 3000 psi]}")
    slow, fast = (case["speed_m_per_s"] / FOOT for case in data["jet"]["cases"])
    assert slow == within(2.5, 105.6)
    assert fast == within(2.5, 667.6)
    says(text, "Four times the pressure gives twice the speed", "at the nozzle that counts, not at")


def test_how_hard_a_lance_kicks() -> None:
    data, text = ask("lance: {flow: 18 gpm, pressure: 2500 psi}")
    assert data["lance"]["push_n"] == within(5, 210.8)
    assert data["lance"]["push_n"] / POUND_FORCE == within(5, 47.38)
    assert data["lance"]["held_by"] == "body"
    says(text, "Above 33.7 lbf (150 N) it must be braced", "jerk at opening", "Never tie it open")
    _, stronger = ask("lance: {flow: 30 gpm, pressure: 2500 psi}")
    says(stronger, "Above 56.2 lbf (250 N) nobody may hold it: a machine must.")


def test_antifreeze_for_two_hoses() -> None:
    data, text = ask(
        "hoses: [{bore: 3/8 in, length: 200 ft}, {bore: 1/2 in, length: 300 ft}]\n"
        "antifreeze: {other: 0.5 gal}"
    )
    small, large = (case["volume_m3"] / US_GALLON for case in data["antifreeze"]["cases"])
    assert small == within(2, 1.147)
    assert large == within(2, 3.06)
    assert data["antifreeze"]["total_m3"] / US_GALLON == within(3, 4.707)
    says(text, "Buy more than that: the first of it is thinned by the water left behind")


def test_antifreeze_thinned_by_water_left_behind() -> None:
    data, text = ask("antifreeze: {put_in: 3 gal, strength: 50 %, water_left: 2 gal}")
    assert 100 * data["mixture"]["strength"] == within(2, 30)
    assert -15 <= data["mixture"]["freezing_k"] - 273.15 <= -11
    assert -36 <= data["mixture"]["freezing_neat_k"] - 273.15 <= -31
    says(text, "burst rating on a label is no freezing point", "Test what comes out of the far end")


def test_a_tank_between_a_weak_tap_and_the_pump() -> None:
    data, text = ask("pump: {flow: 8 gpm}\nsupply: {flow: 5 gpm}\ntank: {volume: 65 gal}")
    assert data["tank"]["run_time_s"] / 60 == within(2, 21.67)
    assert data["tank"]["refill_time_s"] / 60 == within(2, 13.0)
    says(text, "divided by the shortfall", "not by the pump's flow", "low-level cut-out")


def test_the_air_gap_of_a_fill_pipe() -> None:
    data, text = ask("air_gap: {bore: 3 in}")
    assert data["air_gap"]["air_gap_m"] / INCH == pytest.approx(6.0)
    assert data["air_gap"]["air_gap_m"] * 1000 == within(1, 152.4)
    says(
        text,
        "6 in (152.4 mm)",
        "twice the bore",
        "rim",
        "the supplier decides",
        "inside the tank fails",
    )


def test_which_feed_hose_starves_the_pump() -> None:
    data, text = ask(
        "pump: {flow: 8 gpm}\nsuction: {bores: [1/2 in, 3/4 in, 1 in], length: 25 ft, height: 2 ft}"
    )
    cases = data["suction"]["cases"]
    for case, feet in zip(cases, (34.81, 4.986, 1.263), strict=True):
        assert case["loss_m"] / FOOT == within(5, feet)
    assert [case["starves"] for case in cases] == [True, True, False]
    says(text, "it starves the pump", "it barely works", "Shorter and wider", "full-bore valve")


def test_a_culvert_packed_with_soil() -> None:
    data, text = ask(
        "culvert: {bore: 2 ft, length: 25 ft, soil: 110 lb/ft3, solids: 10 %, "
        "flows: [4 gpm, 60 gpm]}"
    )
    found = data["culvert"]
    assert found["soil_m3"] / FOOT**3 == within(2, 78.54)
    assert found["soil_m3"] / YARD**3 == within(2, 2.909)
    assert found["mass_kg"] / POUND == within(2, 8639)
    assert found["water_m3"] / US_GALLON == within(3, 5288)
    small, large = (case["time_s"] / 3600 for case in found["cases"])
    assert small == within(3, 22.03)
    assert large == within(3, 1.469)
    says(text, "9 volumes of water", "Flow carries the dirt", "Work from the low end, stand aside")


def test_whether_a_short_nozzle_turns_round() -> None:
    data, text = ask("turn_round: {stiff_length: 5 in, bore: 8 in}")
    assert data["turn_round"]["can_turn"] is True
    assert data["turn_round"]["least_m"] / INCH == pytest.approx(8.0)
    assert data["turn_round"]["careful_m"] / INCH == pytest.approx(12.0)
    says(text, "Yes, it can turn round", "stiff extension or a skid", "No free spooling")


def test_what_a_wall_outlet_drives() -> None:
    data, text = ask(
        "outlet: {volts: 115 V, amps: [15 A, 20 A], pressure: 1500 psi, "
        "motor_efficiency: 75 %, pump_efficiency: 85 %}"
    )
    small, large = (case["flow_m3_per_s"] / GPM for case in data["outlet"]["cases"])
    assert small == within(4, 1.685)
    assert large == within(4, 2.247)
    says(text, "extension cord", "ground-fault protection", "power factor")


def test_what_the_nozzle_gets_behind_two_bores() -> None:
    data, text = ask(
        "pump: {flow: 8 gpm, pressure: 3000 psi}\nhoses: [{bore: 3/8 in, length: 300 ft}]\n"
        "what_if: {bores: [1/2 in]}"
    )
    (other,) = data["what_if"]["cases"]
    assert data["hose"]["hose_loss_pa"] / PSI == within(5, 723.5)
    assert data["hose"]["nozzle_pa"] / PSI == within(5, 2277)
    assert other["hose_loss_pa"] / PSI == within(5, 180.9)
    assert other["given_over_this"] == pytest.approx(4, abs=0.1)
    says(text, "The gauge stands before the hose")


def test_time_and_water_up_a_main_and_back() -> None:
    data, text = ask(
        "pump: {flow: 60 gpm}\ntank: {volume: 1500 gal}\n"
        "run: {length: 300 ft, out: 60 ft/min, back: 30 ft/min}"
    )
    assert data["run"]["time_s"] / 60 == within(2, 15)
    assert data["run"]["water_m3"] / US_GALLON == within(2, 900)
    assert data["run"]["length_per_tank_m"] / FOOT == within(2, 500)
    says(text, "One pass takes 15 min and 900 gal", "A tank cleans 500 ft")


RIG = """
pump: {flow: 12 gpm, pressure: 3500 psi, unloader: 3500 psi}
hoses: [{bore: 1/2 in, length: 200 ft}, {bore: 3/8 in, length: 100 ft}]
nozzle:
  discharge_coefficient: 0.8
  jets:
    - {count: 1, bore: 0.040 in, angle: 0 deg, faces: front}
    - {count: 6, bore: 0.047 in, angle: 20 deg, faces: rear}
what_if: {plugged: [{rear: 3}]}
choose: {jets: [7]}
"""


def test_rear_jets_open_and_half_of_them_plugged() -> None:
    data, text = ask(RIG)
    assert data["state"] == "full flow"
    assert data["nozzle_pa"] / PSI == within(3, 1145)
    assert data["gauge_pa"] / PSI == within(5, 1898)
    (plugged,) = data["what_if"]["cases"]
    assert plugged["state"] == "regulated"
    assert plugged["gauge_pa"] / PSI == within(1, 3500)
    assert 10.2 <= plugged["flow_m3_per_s"] / GPM <= 10.75
    assert 1.25 <= plugged["bypass_m3_per_s"] / GPM <= 1.8
    assert 2680 <= plugged["nozzle_pa"] / PSI <= 2960
    # Drilled too big for the pump: these jets are number 21, and 14.5 would do.
    assert data["choose"]["trade_number"] == within(5, 12 * (4000 / (3500 - 752)) ** 0.5)
    says(text, "Full flow: all the pump's water", "3 rear holes plugged", "The pull is one-sided")


def test_whether_a_tap_feeds_the_pump() -> None:
    data, text = ask("pump: {flow: 8 gpm}\nsupply: {bucket: 5 gal, time: 50 s}")
    assert data["supply"]["supply_m3_per_s"] / GPM == within(2, 6.0)
    assert data["supply"]["shortfall_m3_per_s"] / GPM == within(3, 2.0)
    says(text, "cannot feed the pump directly", "cavitate", "air gap", "end of the fill hose")


def test_a_metric_crew_needs_no_conversion() -> None:
    found = answer(
        read_setup(
            "pump: {flow: 70 L/min, pressure: 200 bar}\nhoses: [{bore: 13 mm, length: 80 m}]", "a"
        )
    )
    data = found.data()["hose"]
    assert data["hose_loss_pa"] / BAR == within(5, 44.13)
    assert data["nozzle_pa"] / BAR == within(5, 155.9)
    assert "With 200 bar (2,900 psi) at the gauge, 160 bar" in found.text("metric")


# ---- the same kinds with other numbers, worked out here


def test_another_engine_at_sea_level() -> None:
    # 8000 ft: 1 − 8·3.5 % = 72 %; 1 − 7.5·3 % = 77.5 %. Moved to 2000 ft: 93 % and 95.5 %.
    data, _ = ask("engine: {altitude: 8000 ft, moved_to: 2000 ft, power: 40 hp}")
    assert data["engine"]["share_left_cautious"] == pytest.approx(0.72)
    assert data["engine"]["gain_mild"] == pytest.approx(0.18)
    assert data["engine"]["power_left_w"] / 745.7 == pytest.approx(28.8, rel=1e-3)


def test_a_supply_that_is_enough() -> None:
    data, text = ask("pump: {flow: 4 gpm}\nsupply: {flow: 5 gpm}\ntank: {volume: 16 gal}")
    assert data["tank"]["run_time_s"] is None
    assert data["tank"]["refill_time_s"] / 60 == pytest.approx(3.2, rel=1e-3)
    says(text, "never runs dry", "That is enough for the pump")


def test_a_full_stack_behind_a_cap() -> None:
    # 20 ft: 1000·9.80665·6.096 = 59.78 kPa = 8.67 psi; on 3 in: 8.67·7.069 = 61.3 lbf.
    data, text = ask("stack: {height: 20 ft, opening: 3 in}")
    assert data["stack"]["pressure_pa"] / PSI == pytest.approx(8.67, rel=2e-3)
    assert data["stack"]["push_n"] / POUND_FORCE == pytest.approx(61.3, rel=2e-3)
    says(text, "Do not open it loaded")


def test_sheaves_for_another_pump_speed() -> None:
    # 3600 rpm · 4/10 = 1440 rpm; for 1200 rpm: 4·3600/1200 = 12 in, or 10·1200/3600 = 3.33 in.
    data, _ = ask(
        "sheaves: {engine_speed: 3600 rpm, engine_sheave: 4 in, pump_sheave: 10 in, "
        "wanted_speed: 1200 rpm}"
    )
    found = data["sheaves"]
    assert found["pump_speed_per_s"] * 60 == pytest.approx(1440)
    assert found["pump_sheave_m"] / INCH == pytest.approx(12)
    assert found["engine_sheave_m"] / INCH == pytest.approx(10 / 3)
    assert found["belt_speed_m_per_s"] == pytest.approx(3.14159265 * 4 * INCH * 60)


def test_a_trailer_with_a_full_tank() -> None:
    # 200 gal weigh 757.1 kg = 1669 lb: 5000 − 2950 − 1669 − 150 = 231 lb left.
    data, _ = ask("trailer: {gross: 5000 lb, empty: 2950 lb, tank: 200 gal, other: 150 lb}")
    assert data["trailer"]["load_left_kg"] / POUND == pytest.approx(231, abs=1)
    _, over = ask("trailer: {gross: 4000 lb, empty: 2950 lb, tank: 200 gal}")
    says(over, "It is overloaded by 619 lb")


def test_antifreeze_for_the_cold_expected() -> None:
    # Lange's table: −20.6 °C takes 40 %.
    data, text = ask(
        "antifreeze: {put_in: 3 gal, strength: 50 %, water_left: 2 gal, coldest: -20.6 degC}"
    )
    assert data["mixture"]["strength_needed"] == pytest.approx(0.40)
    says(text, "The mixture is too weak")
