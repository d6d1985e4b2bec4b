"""Tables of short sums: lance, jets, engine, antifreeze, tank, lengths, stack, water in pipes."""

from __future__ import annotations

from collections.abc import Callable
from math import acos, pi, sin, sqrt
from pathlib import Path

import pytest

from refgen.tables import ComputedTable
from refgen.units import FOOT, INCH, POUND_FORCE, PSI, US_GALLON
from tests.tabling import Load, barrow, loader, number, record, table_of, text, workings_of

GPM = US_GALLON / 60


@pytest.fixture
def load(data: Callable[..., list[Path]]) -> Load:
    """Return what loads the catalog of records under the base's own words and brand."""
    return loader(data)


def cells_of(table: ComputedTable, grid: int = 0) -> list[list[str]]:
    return [[text(cell) for cell in cells] for _, cells in table.grids[grid].rows]


# ---- lance and jet


def test_the_push_of_a_lance_is_mass_flow_times_speed_with_who_may_hold_it(load: Load) -> None:
    # 18 gpm at 2500 psi: 1.1346 kg/s × 185.76 m/s = 210.8 N, between 150 and 250: on the body.
    # 4 gpm at 1000 psi: 0.2521 × 117.5 = 29.6 N. 25 gpm at 4000 psi: 1.5758 × 234.9 = 370 N.
    table = table_of(
        load(
            {
                "tables/t": record(
                    "lance-push",
                    rows=["4 gpm", "18 gpm", "25 gpm"],
                    columns=["1000 psi", "2500 psi", "4000 psi"],
                )
            }
        )
    )
    cells = cells_of(table)
    assert cells[0][0] == "6.7 lbf (30 N)"
    assert cells[1][1] == "Brace it on the body | 47 lbf (210 N)"
    assert cells[2][2] == "Never by hand | 83 lbf (370 N)"
    found = next(
        r for r in table.records if (r["flow"], r["nozzle_pressure"]) == ("18 gpm", "2,500 psi")
    )
    right = 999.1 * 18 * GPM * sqrt(2 * 2500 * PSI / 999.1)
    assert found["push_n"] == pytest.approx(right, rel=1e-4)
    assert number(found["push_lbf"]) == pytest.approx(right / POUND_FORCE, rel=5e-3)


def test_the_speed_of_a_jet_goes_with_the_square_root_of_pressure(load: Load) -> None:
    # √(2·75 psi/999.1) = 32.18 m/s = 105.6 ft/s; 0.97 of it: 102.4. 3000 psi: 203.5 m/s = 667.6.
    # Push of 1 gpm at 3000 psi: 999.1·6.309e-5·0.97·203.5 = 12.44 N = 2.8 lbf.
    table = table_of(load({"tables/t": record("jet-speed", rows=["75 psi", "3000 psi"])}))
    assert cells_of(table) == [
        ["106 ft/s (32.2 m/s)", "102 ft/s (31.2 m/s)", "0.44 lbf (2 N)"],
        ["668 ft/s (203 m/s)", "648 ft/s (197 m/s)", "2.8 lbf (12 N)"],
    ]


# ---- engine


def test_the_power_left_is_a_range_of_the_rules_the_cautious_first(load: Load) -> None:
    # 5000 ft: 1 − 5·3.5 % = 82.5 %; 1 − 4.5·3 % = 86.5 %; thin air (1 − 0.0065·1524/288.15)^4.25588
    # = 86.2 %. 113 °F: petrol loses 3.6 %, diesel 28/5 = 5.6 %.
    table = table_of(
        load(
            {
                "tables/t": record(
                    "engine-power",
                    rows=["0 ft", "5000 ft", "20000 ft"],
                    columns=["77 degF", "113 degF"],
                )
            }
        )
    )
    petrol, diesel = cells_of(table, 0), cells_of(table, 1)
    assert petrol[0] == ["100%", "96%"]
    assert petrol[1][0] == "82 to 86%"
    assert diesel[0] == ["100%", "94%"]
    _, beyond = table.grids[0].rows[2]
    assert "height above the sea" in beyond[0].reason
    found = next(r for r in table.records if r["altitude"] == "5,000 ft" and r["fuel"] == "diesel")
    assert found["cautious"] == pytest.approx(0.825)
    assert found["mildest"] == pytest.approx(0.865)


