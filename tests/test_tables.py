"""Tables: every number against vectors, hand sums or the defining equation; every gap explained."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from math import cos, log10, pi, radians, sqrt
from pathlib import Path
from typing import Any

import pytest

from refgen.errors import DataError
from refgen.tables import COMPUTED, ComputedTable
from refgen.tables.duties import fed_by, strongest
from refgen.units import PSI, US_GALLON, parse_quantity
from tests.tabling import Files, Load, barrow, loader, page_of, pages_of, record, table_of, text

VECTORS = json.loads((Path(__file__).parent / "vectors" / "hydraulics.json").read_text("utf-8"))
GPM = US_GALLON / 60


@pytest.fixture
def load(data: Callable[..., list[Path]]) -> Load:
    """Return what loads the catalog of records under the base's own words and brand."""
    return loader(data)


# ---- hose-loss

# psi lost in 100 ft of smooth hose (0.0015 mm) by water of 20 °C, worked out apart from the
# program and rounded there to the digits given here.
BY_HAND = {
    "1/8 in": {1: 1130, 1.5: 2350, 2: 3960},
    "3/16 in": {2: 550, 3: 1150, 4: 1940},
    "1/4 in": {3: 285, 4: 480, 5.5: 850},
    "3/8 in": {5: 100, 8: 235, 10: 350, 12: 490},
    "1/2 in": {10: 88, 12: 122, 18: 254, 20: 307, 25: 462},
    "5/8 in": {18: 86, 25: 156, 30: 218, 40: 369},
    "3/4 in": {25: 65, 40: 152, 50: 229, 60: 320},
    "1 in": {40: 38, 60: 79, 65: 91, 80: 133},
    "1 1/4 in": {60: 27, 80: 45, 100: 68},
}


def hose_loss(load: Load, bore: str, flows: list[str], **assume: Any) -> ComputedTable:
    assume = {"roughness": "0.0015 mm", "water": "20 degC", **assume}
    return table_of(
        load({"tables/t": record("hose-loss", rows=flows, columns=[bore], assume=assume)})
    )


@pytest.mark.parametrize("bore", BY_HAND)
def test_hose_loss_is_what_was_worked_out_by_hand(load: Load, bore: str) -> None:
    table = hose_loss(load, bore, [f"{flow} gpm" for flow in BY_HAND[bore]])
    for row, expected in zip(table.records, BY_HAND[bore].values(), strict=True):
        assert row["loss_psi"] == pytest.approx(expected, rel=0.01, abs=0.5)


def test_hose_loss_solves_the_defining_equations(load: Load) -> None:
    # Back from the loss to the friction factor, and that into Colebrook's equation.
    table = hose_loss(load, "3/8 in", ["8 gpm"], roughness="0.01 mm", length="50 m")
    flow, bore, water = (
        8 * GPM,
        0.009525,
        next(w for w in VECTORS["water"] if w["temperature_c"] == 20),
    )
    rho, mu = water["density_kg_per_m3"], water["viscosity_pa_s"]
    loss = float(str(table.records[0]["loss_pa"]))
    factor = loss * pi**2 * bore**5 / (50 * 8 * rho * flow**2)
    reynolds = 4 * rho * flow / (pi * bore * mu)
    inner = 0.01e-3 / bore / 3.7 + 2.51 / (reynolds * sqrt(factor))
    assert 1 / sqrt(factor) == pytest.approx(-2 * log10(inner), rel=1e-4)


def test_no_loss_is_given_between_calm_and_broken_flow(load: Load) -> None:
    # Re = 4Q/(π·d·ν), ν of water at 20 °C = 1.0034e-6 m²/s: 1 gpm in 1 in is 3152, in 1 1/4 in
    # 2521; 0.8 gpm in 1 1/4 in is 2017, calm, so Hagen-Poiseuille gives the loss.
    assert 4 * GPM / (pi * 0.0254 * 1.0034e-6) == pytest.approx(3152, abs=1)
    between = hose_loss(load, "1 in", ["1 gpm"])
    (_, (cell,)), *_ = between.grids[0].rows
    assert cell.lines == ()
    assert "Reynolds number 2040 to 4000" in cell.reason
    assert between.grids[0].reasons() == [cell.reason]
    assert between.records[0]["loss_pa"] is None

    calm = hose_loss(load, "1 1/4 in", ["0.8 gpm"])
    poiseuille = 128 * 1.00160e-3 * 30.48 * 0.8 * GPM / (pi * 0.03175**4)
    assert calm.records[0]["loss_pa"] == pytest.approx(poiseuille, rel=1e-3)
    assert text(calm.grids[0].rows[0][1][0]) == "< 1 psi (< 0.07 bar)"


