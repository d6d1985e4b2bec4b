"""The push of a hand lance by flow and pressure, against what a person may hold."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.hydraulics.lance import BRACED_ABOVE, MACHINE_ABOVE, hold, lance_push
from refgen.hydraulics.orifice import jet_speed
from refgen.hydraulics.water import density
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept
from refgen.texts import show_quantity
from refgen.units import POUND_FORCE


def lance_pushes(table: Table, catalog: Catalog) -> ComputedTable:
    """Return the push of a straight jet, and whether hands, body or a machine may hold it."""
    words, first = catalog.w, catalog.brand.units_first
    water = density(water_assumed(table.assume))
    said = {"hands": "", "body": words["lance_body"], "machine": words["lance_machine"]}
    rows, records = [], []
    for flow in table.rows:
        cells = []
        for pressure in table.columns:
            push = lance_push(flow.si, pressure.si, water)
            held = hold(push)
            cells.append(Cell((both(push, "force", first, 2),), words=said[held]))
            record: Record = {
                "flow_m3_per_s": flow.si,
                "flow": str(flow),
                "nozzle_pa": pressure.si,
                "nozzle_pressure": str(pressure),
                "push_n": kept(push),
                "push_lbf": kept(push / POUND_FORCE, 3),
                "held_by": held,
            }
            records.append(record)
        rows.append((Head(show_quantity(flow, first)), tuple(cells)))
    columns = tuple(Head(show_quantity(pressure, first)) for pressure in table.columns)
    grid = Grid(words["push_of_lance"], words["flow_by_pressure"], columns, tuple(rows))
    limits = {
        "braced": in_words(both(BRACED_ABOVE, "force", first, 2)),
        "machine": in_words(both(MACHINE_ABOVE, "force", first, 2)),
    }
    assumptions = (
        words["assume_lance_limits"].format(**limits),
        words["assume_lance_jerk"],
        words["assume_margin_lance"],
    )
    example = ""
    if table.rows and table.columns:
        flow, pressure = table.rows[-1], table.columns[-1]
        example = words["example_lance"].format(
            flow=in_words(show_quantity(flow, first)),
            pressure=in_words(show_quantity(pressure, first)),
            mass=f"{water * flow.si:.3g}",
            speed=in_words(both(jet_speed(pressure.si, water), "speed", first)),
            push=in_words(both(lance_push(flow.si, pressure.si, water), "force", first)),
        )
    sources = ("britannica-hydraulics", "norway-work-regulations")
    working = Working((words["formula_lance"],), example, sources)
    return ComputedTable(
        (grid,), tuple(records), assumptions, heed=(words["lance_rule"],), working=working
    )