def test_a_machine_is_told_whether_height_and_heat_leave_it_enough(load: Load) -> None:
    # 12 gpm at 3000 psi: 12·3000/1714/0.85 = 24.7 hp. 26 hp in air of 113 °F: ·0.964 = 25.1 at sea
    # level, enough; at 5000 ft ·0.825 = 20.7, which is 84 % of what it needs.
    part = "title: Engine\nanswer: E.\ndoes: D.\ndrive: true\n"
    machine = (
        "title: Barrow\nanswer: M.\nflow: 12 gpm\npressure: 3000 psi\npower: 26 hp\n"
        "fitted: [petrol-engine]\nnozzles: []\n"
        "hoses: [{id: main, hose: wide-line, length: 5 ft}]\n"
    )
    table = table_of(
        load(
            barrow(
                "",
                **{
                    "parts/petrol-engine": part,
                    "machines/barrow": machine,
                    "tables/t": record(
                        "engine-power", rows=["0 ft", "5000 ft"], columns=["77 degF", "113 degF"]
                    ),
                },
            )
        )
    )
    assert table.grids[2].caption.replace("\u00a0", " ") == (
        "Left on each machine, in air of 113 °F (45 °C)"
    )
    assert cells_of(table, 2) == [
        ["Enough for its plate | 25 hp (19 kW)", "Short: 84% of what it needs | 21 hp (15 kW)"]
    ]
    assert table.grids[2].rows[0][0].machine == "barrow"


# ---- antifreeze and tank


def antifreeze(load: Load) -> ComputedTable:
    return table_of(
        load(
            {
                "tables/t": record(
                    "antifreeze", rows=["3/8 in", "1/2 in"], columns=["200 ft", "300 ft"]
                )
            }
        )
    )


def test_hoses_hold_what_their_bore_and_length_give(load: Load) -> None:
    # 200 ft of 3/8 in: π/4·(0.009525 m)²·60.96 m = 4.344 L = 1.147 gal; 300 ft of 1/2 in: 3.06 gal.
    table = antifreeze(load)
    assert cells_of(table)[0][0] == "1.1 gal (4.3 L)"
    found = [r["volume_gal"] for r in table.records if r["bore"]]
    assert found[0] == pytest.approx(1.147, abs=0.001)
    assert found[3] == pytest.approx(3.06, abs=0.005)


def test_a_mixture_is_told_with_its_strength_and_its_freezing_point(load: Load) -> None:
    # Lange's table: 30 % by volume freezes at −12.8 °C, 50 % at −33.3 °C. Two parts of water to ten
    # at 50 %: 10·0.5/12 = 41.7 %, between 40 % (−20.6) and 45 % (−26.7): −22.6 °C = −9 °F.
    table = antifreeze(load)
    freezing = dict(
        zip((str(h.text) for h, _ in table.grids[1].rows), cells_of(table, 1), strict=True)
    )
    assert freezing["30%"] == ["9 °F (−13 °C)"]
    assert freezing["50%"] == ["−28 °F (−33 °C)"]
    mixed = table.grids[2]
    assert [str(h.text) for h in mixed.columns] == [
        "Put in at 50%",
        "Put in at 40%",
        "Put in at 30%",
    ]
    assert cells_of(table, 2)[2][0] == "42% | −9 °F (−23 °C)"
    assert cells_of(table, 2)[0][2] == "30% | 9 °F (−13 °C)"