def test_a_loss_beyond_use_is_a_gap_with_its_reason(load: Load) -> None:
    shown = hose_loss(load, "1/8 in", ["2 gpm", "3 gpm"])
    assert [row["loss_psi"] is None for row in shown.records] == [False, False]
    cut = hose_loss(load, "1/8 in", ["2 gpm", "3 gpm"], most_loss="5000 psi")
    assert [row["loss_psi"] is None for row in cut.records] == [False, True]
    reason = cut.grids[0].rows[1][1][0].reason.replace("\u00a0", " ")
    assert reason == (
        "More than 5,000 psi (345 bar) would be lost in 100 ft (30 m). "
        "The bore is too small for this flow."
    )


def test_the_brands_units_stand_first(load: Load) -> None:
    # 1/2 in at 18 gpm loses 254 psi (above), which is 17.5 bar.
    files: Files = {
        "tables/t": record(
            "hose-loss", rows=["18 gpm"], columns=["1/2 in"], assume={"water": "20 degC"}
        )
    }
    us = table_of(load(files)).grids[0].rows[0]
    assert text(us[1][0]) == "250 psi (18 bar)"
    assert str(us[0].text) == "18 gpm (68 L/min)"
    metric = table_of(load(files, {"brand": "units_first: metric\n"})).grids[0]
    assert text(metric.rows[0][1][0]) == "18 bar (250 psi)"
    assert str(metric.rows[0][0].text) == "68 L/min (18 gpm)"
    assert str(metric.columns[0].text) == "13 mm (1/2 in)"


# ---- pipe-flow

# Bore: gallons in 100 ft, and gpm that it carries at 1 % with n 0.013; worked out apart.
PIPES = {
    "1 1/4 in": (6, 4),
    "2 in": (16, 13),
    "3 in": (37, 40),
    "4 in": (65, 85),
    "6 in": (147, 252),
    "8 in": (261, 542),
    "10 in": (408, 980),
    "12 in": (588, 1600),
}


def pipe_flow(load: Load, bores: list[str], slopes: list[str], **assume: Any) -> ComputedTable:
    return table_of(
        load({"tables/t": record("pipe-flow", rows=bores, columns=slopes, assume=assume)})
    )


def test_contents_and_flow_of_pipes_are_what_was_worked_out_by_hand(load: Load) -> None:
    table = pipe_flow(load, list(PIPES), ["1 %"])
    for row, (gallons, gpm) in zip(table.records, PIPES.values(), strict=True):
        flow = float(str(row["full_flow_m3_per_s_at_0.01"])) / GPM
        assert row["volume_gal"] == pytest.approx(gallons, abs=0.5)
        assert flow == pytest.approx(gpm, abs=0.5, rel=0.004)


def test_full_flow_is_manning_and_a_steeper_pipe_carries_more(load: Load) -> None:
    table = pipe_flow(load, ["6 in"], ["0.5 %", "1 %", "2 %"], manning_n=0.010)
    found = [table.records[0][f"full_flow_m3_per_s_at_{slope}"] for slope in (0.005, 0.01, 0.02)]
    bore = 6 * 0.0254
    for flow, slope in zip(found, (0.005, 0.01, 0.02), strict=True):
        manning = pi / 4 * bore**2 * (bore / 4) ** (2 / 3) * sqrt(slope) / 0.010
        assert flow == pytest.approx(manning, rel=1e-4)


