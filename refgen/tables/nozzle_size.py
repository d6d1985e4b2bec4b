"""Nozzle size against flow and pressure, for one jet and for banks of equal jets."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics.orifice import area_for, bore_for_flow, jet_speed, number_of_area
from refgen.hydraulics.water import density
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, trade_number
from refgen.texts import show_quantity
from refgen.units import INCH


def nozzle_size(table: Table, catalog: Catalog) -> ComputedTable:
    """Return bore and trade number of each jet that pass a flow at a pressure at the nozzle."""
    words, first = catalog.w, catalog.brand.units_first
    water = density(water_assumed(table.assume))
    coefficient = table.assume.discharge_coefficient
    grids, records = [], []
    for count in table.jets:
        rows = []
        for flow in table.rows:
            cells = []
            for pressure in table.columns:
                record: Record = {
                    "jets": count,
                    "flow_m3_per_s": flow.si,
                    "flow": str(flow),
                    "nozzle_pa": pressure.si,
                    "nozzle_pressure": str(pressure),
                    "bore_mm": None,
                    "bore_in": None,
                    "trade_number": None,
                }
                try:
                    bore = bore_for_flow(flow.si, pressure.si, count, coefficient, water)
                    number = number_of_area(area_for(flow.si, pressure.si, water) / count)
                except OutOfRange as error:
                    cells.append(Cell(reason=str(error)))
                else:
                    metric, us = f"{bore * 1e3:.2f} mm", f"{bore / INCH:.3f} in"
                    pair = (us, metric) if first == "us" else (metric, us)
                    cells.append(Cell((*pair, f"{words['number_short']} {trade_number(number)}")))
                    record["bore_mm"] = round(bore * 1e3, 3)
                    record["bore_in"] = round(bore / INCH, 4)
                    record["trade_number"] = round(number, 2)
                records.append(record)
            rows.append((Head(show_quantity(flow, first)), tuple(cells)))
        caption = words["each_of_jets"].format(count=count) if count > 1 else words["one_jet"]
        columns = tuple(Head(show_quantity(pressure, first)) for pressure in table.columns)
        grids.append(Grid(caption, words["flow_by_pressure"], columns, tuple(rows)))
    assumptions = (
        words["assume_coefficient"].format(coefficient=coefficient),
        words["assume_number"],
        words["assume_margin_size"],
    )
    formulas = (words["formula_orifice"], words["formula_bore"], words["formula_number"])
    working = Working(formulas, _example(table, catalog, water), ("britannica-hydraulics",))
    return ComputedTable(tuple(grids), tuple(records), assumptions, working=working)


def _example(table: Table, catalog: Catalog, water: float) -> str:
    """Return one bore worked out, values with their units."""
    words, first = catalog.w, catalog.brand.units_first
    flow, pressure, count = table.rows[0], table.columns[0], table.jets[-1]
    try:
        area = area_for(flow.si, pressure.si, water)
        bore = bore_for_flow(flow.si, pressure.si, count, table.assume.discharge_coefficient, water)
    except OutOfRange:
        return ""
    jets = words["equal_jets"].format(count=count) if count > 1 else words["one_jet"].lower()
    return words["example_size"].format(
        flow=in_words(show_quantity(flow, first)),
        pressure=in_words(show_quantity(pressure, first)),
        count=jets,
        speed=in_words(both(jet_speed(pressure.si, water), "speed", first)),
        area=f"{area * 1e6:.3g}",
        bore=in_words(both(bore, "bore", first)),
    )
