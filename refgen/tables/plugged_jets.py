"""What plugged jets do to the gauge: for any nozzle, and for each machine's own."""

from __future__ import annotations

from dataclasses import replace

from refgen.catalog import Catalog
from refgen.errors import OutOfRange
from refgen.hydraulics import Duty, Jet, working_point
from refgen.hydraulics.wear import plugged
from refgen.model.lookup import Table
from refgen.rigs import water_assumed
from refgen.tables.duties import Fed, duty_record, machine_grids, row_ids
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import both, kept, percent
from refgen.units import US_GALLON

MOST = 3
"""Plugged jets that are looked up."""


def plugged_jets(table: Table, catalog: Catalog) -> ComputedTable:
    """Return what so many plugged jets of so many do to the pressure, and each machine's gauge."""
    words, first = catalog.w, catalog.brand.units_first
    temperature = water_assumed(table.assume)
    rows, records = [], []
    for holes in range(1, MOST + 1):
        cells = []
        for count in table.jets:
            share = (count / (count - holes)) ** 2 if holes < count else None
            found: Record = {"jets": count, "plugged": holes, "pressure_share": kept(share, 4)}
            records.append(_record(found))
            if share is None:
                cells.append(Cell(words=words["nothing_comes"]))
            else:
                cells.append(Cell((words["times_as_much"].format(times=f"{share:.2g}"),)))
        rows.append((Head(words["so_many_plugged"].format(count=holes)), tuple(cells)))
    any_nozzle = Grid(
        words["plugged_at_full_flow"],
        words["plugged_of"],
        tuple(Head(words["equal_jets"].format(count=count)) for count in table.jets),
        tuple(rows),
    )
    known: list[tuple[Fed, int, Duty | None]] = []

    def cell(fed: Fed, holes: int) -> Cell:
        jets = with_rear_plugged(fed.rig.jets, holes)
        if jets is None:
            return Cell(words=words["nothing_comes"])
        try:
            duty = working_point(replace(fed.rig, jets=jets))
        except OutOfRange as error:
            known.append((fed, holes, None))
            return Cell(reason=str(error))
        known.append((fed, holes, duty))
        lines = (both(duty.gauge, "pressure", first, 2),)
        if duty.state == "full flow":
            return Cell(lines)
        return Cell(lines, words=words["state_regulated"])

    def cells_of(fed: Fed) -> tuple[Cell, ...]:
        if fed.duty is None:
            return (Cell(reason=fed.reason),) * (MOST + 1)
        return tuple(cell(fed, holes) for holes in range(MOST + 1))

    columns = (
        Head(words["all_open"]),
        *(Head(words["so_many_plugged"].format(count=n)) for n in range(1, MOST + 1)),
    )
    grids, _ = machine_grids(catalog, columns, cells_of, temperature, words["gauge_of"])
    records += [_record({"plugged": holes}, fed, duty) for fed, holes, duty in known]
    assumptions = (
        words["assume_plugged_rear"],
        words["assume_whole_hose_at"].format(temperature=f"{temperature - 273.15:.0f}"),
        words["assume_plugged_loss"],
        words["assume_margin_worn"],
    )
    example = ""
    if table.jets:
        count = max(table.jets)
        example = words["example_plugged"].format(
            count=count,
            rest=count - 1,
            times=f"{(count / (count - 1)) ** 2:.3g}",
            share=percent((count / (count - 1)) ** 2 - 1),
        )
    working = Working((words["formula_plugged"],), example, ("britannica-hydraulics",))
    return ComputedTable(
        (any_nozzle, *grids), tuple(records), assumptions, row_ids(grids), working=working
    )


def with_rear_plugged(jets: tuple[Jet, ...], holes: int) -> tuple[Jet, ...] | None:
    """Return the jets with so many rear ones plugged, the largest ring first; None if all are."""
    left, found = holes, list(jets)
    rings = sorted(range(len(jets)), key=lambda n: (jets[n].faces != "rear", -jets[n].count))
    for place in rings:
        taken = min(left, jets[place].count)
        found[place] = plugged(jets[place], taken)
        left -= taken
    return tuple(found) if left == 0 and any(jet.count for jet in found) else None


def _record(found: Record, fed: Fed | None = None, duty: Duty | None = None) -> Record:
    return {
        "plugged": found["plugged"],
        "jets": found.get("jets"),
        "pressure_share": found.get("pressure_share"),
        **duty_record(fed, duty),
        "bypass_m3_per_s": kept(duty.bypass) if duty else None,
        "bypass_gpm": kept(duty.bypass * 60 / US_GALLON, 3) if duty else None,
        "pull_n": kept(duty.pull) if duty else None,
    }