def test_the_time_to_fill_is_contents_over_flow(load: Load) -> None:
    # 100 ft of 4 in: π/4 · (0.1016 m)² · 30.48 m = 0.24711 m³; 10 gpm: 391.7 s = 6.5 min.
    assert pi / 4 * 0.1016**2 * 30.48 / (10 * GPM) == pytest.approx(391.7, abs=0.05)
    table = pipe_flow(load, ["4 in"], ["1 %"], flow="10 gpm")
    assert table.records[0]["time_s"] == pytest.approx(391.7, abs=0.1)
    holds, fills, carries = table.grids[0].rows[0][1]
    assert [text(holds), text(fills), text(carries)] == [
        "65 gal (250 L)",
        "6.5 min",
        "85 gpm (320 L/min)",
    ]
    heads = [str(head.text).replace("\u00a0", " ") for head in table.grids[0].columns]
    assert heads[1] == "10 gpm (38 L/min) fills 100 ft (30 m) in"


def test_a_slope_beyond_manning_is_a_gap_with_its_reason(load: Load) -> None:
    table = pipe_flow(load, ["4 in"], ["20 %"])
    assert table.records[0]["full_flow_m3_per_s_at_0.2"] is None
    assert "slope of the pipe" in table.grids[0].rows[0][1][2].reason


# ---- nozzle-size and nozzle-flow


@pytest.mark.parametrize("case", VECTORS["bore_for_flow"], ids=lambda c: f"{c['bore_mm']:.2f}")
def test_nozzle_sizes_agree_with_an_independent_library(load: Load, case: dict[str, Any]) -> None:
    table = table_of(
        load(
            {
                "tables/t": record(
                    "nozzle-size",
                    rows=[f"{case['flow_gpm']} gpm"],
                    columns=[f"{case['pressure_psi']} psi"],
                    jets=[case["count"]],
                    assume={
                        "discharge_coefficient": case["discharge_coefficient"],
                        "water": f"{case['temperature_c']} degC",
                    },
                )
            }
        )
    )
    assert table.records[0]["bore_mm"] == pytest.approx(case["bore_mm"], abs=6e-4)


def one_nozzle(jets: str, pattern_share: float = 0.75, more: str = "") -> Files:
    return {
        "patterns/plain": (
            "title: Plain\nanswer: P.\njets: [{id: rear, count: 1, angle: 20 deg, faces: rear}]\n"
            f"discharge_coefficient: {pattern_share}\ndoes: [x]\ndoes_not: [x]\n"
        ),
        "nozzles/one": (
            f"title: One\nanswer: N.\npattern: plain\njets: [{{id: rear, {jets}}}]\n"
            f"thread: 1/4 in\nstiff_length: 3 in\n{more}"
        ),
    }


# L/min of one drilled hole that passes 0.75 of the ideal flow, at 100, 207 and 276 bar.
@pytest.mark.parametrize(
    ("bore", "flows"),
    [("1 mm", (5.0, 7.2, 8.3)), ("1.5 mm", (11.3, 16.2, 18.7)), ("2 mm", (20.0, 28.8, 33.3))],
)
def test_flow_of_a_hole_is_what_was_worked_out_by_hand(
    load: Load, bore: str, flows: tuple[float, ...]
) -> None:
    pressures = ["100 bar", "207 bar", "276 bar"]
    table = table_of(
        load({**one_nozzle(f"bore: {bore}"), "tables/t": record("nozzle-flow", columns=pressures)})
    )
    found = [float(str(row["flow_m3_per_s"])) * 60_000 for row in table.records]
    assert found == pytest.approx(flows, rel=0.005, abs=0.05)


def test_a_trade_number_passes_itself_at_4000_psi_and_half_at_1000(load: Load) -> None:
    table = table_of(
        load(
            {
                **one_nozzle("number: 4.5"),
                "tables/t": record("nozzle-flow", columns=["1000 psi", "4000 psi"]),
            }
        )
    )
    assert [row["flow_gpm"] for row in table.records] == pytest.approx([2.25, 4.5])
    head, cells = table.grids[0].rows[0]
    assert (head.address, head.id) == ("nozzles/one.html", "one")
    assert [text(cell) for cell in cells] == [
        "4.5",
        "2.2 gpm (8.5 L/min)",
        "4.5 gpm (17 L/min)",
    ]


def test_a_nozzles_own_coefficient_goes_before_its_patterns(load: Load) -> None:
    table = record("nozzle-flow", columns=["2000 psi"])
    plain = table_of(load({**one_nozzle("bore: 1 mm"), "tables/t": table})).records[0]
    own = one_nozzle("bore: 1 mm", more="discharge_coefficient: 0.9\n")
    better = table_of(load({**own, "tables/t": table})).records[0]
    ratio = float(str(better["flow_m3_per_s"])) / float(str(plain["flow_m3_per_s"]))
    assert ratio == pytest.approx(0.9 / 0.75, rel=1e-4)