def cold_antifreeze(load: Load, flow: str, cold: str, **more: str) -> ComputedTable:
    assumed = {"flow": flow, "length": "200 ft", "water": cold, **more}
    table = record("antifreeze", rows=["3/8 in"], columns=["200 ft"], assume=assumed)
    return table_of(load({"tables/t": table}))


def test_how_thick_cold_antifreeze_is_and_what_it_takes_to_push_it(load: Load) -> None:
    # An independent library gives 30 % at −10 °C 12.92 mPa·s; water of 10 °C has 1.306: 9.9 times.
    table = cold_antifreeze(load, "2 gpm", "-5 degC")
    thick, pushed = cells_of(table, 3), cells_of(table, 4)
    thicker = "How many times thicker than water of 50\u00a0°F (10\u00a0°C) it is"
    assert table.grids[3].caption == thicker
    assert thick[1][2] == "9.9 ×"
    # Calm flow, 40 % at −5 °C with 16.85 mPa·s: 128·μ·L·Q/(π·d⁴).
    right = 128 * 16.85e-3 * 200 * FOOT * 2 * GPM / (pi * (0.375 * INCH) ** 4)
    assert right / PSI == pytest.approx(93, abs=0.5)
    assert pushed[0][1] == "93 psi (6.4 bar)"
    found = next(r for r in table.records if r["loss_pa"] and r["strength"] == 0.4)
    assert number(found["loss_pa"]) == pytest.approx(right, rel=5e-3)


def test_no_pressure_is_told_for_slush_and_between_calm_and_broken_flow(load: Load) -> None:
    # 30 % freezes at −12.8 °C. At 4 gpm and 40 % the hose runs at Re 2092.
    slush = cold_antifreeze(load, "2 gpm", "-15 degC").grids[4].rows[0][1][0]
    assert (slush.lines, slush.reason) == ((), "Slush at this temperature. No pump moves it.")
    between = cold_antifreeze(load, "4 gpm", "-5 degC").grids[4].rows[0][1][1]
    assert between.lines == ()
    assert "calm or broken" in between.reason
    # The 93 psi from above are more than is called of use here.
    cold = cold_antifreeze(load, "2 gpm", "-5 degC", most_loss="90 psi").grids[4].rows[0][1][1]
    assert cold.lines == ()
    assert cold.reason.replace("\u00a0", " ") == (
        "More than 90 psi (6.21 bar) would be lost in 200 ft (61 m). "
        "The bore is too small for this flow."
    )


def test_what_the_hoses_of_a_machine_hold_is_added_up(load: Load) -> None:
    # 5 ft and 10 ft of 1 in: π/4·0.0254²·4.572 = 2.317 L = 0.61 gal.
    second = "  - {id: tail, hose: wide-line, length: 10 ft, nozzles: []}\n"
    table = record("antifreeze", rows=["1 in"], columns=["5 ft"])
    found = table_of(load(barrow(", nozzles: []", second, **{"tables/t": table})))
    assert cells_of(found, 1) == [["0.61 gal (2.3 L)"]]


def test_a_tank_lasts_its_volume_over_what_it_loses(load: Load) -> None:
    # 65 gal at 3 gpm short: 21.7 min; at 5 gpm: 13 min. A machine of 12 gpm with 65 gal: 5.4 min
    # alone, 65/7 = 9.3 min with 5 gpm coming in, never dry with 12.
    machine = (
        "title: Barrow\nanswer: M.\nflow: 12 gpm\npressure: 3000 psi\ntank: 65 gal\nfitted: []\n"
        "nozzles: []\nhoses: [{id: main, hose: wide-line, length: 5 ft}]\n"
    )
    table = table_of(
        load(
            barrow(
                "",
                **{
                    "machines/barrow": machine,
                    "tables/t": record(
                        "tank-time", rows=["65 gal"], columns=["3 gpm", "5 gpm", "12 gpm"]
                    ),
                },
            )
        )
    )
    assert cells_of(table) == [["22 min", "13 min", "5.4 min"]]
    assert cells_of(table, 1) == [
        ["lasts 5.4 min", "lasts 7.2 min | fills in 22 min", "lasts 9.3 min | fills in 13 min",
         "Never runs dry | fills in 5.4 min"]
    ]  # fmt: skip
    assert table.records[-1]["time_s"] is None


