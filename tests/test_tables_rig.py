"""Tables of what machines, pipes and nozzles do together: settings, wear, plugging, reach."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, exp, pi, radians, sqrt
from pathlib import Path
from typing import Any

import pytest

from refgen.hydraulics import Jet
from refgen.tables import ComputedTable
from refgen.tables.plugged_jets import with_rear_plugged
from refgen.units import FOOT, PSI, US_GALLON
from tests.tabling import (
    Files,
    Load,
    barrow,
    loader,
    number,
    page_of,
    record,
    table_of,
    text,
    workings_of,
)

GPM = US_GALLON / 60


@pytest.fixture
def load(data: Callable[..., list[Path]]) -> Load:
    """Return what loads the catalog of records under the base's own words and brand."""
    return loader(data)


def rows(table: ComputedTable, grid: int) -> dict[str, list[str]]:
    """Return the texts of a grid's cells by the id or text of the row."""
    return {
        head.id or str(head.text): [text(cell) for cell in cells]
        for head, cells in table.grids[grid].rows
    }


# ---- settings

PIPES = {
    "materials/clay": (
        "title: Clay\nanswer: C.\ngroup: clay-concrete-brick\nrecognise: [x]\nhurt_by: [x]\n"
        "technique: [x]\nbasis: caution\nwhy: None found.\nceilings:\n"
        "  unknown: {is: 1500 psi}\n  worn: {is: 100 psi}\n  sound: {is: 5000 psi}\n"
    ),
    "materials/lead": (
        "title: Lead\nanswer: L.\ngroup: metal\nrecognise: [x]\nhurt_by: [x]\ntechnique: [x]\n"
        "basis: caution\nwhy: None found.\nceilings:\n  unknown: {jet: no}\n"
        "  worn: {is: 1000 psi, jet: only with leave}\n"
    ),
}


def settings(load: Load, **changes: str) -> ComputedTable:
    return table_of(load(barrow("", **{**PIPES, **changes, "tables/t": record("settings")})))


def test_a_setting_is_the_ceiling_less_overshoot_and_gauge_error_rounded_down(load: Load) -> None:
    # A limit of 3000 psi asks for a dial to 5000 (two thirds of it: 3333). 1500/1.1 − 2.5 % of
    # 5000 = 1238.6 psi = 85.40 bar. 10 % under it 12 gpm take jets of 12·√(4000/1114.8) = 22.7.
    table = settings(load)
    unknown, _, sound = rows(table, 0)["barrow-clay"]
    assert unknown == "1,230 psi (85.4 bar) | jets no. 22.7 in all"
    # Never above the plate of 3000, however sound the pipe: 3000/1.1 − 125 = 2602.3.
    assert sound.startswith("2,600 psi (179 bar)")
    found = {r["condition"]: r for r in table.records if r["material"] == "clay"}
    assert number(found["unknown"]["setting_pa"]) / PSI == pytest.approx(1238.6, abs=0.1)
    assert found["unknown"]["setting_psi"] == 1238
    assert found["unknown"]["dial_pa"] == pytest.approx(5000 * PSI)


def test_where_nothing_is_left_or_jetting_is_bound_there_is_no_setting(load: Load) -> None:
    table = settings(load)
    _, clay_cells = table.grids[0].rows[0]
    assert clay_cells[1].reason == "gauge error, overshoot and height leave no pressure to set"
    lead = rows(table, 0)["barrow-lead"]
    assert lead[:2] == ["Do not jet", "No setting without leave"]
    assert table.grids[0].rows[1][1][2].reason.startswith("No ceiling is given")
    assert [r["setting_pa"] for r in table.records if r["material"] == "lead"] == [None] * 3


def test_a_reason_is_shown_as_a_sentence(load: Load) -> None:
    page = page_of(load(barrow("", **{**PIPES, "tables/t": record("settings")})), "tables/t.html")
    assert "<li>Gauge error, overshoot and height leave no pressure to set.</li>" in page
    assert "<li>No ceiling is given for this condition. Hold to the lowest in the row.</li>" in page