# ---- at-the-nozzle

LEVEL = [
    case
    for case in VECTORS["operating_point"]
    if len(case["setup"]["hoses"]) == 1 and case["setup"]["nozzle_below_pump"].startswith("0 ")
]


def fleet(setup: dict[str, Any]) -> Files:
    """Return a written-out setup as a machine with one hose and one nozzle."""
    hose = setup["hoses"][0]
    pump, nozzle = setup["pump"], setup["nozzle"]
    carried = {"id": "reel", "hose": "only", **hose}
    bore, roughness = carried.pop("bore"), carried.pop("roughness")
    groups, sizes = [], []
    for number, jet in enumerate(nozzle["jets"]):
        own = {"id": f"ring-{number}"}
        groups.append({**own, **{k: jet[k] for k in ("count", "angle", "faces")}})
        sizes.append({**own, **{k: jet[k] for k in ("bore", "number") if k in jet}})
    shared = {"title": "X", "answer": "X."}
    records = {
        "hoses/only": {
            **shared,
            "bore": bore,
            "roughness": roughness,
            "working_pressure": "4000 psi",
            "burst_pressure": "16000 psi",
        },
        "patterns/only": {
            **shared,
            "jets": groups,
            "discharge_coefficient": nozzle["discharge_coefficient"],
            "velocity_coefficient": nozzle["velocity_coefficient"],
            "does": ["x"],
            "does_not": ["x"],
        },
        "nozzles/only": {
            **shared,
            "pattern": "only",
            "jets": sizes,
            "thread": "1/4 in",
            "stiff_length": "3 in",
        },
        "machines/only": {
            **shared,
            **pump,
            "hoses": [carried],
            "nozzles": ["only"],
            "fitted": [],
        },
    }
    water = setup["water"]["temperature"]
    table = record("at-the-nozzle", assume={"water": water})
    return {**{name: json.dumps(fields) for name, fields in records.items()}, "tables/t": table}


def test_the_vectors_hold_both_states_and_jets_both_ways() -> None:
    states = [case["expect"]["state"] for case in LEVEL]
    assert min(states.count("full flow"), states.count("regulated")) >= 10
    faces = [{jet["faces"] for jet in case["setup"]["nozzle"]["jets"]} for case in LEVEL]
    assert faces.count({"rear", "front"}) >= 5


@pytest.mark.parametrize("case", LEVEL, ids=lambda c: f"{c['expect']['gauge_pa']:.0f}")
def test_what_comes_out_agrees_with_an_independent_library(
    load: Load, case: dict[str, Any]
) -> None:
    row = table_of(load(fleet(case["setup"]))).records[0]
    right = case["expect"]
    flow = parse_quantity(case["setup"]["pump"]["flow"]).si
    assert row["state"] == right["state"]
    for name in ("flow_m3_per_s", "gauge_pa", "hose_loss_pa", "nozzle_pa"):
        assert row[name] == pytest.approx(right[name], rel=1e-3)
    assert row["bypass_m3_per_s"] == pytest.approx(right["bypass_m3_per_s"], abs=1e-3 * flow)
    # Pull is a difference of large forces, so its tolerance goes with the force of all jets.
    most = 1000 * right["flow_m3_per_s"] * right["jet_velocity_m_per_s"]
    assert row["pull_n"] == pytest.approx(right["pull_n"], abs=1e-3 * most)
    for name in ("flow_m3_per_s", "gauge_pa", "nozzle_pa", "pull_n"):
        assert float(str(row[f"{name}_less"])) + float(str(row[f"{name}_more"])) > 0


