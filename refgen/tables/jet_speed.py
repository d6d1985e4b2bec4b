"""How fast a jet is at a pressure, and how hard each gallon a minute of it pushes."""

from __future__ import annotations

from refgen.catalog import Catalog
from refgen.hydraulics.orifice import jet_speed, reaction
from refgen.hydraulics.water import density
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, in_words, kept
from refgen.texts import show_quantity
from refgen.units import FOOT, parse_quantity

ONE_GPM = parse_quantity("1 gpm")


def jet_speeds(table: Table, catalog: Catalog) -> ComputedTable:
    """Return the ideal and the real speed of a jet, and the push of one gallon a minute."""
    words, first = catalog.w, catalog.brand.units_first
    water = density(water_assumed(table.assume))
    real = table.assume.velocity_coefficient
    rows, records = [], []
    for pressure in table.rows:
        ideal, usual = jet_speed(pressure.si, water), jet_speed(pressure.si, water, real)
        push = reaction(ONE_GPM.si, usual, water)
        record: Record = {
            "nozzle_pa": pressure.si,
            "nozzle_pressure": str(pressure),
            "ideal_m_per_s": kept(ideal),
            "ideal_ft_per_s": kept(ideal / FOOT, 4),
            "real_m_per_s": kept(usual),
            "push_of_1_gpm_n": kept(push),
        }
        records.append(record)
        cells = (
            Cell((both(ideal, "speed", first),)),
            Cell((both(usual, "speed", first),)),
            Cell((both(push, "force", first, 2),)),
        )
        rows.append((Head(show_quantity(pressure, first)), cells))
    one = in_words(show_quantity(ONE_GPM, first))
    columns = (
        Head(words["ideal_speed"]),
        Head(words["real_speed"]),
        Head(words["push_of_each"].format(flow=one)),
    )
    grid = Grid(words["speed_of_jet"], words["pressure_at_nozzle"], columns, tuple(rows))
    assumptions = (
        words["assume_speed"].format(share=f"{real:g}"),
        words["assume_speed_nozzle"],
    )
    example = ""
    if table.rows:
        pressure = table.rows[0]
        example = words["example_speed"].format(
            pressure=in_words(show_quantity(pressure, first)),
            pascal=f"{pressure.si:,.0f}",
            density=f"{water:.1f}",
            speed=in_words(both(jet_speed(pressure.si, water), "speed", first)),
        )
    working = Working((words["formula_speed"],), example, ("britannica-hydraulics", "iapws-sr6-08"))
    return ComputedTable((grid,), tuple(records), assumptions, working=working)
