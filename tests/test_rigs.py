"""A machine's own gauge reading, and where its numbers go by it from then on.

A number passes as many US gpm at 4000 psi: number 20 takes 12 gpm at 4000·(12/20)² = 1440 psi. A
gauge at 1600 psi therefore tells √(1440/1600) = 0.9487 of its flow area. 5 ft of 1 in hose lose
less than a psi.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import pi, sqrt
from pathlib import Path

import pytest

from refgen.answers import answer, read_setup
from refgen.catalog import Catalog
from refgen.hydraulics.orifice import number_of_area, total_area
from refgen.reports import check_report
from refgen.rigs import Calibration, calibration_of
from refgen.tables.duties import fed_by
from refgen.units import PSI
from refgen.worksheet.fleet import fleet
from tests.tabling import Load, barrow, loader, page_of, record, table_of

SHARE = sqrt(1440 / 1600)
READ = "calibration: {nozzle: wide, gauge: %s, on: 2026-11-18%s}\n"


@pytest.fixture
def load(data: Callable[..., list[Path]]) -> Load:
    """Return what loads the catalog of records under the base's own words and brand."""
    return loader(data)


def read(load: Load, gauge: str, more: str = "", **changes: str) -> Catalog:
    return load(barrow("", READ % (gauge, more), **changes))


def calibration(catalog: Catalog) -> Calibration:
    return calibration_of(catalog, catalog.machines()["barrow"])


def gauges(catalog: Catalog) -> dict[str, float]:
    """Return what the gauge shows with each nozzle of the machine, in psi."""
    (carried,) = catalog.machines()["barrow"].hoses
    fed = fed_by(catalog, "barrow", carried)
    return {one.nozzle: one.duty.gauge / PSI for one in fed if one.duty}


def test_a_machine_that_was_never_read_goes_by_the_sizes_of_its_jets(load: Load) -> None:
    catalog = load(barrow(""))
    assert calibration(catalog) == Calibration(1.0, "", "")
    assert gauges(catalog)["wide"] == pytest.approx(1440, abs=1)


def test_a_reading_tells_the_share_that_the_jets_pass(load: Load) -> None:
    found = calibration(read(load, "1600 psi"))
    assert found.share == pytest.approx(SHARE, abs=3e-4)
    taken = found.reading_with("wide")
    assert taken is not None
    assert taken.gauge == pytest.approx(1600 * PSI)
    # Class 2.5 of the dial to 5000 psi on which the plate's 3000 stand at two thirds at most.
    assert taken.error == pytest.approx(125 * PSI)
    assert found.reading_with("right") is None
    # 10.8 gpm measured meanwhile: 0.9 of the flow, and so of the area.
    slower = calibration(read(load, "1600 psi", ", flow: 10.8 gpm"))
    assert slower.share == pytest.approx(0.9 * SHARE, abs=3e-4)


def test_the_hose_it_was_read_on_and_its_water_are_counted(load: Load) -> None:
    # The same on 400 ft of 1 in: 12 gpm lose some psi, more with cold water.
    hose = "  - {id: long, hose: wide-line, length: 400 ft}\n"
    long, cold = (
        calibration(load(barrow("", hose + READ % ("1600 psi", ", hose: long" + more)))).share
        for more in ("", ", water: 2 degC")
    )
    assert SHARE < long < cold


def test_every_number_of_the_machine_goes_by_it(load: Load) -> None:
    catalog = read(load, "1600 psi")
    found = gauges(catalog)
    assert found["wide"] == pytest.approx(1600, abs=1)
    # Number 14 would take 12 gpm at 2939 psi, now at 3265: the unloader opens at 3000.
    assert found["right"] == pytest.approx(3000, abs=1)
    assert gauges(load(barrow("")))["right"] == pytest.approx(2939, abs=1)


def test_a_nozzle_for_the_machine_is_chosen_by_it(load: Load) -> None:
    # 12 gpm at 3000 psi is 12·√(4000/3000) = 13.86; jets that pass 0.9487 must be number 14.6.
    table = record("machine-jets", jets=[4])
    (row,) = table_of(read(load, "1600 psi", **{"tables/t": table})).records
    assert row["trade_number"] == pytest.approx(12 * sqrt(4 / 3) / SHARE, abs=0.02)
    # Four holes of Cd 0.75·0.9487 with the area of number 13.86 between them.
    area = 12 * 0.003785411784 / 60 / sqrt(2 * 3000 * PSI / 999.1)
    bore = sqrt(4 * area / (4 * pi * 0.75 * SHARE))
    assert row["bore_mm_each_of_4"] == pytest.approx(bore * 1e3, rel=2e-3)


def test_a_setup_that_names_the_machine_goes_by_it(load: Load) -> None:
    catalog = read(load, "1600 psi")
    found = answer(read_setup("machine: barrow\nnozzle: wide\n", "a.yml"), catalog)
    assert found.data()["gauge_pa"] / PSI == pytest.approx(1600, abs=1)
    assert "by the gauge the jets pass 95% of what their sizes say" in found.text()
    chosen = answer(read_setup("machine: barrow\nchoose: {numbers: [20]}\n", "a.yml"), catalog)
    (tried,) = (c for c in chosen.data()["choose"]["cases"] if c.get("trade_number") == 20)
    assert tried["gauge_pa"] / PSI == pytest.approx(1600, abs=1)
    (stock,) = (c for c in chosen.data()["choose"]["cases"] if c.get("nozzle") == "wide")
    assert stock["gauge_pa"] / PSI == pytest.approx(1600, abs=1)