def test_only_the_nozzles_that_go_on_a_hose_are_shown_with_it(load: Load) -> None:
    all_of_them = table_of(load(barrow("")))
    assert [row["nozzle"] for row in all_of_them.records] == ["tight", "right", "wide"]
    second = "  - {id: tail, hose: wide-line, length: 5 ft, nozzles: []}\n"
    some = table_of(load(barrow(", nozzles: [wide]", second)))
    assert [(row["nozzle"], row["hose"]) for row in some.records] == [("wide", "wide-line")]
    head, _ = some.grids[0].rows[0]
    assert (head.id, head.machine) == ("barrow-main-wide", "barrow")
    assert head.address == "machines/barrow.html#main"
    assert some.ids == ("barrow-main-wide",)


def test_a_nozzle_the_machine_does_not_carry_is_told_of(load: Load) -> None:
    with pytest.raises(DataError) as caught:
        load(barrow(", nozzles: [other]"))
    assert str(caught.value) == (
        "1 problem in the data\n"
        "  base/machines/barrow.yml:8: hoses.main.nozzles: the machine carries no nozzle 'other'\n"
        "    Add it under the machine's own 'nozzles', or take it out."
    )


def test_state_and_bypass_are_told_in_words(load: Load) -> None:
    table = table_of(load(barrow("")))
    heads = [str(head.text) for head in table.grids[0].columns]
    rows = {
        str(row["nozzle"]): dict(zip(heads, map(text, cells), strict=True))
        for row, (_, cells) in zip(table.records, table.grids[0].rows, strict=True)
    }
    assert rows["tight"]["What the pump does"] == "Unloader open"
    assert rows["right"]["What the pump does"] == "Full flow, unloader shut"
    assert rows["right"]["Back to the tank"] == "Nothing"
    assert rows["tight"]["Gauge at the pump"] == "3,000 psi (207 bar)"
    tight = next(row for row in table.records if row["nozzle"] == "tight")
    assert tight["flow_gpm"] == pytest.approx(10 * sqrt(3000 / 4000), rel=0.005)
    assert tight["bypass_gpm"] == pytest.approx(12 - 10 * sqrt(3000 / 4000), rel=0.02)


def test_a_nozzle_that_pushes_back_says_so(load: Load) -> None:
    front = (
        "title: P\nanswer: P.\ndischarge_coefficient: 0.75\nvelocity_coefficient: 1\n"
        "does: [x]\ndoes_not: [x]\njets: [{id: rear, count: 1, angle: 20 deg, faces: front}]\n"
    )
    table = table_of(load(barrow(", nozzles: [wide]", **{"patterns/straight": front})))
    # F = ρ·Q·v·cos a with v = √(2p/ρ), at 12 gpm and 1440 psi.
    rho = next(w for w in VECTORS["water"] if w["temperature_c"] == 15)["density_kg_per_m3"]
    force = rho * 12 * GPM * sqrt(2 * 1440 * PSI / rho) * cos(radians(20))
    assert table.records[0]["pull_n"] == pytest.approx(-force, rel=1e-3)
    pull = next(
        cell
        for head, cell in zip(table.grids[0].columns, table.grids[0].rows[0][1], strict=True)
        if head.text == "Pull"
    )
    assert text(pull).startswith("Pushes back | −2")


def test_where_no_formula_holds_every_cell_says_why(load: Load) -> None:
    machine = (
        "title: Barrow\nanswer: M.\nflow: 1 gpm\npressure: 3000 psi\nfitted: []\n"
        "nozzles: [wide]\nhoses: [{id: main, hose: wide-line, length: 5 ft}]\n"
    )
    catalog = load(barrow("", **{"machines/barrow": machine}))
    table = table_of(catalog)
    _, cells = table.grids[0].rows[0]
    assert {bool(cell.reason) for cell in cells} == {True}
    assert "2040" in cells[0].reason
    assert table.records[0]["nozzle_pa"] is None
    assert strongest(fed_by(catalog, "barrow", catalog.machines()["barrow"].hoses[0])) is None


def test_the_strongest_nozzle_leaves_the_unloader_shut(load: Load) -> None:
    catalog = load(barrow(""))
    carried = catalog.machines()["barrow"].hoses[0]
    chosen = strongest(fed_by(catalog, "barrow", carried))
    assert chosen is not None
    assert chosen.nozzle == "right"
    only_tight = load(barrow(", nozzles: [tight]"))
    carried = only_tight.machines()["barrow"].hoses[0]
    chosen = strongest(fed_by(only_tight, "barrow", carried))
    assert chosen is not None
    assert (chosen.nozzle, chosen.duty and chosen.duty.state) == ("tight", "regulated")