# ---- lengths and standing water


def test_the_stiff_length_is_one_and_a_half_bores_or_the_datas_own_rule(load: Load) -> None:
    files = {"tables/t": record("turn-round", rows=["8 in"])}
    assert cells_of(table_of(load(files))) == [["12 in (304.8 mm)", "8 in (203.2 mm)"]]
    hazard = (
        "title: Out\nanswer: O.\nsignal: danger\nharm: [x]\nprevent: [{id: p, text: x}]\n"
        "defer_to: [Them.]\n"
        "figures: {turn-round: {is: 2 times, basis: practice, why: Ours.}}\n"
    )
    own = load({**files, "hazards/nozzle-out-of-pipe": hazard})
    assert cells_of(table_of(own)) == [["16 in (406.4 mm)", "8 in (203.2 mm)"]]


def test_each_nozzle_is_told_the_pipes_in_which_it_can_turn(load: Load) -> None:
    # 3 in stiff: by the careful rule good to 2 in; it can turn in anything wider than 3 in.
    table = table_of(load(barrow("", **{"tables/t": record("turn-round", rows=["4 in"])})))
    head, cells = table.grids[1].rows[0]
    assert head.address.startswith("nozzles/")
    assert [text(cell) for cell in cells] == ["3 in (76 mm)", "2 in (50.8 mm)", "3 in (76 mm)"]


def test_the_air_gap_is_twice_the_bore_and_never_under_an_inch(load: Load) -> None:
    table = table_of(load({"tables/t": record("air-gap", rows=["3/8 in", "3 in"])}))
    assert cells_of(table) == [
        ["1 in (25.40 mm)", "1.125 in (28.58 mm)"],
        ["6 in (152.4 mm)", "9 in (228.6 mm)"],
    ]


def test_behind_a_cap_stand_0_433_psi_a_foot(load: Load) -> None:
    # 10 ft: 4.33 psi; on 4 in: 4.33·π/4·16 = 54.4 lbf.
    table = table_of(load({"tables/t": record("full-stack", rows=["10 ft"], columns=["4 in"])}))
    assert cells_of(table) == [["4.3 psi (0.30 bar)", "54 lbf (240 N)"]]
    row = table.records[0]
    assert row["pressure_pa"] == pytest.approx(1000 * 9.80665 * 3.048, rel=1e-4)
    assert row["push_n"] == pytest.approx(9806.65 * 3.048 * pi / 4 * (4 * INCH) ** 2, rel=1e-4)
    assert pytest.approx(3.048) == FOOT * 10


# ---- water in the pipe


def running(load: Load, rows: list[str], columns: list[str], flows: list[str]) -> ComputedTable:
    fields = {"rows": rows, "columns": columns, "flows": flows}
    return table_of(load({"tables/t": record("flow-in-pipe", **fields)}))


def test_depth_and_speed_solve_mannings_formula(load: Load) -> None:
    row = running(load, ["6 in"], ["1 %"], ["18 gpm"]).records[0]
    # Back from the depth: area, wetted edge and radius of the segment, and Manning's flow.
    bore, share = 6 * INCH, number(row["depth_ratio"])
    angle = 2 * acos(1 - 2 * share)
    area = bore**2 / 8 * (angle - sin(angle))
    radius = area / (bore / 2 * angle)
    speed = radius ** (2 / 3) * sqrt(0.01) / 0.013
    assert row["velocity_m_per_s"] == pytest.approx(speed, rel=1e-3)
    assert area * speed == pytest.approx(18 * GPM, rel=1e-3)
    assert row["shear_pa"] == pytest.approx(9806.65 * radius * 0.01, rel=1e-3)


