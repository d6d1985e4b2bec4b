"""The air gap over a tank, by the bore of its fill pipe."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.hydraulics.geometry import air_gap
from refgen.model.lookup import Table
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import at_least, in_words, kept
from refgen.texts import show_quantity


def air_gaps(table: Table, catalog: Catalog) -> ComputedTable:
    """Return the least air gap of each fill pipe, in the open and close beside a wall."""
    words, first = catalog.w, catalog.brand.units_first
    rows, records = [], []
    for bore in table.rows:
        gap, beside = air_gap(bore.si), air_gap(bore.si, beside_wall=True)
        cells = (Cell((at_least(gap, "bore", first),)), Cell((at_least(beside, "bore", first),)))
        rows.append((Head(show_quantity(bore, first)), cells))
        record: Record = {
            "fill_bore_m": bore.si,
            "fill_bore": str(bore),
            "air_gap_m": kept(gap),
            "air_gap_beside_wall_m": kept(beside),
        }
        records.append(record)
    columns = (Head(words["gap_in_the_open"]), Head(words["gap_beside_wall"]))
    grid = Grid(words["least_air_gap"], words["fill_bore"], columns, tuple(rows))
    example = ""
    if table.rows:
        bore = table.rows[-1]
        example = words["example_gap"].format(
            bore=in_words(show_quantity(bore, first)),
            gap=in_words(at_least(air_gap(bore.si), "bore", first)),
        )
    assumptions = (words["assume_gap_rim"], words["assume_gap_supplier"], words["assume_gap_wall"])
    sources = ("air-gap-ordinances", "wisconsin-sps-382")
    working = Working((words["formula_gap"],), example, sources)
    return ComputedTable((grid,), tuple(records), assumptions, working=working)