# ---- ceilings

CLAY = (
    "title: Clay\nanswer: C.\ngroup: clay-concrete-brick\nrecognise: [x]\nhurt_by: [x]\n"
    "technique: [x]\nbasis: caution\nwhy: None found.\nceilings:\n"
    "  unknown: {is: 1500 psi}\n"
    "  sound: {is: 300 bar, basis: code, source: trials}\n"
)
LEAD = (
    "title: Lead\nanswer: L.\ngroup: metal\nrecognise: [x]\nhurt_by: [x]\ntechnique: [x]\n"
    "basis: caution\nwhy: None found.\nceilings:\n  unknown: {jet: no}\n"
    "  worn: {is: 1000 psi, jet: only with leave}\n"
)
TRIALS = "title: Trials\nanswer: T.\nbody: B\nyear: 2000\nform: code\nread: part\n"
PIPE: Files = {
    "materials/clay": CLAY,
    "materials/lead": LEAD,
    "sources/trials": TRIALS,
    "tables/t": record("ceilings"),
}


def test_a_ceiling_is_shown_in_both_units_with_what_it_rests_on(load: Load) -> None:
    clay, _ = table_of(load(PIPE)).grids
    head, (unknown, worn, sound) = clay.rows[0]
    assert (head.text, head.address, head.id) == ("Clay", "materials/clay.html", "clay")
    assert (text(unknown), unknown.basis) == ("1,500 psi (103 bar)", "caution")
    assert unknown.address == "materials/clay.html#unknown"
    assert (text(sound), sound.basis) == ("4,350 psi (300 bar)", "code")
    assert worn.lines == ()
    assert worn.reason == "No ceiling is given for this condition. Hold to the lowest in the row."


def test_where_jetting_is_forbidden_or_bound_the_words_stand_first(load: Load) -> None:
    _, lead = table_of(load(PIPE)).grids
    _, (unknown, worn, _) = lead.rows[0]
    assert text(unknown) == "Do not jet"
    assert text(worn) == "Only with leave, then at most | 1,000 psi (68.9 bar)"


def test_ceilings_come_in_the_groups_of_the_index_with_the_order_of_authority(load: Load) -> None:
    catalog = load(PIPE)
    table = table_of(catalog)
    assert [grid.caption for grid in table.grids] == ["Clay, concrete and brick", "Metal"]
    assert catalog.w["order_of_authority"] in table.assumptions
    assert table.heed == (catalog.w["lowest_wins"],)
    kept = {(r["material"], r["condition"]): r for r in table.records}
    assert kept["clay", "sound"]["ceiling_pa"] == 300e5
    assert (kept["clay", "sound"]["basis"], kept["clay", "sound"]["source"]) == ("code", "trials")
    assert kept["lead", "unknown"]["ceiling_pa"] is None
    assert kept["lead", "unknown"]["jet"] == "no"


def test_a_company_that_lowers_a_ceiling_lowers_it_in_the_table(load: Load) -> None:
    own: Files = {
        "materials/clay": "ceilings:\n  unknown: {is: 900 psi, basis: caution, why: Ours.}\n"
    }
    clay, _ = table_of(load(PIPE, own)).grids
    assert text(clay.rows[0][1][0]) == "900 psi (62.1 bar)"


def test_the_page_of_ceilings_links_each_cell_and_marks_it(load: Load) -> None:
    html = page_of(load(PIPE), "tables/t.html")
    assert 'href="../materials/clay.html#sound"' in html
    assert html.count('<i class="mark">cautious</i>') == 3
    assert '<i class="mark">code</i>' in html
    assert "<td>– note 1</td>" in "".join(line.strip() for line in html.splitlines())
    assert html.index("the lowest wins") < html.index("<table")


# ---- given tables, axes, files

GIVEN = {
    "title": "G",
    "answer": "A.",
    "how_to_read": ["Across."],
    "basis": "practice",
    "why": "Common.",
    "figures": {"band": {"is": "1.5 gpm", "to": "3 gpm"}},
    "given_columns": [{"id": "flow", "title": "Flow"}, {"id": "say", "title": "Say"}],
    "given_rows": [{"id": "small", "title": "Small", "cells": ["{band}", "<b>none"]}],
}