def test_a_new_reading_goes_before_the_kept_one_and_says_how_it_is_kept(load: Load) -> None:
    asked = "machine: barrow\nnozzle: wide\nreading: {gauge: 1500 psi, flow: 11.9 gpm}\n"
    found = answer(read_setup(asked, "a.yml"), read(load, "1600 psi"))
    right = 11.9 / 12 * sqrt(1440 / 1500)
    assert found.data()["calibration"]["flow_area_share"] == pytest.approx(right, abs=1e-3)
    assert found.data()["nozzle_pa"] / PSI == pytest.approx(1440 / right**2, rel=2e-3)
    line = "calibration: {nozzle: wide, gauge: 1500 psi, flow: 11.9 gpm, on: …}"
    assert f"Write '{line}' with the day under 'on' into the machine's record" in found.text()


def test_the_same_nozzle_is_surer_then_and_others_are_not(load: Load) -> None:
    catalog = read(load, "1600 psi")
    (carried,) = catalog.machines()["barrow"].hoses
    fed = {one.nozzle: one for one in fed_by(catalog, "barrow", carried)}
    known, other = fed["wide"].margins, fed["right"].margins
    assert known is not None
    assert other is not None
    # With next to no hose the nozzle is known as well as the gauge: 125 psi. Neither the number's
    # own 5 % nor the pump's, 10.25 % of the pressure, count any more.
    assert known.nozzle.upper / PSI == pytest.approx(125, abs=1)
    assert known.nozzle.cause == "pressure-limit"
    assert other.flow.cause == "trade-number"


def test_a_reading_that_cannot_be_believed_is_told_on_the_page_and_not_used(load: Load) -> None:
    # √(1440/2600) = 0.744.
    catalog = read(load, "2600 psi")
    found = calibration(catalog)
    assert (found.share, found.nozzle) == (1.0, "")
    assert found.refused == (
        "such jets cannot be believed (74% of the flow area told); "
        "a jet is plugged, or the hose is kinked or longer than told"
    )
    assert gauges(catalog)["wide"] == pytest.approx(1440, abs=1)
    page = page_of(catalog, "machines/barrow.html")
    assert f"That reading is not used: {found.refused}." in page


def test_check_tells_of_a_reading_that_is_not_believed(load: Load) -> None:
    report = check_report(read(load, "2600 psi"), date(2026, 11, 25))
    assert "machines/barrow.yml:9: calibration.gauge: such jets cannot be believed" in report
    assert "Read it again with clear jets, or take it out" in report
    believed = check_report(read(load, "1600 psi"), date(2026, 11, 25))
    assert "calibration" not in believed


def test_the_page_tells_day_nozzle_gauge_and_share(load: Load) -> None:
    page = page_of(read(load, "1600 psi"), "machines/barrow.html")
    shown = '<span class="q">1,600\xa0psi</span> <span class="q">(110\xa0bar)</span>'
    assert f"Read on 2026-11-18: with S the gauge stood at {shown}." in page
    assert "So its jets pass 95% of what their sizes say" in page
    assert "_calibration" not in page_of(load(barrow("")), "machines/barrow.html")


def test_the_worksheet_takes_the_jets_as_the_machine_passes_them(load: Load) -> None:
    own = fleet(read(load, "1600 psi"))["own"]
    assert own.keys() == {f"barrow/main/{nozzle}" for nozzle in ("tight", "right", "wide")}
    wide = own["barrow/main/wide"]
    assert float(wide["jets"][0]["number"]) == pytest.approx(20 * SHARE, rel=1e-3)
    assert float(wide["cd"]) == pytest.approx(0.75 * SHARE, abs=1e-3)
    assert fleet(load(barrow("")))["own"] == {}


def test_drilled_jets_are_believed_by_their_coefficient(load: Load) -> None:
    # Cd 0.75·1.2 = 0.9 is a tapered insert's; of 0.9 believed it would be 1.08, more than all.
    bored = (
        "title: B\nanswer: B.\npattern: straight\nthread: x\nstiff_length: 3 in\n"
        "jets: [{id: rear, bore: %s mm}]\ndischarge_coefficient: %s\n"
    )
    gauge = 1440 / 1.2**2
    shares = []
    for coefficient in (0.75, 0.9):
        bore = 1e3 * sqrt(4 * 20 * AREA_OF_ONE / (pi * coefficient))
        nozzle = bored % (f"{bore:.4f}", coefficient)
        catalog = read(load, f"{gauge:.0f} psi", **{"nozzles/wide": nozzle})
        (carried,) = catalog.machines()["barrow"].hoses
        rig = next(one.rig for one in fed_by(catalog, "barrow", carried) if one.nozzle == "wide")
        found = calibration(catalog)
        assert number_of_area(total_area(rig.jets)) == pytest.approx(20 * found.share, rel=1e-3)
        shares.append((found.share, found.refused))
    assert shares[0][0] == pytest.approx(1.2, abs=2e-3)
    assert shares[1][0] == 1.0
    assert shares[1][1].startswith("a discharge coefficient of 1.08 cannot be believed (120%")


AREA_OF_ONE = 0.003785411784 / 60 / sqrt(2 * 4000 * PSI / 999.1)