def test_a_machine_that_is_weaker_holds_its_own_limit(load: Load) -> None:
    # 1500/1.1 − 2.5 % of a dial to 1500 = 1326 psi, above the unloader's 1000.
    machine = (
        "title: Barrow\nanswer: M.\nflow: 12 gpm\npressure: 3000 psi\nunloader: 1000 psi\n"
        "fitted: []\nnozzles: []\nhoses: [{id: main, hose: wide-line, length: 5 ft}]\n"
    )
    unknown = rows(settings(load, **{"machines/barrow": machine}), 0)["barrow-clay"][0]
    assert unknown.startswith("Its own limit holds | 1,000 psi (68.9 bar)")


def test_a_hose_that_takes_more_than_the_setting_says_so(load: Load) -> None:
    # 100 ft of 1/4 in lose some 3500 psi at 12 gpm (tests of hose loss), far above 1238.
    hose = (
        "title: Thin\nanswer: H.\nbore: 1/4 in\nroughness: 0 mm\nworking_pressure: 4000 psi\n"
        "burst_pressure: 16000 psi\n"
    )
    machine = (
        "title: Barrow\nanswer: M.\nflow: 12 gpm\npressure: 3000 psi\nfitted: []\nnozzles: []\n"
        "hoses: [{id: main, hose: wide-line, length: 100 ft}]\n"
    )
    table = settings(load, **{"hoses/wide-line": hose, "machines/barrow": machine})
    assert rows(table, 0)["barrow-clay"][0] == "1,230 psi (85.4 bar) | at lower speed only"


def test_the_example_under_the_settings_is_the_sum_that_was_made(load: Load) -> None:
    example = settings(load).working.example.replace("\u00a0", " ")
    assert example == (
        "Clay: 1,500 psi (103 bar) ÷ 1.1 − 125 psi (8.62 bar) = 1,230 psi (85.4 bar), rounded "
        "down. The gauge error is 2.5% of a dial to 5,000 psi (345 bar)."
    )


def test_a_company_that_lowers_a_ceiling_lowers_its_setting(load: Load) -> None:
    # 1000/1.1 − 125 = 784.1
    own: Files = {"materials/clay": "ceilings:\n  unknown: {is: 1000 psi}\n"}
    files = barrow("", **{**PIPES, "tables/t": record("settings")})
    table = table_of(load(files, own))
    assert rows(table, 0)["barrow-clay"][0].startswith("784 psi")


# ---- wear


def wear(load: Load, **changes: str) -> ComputedTable:
    table = record("jet-wear", rows=["2 %", "10 %", "20 %"])
    return table_of(load(barrow("", **{**changes, "tables/t": table})))


def test_pressure_falls_with_the_fourth_power_and_pull_with_the_square(load: Load) -> None:
    # 1/1.02⁴ = 0.924, 1/1.02² = 0.961; 1/1.1⁴ = 0.683, 1/1.1² = 0.826; 1/1.2⁴ = 0.482, 0.694.
    assert rows(wear(load), 0) == {
        "2%": ["92%", "96%", "Still good"],
        "10%": ["68%", "83%", "Renew them"],
        "20%": ["48%", "69%", "Renew them"],
    }


def test_when_to_renew_is_the_datas_own_figure(load: Load) -> None:
    symptom = (
        "title: Worn\nanswer: W.\nfirst: F.\nstop: [{id: s, text: x}]\n"
        "causes: [{id: c, title: C, check: x, fix: y}]\n"
        "figures: {wear-limit: {is: 1 %, basis: practice, why: Ours.}}\n"
    )
    table = wear(load, **{"symptoms/jets-worn": symptom})
    assert rows(table, 0)["2%"][2] == "Renew them"


def test_the_gauge_shows_wear_only_once_the_jets_pass_all_the_flow(load: Load) -> None:
    # Number 14: 4000·(12/14)² = 2939 psi, worn by a fifth 2939/1.2⁴ = 1417. Number 10 stands on
    # the limit of 3000 until worn by a fifth: number 14.4, 4000·(12/14.4)² = 2778.
    found = rows(wear(load), 1)
    assert found["barrow-main-right"] == [
        "2,900 psi (200 bar)", "2,700 psi (190 bar)", "2,000 psi (140 bar)", "1,400 psi (98 bar)",
    ]  # fmt: skip
    assert found["barrow-main-tight"] == [
        "3,000 psi (210 bar)", "3,000 psi (210 bar)", "3,000 psi (210 bar)", "2,800 psi (190 bar)",
    ]  # fmt: skip