def test_a_cell_of_a_given_table_cites_the_records_figure(load: Load) -> None:
    html = page_of(load({"tables/t": json.dumps(GIVEN)}), "tables/t.html")
    cell = html.split("<td>")[1]
    assert "1.5\u00a0to\u00a03\u00a0gpm" in cell
    assert "5.7\u00a0to\u00a011\u00a0L/min" in cell
    assert '<i class="mark">practice</i>' in cell
    assert "&lt;b&gt;none" in html
    with pytest.raises(DataError, match="no figure 'bend'"):
        load({"tables/t": json.dumps(GIVEN).replace("{band}", "{bend}")})


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        (
            {"compute": "hose-loss", "rows": ["10 psi"], "columns": ["1/2 in"]},
            "rows.1: 10 psi is no flow\n    'hose-loss' takes a flow there.",
        ),
        (
            {"compute": "hose-loss", "rows": ["10 gpm"]},
            "'hose-loss' needs 'columns'\n    Give them as quantities of length.",
        ),
        (
            {"compute": "ceilings", "rows": ["10 gpm"]},
            "rows: 'ceilings' has no use for 'rows'\n    Take them out.",
        ),
        (
            {"compute": "machine-jets"},
            "'machine-jets' needs 'jets'\n"
            "    Give numbers of equal jets, such as 'jets: [4, 6, 8]'.",
        ),
    ],
)
def test_axes_that_do_not_fit_are_told_of(load: Load, fields: dict[str, Any], told: str) -> None:
    with pytest.raises(DataError) as caught:
        load({"tables/t": record(**fields)})
    assert str(caught.value) == f"1 problem in the data\n  base/tables/t.yml:1: {told}"


def test_the_files_of_a_table_hold_what_its_records_hold(load: Load) -> None:
    table = table_of(load(PIPE))
    assert json.loads(table.json()) == [dict(row) for row in table.records]
    rows = list(csv.DictReader(io.StringIO(table.csv())))
    assert len(rows) == 6
    assert rows[2]["ceiling"] == "300 bar"
    assert rows[1]["ceiling"] == ""


def test_a_table_of_nothing_says_so(load: Load) -> None:
    axes: dict[str, Any] = {
        "nozzle-size": {"rows": ["4 gpm"], "columns": ["2000 psi"], "jets": [1]},
        "machine-jets": {"jets": [4]},
        "nozzle-flow": {"columns": ["2000 psi"]},
        "hose-loss": {"rows": ["4 gpm"], "columns": ["1/4 in"]},
        "pipe-flow": {"rows": ["4 in"], "columns": ["1 %"]},
        "jet-wear": {"rows": ["5 %"]},
        "plugged-jets": {"jets": [4]},
        "lance-push": {"rows": ["4 gpm"], "columns": ["2000 psi"]},
        "engine-power": {"rows": ["0 ft"], "columns": ["77 degF"]},
        "antifreeze": {"rows": ["1/4 in"], "columns": ["100 ft"]},
        "tank-time": {"rows": ["50 gal"], "columns": ["5 gpm"]},
        "turn-round": {"rows": ["4 in"]},
        "air-gap": {"rows": ["1 in"]},
        "full-stack": {"rows": ["10 ft"], "columns": ["4 in"]},
        "jet-speed": {"rows": ["1000 psi"]},
        "flow-in-pipe": {"rows": ["4 in"], "columns": ["1 %"], "flows": ["8 gpm"]},
    }
    of_records = {"ceilings", "nozzle-flow", "at-the-nozzle", "machine-jets", "reach", "settings"}
    catalog = load(
        {f"tables/{compute}": record(compute, **axes.get(compute, {})) for compute in COMPUTED}
    )
    pages = pages_of(catalog)
    for compute in COMPUTED:
        html = pages[f"tables/{compute}.html"]
        empty = compute in of_records
        assert ("<table" in html) is not empty, compute
        assert (catalog.w["nothing_to_list"] in html) is empty, compute


def test_a_row_is_marked_by_its_machine_and_can_be_linked(load: Load) -> None:
    html = page_of(load(barrow("")), "tables/t.html")
    assert '<tr id="barrow-main-right" data-row-machine="barrow">' in html
