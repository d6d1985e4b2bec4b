"""What stands behind a cap when the pipe above it is full: pressure and push."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.hydraulics.stored_water import head_pressure, push_on_cap
from refgen.model.lookup import Table
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept
from refgen.texts import show_quantity
from refgen.units import POUND_FORCE, PSI


def full_stack(table: Table, catalog: Catalog) -> ComputedTable:
    """Return, by height of the water, the pressure behind a cap and its push by bore."""
    words, first = catalog.w, catalog.brand.units_first
    rows, records = [], []
    for height in table.rows:
        pressure = head_pressure(height.si)
        cells = [Cell((both(pressure, "pressure", first, 2),))]
        for bore in table.columns:
            push = push_on_cap(height.si, bore.si)
            cells.append(Cell((both(push, "force", first, 2),)))
            record: Record = {
                "height_m": height.si,
                "height": str(height),
                "bore_m": bore.si,
                "bore": str(bore),
                "pressure_pa": kept(pressure),
                "pressure_psi": kept(pressure / PSI, 3),
                "push_n": kept(push),
                "push_lbf": kept(push / POUND_FORCE, 3),
            }
            records.append(record)
        rows.append((Head(show_quantity(height, first)), tuple(cells)))
    columns = [Head(words["pressure_behind"])]
    columns += [
        Head(words["push_on_cap_of"].format(bore=in_words(show_quantity(bore, first))))
        for bore in table.columns
    ]
    grid = Grid(words["behind_the_cap"], words["height_of_water"], tuple(columns), tuple(rows))
    example = ""
    if table.rows and table.columns:
        height, bore = table.rows[-1], table.columns[-1]
        example = words["example_stack"].format(
            height=in_words(show_quantity(height, first)),
            bore=in_words(show_quantity(bore, first)),
            pressure=in_words(both(head_pressure(height.si), "pressure", first)),
            push=in_words(both(push_on_cap(height.si, bore.si), "force", first)),
        )
    assumptions = (words["assume_stack_middle"], words["assume_stack_unknown"])
    working = Working((words["formula_stack"],), example)
    return ComputedTable((grid,), tuple(records), assumptions, working=working)