# ---- plugged jets

FOUR: dict[str, str] = {
    "patterns/straight": (
        "title: P\nanswer: P.\njets: [{id: rear, count: 4, angle: 20 deg, faces: rear}]\n"
        "discharge_coefficient: 0.75\ndoes: [x]\ndoes_not: [x]\n"
    ),
    "nozzles/right": (
        "title: S\nanswer: S.\npattern: straight\nthread: x\nstiff_length: 3 in\n"
        "jets: [{id: rear, number: 3.5}]\n"
    ),
}


def test_plugging_goes_with_the_square_of_what_is_left_open(load: Load) -> None:
    # (8/7)² = 1.31, (8/6)² = 1.78, (8/5)² = 2.56; of two jets one plugged: 4; of two both: none.
    table = table_of(load({"tables/t": record("plugged-jets", jets=[2, 8])}))
    assert rows(table, 0) == {
        "1 plugged": ["× 4", "× 1.3"],
        "2 plugged": ["Nothing comes", "× 1.8"],
        "3 plugged": ["Nothing comes", "× 2.6"],
    }


def test_a_machine_with_plugged_jets_stands_on_its_unloader(load: Load) -> None:
    # Four of number 3.5: 4000·(12/14)² = 2939 psi. One plugged: 10.5 would need 5224 psi, so the
    # unloader opens at 3000 and 10.5·√(3000/4000) = 9.09 gpm go out, 2.91 back.
    table = table_of(
        load(barrow(", nozzles: [right]", **{**FOUR, "tables/t": record("plugged-jets", jets=[4])}))
    )
    (row,) = rows(table, 1).values()
    assert row[:2] == ["2,900 psi (200 bar)", "Unloader open | 3,000 psi (210 bar)"]
    one = next(r for r in table.records if r["machine"] and r["plugged"] == 1)
    assert number(one["bypass_m3_per_s"]) / GPM == pytest.approx(2.907, abs=0.005)
    assert number(one["nozzle_pa"]) / PSI == pytest.approx(3000, rel=0.001)


def test_the_largest_rear_ring_plugs_first_and_front_jets_last() -> None:
    small, large, front = Jet(2, 1e-6, 0.1), Jet(4, 1e-6, 0.3), Jet(1, 1e-6, 0.0, "front")
    rings = (small, front, large)

    def counts(holes: int) -> list[int] | None:
        found = with_rear_plugged(rings, holes)
        return [jet.count for jet in found] if found else None

    assert counts(0) == [2, 1, 4]
    assert counts(3) == [2, 1, 1]
    assert counts(5) == [1, 1, 0]
    assert counts(6) == [0, 1, 0]
    assert counts(7) is None
    assert counts(8) is None


# ---- reach

# Hose of 1 in and 0.5 lb/ft full: (0.7441 + 999.1·π/4·0.0254²)·9.80665 = 12.26 N a metre.
# Number 20 at 12 gpm: 1440 psi, v = 0.97·√(2·9.93e6/999.1) = 136.8 m/s, pull ρ·Q·v·cos 20° = 97 N.
WEIGHT = (0.5 * 0.45359237 / FOOT + 999.1 * pi / 4 * 0.0254**2) * 9.80665
SPEED = 0.97 * sqrt(2 * 4000 * PSI * (12 / 20) ** 2 / 999.1)
PULL = 999.1 * 12 * GPM * SPEED * cos(radians(20))
# Trade number 5 % (speed as its inverse), flow 5 % (pull as its square), speed 2 %.
LESS = sqrt((1 - 1 / 1.05) ** 2 + (1 - 0.95**2) ** 2 + 0.02**2)
MORE = sqrt((1 / 0.95 - 1) ** 2 + (1.05**2 - 1) ** 2 + 0.02**2)


