"""How long a tank lasts or takes to fill: its volume by what it loses or gains."""

from __future__ import annotations

from refgen.addresses import record_address
from refgen.catalog import Catalog
from refgen.hydraulics.tank import refill_time, run_time
from refgen.model.lookup import Table
from refgen.tables.grid import Cell, ComputedTable, Grid, Head, Record, Working
from refgen.tables.shape import duration, in_words, kept
from refgen.texts import show_quantity


def tank_times(table: Table, catalog: Catalog) -> ComputedTable:
    """Return volume over flow as a time, and for each machine's tank lasting and filling."""
    words, first = catalog.w, catalog.brand.units_first
    rows, records = [], []
    for volume in table.rows:
        cells = []
        for flow in table.columns:
            seconds = run_time(volume.si, flow.si)
            assert seconds is not None  # a flow is above 0
            cells.append(Cell((duration(seconds),)))
            records.append(
                _record(volume_m3=volume.si, flow_m3_per_s=flow.si, time_s=kept(seconds))
            )
        rows.append((Head(show_quantity(volume, first)), tuple(cells)))
    columns = tuple(Head(show_quantity(flow, first)) for flow in table.columns)
    grids = [Grid(words["tank_by_flow"], words["tank_down_flow_across"], columns, tuple(rows))]
    own, more = _machines(table, catalog)
    if own.rows:
        grids.append(own)
        records += more
    assumptions = (
        words["assume_shortfall"],
        words["assume_bypass_returns"],
        words["assume_margin_tank"],
    )
    example = ""
    if table.rows and table.columns:
        volume, flow = table.rows[-1], table.columns[0]
        seconds = run_time(volume.si, flow.si)
        assert seconds is not None
        example = words["example_tank"].format(
            volume=in_words(show_quantity(volume, first)),
            flow=in_words(show_quantity(flow, first)),
            time=duration(seconds),
        )
    ids = tuple(head.id for head, _ in own.rows)
    working = Working((words["formula_tank"],), example)
    return ComputedTable(tuple(grids), tuple(records), assumptions, ids, working=working)


def _record(**found: float | int | str | None) -> Record:
    names = ("machine", "volume_m3", "flow_m3_per_s", "supply_m3_per_s", "time_s", "refill_s")
    return {name: found.get(name) for name in names}


def _machines(table: Table, catalog: Catalog) -> tuple[Grid, list[Record]]:
    """Return, for each machine with a tank, how long it lasts without and with a supply."""
    words, first = catalog.w, catalog.brand.units_first
    supplies = [0.0, *(flow.si for flow in table.columns)]
    rows, records = [], []
    for name, machine in catalog.machines().items():
        if machine.tank is None:
            continue
        volume, use = machine.tank.si, machine.flow.si
        cells = []
        for supply in supplies:
            lasts, fills = run_time(volume, use, supply), refill_time(volume, supply)
            records.append(
                _record(
                    machine=name,
                    volume_m3=volume,
                    flow_m3_per_s=use,
                    supply_m3_per_s=supply,
                    time_s=kept(lasts),
                    refill_s=kept(fills),
                )
            )
            lines = [words["lasts"].format(time=duration(lasts))] if lasts else []
            if fills is not None:
                lines.append(words["fills"].format(time=duration(fills)))
            cells.append(Cell(tuple(lines), words="" if lasts else words["never_dry"]))
        head = Head(machine.title, record_address("machines", name), name, name)
        rows.append((head, tuple(cells)))
    columns = [Head(words["no_supply"])]
    columns += [
        Head(words["supply_of"].format(flow=in_words(show_quantity(flow, first))))
        for flow in table.columns
    ]
    return Grid(words["tanks_of_machines"], words["machine"], tuple(columns), tuple(rows)), records