def test_a_pipe_that_runs_full_says_so_and_sand_is_named_where_it_moves(load: Load) -> None:
    # 4 in at 0.5 % carries 60 gpm just full (85 gpm at 1 %, see the table of pipes): 100 gpm do not
    # go through. At 4 % 18 gpm pull with ρ·g·R·S well over the 0.87 Pa that moves a sewer's sand.
    full = running(load, ["4 in"], ["0.5 %"], ["100 gpm"])
    assert cells_of(full) == [["Full, backs up"]]
    assert full.records[0]["state"] == "full"
    steep = running(load, ["4 in"], ["4 %"], ["18 gpm"])
    row = steep.records[0]
    assert number(row["shear_pa"]) > 0.867
    assert row["moves_sewer_sand"] == 1
    assert cells_of(steep)[0][0].startswith("Sand ")
    slack = running(load, ["12 in"], ["0.1 %"], ["0.5 gpm"])
    assert slack.records[0]["moves_sewer_sand"] == 0
    assert cells_of(slack)[0][0].split(" | ")[0] in ("Nothing moves", "Only fine sand")


def test_a_slope_beyond_manning_has_its_reason(load: Load) -> None:
    table = running(load, ["4 in"], ["20 %"], ["8 gpm"])
    assert "slope of the pipe" in table.grids[0].rows[0][1][0].reason
    assert table.records[0]["state"] == "no formula"


# ---- how it is shown


def test_every_computed_table_of_sums_folds_its_working_with_an_example(load: Load) -> None:
    files = {
        "lance-push": {"rows": ["4 gpm"], "columns": ["2000 psi"]},
        "jet-speed": {"rows": ["1000 psi"]},
        "engine-power": {"rows": ["0 ft"], "columns": ["77 degF"]},
        "antifreeze": {"rows": ["1/4 in"], "columns": ["100 ft"]},
        "tank-time": {"rows": ["50 gal"], "columns": ["5 gpm"]},
        "turn-round": {"rows": ["4 in"]},
        "air-gap": {"rows": ["1 in"]},
        "full-stack": {"rows": ["10 ft"], "columns": ["4 in"]},
        "flow-in-pipe": {"rows": ["4 in"], "columns": ["1 %"], "flows": ["8 gpm"]},
        "hose-loss": {"rows": ["8 gpm"], "columns": ["3/8 in"]},
        "nozzle-size": {"rows": ["4 gpm"], "columns": ["2000 psi"], "jets": [1]},
        "pipe-flow": {"rows": ["4 in"], "columns": ["1 %"]},
    }
    catalog = load({f"tables/{name}": record(name, **fields) for name, fields in files.items()})
    folded = workings_of(catalog)
    assert folded.keys() == files.keys()
    for compute, html in folded.items():
        assert catalog.w["worked_example"] in html, compute
        assert "{" not in html, compute


def test_the_example_under_hose_loss_is_the_defining_equation(load: Load) -> None:
    # 8 gpm in 3/8 in: v = 5.0472e-4/(π/4·0.009525²) = 7.08 m/s = 23.2 ft/s;
    # Re = 7.083·0.009525/1.1386e-6 = 59 250; loss 241 psi in 100 ft (a third of 723.5).
    table = table_of(
        load({"tables/t": record("hose-loss", rows=["8 gpm"], columns=["3/8 in"],
                                 assume={"roughness": "0.0015 mm"})})
    )  # fmt: skip
    example = table.working.example.replace("\u00a0", " ")
    assert example.startswith(
        "8 gpm (30 L/min) in 3/8 in (9.5 mm): v = 23.2 ft/s (7.08 m/s), Re = 59,2"
    )
    assert "loss = 241 psi (16.6 bar) in 100 ft (30 m)." in example