def reach(load: Load, length: str, weight: str = "weight: 0.5 lb/ft\n") -> ComputedTable:
    hose = (
        "title: Wide line\nanswer: H.\nbore: 1 in\nroughness: 0 mm\nworking_pressure: 4000 psi\n"
        f"burst_pressure: 16000 psi\n{weight}"
    )
    machine = (
        "title: Barrow\nanswer: M.\nflow: 12 gpm\npressure: 3000 psi\nfitted: []\n"
        f"nozzles: [wide]\nhoses: [{{id: main, hose: wide-line, length: {length}}}]\n"
    )
    table = record("reach", assume={"bend_at": "10 ft"})
    changes = {"hoses/wide-line": hose, "machines/barrow": machine, "tables/t": table}
    return table_of(load(barrow("", **changes)))


def test_a_reach_is_the_pull_over_weight_and_friction_with_the_pulls_margin(load: Load) -> None:
    row = reach(load, "1000 ft").records[0]
    assert row["pull_n"] == pytest.approx(PULL, rel=0.005)
    low, high = PULL * (1 - LESS), PULL * (1 + MORE)
    assert row["straight_shortest_m"] == pytest.approx(low / (WEIGHT * 0.6), rel=0.01)
    assert row["straight_longest_m"] == pytest.approx(high / (WEIGHT * 0.2), rel=0.01)
    # The bend multiplies what lies behind it by e^(friction·π/2), here after 10 ft = 3.048 m.
    for name, pull, friction in (("shortest", low, 0.6), ("longest", high, 0.2)):
        behind = WEIGHT * friction * 3.048 * exp(friction * pi / 2)
        right = 3.048 + (pull - behind) / (WEIGHT * friction)
        assert row[f"bend_{name}_m"] == pytest.approx(right, rel=0.03)


@pytest.mark.parametrize(
    ("length", "governs"),
    [("1000 ft", "Weight and friction"), ("30 ft", "The bend"), ("20 ft", "The hose's length")],
)
def test_what_governs_a_reach_is_named(load: Load, length: str, governs: str) -> None:
    (cells,) = rows(reach(load, length), 0).values()
    assert cells[3] == governs


def test_no_reach_goes_past_the_hose_there_is(load: Load) -> None:
    row = reach(load, "20 ft").records[0]
    ends = [row[name] for name in ("straight_shortest_m", "straight_longest_m", "bend_longest_m")]
    assert ends == [pytest.approx(6.096, abs=0.01)] * 3


def test_without_the_hoses_weight_the_reach_is_a_gap_with_its_reason(load: Load) -> None:
    _, cells = reach(load, "100 ft", weight="").grids[0].rows[0]
    assert text(cells[0]).endswith("N)")
    assert cells[1].reason == "No reach is given: the hose's weight is not known."


# ---- how it is shown


def test_every_computed_table_of_rigs_folds_its_working_with_an_example(load: Load) -> None:
    files: dict[str, Any] = {
        "settings": {},
        "jet-wear": {"rows": ["10 %"]},
        "plugged-jets": {"jets": [4]},
        "at-the-nozzle": {},
        "machine-jets": {"jets": [4]},
    }
    tables = {f"tables/{name}": record(name, **fields) for name, fields in files.items()}
    whole = {**barrow("", **PIPES), **tables}
    del whole["tables/t"]
    catalog = load(whole)
    folded = workings_of(catalog)
    assert folded.keys() == files.keys()
    for compute, html in folded.items():
        assert catalog.w["show_working"] in html
        assert catalog.w["worked_example"] in html, compute
        assert "{" not in html, compute


def test_the_working_links_the_sources_that_the_data_have(load: Load) -> None:
    source = "title: Gauges\nanswer: T.\nbody: B\nyear: 2000\nform: standard\nread: part\n"
    files = barrow("", **{**PIPES, "tables/t": record("settings")})
    assert "sources/index.html#gauge-standard" not in page_of(load(files), "tables/t.html")
    files["sources/gauge-standard"] = source
    assert "../sources/index.html#gauge-standard" in page_of(load(files), "tables/t.html")
